//! The class's longest stay under dry gum, beside the rests that procedures ask for there: a limit shorter than a rest
//! leaves plates that can never be planned.

use diesel::prelude::*;

use crate::ids::{ClassId, ProcedureVersionId};
use crate::store::plates::procedures;
use crate::store::schema::{class, plate, print, procedure_version};
use crate::store::write::Tx;
use crate::trade::procedure::Procedure;
use crate::trade::procedure::step::spelled_minutes;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

const DAY: i64 = 1440;

impl Tx<'_> {
    /// Checks a class's limit against every procedure that its next plates may be begun with, and those that plates not
    /// handed in keep. The complaint stands at the limit's field.
    ///
    /// # Errors
    /// A step has to rest longer: which one, and which limit would do.
    pub fn check_gum_limit(&mut self, class: ClassId, days: Option<i32>) -> Result<(), Trouble> {
        let Some(days) = days else { return Ok(()) };
        let mut versions: Vec<ProcedureVersionId> = plate::table
            .inner_join(print::table)
            .filter(plate::class_id.eq(class).and(print::handed_in_at.is_null()))
            .select(plate::procedure_version_id)
            .distinct()
            .load(self.connection)?;
        for choice in procedures::choices(self.connection, class)? {
            versions.push(procedures::newest(self.connection, choice.id)?.0);
        }
        let bodies: Vec<String> = procedure_version::table
            .filter(procedure_version::id.eq_any(&versions))
            .order(procedure_version::id)
            .select(procedure_version::body)
            .load(self.connection)?;
        let mut longest: Option<(i64, Remark)> = None;
        for body in bodies {
            let read = Procedure::from_json(&body);
            let procedure = read.map_err(|remark| Trouble::broken("reading a procedure", remark.key))?;
            let Some(step) = procedure.longest_under_gum() else { continue };
            let minutes = step.rest.minimum;
            if minutes > i64::from(days) * DAY && longest.as_ref().is_none_or(|(known, _)| *known < minutes) {
                let remark = Remark::new("classes-gum-limit-short").with("value", i64::from(days));
                let remark =
                    remark.with("step", step.title.as_str()).with("procedure", procedure.name.as_str());
                let remark = remark.with("rest", spelled_minutes(minutes));
                longest = Some((minutes, remark.with("least", whole_days(minutes))));
            }
        }
        longest.map_or(Ok(()), |(_, remark)| Err(Trouble::about("gum_limit_days", remark)))
    }

    /// What a procedure asks of the class's limit that it does not give.
    ///
    /// # Errors
    /// The database cannot be read.
    pub(super) fn over_gum_limit(
        &mut self,
        class: ClassId,
        procedure: &Procedure,
    ) -> Result<Option<Complaint>, Trouble> {
        let days: Option<i32> =
            class::table.find(class).select(class::gum_limit_days).first(self.connection)?;
        let step = procedure.longest_under_gum();
        let over = days.zip(step).filter(|(days, step)| step.rest.minimum > i64::from(*days) * DAY);
        Ok(over.map(|(days, step)| {
            let remark = Remark::new("classes-gum-limit-procedure").with("step", step.title.as_str());
            let remark = remark.with("value", spelled_minutes(step.rest.minimum));
            let remark = remark.with("limit", i64::from(days));
            Complaint::new("", remark.with("least", whole_days(step.rest.minimum)))
        }))
    }
}

/// The fewest days that hold so many minutes.
fn whole_days(minutes: i64) -> i64 {
    minutes.saturating_add(DAY - 1) / DAY
}
