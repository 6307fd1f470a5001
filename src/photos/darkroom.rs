//! Everything it takes to take photos in: the shelf they come to lie on, the gate before the work, and a budget for the
//! bytes of those that are arriving.

use std::sync::Arc;
use std::time::Duration;

use tokio::sync::{OwnedSemaphorePermit, Semaphore};

use super::budget::{Gate, HOUSE};
use super::fault::MOST_BYTES;
use super::picture::{self, NotPrepared, Prepared};
use super::shelf::{FolderShelf, PhotoKey, Shelf, ShelfFault, Size};
use crate::settings::Settings;
use crate::trouble::Trouble;

/// Bytes of received files that may lie in memory together, in units of `UNIT`: four of the largest, or some
/// thirty from phones.
const ARRIVING: usize = 120;
const UNIT: usize = 1_000_000;
/// How long one waits for room to arrive, and as long again for a place in the work.
const PATIENCE: Duration = Duration::from_secs(20);

/// Shelf, gate and budget of a house.
#[derive(Debug)]
pub struct Darkroom {
    shelf: Arc<dyn Shelf>,
    gate: Gate,
    arriving: Arc<Semaphore>,
}

impl Darkroom {
    /// Opens the shelf the settings name.
    ///
    /// # Errors
    /// Its folder can be neither found nor made.
    pub fn open(settings: &Settings) -> Result<Self, Trouble> {
        let shelf = FolderShelf::open(&settings.photos)
            .map_err(|fault| broken("opening the photo folder", &fault))?;
        Ok(Self {
            shelf: Arc::new(shelf),
            gate: Gate::new(HOUSE),
            arriving: Arc::new(Semaphore::new(ARRIVING)),
        })
    }

    /// Room for a file of so many bytes, or of the most there may be; to be held while the bytes are.
    ///
    /// # Errors
    /// `Busy`: too many others arrive.
    pub async fn room_for(&self, bytes: Option<usize>) -> Result<OwnedSemaphorePermit, Trouble> {
        let units = bytes.unwrap_or(MOST_BYTES).div_ceil(UNIT).clamp(1, ARRIVING);
        let units = u32::try_from(units).unwrap_or(1);
        tokio::time::timeout(PATIENCE, self.arriving.clone().acquire_many_owned(units))
            .await
            .map_err(|_elapsed| Trouble::Busy)?
            .map_err(|error| Trouble::broken("waiting for room for a photo", error))
    }

    /// The three files of a received picture, when its turn has come. The inner error is the picture's or the house's;
    /// its remark is for whoever sent it.
    ///
    /// # Errors
    /// The work broke off.
    pub async fn prepare(&self, received: Vec<u8>) -> Result<Result<Prepared, NotPrepared>, Trouble> {
        let gate = self.gate.clone();
        blocking(move || picture::prepare_within(&received, &gate, PATIENCE)).await
    }

    /// Puts a picture on the shelf; it would survive a power cut.
    ///
    /// # Errors
    /// The shelf refuses; then nothing may name the key.
    pub async fn put(&self, key: PhotoKey, prepared: Prepared) -> Result<(), Trouble> {
        let shelf = self.shelf.clone();
        blocking(move || shelf.put(key, &prepared))
            .await?
            .map_err(|fault| broken("putting a photo on the shelf", &fault))
    }

    /// One file of a photo.
    ///
    /// # Errors
    /// It is not there although its row is, or the shelf refuses.
    pub async fn get(&self, key: PhotoKey, size: Size) -> Result<Vec<u8>, Trouble> {
        let shelf = self.shelf.clone();
        blocking(move || shelf.get(key, size))
            .await?
            .map_err(|fault| broken("taking a photo from the shelf", &fault))
    }

    /// Takes a photo off the shelf, whether it is there or not.
    ///
    /// # Errors
    /// The shelf refuses.
    pub async fn remove(&self, key: PhotoKey) -> Result<(), Trouble> {
        let shelf = self.shelf.clone();
        blocking(move || shelf.delete(key))
            .await?
            .map_err(|fault| broken("taking a photo off the shelf", &fault))
    }

    /// Photos put on the shelf before a moment (milliseconds since 1970, UTC).
    ///
    /// # Errors
    /// The shelf refuses.
    pub async fn older_than(&self, before_ms: i64) -> Result<Vec<PhotoKey>, Trouble> {
        let shelf = self.shelf.clone();
        blocking(move || shelf.older_than(before_ms))
            .await?
            .map_err(|fault| broken("looking through the shelf", &fault))
    }

    /// The shelf itself, for work that takes many files one after the other on a thread that may block.
    #[must_use]
    pub fn shelf(&self) -> Arc<dyn Shelf> {
        self.shelf.clone()
    }

    /// Pictures in work and the bytes they hold.
    #[must_use]
    pub fn in_work(&self) -> (usize, u64) {
        self.gate.in_work()
    }
}

async fn blocking<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> Result<T, Trouble> {
    tokio::task::spawn_blocking(work).await.map_err(|error| Trouble::broken("working on a photo", error))
}

fn broken(doing: &'static str, fault: &ShelfFault) -> Trouble {
    let cause = std::error::Error::source(fault).map(|cause| format!(": {cause}")).unwrap_or_default();
    Trouble::broken(doing, format!("{fault}{cause}"))
}
