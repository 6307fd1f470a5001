//! What the plate's own page shows of its proofs: the last few, where to add and compare, and the comments about the
//! plate.

use serde::Serialize;

use crate::ids::{ClassId, PlateId};
use crate::pages::entry::{InClass, Seat};
use crate::pages::proofs::comments::Back;
use crate::pages::proofs::path;
use crate::pages::proofs::shown::{ProofView, Shown, Talk};
use crate::store::AnyConnection;
use crate::store::proofs::pulls::{self, Numbered};
use crate::store::proofs::{PlateTitle, comments};
use crate::trouble::Trouble;

/// How many proofs the plate's page shows.
const LAST: usize = 3;

/// The proofs of a plate and the comments about it, as they stand in the record.
#[derive(Debug)]
pub struct OnFile {
    proofs: Vec<Numbered>,
    comments: Vec<comments::Comment>,
}

impl OnFile {
    /// Reads both: two statements. The plate must have been found for who asks.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn read(db: &mut AnyConnection, class: ClassId, plate: PlateId) -> Result<Self, Trouble> {
        Ok(Self {
            proofs: pulls::of_plate(db, class, plate)?,
            comments: comments::of_plate(db, class, plate, false)?,
        })
    }

    /// The proofs, the last pulled first.
    #[must_use]
    pub fn proofs(&self) -> &[Numbered] {
        &self.proofs
    }
}

/// The section's view.
#[derive(Debug, Serialize)]
pub struct Section {
    proofs: Vec<ProofView>,
    /// How many there are in all.
    count: usize,
    two: bool,
    add: bool,
    path: String,
    talk: Talk,
}

impl Section {
    #[must_use]
    pub fn of(ask: &InClass, plate: &PlateTitle, file: &OnFile) -> Self {
        let shown = Shown { ask, plate, comments: &file.comments, refused: None, back: Back::Plate };
        Self {
            proofs: file.proofs.iter().take(LAST).map(|one| shown.proof(one)).collect(),
            count: file.proofs.len(),
            two: file.proofs.len() > 1,
            add: ask.seat() != Seat::Assistant,
            path: path(ask.class(), plate.plate),
            talk: shown.talk(None),
        }
    }
}
