//! Droppers calibrated by weight: so many drops of the acid itself on a balance. Each weighing stays in the record; the
//! last one stands on the bottle as drops per mL with a spread.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ContainerId, StudioId, WeighingId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{container, person, weighing};
use crate::store::studio::containers::{Container, Substance, container};
use crate::store::studio::stale;
use crate::store::write::Tx;
use crate::trade::exact::{Exact, Rounding};
use crate::trade::measure::acid::{Acid, AcidKind};
use crate::trade::measure::dropper;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A weighing with what it came to.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct Weighing {
    pub id: WeighingId,
    pub drops: i32,
    pub milligrams: i64,
    /// Of the acid as the bottle told it then, in basis points.
    pub weight_bp: i32,
    pub drops_per_ml_hundredths: i32,
    pub drops_spread_hundredths: i32,
    pub at: Instant,
    pub given_name: String,
    pub family_name: String,
}

/// What was counted and weighed. The spread is a tenth where nobody told one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WeighingDraft {
    pub drops: i32,
    pub milligrams: i64,
    pub spread_hundredths: Option<i32>,
}

/// The weighings of a bottle, the last one first.
///
/// # Errors
/// The database cannot be read.
pub fn weighings(db: &mut AnyConnection, of: ContainerId) -> Result<Vec<Weighing>, Trouble> {
    Ok(weighing::table
        .inner_join(person::table)
        .filter(weighing::container_id.eq(of))
        .order((weighing::at.desc(), weighing::id.desc()))
        .limit(20)
        .select((
            weighing::id,
            weighing::drops,
            weighing::milligrams,
            weighing::weight_bp,
            weighing::drops_per_ml_hundredths,
            weighing::drops_spread_hundredths,
            weighing::at,
            person::given_name,
            person::family_name,
        ))
        .load(db)?)
}

impl Container {
    /// The acid it holds; None for anything else, and for a bottle whose percent nobody told.
    ///
    /// # Errors
    /// It is told to be stronger than the densities known here go.
    pub fn acid(&self) -> Result<Option<Acid>, Remark> {
        let kind = match self.substance.0 {
            Substance::Phosphoric => AcidKind::Phosphoric,
            Substance::Nitric => AcidKind::Nitric,
            Substance::Gum | Substance::Stock => return Ok(None),
        };
        let mark = self.mark();
        self.told.weight_bp.map(|points| Acid::basis_points(&mark, kind, points)).transpose()
    }
}

/// Drops per mL in hundredths, by drops × density ÷ grams; and the spread, a tenth where none is told.
///
/// # Errors
/// Complaints at `drops`, `grams` or `spread`; `Refused` for a bottle whose density is not known.
pub fn calibrated(held: &Container, draft: &WeighingDraft) -> Result<(i32, i32), Trouble> {
    let acid = held.acid().map_err(Trouble::Refused)?.ok_or(Trouble::NotFound)?;
    let drops = u32::try_from(draft.drops).unwrap_or(0);
    let weighing = dropper::Weighing { drops, grams: Exact::with_places(draft.milligrams, 3), acid };
    let per_ml = weighing.drops_per_ml().map_err(|remark| Trouble::about("grams", remark))?;
    let hundredths = |exact: &Exact| {
        let whole = (exact * &Exact::whole(100)).rounded(Rounding::half_up(0)).to_i64();
        whole.and_then(|whole| i32::try_from(whole).ok()).unwrap_or(i32::MAX)
    };
    let tenth = &per_ml * &Exact::with_places(1, 1);
    let found = (hundredths(&per_ml), draft.spread_hundredths.unwrap_or_else(|| hundredths(&tenth)));
    if found.1 >= found.0 {
        return Err(Trouble::about("spread", Remark::new("studio-spread-too-wide")));
    }
    Ok(found)
}

impl Tx<'_> {
    /// Records a weighing and lets the bottle stand with what it came to, if it still has the version it was shown with.
    ///
    /// # Errors
    /// `NotFound` where it holds no acid, `Stale`, complaints, or the database refuses.
    pub fn weigh_drops(
        &mut self,
        studio: StudioId,
        id: ContainerId,
        version: i64,
        draft: &WeighingDraft,
    ) -> Result<(), Trouble> {
        let held = container(self.connection, studio, id)?;
        if !held.substance.0.is_acid() {
            return Err(Trouble::NotFound);
        }
        let (per_ml, spread) = calibrated(&held, draft)?;
        let changed = diesel::update(container::table.find(id).filter(container::version.eq(version)))
            .set((
                container::drops_per_ml_hundredths.eq(per_ml),
                container::drops_spread_hundredths.eq(spread),
                container::version.eq(version + 1),
            ))
            .execute(self.connection)?;
        if changed == 0 {
            return Err(stale());
        }
        diesel::insert_into(weighing::table)
            .values((
                (weighing::id.eq(self.id::<crate::ids::Weighing>()), weighing::container_id.eq(id)),
                (weighing::drops.eq(draft.drops), weighing::milligrams.eq(draft.milligrams)),
                weighing::weight_bp.eq(held.told.weight_bp.unwrap_or(0)),
                weighing::drops_per_ml_hundredths.eq(per_ml),
                weighing::drops_spread_hundredths.eq(spread),
                (weighing::by_id.eq(self.person()?), weighing::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        let detail = json!({ "mark": held.mark(), "drops": draft.drops, "milligrams": draft.milligrams,
            "drops_per_ml_hundredths": per_ml, "drops_spread_hundredths": spread });
        self.journal("container.calibrated", id, &detail)
    }
}
