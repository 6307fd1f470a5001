//! One entry of an etch log: what was mixed, what its containers were said to hold at the time, and what is doubtful
//! about them.

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ContainerId, EtchId, PersonId, StepRunId};
use crate::spelled;
use crate::store::plates::folder::KnownHow;
use crate::store::schema::etch;
use crate::store::types::{Word, columns};
use crate::trade::etch::logged::{Kind, Mix};
use crate::trade::measure::Unit;
use crate::trade::measure::acid::AcidKind;
use crate::trade::spelled::Spelled;

spelled!(
    /// Which of its containers something in a log is about.
    Part { Gum = "gum", Acid = "acid", Stock = "stock" }
);

spelled!(
    /// What is doubtful about a container that was used.
    Doubt {
        DoNotUse = "do-not-use",
        PastDiscard = "past-discard",
        Finished = "finished",
        /// It came out of no labelled container, so nothing is known about it.
        NotNamed = "not-named",
    }
);

/// What was mixed, as told, and what the containers were said to hold at the time.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Poured {
    pub recipe: Word<Kind>,
    pub gum: Option<ContainerId>,
    pub gum_microlitres: Option<i64>,
    /// In what the volumes were told.
    pub unit: Option<Word<Unit>>,
    pub acid: Option<ContainerId>,
    pub drops: Option<i32>,
    pub stock: Option<ContainerId>,
    pub stock_microlitres: Option<i64>,
    pub gum_baume_tenths: Option<i32>,
    pub gum_ph_hundredths: Option<i32>,
    pub gum_sour: bool,
    pub acid_weight_bp: Option<i32>,
    pub acid_kind: Option<Word<AcidKind>>,
    pub drops_per_ml_hundredths: Option<i32>,
    pub drops_spread_hundredths: Option<i32>,
    pub measured_ph_hundredths: Option<i32>,
}

impl Poured {
    /// The mixture, for reckoning its strength.
    #[must_use]
    pub fn mix(&self) -> Mix {
        Mix {
            kind: self.recipe.0,
            gum_microlitres: self.gum_microlitres,
            gum_baume_tenths: self.gum_baume_tenths,
            gum_ph_hundredths: self.gum_ph_hundredths,
            gum_sour: self.gum_sour,
            stock_microlitres: self.stock_microlitres,
            drops: self.drops,
            acid_kind: self.acid_kind.map(|kind| kind.0),
            acid_weight_bp: self.acid_weight_bp,
            drops_per_ml_hundredths: self.drops_per_ml_hundredths,
            drops_spread_hundredths: self.drops_spread_hundredths,
            measured_ph_hundredths: self.measured_ph_hundredths,
        }
    }
}

/// One entry: the first telling, or a correction.
#[derive(Debug, Clone, Queryable)]
pub struct Entry {
    pub id: EtchId,
    pub run: StepRunId,
    pub step_key: String,
    pub root: EtchId,
    pub superseded_at: Option<Instant>,
    /// Why it was corrected; empty for the first entry.
    pub reason: String,
    pub by: PersonId,
    /// When the etch was done.
    pub at: Instant,
    /// When this entry was written down.
    pub received_at: Instant,
    pub known_how: Word<KnownHow>,
    pub poured: Poured,
    pub tool: String,
    pub helper: String,
    pub seen: String,
    doubts: Option<String>,
}

impl Entry {
    /// What was doubtful about its containers.
    pub fn doubts(&self) -> impl Iterator<Item = (Part, Doubt)> {
        let told = self.doubts.as_deref().unwrap_or_default();
        told.split(',').filter_map(|one| {
            let (part, doubt) = one.split_once(':')?;
            Part::from_word(part).zip(Doubt::from_word(doubt))
        })
    }
}

impl Poured {
    /// The container of one part.
    #[must_use]
    pub const fn named(&self, part: Part) -> Option<ContainerId> {
        match part {
            Part::Gum => self.gum,
            Part::Acid => self.acid,
            Part::Stock => self.stock,
        }
    }
}

/// Doubts as they stand in their column.
pub(super) fn doubts_text(doubts: &[(Part, Doubt)]) -> Option<String> {
    let words: Vec<String> =
        doubts.iter().map(|(part, doubt)| format!("{}:{}", part.word(), doubt.word())).collect();
    (!words.is_empty()).then(|| words.join(","))
}

/// The columns of a [`Poured`].
macro_rules! pouring {
    () => {
        (
            $crate::store::schema::etch::recipe,
            $crate::store::schema::etch::gum_id,
            $crate::store::schema::etch::gum_microlitres,
            $crate::store::schema::etch::gum_unit,
            $crate::store::schema::etch::acid_id,
            $crate::store::schema::etch::drops,
            $crate::store::schema::etch::stock_id,
            $crate::store::schema::etch::stock_microlitres,
            $crate::store::schema::etch::gum_baume_tenths,
            $crate::store::schema::etch::gum_ph_hundredths,
            $crate::store::schema::etch::gum_sour,
            $crate::store::schema::etch::acid_weight_bp,
            $crate::store::schema::etch::acid_kind,
            $crate::store::schema::etch::drops_per_ml_hundredths,
            $crate::store::schema::etch::drops_spread_hundredths,
            $crate::store::schema::etch::measured_ph_hundredths,
        )
    };
}
pub(crate) use pouring;

columns! {
    /// The columns of an [`Entry`].
    pub(in crate::store) const ENTRY: Columns = (
        etch::id,
        etch::step_run_id,
        etch::step_key,
        etch::root,
        etch::superseded_at,
        etch::reason,
        etch::by_id,
        etch::at,
        etch::received_at,
        etch::known_how,
        pouring!(),
        etch::tool,
        etch::helper,
        etch::seen,
        etch::doubts,
    );
}
