//! The shelf for papers: PDF files in a folder of their own, each under the SHA-256 of its bytes, readable by the
//! program's user alone. The same paper sent twice is one file; a file comes before the row that names it.

use std::fs::{self, DirBuilder, File, OpenOptions};
use std::io::{self, ErrorKind, Write as _};
use std::path::PathBuf;
use std::time::{SystemTime, UNIX_EPOCH};

use crate::secrets::{hex, random, sha256_hex};
use crate::trouble::Trouble;

/// The most bytes of one paper.
pub const MOST_BYTES: usize = 10_000_000;
/// How far from either end of a file its marks may stand.
const NEAR_THE_END: usize = 1024;

/// A folder of papers; it need not be there yet.
#[derive(Debug, Clone)]
pub struct Papers {
    folder: PathBuf,
}

impl Papers {
    #[must_use]
    pub fn in_folder(folder: impl Into<PathBuf>) -> Self {
        Self { folder: folder.into() }
    }

    /// Keeps a paper and tells the SHA-256 it lies under. It would survive a power cut.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn keep(&self, bytes: &[u8]) -> Result<String, Trouble> {
        let name = sha256_hex(bytes);
        self.write(&name, bytes).map_err(|error| Trouble::broken("keeping a paper", error))?;
        Ok(name)
    }

    /// The bytes of a paper.
    ///
    /// # Errors
    /// `NotFound`, or the disk refuses.
    pub fn fetch(&self, sha256: &str) -> Result<Vec<u8>, Trouble> {
        if sha256.len() != 64 || !sha256.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return Err(Trouble::NotFound);
        }
        fs::read(self.folder.join(format!("{sha256}.pdf"))).map_err(|error| match error.kind() {
            ErrorKind::NotFound => Trouble::NotFound,
            _ => Trouble::broken("reading a paper", error),
        })
    }

    /// The names of the files that have not changed since `before_ms`: papers by their SHA-256, and what a crash left of
    /// one. Other files are none of our business.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn older_than(&self, before_ms: i64) -> Result<Vec<Lying>, Trouble> {
        let refused = |error| Trouble::broken("looking through the papers", error);
        let files = match fs::read_dir(&self.folder) {
            Ok(files) => files,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
            Err(error) => return Err(refused(error)),
        };
        let mut found = Vec::new();
        for file in files {
            let file = file.map_err(refused)?;
            let Some(lying) = file.file_name().to_str().and_then(Lying::named) else { continue };
            match file.metadata().and_then(|about| changed_ms(&about)) {
                Ok(changed) if changed < before_ms => found.push(lying),
                Ok(_) => {}
                Err(error) if error.kind() == ErrorKind::NotFound => {}
                Err(error) => return Err(refused(error)),
            }
        }
        found.sort_unstable();
        Ok(found)
    }

    /// Takes a file away, if it has not changed since `before_ms`.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn remove(&self, lying: &Lying, before_ms: i64) -> Result<bool, Trouble> {
        let place = self.folder.join(&lying.file);
        let removed = fs::metadata(&place).and_then(|about| changed_ms(&about)).and_then(|changed| {
            if changed < before_ms { fs::remove_file(&place).map(|()| true) } else { Ok(false) }
        });
        match removed {
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(false),
            other => other.map_err(|error| Trouble::broken("taking a paper away", error)),
        }
    }

    fn write(&self, name: &str, bytes: &[u8]) -> io::Result<()> {
        let place = self.folder.join(format!("{name}.pdf"));
        match OpenOptions::new().write(true).open(&place) {
            // It counts as laid here now: its row comes next, and the sweep must not take it before.
            Ok(file) => return file.set_modified(SystemTime::now()),
            Err(error) if error.kind() == ErrorKind::NotFound => {}
            Err(error) => return Err(error),
        }
        private_folder(&self.folder)?;
        let part = hex(&random::<8>().map_err(io::Error::other)?);
        let aside = self.folder.join(format!("{name}.{part}.part"));
        let written = private_file(&aside).and_then(|mut file| {
            file.write_all(bytes)?;
            file.sync_all()
        });
        if let Err(error) = written {
            // A full disk must not keep the half-written file as well; the first failure is what is told.
            let _ = fs::remove_file(&aside);
            return Err(error);
        }
        fs::rename(&aside, &place)?;
        File::open(&self.folder)?.sync_all()
    }
}

/// A file that lies among the papers.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Lying {
    file: String,
    /// The SHA-256 a paper lies under; none for what a crash left of one.
    pub sha256: Option<String>,
}

impl Lying {
    fn named(file: &str) -> Option<Self> {
        let (name, ending) = file.split_once('.')?;
        if name.len() != 64 || !name.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return None;
        }
        let sha256 = match ending {
            "pdf" => Some(name.to_owned()),
            other if other.ends_with(".part") => None,
            _ => return None,
        };
        Some(Self { file: file.to_owned(), sha256 })
    }
}

fn changed_ms(about: &fs::Metadata) -> io::Result<i64> {
    let since = about.modified()?.duration_since(UNIX_EPOCH).map_err(io::Error::other)?;
    Ok(i64::try_from(since.as_millis()).unwrap_or(i64::MAX))
}

#[cfg(unix)]
fn private_folder(folder: &std::path::Path) -> io::Result<()> {
    use std::os::unix::fs::DirBuilderExt as _;
    DirBuilder::new().recursive(true).mode(0o700).create(folder)
}

#[cfg(not(unix))]
fn private_folder(folder: &std::path::Path) -> io::Result<()> {
    DirBuilder::new().recursive(true).create(folder)
}

fn private_file(place: &std::path::Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        options.mode(0o600);
    }
    options.open(place)
}

/// Whether the bytes are those of a PDF: they begin with its header and end with its end mark (ISO 32000-1, 7.5.2 and
/// 7.5.5; readers take the mark within the last 1024 bytes).
#[must_use]
pub fn is_pdf(bytes: &[u8]) -> bool {
    let header = bytes.strip_prefix(b"%PDF-").and_then(|rest| rest.get(..3));
    let header = header.is_some_and(
        |version| matches!(version, [major, b'.', minor] if major.is_ascii_digit() && minor.is_ascii_digit()),
    );
    let tail = bytes.get(bytes.len().saturating_sub(NEAR_THE_END)..).unwrap_or_default();
    let holds = |mark: &[u8]| tail.windows(mark.len()).any(|window| window == mark);
    header && holds(b"startxref") && holds(b"%%EOF")
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAPER: &[u8] =
        b"%PDF-1.4\n1 0 obj<</Type/Catalog>>endobj\ntrailer<</Root 1 0 R>>\nstartxref\n9\n%%EOF\n";

    #[test]
    fn a_pdf_is_told_by_both_ends() {
        assert!(is_pdf(PAPER));
        let cut = PAPER.strip_suffix(b"%%EOF\n").unwrap();
        for other in
            [&b""[..], b"%PDF-", b"hello", cut, b"MZ%PDF-1.4 startxref %%EOF", b"%PDF-x.y startxref %%EOF"]
        {
            assert!(!is_pdf(other), "{}", String::from_utf8_lossy(other));
        }
    }

    #[test]
    fn a_paper_is_kept_once_for_this_user_alone() {
        let folder = tempfile::tempdir().unwrap();
        let papers = Papers::in_folder(folder.path().join("papers"));
        let name = papers.keep(PAPER).unwrap();
        assert_eq!(papers.keep(PAPER).unwrap(), name);
        assert_eq!(papers.fetch(&name).unwrap(), PAPER);
        let files: Vec<_> = fs::read_dir(folder.path().join("papers")).unwrap().map(Result::unwrap).collect();
        assert_eq!(files.len(), 1);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt as _;
            let mode = files.first().unwrap().metadata().unwrap().permissions().mode();
            assert_eq!(mode & 0o777, 0o600);
        }
        for other in ["", "../papers", &"0".repeat(64)] {
            assert!(matches!(papers.fetch(other), Err(Trouble::NotFound)), "{other}");
        }
    }
}
