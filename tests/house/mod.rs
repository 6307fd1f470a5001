//! The rules of the house, read off the files themselves: which floor may see which, how long a file may be, what a
//! template may hold, that both databases take the same steps. Each rule is a function from files to complaints, so
//! that beside the test on the project stands one on files that break it.

mod files;
mod floors;
mod ink;
mod migrations;
mod paths;
mod templates;
mod words;

use std::fs;
use std::path::{Path, PathBuf};

/// A text file of the project. `path` is relative to the project's folder, with slashes: `src/trade/etch.rs`.
#[derive(Debug, Clone)]
struct Leaf {
    path: String,
    text: String,
}

impl Leaf {
    fn new(path: &str, text: &str) -> Self {
        Self { path: path.to_owned(), text: text.to_owned() }
    }

    /// The folders and the bare name of the file: `src/trade/etch.rs` gives `["src", "trade", "etch"]`.
    fn names(&self) -> Vec<&str> {
        let bare = self.path.rsplit_once('.').map_or(self.path.as_str(), |(bare, _)| bare);
        bare.split('/').collect()
    }
}

fn project() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// All files under a folder of the project whose names end in one of `endings`, in order. A folder that is not there
/// has none.
fn leaves(folder: &str, endings: &[&str]) -> Vec<Leaf> {
    let mut found = Vec::new();
    for file in files_under(&project().join(folder)) {
        let path = relative(&file);
        if endings.iter().any(|ending| path.ends_with(ending)) {
            let text = fs::read_to_string(&file).unwrap_or_else(|error| panic!("{path}: {error}"));
            found.push(Leaf { path, text });
        }
    }
    found
}

/// Every file under a folder, in order, leaving out what is not ours: build output, packages, hidden folders of git.
fn files_under(folder: &Path) -> Vec<PathBuf> {
    const NOT_OURS: [&str; 5] = ["target", "node_modules", ".git", ".venv", "__pycache__"];
    let mut found = Vec::new();
    let Ok(entries) = fs::read_dir(folder) else { return found };
    for entry in entries.map(|entry| entry.unwrap()) {
        let name = entry.file_name().into_string().unwrap();
        let kind = entry.file_type().unwrap();
        if kind.is_dir() && !NOT_OURS.contains(&name.as_str()) {
            found.extend(files_under(&entry.path()));
        } else if kind.is_file() {
            found.push(entry.path());
        }
    }
    found.sort();
    found
}

fn relative(file: &Path) -> String {
    file.strip_prefix(project()).unwrap().to_str().unwrap().replace('\\', "/")
}

/// Fails with all complaints, under one sentence that says what the rule is for.
#[track_caller]
fn uphold(rule: &str, complaints: &[String]) {
    assert!(complaints.is_empty(), "{rule}\n  {}\n", complaints.join("\n  "));
}
