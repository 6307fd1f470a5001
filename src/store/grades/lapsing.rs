//! Incompletes whose day is past: each lapses by itself to the grade that was agreed on.

use chrono::NaiveDate;
use chrono_tz::Tz;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, EnrolmentChange, PersonId, SubmittedGradeId};
use crate::store::connections::AnyConnection;
use crate::store::grades::evidence::Beside;
use crate::store::grades::submitted::How;
use crate::store::grades::submitting::{Kept, Say, look};
use crate::store::people::roster;
use crate::store::people::sessions::EnrolmentState;
use crate::store::schema::{class, enrolment, enrolment_change, submitted_grade, term};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::civil;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// An incomplete that has run out.
#[derive(Debug, Clone, Copy)]
pub struct RunOut {
    pub id: SubmittedGradeId,
    pub class: ClassId,
    pub person: PersonId,
    pub zone: Tz,
}

/// The incompletes whose last day is past by the wall clock of their class. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn run_out(db: &mut AnyConnection, now: Instant) -> Result<Vec<RunOut>, Trouble> {
    type Row = (SubmittedGradeId, ClassId, PersonId, Option<NaiveDate>, String);
    // A day ahead of UTC is the furthest any zone is; the exact day is compared below.
    let tomorrow = now.utc().date_naive() + chrono::Days::new(1);
    let in_force = enrolment::table.on(enrolment::class_id
        .eq(submitted_grade::class_id)
        .and(enrolment::person_id.eq(submitted_grade::person_id))
        .and(enrolment::state.eq(Word(EnrolmentState::Incomplete))));
    let rows: Vec<Row> = submitted_grade::table
        .inner_join(class::table.inner_join(term::table))
        .inner_join(in_force)
        .filter(submitted_grade::open_until.lt(tomorrow))
        .filter(submitted_grade::superseded_at.is_null())
        .filter(submitted_grade::how.eq(Word(How::Incomplete)))
        .order((submitted_grade::open_until, submitted_grade::id))
        .select((
            submitted_grade::id,
            submitted_grade::class_id,
            submitted_grade::person_id,
            submitted_grade::open_until,
            term::zone,
        ))
        .load(db)?;
    let mut found = Vec::new();
    for (id, class, person, until, zone) in rows {
        let zone = civil::zone("zone", &zone).map_err(|_remark| Trouble::broken("reading a zone", zone))?;
        if until.is_some_and(|until| now.local_date(zone) > until) {
            found.push(RunOut { id, class, person, zone });
        }
    }
    Ok(found)
}

impl Tx<'_> {
    /// Lets an incomplete lapse, if it still stands. False when it was changed meanwhile.
    ///
    /// # Errors
    /// The database refuses.
    pub fn lapse(&mut self, one: &RunOut, say: Say<'_>) -> Result<bool, Trouble> {
        let look = look(self.connection, one.class, one.zone, Some(one.person))?;
        let standing =
            look.candidates.first().and_then(|candidate| Some((candidate, candidate.standing.as_ref()?)));
        let Some((candidate, standing)) = standing.filter(|(_, standing)| standing.id == one.id) else {
            return Ok(false);
        };
        let Some(letter) = standing.lapses_to.clone() else { return Ok(false) };
        let until = standing.open_until.map(|day| day.to_string()).unwrap_or_default();
        let reason = say(&Remark::new("submitted-lapsed-reason").with("until", until));
        let kept = Kept { reason, ..Kept::new(How::Lapsed, &letter) };
        let beside = Beside::read(self.connection, one.class, Some(one.person))?;
        self.keep(one.class, (&look.book, &beside), candidate, &kept, say)?;
        self.leave_incomplete(one, standing.by, &kept.reason)?;
        Ok(true)
    }

    /// The enrolment is an ordinary one again. It names a person for every change: who agreed on the day and the grade.
    /// The journal says that nobody did it.
    fn leave_incomplete(
        &mut self,
        one: &RunOut,
        agreed: Option<PersonId>,
        reason: &str,
    ) -> Result<(), Trouble> {
        let seat = roster::member(self.connection, one.class, one.person)?.seat.ok_or(Trouble::NotFound)?;
        let (state, since) = (Word(EnrolmentState::Enrolled), self.now.local_date(one.zone));
        diesel::update(enrolment::table.find(seat.enrolment))
            .set((
                (enrolment::state.eq(state), enrolment::since.eq(since)),
                enrolment::incomplete_until.eq(None::<NaiveDate>),
                enrolment::lapses_to.eq(None::<String>),
                enrolment::version.eq(enrolment::version + 1),
            ))
            .execute(self.connection)?;
        let by =
            agreed.ok_or_else(|| Trouble::broken("letting an incomplete lapse", "nobody agreed on it"))?;
        diesel::insert_into(enrolment_change::table)
            .values((
                (enrolment_change::id.eq(self.id::<EnrolmentChange>()), enrolment_change::by_id.eq(by)),
                enrolment_change::enrolment_id.eq(seat.enrolment),
                (enrolment_change::listing_id.eq(seat.listing), enrolment_change::role.eq(Word(seat.role))),
                (enrolment_change::state.eq(state), enrolment_change::since.eq(since)),
                (enrolment_change::reason.eq(reason), enrolment_change::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        let detail = json!({ "role": seat.role, "state": state, "since": since, "reason": reason });
        self.journal("enrolment.changed", seat.enrolment, &detail)
    }
}
