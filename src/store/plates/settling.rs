//! What an instructor decides about steps against the rules: a run outside them is settled, a start is allowed once.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{AllowanceId, StepRunId};
use crate::store::plates::procedures::Procedures;
use crate::store::plates::runs::{At, run_of, step_of};
use crate::store::schema::{allowance, step_run};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::procedure::Ordered;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

impl Tx<'_> {
    /// An instructor settles a run outside the rules: it stands, or is to be done again.
    ///
    /// # Errors
    /// It is not of this plate, kept the rules, or is settled already.
    pub fn settle_run(
        &mut self,
        procedures: &Procedures,
        at: &At,
        id: StepRunId,
        ordered: Ordered,
        reason: &str,
    ) -> Result<(), Trouble> {
        let mut folder = self.folder(procedures, at)?;
        let mut run = run_of(&folder, id)?;
        if run.outside_rules.is_empty() || run.settled_at.is_some() {
            return Err(Trouble::Refused(Remark::new("plates-nothing-to-settle")));
        }
        diesel::update(step_run::table.find(id))
            .set((
                step_run::settled_at.eq(self.now),
                step_run::settled_by.eq(self.person()?),
                step_run::settlement.eq(Word(ordered)),
                step_run::settled_reason.eq(reason),
            ))
            .execute(self.connection)?;
        (run.settled_at, run.settlement) = (Some(self.now), Some(Word(ordered)));
        run.settled_reason = Some(reason.to_owned());
        folder.take_in(run);
        self.keep_standing(&folder)?;
        self.journal("step.settled", id, &json!({ "ordered": ordered, "reason": reason }))
    }

    /// An instructor allows one start of a step against the rules, with a reason that is kept.
    ///
    /// # Errors
    /// The plate has no such step.
    pub fn allow_once(
        &mut self,
        procedures: &Procedures,
        at: &At,
        key: &str,
        reason: &str,
    ) -> Result<AllowanceId, Trouble> {
        step_of(&self.folder(procedures, at)?, key)?;
        let id: AllowanceId = self.id();
        diesel::insert_into(allowance::table)
            .values((
                allowance::id.eq(id),
                allowance::class_id.eq(at.class),
                allowance::plate_id.eq(at.plate),
                allowance::step_key.eq(key),
                allowance::reason.eq(reason),
                allowance::given_by.eq(self.person()?),
                allowance::given_at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.journal("step.allowed-once", id, &json!({ "plate": at.plate, "step": key, "reason": reason }))?;
        Ok(id)
    }
}
