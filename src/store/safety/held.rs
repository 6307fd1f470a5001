//! The sign-offs somebody holds, as the trade floor judges them: what every look at a plate asks for, without the words
//! that pages about sign-offs show.

use chrono::NaiveDate;
use diesel::Queryable;
use diesel::sql_types::{BigInt, Date, Nullable, Text};

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, StudioId};
use crate::store::connections::AnyConnection;
use crate::store::standing::Standing;
use crate::store::types::Word;
use crate::trade::procedure::{Grade, Held};
use crate::trouble::Trouble;

/// Whose, in one studio; from whichever class they come.
#[derive(Debug, Clone, Copy)]
pub enum Whose {
    Person(PersonId, StudioId),
    /// Those of the people enrolled in a class.
    EnrolledIn(ClassId, StudioId),
}

macro_rules! asked {
    ($condition:literal) => {
        concat!(
            "SELECT s.person_id, t.key AS topic, s.grade, s.given_at, s.acknowledged_at, s.valid_until, \
             s.withdrawn_at FROM sign_off s JOIN topic t ON t.id = s.topic_id \
             WHERE s.taken_back_at IS NULL AND s.person_id ",
            $condition
        )
    };
}
const OF_STUDIO: &str = " AND s.studio_id = ";
const IN_ORDER: &str = " ORDER BY s.given_at, s.id";
const OF_PERSON: [&str; 3] = [asked!("= "), OF_STUDIO, IN_ORDER];
const OF_CLASS: [&str; 3] =
    [asked!("IN (SELECT person_id FROM enrolment WHERE class_id = "), ") AND s.studio_id = ", IN_ORDER];
#[derive(Queryable)]
struct Row {
    person_id: PersonId,
    topic: String,
    grade: Word<Grade>,
    given_at: Instant,
    acknowledged_at: Option<Instant>,
    valid_until: Option<NaiveDate>,
    withdrawn_at: Option<Instant>,
}

/// The columns of a row, in order.
type Columns = (Text, Text, Text, BigInt, Nullable<BigInt>, Nullable<Date>, Nullable<BigInt>);

/// Sign-offs with whoever holds them, oldest first; a demonstration counts once it was acknowledged. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn held(db: &mut AnyConnection, whose: Whose) -> Result<Vec<(PersonId, Held)>, Trouble> {
    let rows: Vec<Row> = match whose {
        Whose::Person(id, studio) => {
            Standing::<Columns, _>::in_order(|| &OF_PERSON, &[id.as_str(), studio.as_str()]).load(db)?
        }
        Whose::EnrolledIn(id, studio) => {
            Standing::<Columns, _>::in_order(|| &OF_CLASS, &[id.as_str(), studio.as_str()]).load(db)?
        }
    };
    let counts = |row: &Row| row.grade.0 != Grade::Shown || row.acknowledged_at.is_some();
    Ok(rows
        .into_iter()
        .filter(counts)
        .map(|row| {
            let held = Held {
                topic: row.topic,
                grade: row.grade.0,
                from: row.acknowledged_at.unwrap_or(row.given_at).utc(),
                until: row.valid_until,
                withdrawn: row.withdrawn_at.map(Instant::utc),
            };
            (row.person_id, held)
        })
        .collect())
}
