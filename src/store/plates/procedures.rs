//! Procedures in versions. A version never changes, so a parsed one is kept for as long as the program runs.

use std::collections::HashMap;
use std::sync::{Arc, RwLock};

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PlateId, ProcedureId, ProcedureVersionId};
use crate::store::connections::AnyConnection;
use crate::store::plates::drafts;
use crate::store::schema::{plate, procedure, procedure_draft, procedure_version};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::procedure::{Charted, Procedure, Surface, shipped};
use crate::trouble::Trouble;

/// Parsed versions by id: safe to share, because a version is never changed.
#[derive(Debug, Default)]
pub struct Procedures {
    read: RwLock<HashMap<ProcedureVersionId, Arc<Charted>>>,
}

impl Procedures {
    /// The procedures of some versions; those not read before cost one statement together.
    ///
    /// # Errors
    /// A version is missing or does not parse.
    pub fn of(
        &self,
        db: &mut AnyConnection,
        ids: &[ProcedureVersionId],
    ) -> Result<HashMap<ProcedureVersionId, Arc<Charted>>, Trouble> {
        let broken = |error: String| Trouble::broken("reading a procedure", error);
        let mut found: HashMap<_, _> = {
            let read = self.read.read().map_err(|error| broken(error.to_string()))?;
            ids.iter().filter_map(|id| read.get(id).map(|known| (*id, known.clone()))).collect()
        };
        let missing: Vec<_> = ids.iter().filter(|id| !found.contains_key(id)).copied().collect();
        if missing.is_empty() {
            return Ok(found);
        }
        let rows: Vec<(ProcedureVersionId, String)> = procedure_version::table
            .filter(procedure_version::id.eq_any(&missing))
            .select((procedure_version::id, procedure_version::body))
            .load(db)?;
        let mut read = self.read.write().map_err(|error| broken(error.to_string()))?;
        for (id, body) in rows {
            let parsed = Procedure::from_json(&body).map_err(|remark| broken(format!("{id}: {remark:?}")))?;
            let parsed = Arc::new(Charted::of(parsed));
            read.insert(id, parsed.clone());
            found.insert(id, parsed);
        }
        match ids.iter().find(|id| !found.contains_key(id)) {
            Some(lost) => Err(broken(format!("version {lost} is not there"))),
            None => Ok(found),
        }
    }
}

/// A procedure one can choose.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct Choice {
    pub id: ProcedureId,
    pub name: String,
    pub surface: Word<Surface>,
}

/// The procedures a class can choose from: its own, once they were kept, and the school's.
///
/// # Errors
/// The database cannot be read.
pub fn choices(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Choice>, Trouble> {
    Ok(procedure::table
        .filter(procedure::class_id.is_null().or(procedure::class_id.eq(class)))
        .filter(procedure::id.eq_any(procedure_version::table.select(procedure_version::procedure_id)))
        .order((procedure::name, procedure::id))
        .select((procedure::id, procedure::name, procedure::surface))
        .load(db)?)
}

/// A version that was kept.
#[derive(Debug, Clone)]
pub struct Kept {
    pub id: ProcedureVersionId,
    pub number: i32,
    pub created_at: Instant,
    /// How many plates of the class keep it.
    pub plates: usize,
}

/// A procedure in the list of a class: its own or the school's.
#[derive(Debug, Clone)]
pub struct Listed {
    pub id: ProcedureId,
    pub of_school: bool,
    pub name: String,
    pub surface: Surface,
    /// Oldest first; empty where none was ever kept.
    pub versions: Vec<Kept>,
    /// Whether a draft is open.
    pub draft: bool,
}

/// Everything a class can choose from, and what it is writing. Five statements.
///
/// # Errors
/// The database cannot be read.
pub fn listed(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Listed>, Trouble> {
    let rows: Vec<(ProcedureId, Option<ClassId>, String, Word<Surface>)> = procedure::table
        .filter(procedure::class_id.is_null().or(procedure::class_id.eq(class)))
        .filter(procedure::id.ne_all(drafts::thrown_away_whole(db)?))
        .order((procedure::name, procedure::id))
        .select((procedure::id, procedure::class_id, procedure::name, procedure::surface))
        .load(db)?;
    let ids: Vec<ProcedureId> = rows.iter().map(|row| row.0).collect();
    let versions: Vec<(ProcedureVersionId, ProcedureId, i32, Instant)> = procedure_version::table
        .filter(procedure_version::procedure_id.eq_any(&ids))
        .order((procedure_version::procedure_id, procedure_version::number))
        .select((
            procedure_version::id,
            procedure_version::procedure_id,
            procedure_version::number,
            procedure_version::created_at,
        ))
        .load(db)?;
    let drafts: Vec<ProcedureId> = procedure_draft::table
        .filter(procedure_draft::class_id.eq(class).and(procedure_draft::discarded_at.is_null()))
        .select(procedure_draft::procedure_id)
        .load(db)?;
    let plates: Vec<ProcedureVersionId> =
        plate::table.filter(plate::class_id.eq(class)).select(plate::procedure_version_id).load(db)?;
    let kept = |id: ProcedureId| {
        let of_procedure = versions.iter().filter(move |version| version.1 == id);
        of_procedure.map(|(id, _, number, created_at)| Kept {
            id: *id,
            number: *number,
            created_at: *created_at,
            plates: plates.iter().filter(|kept| *kept == id).count(),
        })
    };
    Ok(rows
        .into_iter()
        .map(|(id, of, name, surface)| Listed {
            id,
            of_school: of.is_none(),
            name,
            surface: surface.0,
            versions: kept(id).collect(),
            draft: drafts.contains(&id),
        })
        .collect())
}

/// The version a plate keeps, with its procedure and number.
///
/// # Errors
/// The plate is not there for who asks.
pub fn kept_by(
    db: &mut AnyConnection,
    class: ClassId,
    id: PlateId,
    owner: Option<PersonId>,
) -> Result<(ProcedureId, i32), Trouble> {
    let mut query = plate::table
        .inner_join(procedure_version::table)
        .filter(plate::id.eq(id).and(plate::class_id.eq(class)))
        .select((procedure_version::procedure_id, procedure_version::number))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(plate::person_id.eq(owner));
    }
    Ok(query.first(db)?)
}

/// Which procedures these are versions of.
///
/// # Errors
/// The database cannot be read.
pub fn ids_of(
    db: &mut AnyConnection,
    versions: &[ProcedureVersionId],
) -> Result<HashMap<ProcedureVersionId, ProcedureId>, Trouble> {
    let rows: Vec<(ProcedureVersionId, ProcedureId)> = procedure_version::table
        .filter(procedure_version::id.eq_any(versions))
        .select((procedure_version::id, procedure_version::procedure_id))
        .load(db)?;
    Ok(rows.into_iter().collect())
}

/// The newest version of a procedure, and what it is on.
///
/// # Errors
/// There is none.
pub fn newest(
    db: &mut AnyConnection,
    id: ProcedureId,
) -> Result<(ProcedureVersionId, Word<Surface>), Trouble> {
    Ok(procedure_version::table
        .inner_join(procedure::table)
        .filter(procedure_version::procedure_id.eq(id))
        .order(procedure_version::number.desc())
        .select((procedure_version::id, procedure::surface))
        .first(db)?)
}

impl Tx<'_> {
    /// Puts the shipped procedures into a new school.
    ///
    /// # Errors
    /// The database refuses.
    pub fn ship_procedures(&mut self) -> Result<Vec<ProcedureId>, Trouble> {
        let all = shipped::procedures()
            .map_err(|remark| Trouble::broken("reading the shipped procedures", format!("{remark:?}")))?;
        all.iter().map(|one| self.add_procedure(None, one)).collect()
    }

    /// Adds a procedure in its first version.
    ///
    /// # Errors
    /// The database refuses.
    pub fn add_procedure(&mut self, class: Option<ClassId>, new: &Procedure) -> Result<ProcedureId, Trouble> {
        let id: ProcedureId = self.id();
        diesel::insert_into(procedure::table)
            .values((
                procedure::id.eq(id),
                procedure::class_id.eq(class),
                procedure::name.eq(&new.name),
                procedure::surface.eq(Word(new.surface)),
                procedure::created_at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.add_version(id, 1, new)?;
        Ok(id)
    }

    /// Adds a version; plates begun before keep theirs.
    ///
    /// # Errors
    /// The number is taken, or the database refuses.
    pub fn add_version(&mut self, id: ProcedureId, number: i32, new: &Procedure) -> Result<(), Trouble> {
        let body =
            serde_json::to_string(new).map_err(|error| Trouble::broken("writing a procedure", error))?;
        diesel::insert_into(procedure_version::table)
            .values((
                procedure_version::id.eq(self.id::<crate::ids::ProcedureVersion>()),
                procedure_version::procedure_id.eq(id),
                procedure_version::number.eq(number),
                procedure_version::body.eq(body),
                procedure_version::by_id.eq(self.by),
                procedure_version::created_at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.journal("procedure.written", id, &json!({ "name": new.name, "number": number }))
    }
}
