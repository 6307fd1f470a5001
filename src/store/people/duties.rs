//! What waits in each class for those who work for the whole school, and for the staff of several classes: counted for
//! the first page, where they choose where to go.

use std::collections::HashMap;

use chrono::{Days, NaiveDate};
use chrono_tz::Tz;
use diesel::dsl::count_star;
use diesel::prelude::*;
use diesel::sql_types::{BigInt, Date, Text};

use crate::clock::Instant;
use crate::ids::ClassId;
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{asking, class, container, enrolment, letter, submitted_grade, term};
use crate::store::studio::containers::Substance;
use crate::store::types::Word;
use crate::trouble::Trouble;

/// So many days before it ends a sign-off is named, as in the letters to those who hold it.
const ENDING_DAYS: u64 = 14;

/// What waits in one class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Waits {
    pub term_ends: NaiveDate,
    /// The term's last day is past, where the term is.
    pub term_over: bool,
    pub students: i64,
    /// Students with a grade that was submitted and stands.
    pub submitted: i64,
    /// Topics of which a person's last sign-off ends within [`ENDING_DAYS`] days.
    pub ending: i64,
    /// Bottles of acid and of stock etch on its studio's shelf whose data sheet is not on file.
    pub without_sheet: i64,
    pub instructors: i64,
}

/// What waits in every class of the school. Six statements over all of its terms: for the few who work for all of it.
///
/// # Errors
/// The database cannot be read.
pub fn waits(db: &mut AnyConnection, now: Instant) -> Result<HashMap<ClassId, Waits>, Trouble> {
    let students = seated(db, Role::Student)?;
    let instructors = seated(db, Role::Instructor)?;
    let submitted = by_class(
        submitted_grade::table
            .inner_join(
                enrolment::table.on(enrolment::class_id
                    .eq(submitted_grade::class_id)
                    .and(enrolment::person_id.eq(submitted_grade::person_id))),
            )
            .filter(submitted_grade::superseded_at.is_null())
            .filter(enrolment::role.eq(Word(Role::Student)).and(enrolment::state.eq_any(IN_FORCE)))
            .group_by(submitted_grade::class_id)
            .select((
                submitted_grade::class_id,
                diesel::dsl::count(submitted_grade::person_id).aggregate_distinct(),
            ))
            .load(db)?,
    );
    let ending = ending(db, now.utc().date_naive())?;
    let without_sheet = by_class(
        class::table
            .inner_join(container::table.on(container::studio_id.eq(class::studio_id)))
            .filter(container::finished_at.is_null().and(container::data_sheet_id.is_null()))
            .filter(container::substance.ne(Word(Substance::Gum)))
            .group_by(class::id)
            .select((class::id, count_star()))
            .load(db)?,
    );
    let of = |counts: &HashMap<ClassId, i64>, class| counts.get(&class).copied().unwrap_or_default();
    let classes: Vec<(ClassId, NaiveDate, String)> =
        class::table.inner_join(term::table).select((class::id, term::ends, term::zone)).load(db)?;
    let waits = |(class, term_ends, zone): (ClassId, NaiveDate, String)| {
        let waits = Waits {
            term_ends,
            term_over: now.local_date(zone.parse().unwrap_or(Tz::UTC)) > term_ends,
            students: of(&students, class),
            submitted: of(&submitted, class),
            ending: of(&ending, class),
            without_sheet: of(&without_sheet, class),
            instructors: of(&instructors, class),
        };
        (class, waits)
    };
    Ok(classes.into_iter().map(waits).collect())
}

/// How many people asked for somebody of the staff, in each of some classes where anybody did.
///
/// # Errors
/// The database cannot be read.
pub fn asking(
    db: &mut AnyConnection,
    classes: &[ClassId],
    now: Instant,
) -> Result<HashMap<ClassId, i64>, Trouble> {
    let asked = asking::table
        .filter(asking::class_id.eq_any(classes))
        .filter(asking::answered_at.is_null().and(asking::taken_back_at.is_null()))
        .filter(asking::until_at.gt(now))
        .group_by(asking::class_id)
        .select((asking::class_id, count_star()))
        .load(db)?;
    Ok(by_class(asked))
}

/// Letters of the whole school that could not be sent and were not tried again.
///
/// # Errors
/// The database cannot be read.
pub fn failed_letters(db: &mut AnyConnection) -> Result<i64, Trouble> {
    Ok(letter::table.filter(letter::failed_at.is_not_null()).count().get_result(db)?)
}

const IN_FORCE: [Word<EnrolmentState>; 2] =
    [Word(EnrolmentState::Enrolled), Word(EnrolmentState::Incomplete)];

fn by_class(counted: Vec<(ClassId, i64)>) -> HashMap<ClassId, i64> {
    counted.into_iter().collect()
}

fn seated(db: &mut AnyConnection, role: Role) -> Result<HashMap<ClassId, i64>, Trouble> {
    let seated = enrolment::table
        .filter(enrolment::role.eq(Word(role)).and(enrolment::state.eq_any(IN_FORCE)))
        .group_by(enrolment::class_id)
        .select((enrolment::class_id, count_star()))
        .load(db)?;
    Ok(by_class(seated))
}

#[derive(QueryableByName)]
struct Ending {
    #[diesel(sql_type = Text)]
    class_id: ClassId,
    #[diesel(sql_type = BigInt)]
    topics: i64,
}

/// One without an end is for good; of several of a topic the last counts, in whatever grade: whether the grade is the one
/// a step needs is for the step to say.
const ENDING: &str = "SELECT class_id, count(*) AS topics FROM (\
     SELECT e.class_id FROM enrolment e JOIN class c ON c.id = e.class_id \
     JOIN sign_off s ON s.person_id = e.person_id AND s.studio_id = c.studio_id \
     WHERE e.role = 'student' AND e.state IN ('enrolled', 'incomplete') \
     AND s.taken_back_at IS NULL AND s.withdrawn_at IS NULL \
     AND (s.grade <> 'shown' OR s.acknowledged_at IS NOT NULL) \
     GROUP BY e.class_id, s.person_id, s.topic_id \
     HAVING count(*) = count(s.valid_until) AND max(s.valid_until) ";

fn ending(db: &mut AnyConnection, today: NaiveDate) -> Result<HashMap<ClassId, i64>, Trouble> {
    let last = today.checked_add_days(Days::new(ENDING_DAYS)).unwrap_or(today);
    let between = match db {
        AnyConnection::Sqlite(_) => "BETWEEN ? AND ?",
        AnyConnection::Postgres(_) => "BETWEEN $1 AND $2",
    };
    let question = format!("{ENDING}{between}) AS topic GROUP BY class_id");
    let found: Vec<Ending> =
        diesel::sql_query(question).bind::<Date, _>(today).bind::<Date, _>(last).load(db)?;
    Ok(found.into_iter().map(|one| (one.class_id, one.topics)).collect())
}
