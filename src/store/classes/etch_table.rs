//! The etches a class goes by: for each drawing the drops, the applications and their seconds, as its instructor keeps
//! them. All rows are saved together; what stood before stays in the record as superseded.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, EtchTableRowId};
use crate::store::connections::AnyConnection;
use crate::store::schema::etch_table_row;
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::etch::table::Weight;
use crate::trade::procedure::Surface;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A row that stands.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Row {
    pub id: EtchTableRowId,
    pub surface: Word<Surface>,
    pub weight: Word<Weight>,
    /// What it is drawn with.
    pub material: String,
    /// For a US fluid ounce of gum.
    pub drops_hundredths: i32,
    pub applications: i32,
    /// Of each application.
    pub seconds: i32,
    /// Where the row is from, in the instructor's words.
    pub source: String,
}

/// A row to be kept.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct RowDraft {
    pub surface: Surface,
    pub weight: Weight,
    pub material: String,
    pub drops_hundredths: i32,
    pub applications: i32,
    pub seconds: i32,
    pub source: String,
}

/// The table as it stands, with the version it was saved under: 0 as long as nobody kept one. Two statements.
///
/// # Errors
/// The database cannot be read.
pub fn etch_table(db: &mut AnyConnection, class: ClassId) -> Result<(i64, Vec<Row>), Trouble> {
    let version: Option<i64> = etch_table_row::table
        .filter(etch_table_row::class_id.eq(class))
        .select(diesel::dsl::max(etch_table_row::version))
        .first(db)?;
    let rows = etch_table_row::table
        .filter(etch_table_row::class_id.eq(class).and(etch_table_row::superseded_at.is_null()))
        .order((etch_table_row::position, etch_table_row::id))
        .select((
            etch_table_row::id,
            etch_table_row::surface,
            etch_table_row::weight,
            etch_table_row::material,
            etch_table_row::drops_hundredths,
            etch_table_row::applications,
            etch_table_row::seconds,
            etch_table_row::source,
        ))
        .load(db)?;
    Ok((version.unwrap_or(0), rows))
}

impl Tx<'_> {
    /// Keeps the whole table of a class, if it still has the version that was looked at.
    ///
    /// # Errors
    /// `Stale`, or the database refuses.
    pub fn keep_etch_table(&mut self, class: ClassId, seen: i64, drafts: &[RowDraft]) -> Result<(), Trouble> {
        let (version, _) = etch_table(self.connection, class)?;
        if version != seen {
            return Err(Trouble::Stale(Remark::new("form-stale")));
        }
        diesel::update(
            etch_table_row::table
                .filter(etch_table_row::class_id.eq(class).and(etch_table_row::superseded_at.is_null())),
        )
        .set(etch_table_row::superseded_at.eq(self.now))
        .execute(self.connection)?;
        self.insert_etch_rows(class, version + 1, drafts)?;
        self.journal("etch_table.kept", class, &json!({ "version": version + 1, "rows": drafts }))
    }

    fn insert_etch_rows(&mut self, class: ClassId, version: i64, drafts: &[RowDraft]) -> Result<(), Trouble> {
        for (position, draft) in (1_i32..).zip(drafts) {
            diesel::insert_into(etch_table_row::table)
                .values((
                    etch_table_row::id.eq(self.id::<crate::ids::EtchTableRow>()),
                    (etch_table_row::class_id.eq(class), etch_table_row::version.eq(version)),
                    (etch_table_row::position.eq(position), etch_table_row::surface.eq(Word(draft.surface))),
                    etch_table_row::weight.eq(Word(draft.weight)),
                    etch_table_row::material.eq(&draft.material),
                    etch_table_row::drops_hundredths.eq(draft.drops_hundredths),
                    etch_table_row::applications.eq(draft.applications),
                    (etch_table_row::seconds.eq(draft.seconds), etch_table_row::source.eq(&draft.source)),
                    (etch_table_row::by_id.eq(self.by), etch_table_row::at.eq(self.now)),
                ))
                .execute(self.connection)?;
        }
        Ok(())
    }

    /// Brings the table along into a class that has none of its own.
    pub(super) fn carry_etch_table(&mut self, from: ClassId, into: ClassId) -> Result<(), Trouble> {
        let (kept, _) = etch_table(self.connection, into)?;
        let (_, rows) = etch_table(self.connection, from)?;
        if kept > 0 || rows.is_empty() {
            return Ok(());
        }
        let drafts: Vec<RowDraft> = rows.into_iter().map(RowDraft::from).collect();
        self.insert_etch_rows(into, 1, &drafts)
    }
}

impl From<Row> for RowDraft {
    fn from(row: Row) -> Self {
        Self {
            surface: row.surface.0,
            weight: row.weight.0,
            material: row.material,
            drops_hundredths: row.drops_hundredths,
            applications: row.applications,
            seconds: row.seconds,
            source: row.source,
        }
    }
}
