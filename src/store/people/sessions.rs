//! Sessions: a random token in the browser's cookie, its digest here, with an idle and an absolute end.

use diesel::prelude::*;
use diesel::sql_types::{BigInt, Bool, Nullable, Text};

use crate::clock::{DAY_MS, Instant};
use crate::ids::{ClassId, PersonId, SessionId, StudioId, TermId};
use crate::speech::language::Language;
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::schema::{enrolment, person, session};
use crate::store::standing::Standing;
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trouble::Trouble;

spelled!(
    /// What a person is in a class.
    Role { Student = "student", Assistant = "assistant", Instructor = "instructor" }
);

spelled!(
    /// How an enrolment stands.
    EnrolmentState {
        Enrolled = "enrolled",
        Dropped = "dropped",
        Withdrawn = "withdrawn",
        Incomplete = "incomplete",
    }
);

/// Who stands behind a session token, and where the door they stand at leads.
#[derive(Debug, Clone)]
pub struct Entry {
    pub session: SessionId,
    pub seen_at: Instant,
    pub confirmed_at: Instant,
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub keeper: bool,
    pub records: bool,
    pub safety_officer: bool,
    pub volume_unit: String,
    pub language: Option<Language>,
    pub place: Option<Place>,
}

/// A class as the person asking stands in it.
#[derive(Debug, Clone)]
pub struct Place {
    pub class: ClassId,
    pub class_title: String,
    pub class_code: String,
    pub term: TermId,
    pub term_name: String,
    pub zone: String,
    pub studio: StudioId,
    pub studio_name: String,
    pub eyewash: String,
    /// None without an enrolment that is in force.
    pub role: Option<Word<Role>>,
    /// They were a student here, and the enrolment has ended.
    pub was_student: bool,
}

const ASKED: [&str; 3] = [
    "SELECT s.id, s.seen_at, s.idle_ms, s.ends_at, s.confirmed_at, p.id AS person, p.given_name, p.family_name, \
     p.keeper, p.records, p.safety_officer, p.volume_unit, p.language, c.id AS class, c.title AS class_title, \
     c.code AS class_code, t.id AS term, t.name AS term_name, t.zone, r.id AS studio, r.name AS studio_name, \
     r.eyewash, e.role, e.state FROM session s JOIN person p ON p.id = s.person_id LEFT JOIN class c ON c.id = ",
    " LEFT JOIN term t ON t.id = c.term_id LEFT JOIN studio r ON r.id = c.studio_id \
     LEFT JOIN enrolment e ON e.class_id = c.id AND e.person_id = p.id \
     WHERE s.ended_at IS NULL AND s.token_hash = ",
    "",
];
#[derive(Queryable)]
struct Row {
    id: SessionId,
    seen_at: Instant,
    idle_ms: i64,
    ends_at: Instant,
    confirmed_at: Instant,
    person: PersonId,
    given_name: String,
    family_name: String,
    keeper: bool,
    records: bool,
    safety_officer: bool,
    volume_unit: String,
    language: Option<Word<Language>>,
    place: Where,
}

/// The columns of a row, in order.
type Columns = (
    Text,
    BigInt,
    BigInt,
    BigInt,
    BigInt,
    Text,
    Text,
    Text,
    Bool,
    Bool,
    Bool,
    Text,
    Nullable<Text>,
    WhereColumns,
);
/// The place as the row has it: all of it, or nothing where no class is asked for or it is not there.
#[derive(Queryable)]
struct Where {
    class: Option<ClassId>,
    class_title: Option<String>,
    class_code: Option<String>,
    term: Option<TermId>,
    term_name: Option<String>,
    zone: Option<String>,
    studio: Option<StudioId>,
    studio_name: Option<String>,
    eyewash: Option<String>,
    role: Option<Word<Role>>,
    state: Option<Word<EnrolmentState>>,
}

/// The columns of a row, in order.
type WhereColumns = (
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Text>,
);

impl Where {
    fn place(self) -> Option<Place> {
        let state = self.state.map(|state| state.0);
        let in_force = matches!(state, Some(EnrolmentState::Enrolled | EnrolmentState::Incomplete));
        let role = self.role.map(|role| role.0);
        Some(Place {
            class: self.class?,
            class_title: self.class_title?,
            class_code: self.class_code?,
            term: self.term?,
            term_name: self.term_name?,
            zone: self.zone?,
            studio: self.studio?,
            studio_name: self.studio_name?,
            eyewash: self.eyewash?,
            role: self.role.filter(|_| in_force),
            was_student: role == Some(Role::Student) && !in_force,
        })
    }
}

/// Finds the living session of a token's digest, and the person's place in a class if one is asked for. One statement:
/// it comes before every page.
///
/// # Errors
/// The database cannot be read.
pub fn entry(
    db: &mut AnyConnection,
    token_hash: &str,
    now: Instant,
    class: Option<ClassId>,
) -> Result<Option<Entry>, Trouble> {
    let class = class.map(|class| class.to_string()).unwrap_or_default();
    let question = Standing::<Columns, _>::in_order(|| &ASKED, &[&class, token_hash]);
    let Some(row) = question.first::<Row>(db)? else { return Ok(None) };
    // Seeing is noted every five minutes only, so the idle end is allowed that much more.
    let idle = now.millis() - row.seen_at.millis();
    if now >= row.ends_at || idle > row.idle_ms.saturating_add(5 * 60_000) {
        return Ok(None);
    }
    Ok(Some(Entry {
        session: row.id,
        seen_at: row.seen_at,
        confirmed_at: row.confirmed_at,
        person: row.person,
        given_name: row.given_name,
        family_name: row.family_name,
        keeper: row.keeper,
        records: row.records,
        safety_officer: row.safety_officer,
        volume_unit: row.volume_unit,
        place: row.place.place(),
        language: row.language.map(|language| language.0),
    }))
}

/// Notes when a session was last seen. Losing this note does no harm.
///
/// # Errors
/// The database cannot be written.
pub fn seen(db: &mut AnyConnection, id: SessionId, now: Instant) -> Result<(), Trouble> {
    diesel::update(session::table.find(id)).set(session::seen_at.eq(now)).execute(db)?;
    Ok(())
}

/// How long a session lives: at all, and without being used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    pub absolute_ms: i64,
    pub idle_ms: i64,
}

/// For a person who is nothing but a student.
pub const STUDENT_SPAN: Span = Span { absolute_ms: 30 * DAY_MS, idle_ms: 7 * DAY_MS };
/// For everybody else.
pub const STAFF_SPAN: Span = Span { absolute_ms: DAY_MS / 2, idle_ms: DAY_MS / 6 };

impl Tx<'_> {
    /// Opens a session for the person of a token's digest.
    ///
    /// # Errors
    /// The database refuses.
    pub fn open_session(
        &mut self,
        person_id: PersonId,
        token_hash: &str,
        agent: &str,
    ) -> Result<SessionId, Trouble> {
        let span = span_of(self.connection, person_id)?;
        let id: SessionId = self.id();
        let agent: String = agent.chars().filter(|c| !c.is_control()).take(200).collect();
        diesel::insert_into(session::table)
            .values((
                session::id.eq(id),
                session::token_hash.eq(token_hash),
                session::person_id.eq(person_id),
                session::agent.eq(agent),
                session::created_at.eq(self.now),
                session::seen_at.eq(self.now),
                session::idle_ms.eq(span.idle_ms),
                session::ends_at.eq(self.now.plus_ms(span.absolute_ms)),
                session::confirmed_at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.journal("session.opened", person_id, &serde_json::json!({}))?;
        Ok(id)
    }

    /// Ends one session.
    ///
    /// # Errors
    /// The database refuses.
    pub fn end_session(&mut self, id: SessionId) -> Result<(), Trouble> {
        diesel::update(session::table.find(id).filter(session::ended_at.is_null()))
            .set(session::ended_at.eq(self.now))
            .execute(self.connection)?;
        Ok(())
    }
}

/// The longest-lived session the person's rights allow: whoever is more than a student gets the short one.
fn span_of(db: &mut AnyConnection, person_id: PersonId) -> Result<Span, Trouble> {
    let (keeper, records, safety): (bool, bool, bool) = person::table
        .find(person_id)
        .select((person::keeper, person::records, person::safety_officer))
        .first(db)?;
    let staff: i64 = enrolment::table
        .filter(enrolment::person_id.eq(person_id).and(enrolment::role.ne(Word(Role::Student))))
        .count()
        .get_result(db)?;
    Ok(if keeper || records || safety || staff > 0 { STAFF_SPAN } else { STUDENT_SPAN })
}

/// A session as its owner sees it.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct OwnSession {
    pub id: SessionId,
    pub agent: String,
    pub created_at: Instant,
    pub seen_at: Instant,
}

/// The open sessions of a person, last seen first.
///
/// # Errors
/// The database cannot be read.
pub fn of_person(db: &mut AnyConnection, id: PersonId, now: Instant) -> Result<Vec<OwnSession>, Trouble> {
    Ok(session::table
        .filter(session::person_id.eq(id).and(session::ended_at.is_null()).and(session::ends_at.gt(now)))
        .order(session::seen_at.desc())
        .select((session::id, session::agent, session::created_at, session::seen_at))
        .load(db)?)
}

impl Tx<'_> {
    /// Ends one of a person's own sessions.
    ///
    /// # Errors
    /// It is not theirs.
    pub fn end_own_session(&mut self, owner: PersonId, id: SessionId) -> Result<(), Trouble> {
        let ended = diesel::update(
            session::table.find(id).filter(session::person_id.eq(owner).and(session::ended_at.is_null())),
        )
        .set(session::ended_at.eq(self.now))
        .execute(self.connection)?;
        if ended == 0 {
            return Err(Trouble::NotFound);
        }
        self.journal("session.ended", owner, &serde_json::json!({}))
    }

    /// Notes that the password was typed anew in a session.
    ///
    /// # Errors
    /// The database refuses.
    pub fn confirm_session(&mut self, id: SessionId) -> Result<(), Trouble> {
        diesel::update(session::table.find(id))
            .set(session::confirmed_at.eq(self.now))
            .execute(self.connection)?;
        Ok(())
    }
}
