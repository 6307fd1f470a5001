//! Tables are written into a nameless file of the data folder first and sent from there: the length is known, a failure
//! while reading has an honest answer, and a slow client holds no connection to the database. At most two at once.

use std::fs::File;
use std::io::{BufWriter, Read, Seek, Write};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use sha2::{Digest, Sha256};
use tokio::sync::Semaphore;

use crate::exchange::tables::{self, Table};
use crate::secrets::hex;
use crate::speech::Speech;
use crate::store::exports::Of;
use crate::store::{AnyConnection, Db};
use crate::trouble::Trouble;

/// How many tables are written at once.
pub const PLACES: usize = 2;
/// How long a further one waits for its place.
const PATIENCE: Duration = Duration::from_secs(5);
const BUFFER: usize = 64 * 1024;

/// Where tables are written before they are sent.
#[derive(Debug)]
pub struct Spool {
    folder: PathBuf,
    places: Arc<Semaphore>,
}

/// Where files without a name are made.
#[derive(Debug, Clone)]
pub struct Nameless(PathBuf);

impl Nameless {
    /// Files on the disk of a folder, which need not be there yet.
    #[must_use]
    pub fn on(folder: impl Into<PathBuf>) -> Self {
        Self(folder.into())
    }

    /// A file that is gone when it is let go.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn file(&self) -> Result<File, Trouble> {
        std::fs::create_dir_all(&self.0)
            .and_then(|()| tempfile::tempfile_in(&self.0))
            .map_err(|error| Trouble::broken("making a spool file", error))
    }
}

/// A written table, at its beginning.
#[derive(Debug)]
pub struct Spooled {
    /// It has no name: it is gone when this is.
    pub file: File,
    pub bytes: u64,
    /// Of the bytes, in hexadecimal.
    pub sha256: String,
}

impl Spool {
    /// A spool in the data folder.
    #[must_use]
    pub fn new(data: &std::path::Path) -> Self {
        Self { folder: data.join("spool"), places: Arc::new(Semaphore::new(PLACES)) }
    }

    /// The places, for tests that take them all.
    #[must_use]
    pub fn places(&self) -> Arc<Semaphore> {
        self.places.clone()
    }

    /// Writes a table of a class.
    ///
    /// # Errors
    /// `Busy` when no place was free within five seconds; the database cannot be read or the file not written.
    pub async fn write(
        &self,
        db: &Db,
        speech: Arc<Speech>,
        table: Table,
        of: Of,
    ) -> Result<Spooled, Trouble> {
        self.fill(db, move |db, nameless| {
            let file = BufWriter::with_capacity(BUFFER, nameless.file()?);
            let counted = Counted { file, digest: Sha256::new(), bytes: 0 };
            tables::write(db, table, &of, &speech, counted)?.close().map_err(unspooled)
        })
        .await
    }

    /// Lets nameless files be filled, when there is a place.
    ///
    /// # Errors
    /// `Busy` when no place was free within five seconds; or what the filling says.
    pub async fn fill<T, F>(&self, db: &Db, fill: F) -> Result<T, Trouble>
    where
        T: Send + 'static,
        F: FnOnce(&mut AnyConnection, &Nameless) -> Result<T, Trouble> + Send + 'static,
    {
        let place = tokio::time::timeout(PATIENCE, self.places.clone().acquire_owned())
            .await
            .map_err(|_elapsed| Trouble::Busy)?
            .map_err(|error| Trouble::broken("waiting for the spool", error))?;
        let nameless = Nameless::on(&self.folder);
        db.read(move |db| {
            let _held = place;
            fill(db, &nameless)
        })
        .await
    }
}

/// A file that was written out of order, as a zip file is: read once more for its digest.
///
/// # Errors
/// It cannot be read.
pub fn written(mut file: File) -> std::io::Result<Spooled> {
    file.rewind()?;
    let mut digest = Sha256::new();
    let mut piece = vec![0; BUFFER];
    let mut bytes = 0;
    loop {
        let count = file.read(&mut piece)?;
        if count == 0 {
            break;
        }
        digest.update(piece.get(..count).unwrap_or_default());
        bytes += u64::try_from(count).unwrap_or(0);
    }
    file.rewind()?;
    Ok(Spooled { file, bytes, sha256: hex(&digest.finalize()) })
}

fn unspooled(error: std::io::Error) -> Trouble {
    Trouble::broken("writing a spool file", error)
}

/// A file that knows its length and its digest.
struct Counted {
    file: BufWriter<File>,
    digest: Sha256,
    bytes: u64,
}

impl Counted {
    fn close(self) -> std::io::Result<Spooled> {
        let mut file = self.file.into_inner().map_err(std::io::IntoInnerError::into_error)?;
        file.rewind()?;
        Ok(Spooled { file, bytes: self.bytes, sha256: hex(&self.digest.finalize()) })
    }
}

impl Write for Counted {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        let count = self.file.write(bytes)?;
        self.digest.update(bytes.get(..count).unwrap_or_default());
        self.bytes += u64::try_from(count).unwrap_or(0);
        Ok(count)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        self.file.flush()
    }
}
