//! Days on which a class charges no day late, and work that was due before a student joined it: proposed as excused,
//! which the instructor accepts.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use chrono_tz::Tz;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{AssessmentId, ClassId, PersonId};
use crate::store::classes::dues;
use crate::store::connections::AnyConnection;
use crate::store::grades::assessments::{self, Assessment};
use crate::store::grades::scores::{self, Mark, Score, Which};
use crate::store::people::sessions::Role;
use crate::store::schema::{assessment, enrolment, person, uncounted_day};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::grading::Status;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// The days of a class that are not counted. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn uncounted(db: &mut AnyConnection, class: ClassId) -> Result<BTreeSet<NaiveDate>, Trouble> {
    Ok(uncounted_days(db, class)?.into_iter().map(|(day, _)| day).collect())
}

/// The same with why, in order. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn uncounted_days(db: &mut AnyConnection, class: ClassId) -> Result<Vec<(NaiveDate, String)>, Trouble> {
    Ok(uncounted_day::table
        .filter(uncounted_day::class_id.eq(class))
        .order(uncounted_day::day)
        .select((uncounted_day::day, uncounted_day::why))
        .load(db)?)
}

/// Work that was due before its student joined the class, and has no mark.
#[derive(Debug, Clone)]
pub struct LateAdd {
    pub assessment: AssessmentId,
    pub title: String,
    pub person: PersonId,
    pub name: String,
    pub due: chrono::NaiveDateTime,
    pub since: NaiveDate,
}

/// What is proposed as excused, by assessment and name. Six statements.
///
/// # Errors
/// The database cannot be read.
pub fn late_adds(db: &mut AnyConnection, class: ClassId, zone: Tz) -> Result<Vec<LateAdd>, Trouble> {
    type Row = (PersonId, String, String, NaiveDate, Instant);
    let students: Vec<Row> = enrolment::table
        .inner_join(person::table)
        .filter(enrolment::class_id.eq(class).and(enrolment::role.eq(Word(Role::Student))))
        .filter(enrolment::state.eq_any(["enrolled", "incomplete"]))
        .order((person::family_name, person::given_name, person::id))
        .select((person::id, person::given_name, person::family_name, enrolment::since, enrolment::joined_at))
        .load(db)?;
    let assessments = assessments::assessments(db, class)?;
    let marks = scores::scores(db, class, Which::InHand, None)?;
    let dues = dues::dues_of_class(db, class, zone, None)?;
    let marked = |one: &Assessment, person: PersonId| {
        let own = |score: &&Score| score.assessment == one.id && score.person == person;
        marks.iter().find(own).is_some_and(|score| score.status.0 != Status::Pending)
    };
    let mut all = Vec::new();
    for one in &assessments {
        for (person, given, family, since, joined) in &students {
            let due = one.project.and_then(|project| dues.of(project, *person));
            let Some(due) = due.filter(|due| !due.own && !marked(one, *person)) else { continue };
            // The enrolment may have been written down late, or moved later: both dates must lie after the due date.
            if due.local.date() < *since && due.at < *joined {
                all.push(LateAdd {
                    assessment: one.id,
                    title: one.title.clone(),
                    person: *person,
                    name: format!("{given} {family}"),
                    due: due.local,
                    since: *since,
                });
            }
        }
    }
    Ok(all)
}

impl Tx<'_> {
    /// Keeps the days of a class that are not counted: all of them at once.
    ///
    /// # Errors
    /// The database refuses.
    pub fn keep_uncounted(&mut self, class: ClassId, days: &[(NaiveDate, String)]) -> Result<(), Trouble> {
        diesel::delete(uncounted_day::table.filter(uncounted_day::class_id.eq(class)))
            .execute(self.connection)?;
        for (day, why) in days {
            diesel::insert_into(uncounted_day::table)
                .values((
                    uncounted_day::class_id.eq(class),
                    uncounted_day::day.eq(*day),
                    uncounted_day::why.eq(why),
                ))
                .execute(self.connection)?;
        }
        self.journal("uncounted-days.kept", class, &json!({ "days": days }))
    }

    /// Accepts that work due before its student joined is excused.
    ///
    /// # Errors
    /// `NotFound` where it is not proposed.
    pub fn excuse_late_add(
        &mut self,
        class: ClassId,
        zone: Tz,
        id: AssessmentId,
        person: PersonId,
        words: &str,
    ) -> Result<(), Trouble> {
        let of_class: i64 = assessment::table
            .filter(assessment::id.eq(id).and(assessment::class_id.eq(class)))
            .count()
            .get_result(self.connection)?;
        let seats: i64 = enrolment::table
            .filter(enrolment::class_id.eq(class).and(enrolment::person_id.eq(person)))
            .count()
            .get_result(self.connection)?;
        if of_class == 0 || seats == 0 {
            return Err(Trouble::NotFound);
        }
        let proposed = late_adds(self.connection, class, zone)?;
        if proposed.iter().all(|one| one.assessment != id || one.person != person) {
            return Err(Trouble::Refused(Remark::new("late-add-gone")));
        }
        let known = scores::history(self.connection, class, Some(id), Some(person))?;
        let standing = known.iter().find(|score| score.superseded_at.is_none());
        let mark = Mark {
            person,
            seen: standing.map(|score| score.id),
            status: Status::Excused,
            points_hundredths: None,
            words: words.to_owned(),
        };
        self.store_mark(id, class, &mark, standing, None, words).map(drop)
    }
}
