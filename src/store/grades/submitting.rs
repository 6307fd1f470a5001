//! Submitting grades under an instructor's name: looking over who has one, submitting for one person or for a class, an
//! incomplete, and a change later. Nothing submitted is overwritten.

use chrono::NaiveDate;
use chrono_tz::Tz;
use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, PersonId, SubmittedGradeId};
use crate::store::grades::book::Book;
use crate::store::grades::candidates::chosen;
use crate::store::grades::evidence::{Beside, evidence};
use crate::store::grades::submitted::{How, Submitted};
use crate::store::letters::{Kind, NewLetter};
use crate::store::people::roster;
use crate::store::people::seats::NewSeat;
use crate::store::people::sessions::EnrolmentState;
use crate::store::schema::{enrolment, submitted_grade};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::grading::Grade;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

pub use crate::store::grades::candidates::{Candidate, Look, look};

/// What an instructor decides about one student.
#[derive(Debug, Clone)]
pub enum Decision {
    /// As reckoned, if it still is what was seen.
    Reckoned {
        seen: String,
    },
    ByHand {
        letter: String,
    },
    Incomplete {
        remains: String,
        until: NaiveDate,
        lapses_to: String,
    },
}

/// Turns a remark into a sentence, so that the working is kept as people read it that day.
pub type Say<'a> = &'a dyn Fn(&Remark) -> String;

impl Tx<'_> {
    /// Submits the reckoned grades of some students: all or none. Who has one already keeps it. Answers how many.
    ///
    /// # Errors
    /// `NotFound`; a complaint at `seen-<person>` where there is no grade, or not the one that was looked at.
    pub fn submit_grades(
        &mut self,
        class: ClassId,
        zone: Tz,
        wanted: &[(PersonId, String)],
        say: Say<'_>,
    ) -> Result<usize, Trouble> {
        let look = look(self.connection, class, zone, None)?;
        let mut complaints = Vec::new();
        let mut taken = Vec::new();
        for (person, seen) in wanted {
            let one =
                look.candidates.iter().find(|one| one.member.person == *person).ok_or(Trouble::NotFound)?;
            match check_seen(one, seen) {
                _ if one.standing.is_some() => {}
                Ok(letter) => taken.push((one, letter)),
                Err(remark) => complaints.push(Complaint::new(format!("seen-{person}"), remark)),
            }
        }
        if !complaints.is_empty() {
            return Err(Trouble::Complaints(complaints));
        }
        let beside = Beside::read(self.connection, class, None)?;
        for (one, letter) in &taken {
            self.keep(class, (&look.book, &beside), one, &Kept::new(How::Reckoned, letter), say)?;
        }
        self.settle_if_all_are_graded(class)?;
        Ok(taken.len())
    }

    /// Submits one student's grade, or changes the one that stands, which `before` names. A change and a grade chosen by
    /// hand want a reason. False when the same was submitted already.
    ///
    /// # Errors
    /// `NotFound`, `Stale` when the grade was changed meanwhile, or complaints.
    pub fn decide_grade(
        &mut self,
        (class, zone, person): (ClassId, Tz, PersonId),
        before: Option<SubmittedGradeId>,
        decision: &Decision,
        reason: &str,
        say: Say<'_>,
    ) -> Result<bool, Trouble> {
        let look = look(self.connection, class, zone, Some(person))?;
        let one = look.candidates.first().ok_or(Trouble::NotFound)?;
        if one.standing.as_ref().map(|one| one.id) != before {
            return Err(Trouble::Stale(Remark::new("submitted-stale")));
        }
        let mut kept = match decision {
            Decision::Reckoned { seen } => {
                let letter = check_seen(one, seen).map_err(|remark| Trouble::about("way", remark))?;
                Kept::new(How::Reckoned, &letter)
            }
            Decision::ByHand { letter } => Kept::new(How::ByHand, &chosen(&look, one, "letter", letter)?),
            Decision::Incomplete { remains, until, lapses_to } => {
                let lapses_to = chosen(&look, one, "lapses_to", lapses_to)?;
                if *until <= self.now.local_date(zone) {
                    return Err(Trouble::about("until", Remark::new("submitted-until-past")));
                }
                Kept {
                    remains: remains.clone(),
                    until: Some(*until),
                    lapses_to: Some(lapses_to),
                    ..Kept::new(How::Incomplete, &look.letters.incomplete)
                }
            }
        };
        kept.reason = reason.to_owned();
        if one.standing.as_ref().is_some_and(|standing| kept.says(standing)) {
            return Ok(false);
        }
        let wants_reason = one.standing.is_some() || kept.how == How::ByHand;
        if wants_reason && reason.is_empty() {
            return Err(Trouble::about("reason", Remark::new("submitted-reason-needed")));
        }
        let beside = Beside::read(self.connection, class, Some(person))?;
        self.keep(class, (&look.book, &beside), one, &kept, say)?;
        self.follow_with_seat(class, zone, one, &kept)?;
        self.settle_if_all_are_graded(class)?;
        Ok(true)
    }

    /// Stores a grade in place of the one that stands, with a letter to the student and a journal row.
    pub(super) fn keep(
        &mut self,
        class: ClassId,
        (book, beside): (&Book, &Beside),
        one: &Candidate,
        kept: &Kept,
        say: Say<'_>,
    ) -> Result<SubmittedGradeId, Trouble> {
        let (id, person): (SubmittedGradeId, PersonId) = (self.id(), one.member.person);
        if let Some(before) = &one.standing {
            diesel::update(submitted_grade::table.find(before.id))
                .set(submitted_grade::superseded_at.eq(self.now))
                .execute(self.connection)?;
        }
        let root: SubmittedGradeId = match &one.standing {
            Some(before) => {
                submitted_grade::table.find(before.id).select(submitted_grade::root).first(self.connection)?
            }
            None => id,
        };
        let evidence = evidence(book, beside, person, &one.outcome, self.now);
        let grade = one.outcome.as_ref().ok();
        let lines = match &one.outcome {
            Ok(grade) => grade.working.iter().map(say).collect(),
            Err(why) => vec![say(why)],
        };
        diesel::insert_into(submitted_grade::table)
            .values((
                (submitted_grade::id.eq(id), submitted_grade::class_id.eq(class)),
                (submitted_grade::person_id.eq(person), submitted_grade::root.eq(root)),
                submitted_grade::corrects.eq(one.standing.as_ref().map(|before| before.id)),
                submitted_grade::how.eq(Word(kept.how)),
                submitted_grade::listing.eq(one.member.listing.as_deref().unwrap_or_default()),
                (submitted_grade::basis.eq(Word(one.basis)), submitted_grade::letter.eq(&kept.letter)),
                submitted_grade::rounded.eq(grade.and_then(Grade::rounded_text)),
                submitted_grade::percent.eq(grade.and_then(Grade::percent_text)),
                submitted_grade::evidence.eq(evidence.to_string()),
                (submitted_grade::working.eq(lines.join("\n")), submitted_grade::remains.eq(&kept.remains)),
                (submitted_grade::open_until.eq(kept.until), submitted_grade::lapses_to.eq(&kept.lapses_to)),
                submitted_grade::last_day.eq(one.last.map(|(day, _)| day)),
                submitted_grade::last_deed.eq(one.last.map(|(_, deed)| Word(deed))),
                (submitted_grade::reason.eq(&kept.reason), submitted_grade::by_id.eq(self.by)),
                submitted_grade::at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.letter(&NewLetter {
            kind: Kind::GradeSubmitted,
            person,
            class: Some(class),
            cause: Some(format!("grade-submitted {id}")),
            detail: json!({ "changed": one.standing.is_some() }),
            not_before: self.now,
        })?;
        let act = if one.standing.is_some() { "grade.changed" } else { "grade.submitted" };
        self.journal(
            act,
            id,
            &json!({
                "person": person, "letter": kept.letter, "how": kept.how, "reason": kept.reason,
                "until": kept.until, "lapses_to": kept.lapses_to,
            }),
        )?;
        Ok(id)
    }

    /// An incomplete leaves its mark on the enrolment, and a grade in its place takes it away again.
    fn follow_with_seat(
        &mut self,
        class: ClassId,
        zone: Tz,
        one: &Candidate,
        kept: &Kept,
    ) -> Result<(), Trouble> {
        let seat =
            roster::member(self.connection, class, one.member.person)?.seat.ok_or(Trouble::NotFound)?;
        let state = match kept.how {
            _ if matches!(seat.state, EnrolmentState::Dropped | EnrolmentState::Withdrawn) => return Ok(()),
            How::Incomplete => EnrolmentState::Incomplete,
            _ if seat.state == EnrolmentState::Incomplete => EnrolmentState::Enrolled,
            _ => return Ok(()),
        };
        let since = self.now.local_date(zone);
        let new = NewSeat { listing: seat.listing, role: seat.role, state, since };
        let reason = if kept.reason.is_empty() { &kept.remains } else { &kept.reason };
        self.change_seat(&seat, new, reason)?;
        diesel::update(enrolment::table.find(seat.enrolment))
            .set((enrolment::incomplete_until.eq(kept.until), enrolment::lapses_to.eq(&kept.lapses_to)))
            .execute(self.connection)?;
        Ok(())
    }
}

/// A grade about to be stored.
#[derive(Debug, Clone)]
pub(super) struct Kept {
    pub(super) how: How,
    pub(super) letter: String,
    pub(super) remains: String,
    pub(super) until: Option<NaiveDate>,
    pub(super) lapses_to: Option<String>,
    pub(super) reason: String,
}

impl Kept {
    pub(super) fn new(how: How, letter: &str) -> Self {
        Self {
            how,
            letter: letter.to_owned(),
            remains: String::new(),
            until: None,
            lapses_to: None,
            reason: String::new(),
        }
    }

    /// Whether the grade that stands says the same.
    fn says(&self, standing: &Submitted) -> bool {
        self.how == standing.how.0
            && self.letter == standing.letter
            && self.remains == standing.remains
            && self.until == standing.open_until
            && self.lapses_to == standing.lapses_to
    }
}

/// The letter that was looked at, if it still is the one.
fn check_seen(one: &Candidate, seen: &str) -> Result<String, Remark> {
    let name = format!("{} {}", one.member.given_name, one.member.family_name);
    match &one.letter {
        None => Err(Remark::new("submitted-no-grade").with("name", name.trim())),
        Some(_) if one.mark() != seen => Err(Remark::new("submitted-seen-stale").with("name", name.trim())),
        Some(letter) => Ok(letter.clone()),
    }
}
