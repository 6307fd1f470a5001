//! Sessions: a random token in the browser's cookie, its digest here, with an idle and an absolute end.

use diesel::prelude::*;

use crate::clock::{DAY_MS, Instant};
use crate::ids::{ClassId, PersonId, SessionId, StudioId, TermId};
use crate::speech::language::Language;
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::schema::{class, enrolment, person, session, studio, term};
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
#[derive(Debug, Clone, Queryable)]
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
}

/// Finds the living session of a token's digest, and the person's place in a class if one is asked for. Two
/// statements at the most.
///
/// # Errors
/// The database cannot be read.
pub fn entry(
    db: &mut AnyConnection,
    token_hash: &str,
    now: Instant,
    class_id: Option<ClassId>,
) -> Result<Option<Entry>, Trouble> {
    type Person = (PersonId, String, String, bool, bool, bool, String, Option<Word<Language>>);
    type Row = ((SessionId, Instant, i64, Instant, Instant), Person);
    let row: Option<Row> = session::table
        .inner_join(person::table)
        .filter(session::token_hash.eq(token_hash).and(session::ended_at.is_null()))
        .select((
            (session::id, session::seen_at, session::idle_ms, session::ends_at, session::confirmed_at),
            (
                person::id,
                person::given_name,
                person::family_name,
                person::keeper,
                person::records,
                person::safety_officer,
                person::volume_unit,
                person::language,
            ),
        ))
        .first(db)
        .optional()?;
    let Some(((session, seen_at, idle_ms, ends_at, confirmed_at), person)) = row else { return Ok(None) };
    // Seeing is noted every five minutes only, so the idle end is allowed that much more.
    if now >= ends_at || now.millis() - seen_at.millis() > idle_ms.saturating_add(5 * 60_000) {
        return Ok(None);
    }
    let place = class_id.map(|class_id| place(db, class_id, person.0)).transpose()?.flatten();
    Ok(Some(Entry {
        session,
        seen_at,
        confirmed_at,
        person: person.0,
        given_name: person.1,
        family_name: person.2,
        keeper: person.3,
        records: person.4,
        safety_officer: person.5,
        volume_unit: person.6,
        language: person.7.map(|language| language.0),
        place,
    }))
}

fn place(db: &mut AnyConnection, class_id: ClassId, person_id: PersonId) -> Result<Option<Place>, Trouble> {
    let in_force = enrolment::state
        .eq(Word(EnrolmentState::Enrolled))
        .or(enrolment::state.eq(Word(EnrolmentState::Incomplete)));
    Ok(class::table
        .inner_join(term::table)
        .inner_join(studio::table)
        .left_join(
            enrolment::table
                .on(enrolment::class_id.eq(class::id).and(enrolment::person_id.eq(person_id)).and(in_force)),
        )
        .filter(class::id.eq(class_id))
        .select((
            class::id,
            class::title,
            class::code,
            term::id,
            term::name,
            term::zone,
            studio::id,
            studio::name,
            studio::eyewash,
            enrolment::role.nullable(),
        ))
        .first(db)
        .optional()?)
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
