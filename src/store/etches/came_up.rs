//! How an etch came up: asked at the next roll-up or proof, tied back to the etch, corrected by a new row.

use std::collections::HashMap;

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{CameUpId, EtchId, PersonId, StepRunId};
use crate::store::etches::logs;
use crate::store::plates::folder::Folder;
use crate::store::plates::procedures::Procedures;
use crate::store::plates::runs::At;
use crate::store::schema::came_up;
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::etch::came_up::CameUp;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// What stands about an etch.
#[derive(Debug, Clone, Queryable)]
pub struct Seen {
    pub id: CameUpId,
    pub etch_root: EtchId,
    /// The roll-up or proof that showed it, if one had begun.
    pub run: Option<StepRunId>,
    pub how: Word<CameUp>,
    pub note: String,
    pub by: PersonId,
    pub by_given: String,
    pub by_family: String,
    pub at: Instant,
    pub corrects: Option<CameUpId>,
}

/// What was seen, as told.
#[derive(Debug, Clone)]
pub struct Told {
    pub how: CameUp,
    pub note: String,
    /// When it was seen; not later than the act.
    pub at: Instant,
}

/// Which etch each roll-up or proof of a plate showed: pairs of the etch's run and the run that showed it.
#[must_use]
pub fn shown(folder: &Folder) -> HashMap<StepRunId, StepRunId> {
    let case = folder.case();
    let mut found = HashMap::new();
    for run in &folder.runs {
        for place in case.etches_to_ask_about(&run.step_key, run.began_at.utc()) {
            if let Some(etch) = folder.runs.get(place) {
                found.insert(etch.id, run.id);
            }
        }
    }
    found
}

impl Tx<'_> {
    /// Stores how an etch came up. `stands` is what the person saw standing there: None for the first telling; any
    /// other is corrected by a new row.
    ///
    /// # Errors
    /// The log is not of this class, plate and owner; `Stale` when somebody told it meanwhile; complaints.
    pub fn tell_came_up(
        &mut self,
        procedures: &Procedures,
        at: &At,
        id: EtchId,
        stands: Option<CameUpId>,
        told: &Told,
    ) -> Result<CameUpId, Trouble> {
        let chain = logs::chain(self.connection, at.class, at.plate, at.owner, id)?;
        let log = chain.first().ok_or(Trouble::NotFound)?;
        if told.how.wants_note() && told.note.is_empty() {
            return Err(Trouble::about("note", Remark::new("etches-came-up-note-missing")));
        }
        let before = log.came_up.as_ref().map(|seen| seen.id);
        if before != stands {
            return Err(Trouble::Stale(Remark::new("etches-stale")));
        }
        let folder = self.folder(procedures, at)?;
        let run = shown(&folder).get(&log.entry.run).copied();
        if let Some(before) = before {
            diesel::update(came_up::table.find(before))
                .set(came_up::superseded_at.eq(self.now))
                .execute(self.connection)?;
        }
        let new: CameUpId = self.id();
        diesel::insert_into(came_up::table)
            .values((
                (came_up::id.eq(new), came_up::class_id.eq(at.class), came_up::plate_id.eq(at.plate)),
                (came_up::etch_root.eq(log.entry.root), came_up::step_run_id.eq(run)),
                (came_up::how.eq(Word(told.how)), came_up::note.eq(&told.note)),
                (came_up::by_id.eq(self.person()?), came_up::at.eq(told.at.min(self.now))),
                came_up::corrects.eq(before),
            ))
            .execute(self.connection)?;
        let detail =
            json!({ "etch": log.entry.root, "how": told.how, "note": told.note, "corrects": before });
        self.journal("etch.came-up", new, &detail)?;
        Ok(new)
    }
}
