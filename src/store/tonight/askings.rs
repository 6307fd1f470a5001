//! Who asks for somebody of the staff: help, a mix to agree, a sign-off, a go-ahead. An asking counts until it is
//! answered, taken back, or the local day is over.

use chrono_tz::Tz;
use diesel::prelude::*;
use diesel::sql_types::{BigInt, Integer, Nullable, Text};
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{AskingId, ClassId, PersonId, PlateId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::schema::{asking, plate};
use crate::store::standing::Standing;
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::planning::hours::end_of_day;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// How long an answer can be undone.
pub const UNDO_MS: i64 = 10 * 60_000;

spelled!(
    /// What somebody is asked for.
    Kind {
        Help = "help",
        Mix = "mix",
        SignOff = "sign_off",
        GoAhead = "go_ahead",
    }
);

/// One asking.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asking {
    pub id: AskingId,
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub kind: Kind,
    /// The plate it is about, with its number.
    pub plate: Option<(PlateId, i32)>,
    pub place: String,
    pub at: Instant,
}

/// The line of a class as it stands.
#[derive(Debug, Clone, Default)]
pub struct Line {
    /// Where the class's journal stands: what a page that refreshes by itself compares.
    pub number: i64,
    /// Who waits, the longest waiting first.
    pub open: Vec<Asking>,
    /// What was answered a moment ago and can be undone, the last first.
    pub answered: Vec<Asking>,
    /// Where the person asking was the last time.
    pub last_place: String,
}

impl Line {
    /// The place of an asking in the line, counted from one.
    #[must_use]
    pub fn place_of(&self, id: AskingId) -> Option<usize> {
        self.open.iter().position(|one| one.id == id).map(|place| place + 1)
    }
}

/// Joined to what stands before it: askings that are `what`, in the order of `at`.
macro_rules! askings {
    ($before:literal, $what:literal, $at:literal) => {
        concat!(
            $before,
            " UNION ALL SELECT ",
            $what,
            ", a.id, a.person_id, p.given_name, p.family_name, a.kind, a.plate_id, l.number, a.place, ",
            $at,
            " FROM asking a JOIN person p ON p.id = a.person_id LEFT JOIN plate l ON l.id = a.plate_id \
             WHERE a.class_id = "
        )
    };
}

const ASKED: [&str; 9] = [
    "SELECT 'head' AS what, CAST(NULL AS TEXT) AS id, CAST(NULL AS TEXT) AS person_id, \
     CAST(NULL AS TEXT) AS given_name, CAST(NULL AS TEXT) AS family_name, CAST(NULL AS TEXT) AS kind, \
     CAST(NULL AS TEXT) AS plate_id, CAST(NULL AS INTEGER) AS number, CAST(NULL AS TEXT) AS place, seq AS at \
     FROM journal_head WHERE scope = ",
    " UNION ALL SELECT 'last', NULL, NULL, NULL, NULL, NULL, NULL, NULL, place, at FROM \
     (SELECT place, at FROM asking WHERE class_id = ",
    " AND person_id = ",
    askings!(" ORDER BY at DESC LIMIT 1) AS latest", "'open'", "a.at"),
    " AND a.until_at > CAST(",
    askings!(
        " AS BIGINT) AND a.answered_at IS NULL AND a.taken_back_at IS NULL",
        "'answered'",
        "a.answered_at"
    ),
    " AND a.until_at > CAST(",
    " AS BIGINT) AND a.answered_at > CAST(",
    " AS BIGINT) AND a.taken_back_at IS NULL ORDER BY 10, 2",
];

#[derive(Queryable)]
struct Row {
    what: String,
    id: Option<AskingId>,
    person: Option<PersonId>,
    given_name: Option<String>,
    family_name: Option<String>,
    kind: Option<Word<Kind>>,
    plate: Option<PlateId>,
    number: Option<i32>,
    place: Option<String>,
    at: i64,
}

/// The columns of a row, in order.
type Columns = (
    Text,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Integer>,
    Nullable<Text>,
    BigInt,
);

impl Row {
    fn asking(self) -> Option<Asking> {
        Some(Asking {
            id: self.id?,
            person: self.person?,
            given_name: self.given_name?,
            family_name: self.family_name?,
            kind: self.kind?.0,
            plate: self.plate.zip(self.number),
            place: self.place.unwrap_or_default(),
            at: Instant::from_millis(self.at),
        })
    }
}

/// The line of a class, and where `person` was the last time they asked. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn line(db: &mut AnyConnection, class: ClassId, person: PersonId, now: Instant) -> Result<Line, Trouble> {
    let (id, moment) = (class.as_str(), now.millis().to_string());
    let since = now.plus_ms(-UNDO_MS).millis().to_string();
    let values = [id, id, person.as_str(), id, &moment, id, &moment, &since];
    let rows: Vec<Row> = Standing::<Columns, _>::in_order(|| &ASKED, &values).load(db)?;
    let mut line = Line::default();
    for row in rows {
        match row.what.as_str() {
            "head" => line.number = row.at,
            "last" => line.last_place = row.place.unwrap_or_default(),
            "open" => line.open.extend(row.asking()),
            _ => line.answered.extend(row.asking()),
        }
    }
    line.answered.reverse();
    Ok(line)
}

/// What is asked.
#[derive(Debug, Clone)]
pub struct Draft {
    pub kind: Kind,
    pub plate: Option<PlateId>,
    pub place: String,
}

impl Tx<'_> {
    /// Asks for somebody. Asking for the same thing again keeps the place in the line; where one is may have changed.
    ///
    /// # Errors
    /// `NotFound` where the plate is not the person's own; or the database refuses.
    pub fn ask_for(&mut self, class: ClassId, zone: Tz, draft: &Draft) -> Result<AskingId, Trouble> {
        let person = self.person()?;
        if let Some(id) = draft.plate {
            let own =
                plate::table.find(id).filter(plate::class_id.eq(class).and(plate::person_id.eq(person)));
            let _there: PlateId = own.select(plate::id).first(self.connection)?;
        }
        let open = line(self.connection, class, person, self.now)?.open;
        let known = open.into_iter().find(|one| {
            one.person == person && one.kind == draft.kind && one.plate.map(|(id, _)| id) == draft.plate
        });
        if let Some(known) = known {
            if known.place != draft.place {
                diesel::update(asking::table.find(known.id))
                    .set(asking::place.eq(&draft.place))
                    .execute(self.connection)?;
                self.journal("asking.moved", known.id, &json!({ "place": draft.place }))?;
            }
            return Ok(known.id);
        }
        let id: AskingId = self.id();
        diesel::insert_into(asking::table)
            .values((
                (asking::id.eq(id), asking::class_id.eq(class), asking::person_id.eq(person)),
                (asking::kind.eq(Word(draft.kind)), asking::plate_id.eq(draft.plate)),
                (asking::place.eq(&draft.place), asking::at.eq(self.now)),
                asking::until_at.eq(Instant::from_millis(end_of_day(self.now.millis(), zone))),
            ))
            .execute(self.connection)?;
        let detail = json!({ "kind": draft.kind, "plate": draft.plate });
        self.journal("asking.made", id, &detail)?;
        Ok(id)
    }

    /// A student takes the own asking back. One that was answered meanwhile stays so.
    ///
    /// # Errors
    /// `NotFound` where it is not the person's own in this class.
    pub fn take_asking_back(&mut self, class: ClassId, id: AskingId) -> Result<(), Trouble> {
        let person = self.person()?;
        let own = asking::table.filter(asking::id.eq(id).and(asking::class_id.eq(class)));
        let own = own.filter(asking::person_id.eq(person));
        let (answered, gone): (Option<Instant>, Option<Instant>) =
            own.select((asking::answered_at, asking::taken_back_at)).first(self.connection)?;
        if answered.is_some() || gone.is_some() {
            return Ok(());
        }
        diesel::update(asking::table.find(id))
            .set(asking::taken_back_at.eq(self.now))
            .execute(self.connection)?;
        self.journal("asking.taken-back", id, &json!({}))
    }

    /// Somebody of the staff has seen to it. What is answered or taken back already stays as it is.
    ///
    /// # Errors
    /// `NotFound` where it is not of this class.
    pub fn answer_asking(&mut self, class: ClassId, id: AskingId) -> Result<(), Trouble> {
        let one = asking::table.filter(asking::id.eq(id).and(asking::class_id.eq(class)));
        let (answered, gone): (Option<Instant>, Option<Instant>) =
            one.select((asking::answered_at, asking::taken_back_at)).first(self.connection)?;
        if answered.is_some() || gone.is_some() {
            return Ok(());
        }
        diesel::update(asking::table.find(id))
            .set((asking::answered_at.eq(self.now), asking::answered_by.eq(self.person()?)))
            .execute(self.connection)?;
        self.journal("asking.answered", id, &json!({}))
    }

    /// Undoes an answer of the last ten minutes: the asking has its old place in the line again.
    ///
    /// # Errors
    /// `NotFound` where it is not of this class; a sentence where it is longer ago, or they asked again meanwhile.
    pub fn undo_answer(&mut self, class: ClassId, id: AskingId) -> Result<(), Trouble> {
        let one = asking::table.filter(asking::id.eq(id).and(asking::class_id.eq(class)));
        type Found = (Option<Instant>, PersonId, Word<Kind>, Option<PlateId>, Instant);
        let (answered, person, kind, plate, until): Found = one
            .select((
                asking::answered_at,
                asking::person_id,
                asking::kind,
                asking::plate_id,
                asking::until_at,
            ))
            .first(self.connection)?;
        let Some(answered) = answered else { return Ok(()) };
        if answered.plus_ms(UNDO_MS) <= self.now || until <= self.now {
            return Err(Trouble::Refused(Remark::new("tonight-undo-too-late")));
        }
        let open = line(self.connection, class, person, self.now)?.open;
        let again =
            |one: &Asking| one.person == person && one.kind == kind.0 && one.plate.map(|(id, _)| id) == plate;
        if open.iter().any(again) {
            return Err(Trouble::Refused(Remark::new("tonight-undo-asked-again")));
        }
        diesel::update(asking::table.find(id))
            .set((asking::answered_at.eq(None::<Instant>), asking::answered_by.eq(None::<PersonId>)))
            .execute(self.connection)?;
        self.journal("asking.undone", id, &json!({}))
    }
}
