//! Letters as files, for a school without a mail server and for the demo: `<letter id>.eml`, readable by the program's
//! user alone, because a letter may carry a one-time link.

use std::fs::{DirBuilder, File, OpenOptions};
use std::io::{self, Write};
use std::os::unix::fs::{DirBuilderExt, OpenOptionsExt, PermissionsExt};
use std::path::PathBuf;

use crate::post::transport::{Lasting, Refusal, Sealed, Transport};

/// A folder that takes letters.
#[derive(Debug)]
pub struct Folder {
    path: PathBuf,
}

impl Folder {
    /// The folder is made when the first letter comes.
    #[must_use]
    pub const fn new(path: PathBuf) -> Self {
        Self { path }
    }

    /// Writes the file under another name first, so that whoever watches the folder never reads half a letter. The
    /// same letter again takes the place of its file.
    fn keep(&self, letter: &Sealed) -> io::Result<()> {
        DirBuilder::new().recursive(true).mode(0o700).create(&self.path)?;
        let unready = self.path.join(format!("{}.part", letter.id));
        let mut file =
            OpenOptions::new().write(true).create(true).truncate(true).mode(0o600).open(&unready)?;
        // A file left by an earlier, broken run keeps the mode it had; so it is set, not only asked for.
        file.set_permissions(std::fs::Permissions::from_mode(0o600))?;
        file.write_all(&letter.bytes)?;
        file.sync_all()?;
        std::fs::rename(&unready, self.path.join(format!("{}.eml", letter.id)))?;
        File::open(&self.path)?.sync_all()
    }
}

impl Transport for Folder {
    fn hand_over(&self, letter: &Sealed) -> Result<(), Refusal> {
        self.keep(letter).map_err(|error| {
            Refusal::new(Lasting::Everything, &format!("writing to {}: {error}", self.path.display()))
        })
    }
}
