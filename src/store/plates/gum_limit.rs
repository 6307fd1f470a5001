//! The class's longest stay under dry gum, beside the rests that procedures ask for there: a limit shorter than a rest
//! leaves plates that can never be planned.

use diesel::prelude::*;

use crate::ids::{ClassId, PlateId, ProcedureVersionId};
use crate::store::plates::procedures;
use crate::store::schema::{class, plate, print, procedure_version};
use crate::store::write::Tx;
use crate::trade::procedure::step::spelled_minutes;
use crate::trade::procedure::{Procedure, Step};
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

const DAY: i64 = 1440;

impl Tx<'_> {
    /// Checks a limit that is set or made shorter against the procedures the class's next plates may be begun with, and
    /// those that plates still under way keep. The complaint stands at the limit's field.
    ///
    /// # Errors
    /// A step has to rest longer: which one, and which limit would do.
    pub fn check_gum_limit(&mut self, class: ClassId, days: Option<i32>) -> Result<(), Trouble> {
        let stands: Option<i32> =
            class::table.find(class).select(class::gum_limit_days).first(self.connection)?;
        let Some(days) = days.filter(|days| stands.is_none_or(|stands| *days < stands)) else {
            return Ok(());
        };
        let mut next = Vec::new();
        for choice in procedures::choices(self.connection, class)? {
            next.push(procedures::newest(self.connection, choice.id)?.0);
        }
        let short = match self.longest(&next, days)? {
            Some(found) => Some(("classes-gum-limit-short", found)),
            None => {
                let kept = self.kept_by_plates(class)?;
                self.longest(&kept, days)?.map(|found| ("classes-gum-limit-short-plate", found))
            }
        };
        let Some((key, (procedure, step))) = short else { return Ok(()) };
        let remark = Remark::new(key).with("value", i64::from(days)).with("step", step.title);
        let remark = remark.with("procedure", procedure).with("rest", spelled_minutes(step.rest.minimum));
        Err(Trouble::about("gum_limit_days", remark.with("least", whole_days(step.rest.minimum))))
    }

    /// The versions kept by plates that are neither handed in nor replaced.
    fn kept_by_plates(&mut self, class: ClassId) -> Result<Vec<ProcedureVersionId>, Trouble> {
        let replaced: Vec<Option<PlateId>> = plate::table
            .filter(plate::class_id.eq(class).and(plate::replaces_id.is_not_null()))
            .select(plate::replaces_id)
            .load(self.connection)?;
        let replaced: Vec<PlateId> = replaced.into_iter().flatten().collect();
        Ok(plate::table
            .inner_join(print::table)
            .filter(plate::class_id.eq(class).and(print::handed_in_at.is_null()))
            .filter(plate::id.ne_all(replaced))
            .select(plate::procedure_version_id)
            .distinct()
            .load(self.connection)?)
    }

    /// Of these versions the step that has to rest longest under gum, and longer than so many days; with its procedure.
    fn longest(
        &mut self,
        versions: &[ProcedureVersionId],
        days: i32,
    ) -> Result<Option<(String, Step)>, Trouble> {
        let bodies: Vec<String> = procedure_version::table
            .filter(procedure_version::id.eq_any(versions))
            .order(procedure_version::id)
            .select(procedure_version::body)
            .load(self.connection)?;
        let mut longest: Option<(String, Step)> = None;
        for body in bodies {
            let read = Procedure::from_json(&body);
            let procedure = read.map_err(|remark| Trouble::broken("reading a procedure", remark.key))?;
            let step = procedure.longest_under_gum().filter(|step| step.rest.minimum > i64::from(days) * DAY);
            let known = longest.as_ref().map(|(_, known)| known.rest.minimum);
            if let Some(step) = step.filter(|step| known.is_none_or(|known| known < step.rest.minimum)) {
                longest = Some((procedure.name.clone(), step.clone()));
            }
        }
        Ok(longest)
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
