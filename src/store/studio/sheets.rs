//! Safety data sheets on file: the supplier's PDF, its revision date, and in short what it says of hazards, as staff
//! entered it. One sheet serves all bottles of the same product. A change is a new row that replaces the one before.

use std::collections::HashSet;

use chrono::NaiveDate;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ContainerId, DataSheetId, StudioId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::schema::{container, data_sheet, person};
use crate::store::studio::containers::{Substance, container};
use crate::store::studio::stale;
use crate::store::types::{Word, columns};
use crate::store::write::Tx;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

spelled!(
    /// The signal word of a label.
    Signal { Danger = "danger", Warning = "warning", NoWord = "none" }
);

spelled!(
    /// The hazard pictograms by the names GHS gives them (29 CFR 1910.1200 appendix C; names from memory). Pages and
    /// labels draw them with their names beside them.
    Pictogram {
        ExplodingBomb = "exploding-bomb",
        Flame = "flame",
        FlameOverCircle = "flame-over-circle",
        GasCylinder = "gas-cylinder",
        Corrosion = "corrosion",
        SkullAndCrossbones = "skull-and-crossbones",
        ExclamationMark = "exclamation-mark",
        HealthHazard = "health-hazard",
        Environment = "environment",
    }
);

/// A sheet on file.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct DataSheet {
    pub id: DataSheetId,
    pub substance: Word<Substance>,
    pub product: String,
    pub supplier: String,
    pub revised: NaiveDate,
    pub signal: Word<Signal>,
    /// The hazard words, a line each.
    pub hazards: String,
    /// Words of [`Pictogram`], separated by spaces.
    pub pictograms: String,
    pub file: File,
    pub at: Instant,
    pub given_name: String,
    pub family_name: String,
}

/// Which of these papers a sheet names, one that was replaced included.
///
/// # Errors
/// The database cannot be read.
pub fn papers_named(db: &mut AnyConnection, sha256: &[String]) -> Result<HashSet<String>, Trouble> {
    let found: Vec<String> = data_sheet::table
        .filter(data_sheet::file_sha256.eq_any(sha256))
        .select(data_sheet::file_sha256)
        .load(db)?;
    Ok(found.into_iter().collect())
}

/// The PDF behind a sheet; its bytes lie on the shelf under their SHA-256.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct File {
    pub name: String,
    pub sha256: String,
    pub bytes: i64,
}

/// What is told about a sheet. `file` None: the one on file stays.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetDraft {
    pub product: String,
    pub supplier: String,
    pub revised: NaiveDate,
    pub signal: Signal,
    pub hazards: String,
    pub pictograms: Vec<Pictogram>,
    pub file: Option<File>,
}

impl DataSheet {
    #[must_use]
    pub fn pictograms(&self) -> Vec<Pictogram> {
        self.pictograms.split(' ').filter_map(Pictogram::from_word).collect()
    }

    #[must_use]
    pub fn hazards(&self) -> Vec<&str> {
        self.hazards.lines().map(str::trim).filter(|line| !line.is_empty()).collect()
    }
}

/// The sheet on file for a container.
///
/// # Errors
/// The database cannot be read.
pub fn sheet_of(
    db: &mut AnyConnection,
    studio: StudioId,
    id: ContainerId,
) -> Result<Option<DataSheet>, Trouble> {
    Ok(data_sheet::table
        .inner_join(person::table)
        .filter(
            data_sheet::studio_id.eq(studio).and(
                data_sheet::id
                    .nullable()
                    .eq_any(container::table.filter(container::id.eq(id)).select(container::data_sheet_id)),
            ),
        )
        .select(COLUMNS)
        .first(db)
        .optional()?)
}

/// The sheets of a studio that no later one replaces, by product.
///
/// # Errors
/// The database cannot be read.
pub fn sheets(db: &mut AnyConnection, studio: StudioId) -> Result<Vec<DataSheet>, Trouble> {
    let later = diesel::alias!(data_sheet as later);
    Ok(data_sheet::table
        .inner_join(person::table)
        .filter(data_sheet::studio_id.eq(studio))
        .filter(diesel::dsl::not(diesel::dsl::exists(
            later.filter(later.field(data_sheet::replaces_id).eq(data_sheet::id.nullable())),
        )))
        .order((data_sheet::product, data_sheet::id))
        .select(COLUMNS)
        .load(db)?)
}

/// Which containers of a studio have a sheet on file, and which sheet.
///
/// # Errors
/// The database cannot be read.
pub fn sheets_by_container(
    db: &mut AnyConnection,
    studio: StudioId,
) -> Result<Vec<(ContainerId, DataSheetId)>, Trouble> {
    Ok(container::table
        .filter(container::studio_id.eq(studio).and(container::data_sheet_id.is_not_null()))
        .select((container::id, container::data_sheet_id.assume_not_null()))
        .load(db)?)
}

columns! {
    const COLUMNS: Columns = (
        data_sheet::id,
        data_sheet::substance,
        data_sheet::product,
        data_sheet::supplier,
        data_sheet::revised,
        data_sheet::signal,
        data_sheet::hazards,
        data_sheet::pictograms,
        (data_sheet::file_name, data_sheet::file_sha256, data_sheet::file_bytes),
        data_sheet::at,
        person::given_name,
        person::family_name,
    );
}

impl Tx<'_> {
    /// Puts a sheet on file for a container and for every other of its studio with the same words on its label or the
    /// same sheet until now. `seen` is the sheet that was on file when the form was opened.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, a complaint at `file` where there is neither a new one nor one on file.
    pub fn file_sheet(
        &mut self,
        studio: StudioId,
        id: ContainerId,
        seen: Option<DataSheetId>,
        draft: &SheetDraft,
    ) -> Result<(), Trouble> {
        let held = container(self.connection, studio, id)?;
        let before = sheet_of(self.connection, studio, id)?;
        if before.as_ref().map(|sheet| sheet.id) != seen {
            return Err(stale());
        }
        let file = draft.file.clone().or_else(|| before.as_ref().map(|sheet| sheet.file.clone()));
        let file = file.ok_or_else(|| {
            Trouble::about("file", crate::trade::remark::Remark::new("mixing-sheet-no-file"))
        })?;
        let pictograms = draft.pictograms.iter().map(|one| one.word()).collect::<Vec<_>>().join(" ");
        let new: DataSheetId = self.id();
        diesel::insert_into(data_sheet::table)
            .values((
                (data_sheet::id.eq(new), data_sheet::studio_id.eq(studio)),
                data_sheet::replaces_id.eq(before.as_ref().map(|sheet| sheet.id)),
                (data_sheet::substance.eq(held.substance), data_sheet::product.eq(&draft.product)),
                (data_sheet::supplier.eq(&draft.supplier), data_sheet::revised.eq(draft.revised)),
                (data_sheet::signal.eq(Word(draft.signal)), data_sheet::hazards.eq(&draft.hazards)),
                (data_sheet::pictograms.eq(&pictograms), data_sheet::file_name.eq(&file.name)),
                (data_sheet::file_sha256.eq(&file.sha256), data_sheet::file_bytes.eq(file.bytes)),
                (data_sheet::by_id.eq(self.person()?), data_sheet::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        let same_label = container::substance
            .eq(held.substance)
            .and(container::label.eq(&held.told.label))
            .and(container::data_sheet_id.is_null());
        let of_studio = container::table.filter(container::studio_id.eq(studio));
        diesel::update(of_studio.filter(container::id.eq(id).or(same_label)))
            .set(container::data_sheet_id.eq(new))
            .execute(self.connection)?;
        if let Some(before) = &before {
            diesel::update(of_studio.filter(container::data_sheet_id.eq(before.id)))
                .set(container::data_sheet_id.eq(new))
                .execute(self.connection)?;
        }
        let detail = json!({ "sheet": new, "product": draft.product, "supplier": draft.supplier,
            "revised": draft.revised, "signal": draft.signal, "hazards": draft.hazards,
            "pictograms": pictograms, "sha256": file.sha256 });
        self.journal("data_sheet.filed", id, &detail)
    }

    /// Says that a sheet already on file is the one of this container too.
    ///
    /// # Errors
    /// `NotFound` where container or sheet are not of this studio, or the sheet is of another substance.
    pub fn use_sheet(
        &mut self,
        studio: StudioId,
        id: ContainerId,
        sheet: DataSheetId,
    ) -> Result<(), Trouble> {
        let held = container(self.connection, studio, id)?;
        let known = sheets(self.connection, studio)?;
        if !known.iter().any(|one| one.id == sheet && one.substance == held.substance) {
            return Err(Trouble::NotFound);
        }
        diesel::update(container::table.find(id))
            .set(container::data_sheet_id.eq(sheet))
            .execute(self.connection)?;
        self.journal("data_sheet.used", id, &json!({ "sheet": sheet }))
    }
}
