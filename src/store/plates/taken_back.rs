//! A step begun by mistake: within ten minutes, and while nothing was kept under it, its start is taken back as though it
//! had not been. The journal keeps both.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::StepRunId;
use crate::store::plates::folder::{Folder, KnownHow, Run};
use crate::store::plates::procedures::Procedures;
use crate::store::plates::runs::{At, only_the_instructor, step_of};
use crate::store::schema::{allowance, came_up, etch, step_run};
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// How long a start can be taken back.
const TAKE_BACK_MS: i64 = 10 * 60_000;

/// Whether a run is fresh enough to be taken back: it goes on, and began a moment ago by a tap and not by what was told.
#[must_use]
pub fn is_fresh(run: &Run, now: Instant) -> bool {
    run.ended_at.is_none()
        && run.known_how.0 == KnownHow::Measured
        && now.millis() - run.began_at.millis() <= TAKE_BACK_MS
}

impl Tx<'_> {
    /// Takes back a start. What an instructor allowed once for it can be used again.
    ///
    /// # Errors
    /// It is not of this plate, or an instructor's to begin; it ended or began too long ago; an etch or how one came up
    /// was kept under it.
    pub fn take_back_start(
        &mut self,
        procedures: &Procedures,
        at: &At,
        id: StepRunId,
    ) -> Result<(), Trouble> {
        let folder = self.folder(procedures, at)?;
        let run = folder.runs.iter().find(|run| run.id == id).ok_or(Trouble::NotFound)?;
        only_the_instructor(step_of(&folder, &run.step_key)?, at)?;
        if !is_fresh(run, self.now) {
            return Err(Trouble::Refused(Remark::new("plates-too-late-to-take-back")));
        }
        let logs: i64 = etch::table.filter(etch::step_run_id.eq(id)).count().get_result(self.connection)?;
        let seen: i64 =
            came_up::table.filter(came_up::step_run_id.eq(id)).count().get_result(self.connection)?;
        if logs + seen > 0 {
            return Err(Trouble::Refused(Remark::new("plates-kept-under-start")));
        }
        self.give_allowance_back(&folder, run)?;
        diesel::delete(step_run::table.find(id)).execute(self.connection)?;
        let detail = json!({ "plate": at.plate, "step": run.step_key, "began": run.began_at });
        let folder = self.folder(procedures, at)?;
        self.keep_standing(&folder)?;
        self.journal("step.start-taken-back", id, &detail)
    }

    /// The allowance a start used up is the one marked used in the moment it began.
    fn give_allowance_back(&mut self, folder: &Folder, run: &Run) -> Result<(), Trouble> {
        let used = folder.allowances.iter().zip(&folder.granted).find(|(allowed, _)| {
            allowed.step == run.step_key && allowed.used.map(Instant::from_utc) == Some(run.began_at)
        });
        if let Some((_, granted)) = used {
            diesel::update(allowance::table.find(granted.id))
                .set(allowance::used_at.eq(None::<Instant>))
                .execute(self.connection)?;
        }
        Ok(())
    }
}
