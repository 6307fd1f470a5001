//! Containers: gum batches (G), acid bottles (A) and stock etches (E), with the mark on their label and what nobody
//! types at the table. A log names containers and keeps its own copy of their figures, so a later change here changes
//! no log.

use chrono::NaiveDate;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ContainerId, DataSheetId, StudioId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::schema::container;
use crate::store::studio::stale;
use crate::store::types::{Word, columns};
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

spelled!(
    /// What a container holds.
    Substance {
        Gum = "gum",
        Phosphoric = "phosphoric",
        Nitric = "nitric",
        /// Mixed or bought ready to use.
        Stock = "stock",
    }
);

impl Substance {
    /// The letter of the mark on the label.
    #[must_use]
    pub const fn letter(self) -> &'static str {
        match self {
            Self::Gum => "G",
            Self::Phosphoric | Self::Nitric => "A",
            Self::Stock => "E",
        }
    }

    #[must_use]
    pub const fn is_acid(self) -> bool {
        matches!(self, Self::Phosphoric | Self::Nitric)
    }
}

spelled!(
    /// Whether a container may be used, the best first.
    Usable {
        Yes = "yes",
        PastDiscard = "past-discard",
        DoNotUse = "do-not-use",
        /// Empty, or thrown away.
        Finished = "finished",
    }
);

/// A container. `None` in a figure: not told, and for `drops_per_ml_hundredths` not calibrated.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Container {
    pub id: ContainerId,
    pub letter: String,
    pub number: i32,
    pub substance: Word<Substance>,
    pub opened: NaiveDate,
    pub finished_at: Option<Instant>,
    pub version: i64,
    #[diesel(embed)]
    pub told: Told,
}

/// What people tell about a container and may change. Baumé in tenths of a degree, pH in hundredths, weight percent in
/// basis points, drops per mL in hundredths with a spread to either side.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Told {
    pub label: String,
    pub baume_tenths: Option<i32>,
    pub ph_hundredths: Option<i32>,
    pub weight_bp: Option<i32>,
    pub drops_per_ml_hundredths: Option<i32>,
    pub drops_spread_hundredths: Option<i32>,
    /// The last day on which it may be used.
    pub discard: Option<NaiveDate>,
    pub sour: bool,
    /// Why it must not be used.
    pub do_not_use: Option<String>,
    pub note: String,
}

impl Container {
    /// The mark on the label: G3.
    #[must_use]
    pub fn mark(&self) -> String {
        format!("{}{}", self.letter, self.number)
    }

    /// Whether it may be used on a day.
    #[must_use]
    pub fn usable(&self, today: NaiveDate) -> Usable {
        if self.finished_at.is_some() {
            Usable::Finished
        } else if self.told.do_not_use.is_some() {
            Usable::DoNotUse
        } else if self.told.discard.is_some_and(|last| last < today) {
            Usable::PastDiscard
        } else {
            Usable::Yes
        }
    }
}

/// All containers of a studio by letter and number, finished ones included: old logs name them.
///
/// # Errors
/// The database cannot be read.
pub fn containers(db: &mut AnyConnection, studio: StudioId) -> Result<Vec<Container>, Trouble> {
    Ok(container::table
        .filter(container::studio_id.eq(studio))
        .order((container::letter, container::number))
        .select(COLUMNS)
        .load(db)?)
}

/// One container of a studio.
///
/// # Errors
/// `NotFound`, or the database cannot be read.
pub fn container(db: &mut AnyConnection, studio: StudioId, id: ContainerId) -> Result<Container, Trouble> {
    let target = container::table.filter(container::id.eq(id).and(container::studio_id.eq(studio)));
    Ok(target.select(COLUMNS).first(db)?)
}

columns! {
    const COLUMNS: Columns = (
        container::id,
        container::letter,
        container::number,
        container::substance,
        container::opened,
        container::finished_at,
        container::version,
        (
            container::label,
            container::baume_tenths,
            container::ph_hundredths,
            container::weight_bp,
            container::drops_per_ml_hundredths,
            container::drops_spread_hundredths,
            container::discard,
            container::sour,
            container::do_not_use,
            container::note,
        ),
    );
}

/// Checks what was told against the substance and the calendar; complaints stand at the fields of the form.
///
/// # Errors
/// All complaints.
pub fn check(substance: Substance, opened: NaiveDate, told: &Told, today: NaiveDate) -> Result<(), Trouble> {
    let mut complaints = Vec::new();
    let mut complain = |field: &str, remark: Remark| complaints.push(Complaint::new(field, remark));
    if opened > today {
        complain("opened", Remark::new("studio-opened-later").with("day", opened.to_string()));
    }
    if told.discard.is_some_and(|last| last < opened) {
        complain("discard", Remark::new("studio-discard-before-opened"));
    }
    match (told.drops_per_ml_hundredths, told.drops_spread_hundredths) {
        (None, Some(_)) => complain("drops_per_ml", Remark::new("studio-spread-alone")),
        (Some(drops), Some(spread)) if spread >= drops => {
            complain("drops_spread", Remark::new("studio-spread-too-wide"));
        }
        _ => {}
    }
    let acid = substance.is_acid();
    for (field, given, fits) in [
        ("baume", told.baume_tenths.is_some(), substance == Substance::Gum),
        ("ph", told.ph_hundredths.is_some(), !acid),
        ("weight", told.weight_bp.is_some(), acid),
        ("drops_per_ml", told.drops_per_ml_hundredths.is_some(), acid),
        ("drops_spread", told.drops_spread_hundredths.is_some(), acid),
        ("sour", told.sour, substance == Substance::Gum),
    ] {
        if given && !fits {
            complain(field, Remark::new("studio-figure-elsewhere"));
        }
    }
    if acid && told.weight_bp.is_none() {
        complain("weight", Remark::new("studio-acid-without-weight"));
    }
    if complaints.is_empty() { Ok(()) } else { Err(Trouble::Complaints(complaints)) }
}

impl Tx<'_> {
    /// Puts a container on the shelf under the next free number of its letter; a number is never given again, because
    /// old logs name it. Acts of studios are in line, so two at once get two numbers.
    ///
    /// # Errors
    /// Complaints, or the database refuses.
    pub fn add_container(
        &mut self,
        studio: StudioId,
        substance: Substance,
        opened: NaiveDate,
        told: &Told,
        today: NaiveDate,
    ) -> Result<ContainerId, Trouble> {
        check(substance, opened, told, today)?;
        let last: Option<i32> = container::table
            .filter(container::studio_id.eq(studio).and(container::letter.eq(substance.letter())))
            .select(diesel::dsl::max(container::number))
            .first(self.connection)?;
        let number = last.unwrap_or(0) + 1;
        // The sheet of the last bottle of the same product is this one's too.
        let sheet: Option<DataSheetId> = container::table
            .filter(container::studio_id.eq(studio).and(container::substance.eq(Word(substance))))
            .filter(container::label.eq(&told.label).and(container::data_sheet_id.is_not_null()))
            .order(container::number.desc())
            .select(container::data_sheet_id.assume_not_null())
            .first(self.connection)
            .optional()?;
        let id: ContainerId = self.id();
        diesel::insert_into(container::table)
            .values((
                (container::id.eq(id), container::studio_id.eq(studio), container::opened.eq(opened)),
                (container::letter.eq(substance.letter()), container::number.eq(number)),
                (container::substance.eq(Word(substance)), values(told)),
                (container::created_at.eq(self.now), container::version.eq(1)),
                container::data_sheet_id.eq(sheet),
            ))
            .execute(self.connection)?;
        let mark = format!("{}{number}", substance.letter());
        self.journal("container.added", id, &json!({ "mark": mark, "opened": opened, "told": told }))?;
        Ok(id)
    }

    /// Changes what is told about a container, if it still has the version it was shown with.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, complaints, or the database refuses.
    pub fn change_container(
        &mut self,
        studio: StudioId,
        id: ContainerId,
        version: i64,
        opened: NaiveDate,
        told: &Told,
        today: NaiveDate,
    ) -> Result<(), Trouble> {
        let before = container(self.connection, studio, id)?;
        check(before.substance.0, opened, told, today)?;
        let changed = diesel::update(container::table.find(id).filter(container::version.eq(version)))
            .set((container::opened.eq(opened), values(told), container::version.eq(version + 1)))
            .execute(self.connection)?;
        if changed == 0 {
            return Err(stale());
        }
        self.journal("container.changed", id, &json!({ "before": before, "opened": opened, "after": told }))
    }

    /// Says that a container is finished, or that it is not after all.
    ///
    /// # Errors
    /// `NotFound`, or the database refuses.
    pub fn finish_container(
        &mut self,
        studio: StudioId,
        id: ContainerId,
        finished: bool,
    ) -> Result<(), Trouble> {
        let before = container(self.connection, studio, id)?;
        if before.finished_at.is_some() == finished {
            return Ok(());
        }
        diesel::update(container::table.find(id))
            .set((
                container::finished_at.eq(finished.then_some(self.now)),
                container::version.eq(container::version + 1),
            ))
            .execute(self.connection)?;
        self.journal("container.finished", id, &json!({ "mark": before.mark(), "finished": finished }))
    }
}

/// The columns of what was told, for inserting and changing alike.
#[derive(Insertable, AsChangeset)]
#[diesel(table_name = container, treat_none_as_null = true)]
struct Values<'a> {
    label: &'a str,
    baume_tenths: Option<i32>,
    ph_hundredths: Option<i32>,
    weight_bp: Option<i32>,
    drops_per_ml_hundredths: Option<i32>,
    drops_spread_hundredths: Option<i32>,
    discard: Option<NaiveDate>,
    sour: bool,
    do_not_use: Option<&'a str>,
    note: &'a str,
}

fn values(told: &Told) -> Values<'_> {
    Values {
        label: &told.label,
        baume_tenths: told.baume_tenths,
        ph_hundredths: told.ph_hundredths,
        weight_bp: told.weight_bp,
        drops_per_ml_hundredths: told.drops_per_ml_hundredths,
        drops_spread_hundredths: told.drops_spread_hundredths,
        discard: told.discard,
        sour: told.sour,
        do_not_use: told.do_not_use.as_deref(),
        note: &told.note,
    }
}
