//! How a file is to be: not too long, opened by a sentence about what it is for, named by its subject, not empty.

use std::fs;

use super::{Leaf, files_under, leaves, project, relative, uphold};

const ASKS_FOR_A_SPLIT: usize = 400;
const LIMIT: usize = 500;

/// Names that say nothing about what is inside.
const EMPTY_NAMES: [&str; 9] =
    ["utils", "util", "helpers", "helper", "common", "misc", "manager", "service", "services"];

fn longer_than(limit: usize, leaves: &[Leaf]) -> Vec<String> {
    let long =
        leaves.iter().map(|leaf| (leaf, leaf.text.lines().count())).filter(|(_, lines)| *lines > limit);
    long.map(|(leaf, lines)| format!("{}: {lines} lines", leaf.path)).collect()
}

fn without_opening(leaves: &[Leaf]) -> Vec<String> {
    let silent = leaves.iter().filter(|leaf| {
        let first = leaf.text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
        first.strip_prefix("//!").is_none_or(|words| words.trim().is_empty())
    });
    silent.map(|leaf| leaf.path.clone()).collect()
}

fn named_by_nothing(leaves: &[Leaf]) -> Vec<String> {
    let named = leaves.iter().filter(|leaf| leaf.names().iter().any(|name| EMPTY_NAMES.contains(name)));
    named.map(|leaf| leaf.path.clone()).collect()
}

fn rust() -> Vec<Leaf> {
    ["src", "tests"].iter().flat_map(|folder| leaves(folder, &[".rs"])).collect()
}

#[test]
fn no_file_is_too_long() {
    let mut files = rust();
    files.extend(leaves("tests", &[".mjs", ".py"]));
    let notes = longer_than(ASKS_FOR_A_SPLIT, &files);
    if !notes.is_empty() {
        println!("past {ASKS_FOR_A_SPLIT} lines (are they two?):\n  {}", notes.join("\n  "));
    }
    uphold("A file past 500 lines is two files.", &longer_than(LIMIT, &files));
}

#[test]
fn every_file_opens_with_what_it_is_for() {
    uphold(
        "A Rust file opens with `//!` and a sentence that says what it is for.",
        &without_opening(&rust()),
    );
}

#[test]
fn every_file_is_named_by_its_subject() {
    uphold(
        "A file or folder is named by its subject, not by what sort of code it holds.",
        &named_by_nothing(&rust()),
    );
}

#[test]
fn no_file_is_empty() {
    let empty: Vec<String> = files_under(&project())
        .iter()
        .filter(|file| fs::metadata(file).is_ok_and(|about| about.len() == 0))
        .map(|file| relative(file))
        .collect();
    uphold("An empty file says nothing: fill it or take it away.", &empty);
}

mod on_broken_files {
    use super::*;

    #[test]
    fn a_long_file_is_found() {
        let leaf = |lines: usize| [Leaf::new("src/store/etches.rs", &"x\n".repeat(lines))];
        assert_eq!(longer_than(LIMIT, &leaf(501)), ["src/store/etches.rs: 501 lines"]);
        assert_eq!(longer_than(LIMIT, &leaf(500)), [""; 0]);
    }

    #[test]
    fn a_silent_file_is_found() {
        for text in [
            "use std::fs;\n//! Too late.",
            "",
            "//!\nfn f() {}",
            "// A comment is no opening.\n",
            "/// Nor is this.\n",
        ] {
            assert_eq!(without_opening(&[Leaf::new("src/a.rs", text)]), ["src/a.rs"], "{text}");
        }
        assert_eq!(without_opening(&[Leaf::new("src/a.rs", "\n//! What it is for.\n")]), [""; 0]);
    }

    #[test]
    fn an_empty_name_is_found_as_file_and_as_folder() {
        let paths = [
            "src/utils.rs",
            "src/store/helpers.rs",
            "src/common/etch.rs",
            "src/post/service.rs",
            "src/manager/mod.rs",
        ];
        for path in paths {
            assert_eq!(named_by_nothing(&[Leaf::new(path, "")]), [path]);
        }
        assert_eq!(named_by_nothing(&[Leaf::new("src/studio/services_rendered.rs", "")]), [""; 0]);
    }
}
