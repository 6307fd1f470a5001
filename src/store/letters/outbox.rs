//! The outbox as its runner works through it: claim a letter by lease, renew before sending, finish. Every change is one
//! conditional UPDATE that must touch one row, so of two runners at once only one goes on, and one that was away for
//! longer than its lease cannot overwrite what another did meanwhile. A lease is measured by the database's clock, which
//! all runners share.

use diesel::prelude::*;
use diesel::sql_types::BigInt;

use crate::clock::Instant;
use crate::ids::{ClassId, LetterId, PersonId};
use crate::speech::language::Language;
use crate::store::connections::AnyConnection;
use crate::store::letters::Kind;
use crate::store::letters::resting::Mailbox;
use crate::store::people::sessions::EnrolmentState;
use crate::store::schema::{class, enrolment, letter, person, school, term};
use crate::store::types::Word;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// How long a claim holds without being renewed.
pub const LEASE_MS: i64 = 5 * 60_000;

/// Why a letter waits that is kept off quiet hours and closed days: a word of the catalogue, `letters-waits-<word>`.
pub const QUIET: &str = "quiet";

/// Why a letter was dropped that a later one stands in for: a word of the catalogue, `letters-dropped-<word>`.
pub const OVERTAKEN: &str = "overtaken";

/// How many letters a runner looks at when others take them from under its hands.
const CANDIDATES: i64 = 8;

/// A letter that one runner works on.
#[derive(Debug, Clone)]
pub struct Claim {
    pub letter: LetterId,
    pub kind: Kind,
    pub person: PersonId,
    pub class: Option<ClassId>,
    /// The letter's detail, as it is stored.
    pub detail: String,
    pub created_at: Instant,
    /// Tries of this row of tries, this one included.
    pub attempts: i32,
    /// When this row of tries began.
    pub tried_since: Instant,
    /// The claim's own word, new each time.
    pub owner: String,
}

/// How a try ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    Sent,
    /// Not this time.
    Later {
        not_before: Instant,
        why: String,
    },
    /// Never, unless staff have it tried again.
    Failed {
        why: String,
    },
    /// There is nobody it could be for any more. `why` is a word of the catalogue: `letters-dropped-<why>`.
    Dropped {
        why: &'static str,
    },
}

#[derive(QueryableByName)]
struct Now {
    #[diesel(sql_type = BigInt)]
    now: i64,
}

/// The moment the database's own clock shows.
///
/// # Errors
/// The database cannot be read.
pub fn database_now(db: &mut AnyConnection) -> Result<Instant, Trouble> {
    let query = match db {
        AnyConnection::Sqlite(_) => "SELECT CAST(unixepoch('subsec') * 1000 AS INTEGER) AS now",
        AnyConnection::Postgres(_) => {
            "SELECT CAST(EXTRACT(EPOCH FROM clock_timestamp()) * 1000 AS BIGINT) AS now"
        }
    };
    let found: Now = diesel::sql_query(query).get_result(db)?;
    Ok(Instant::from_millis(found.now))
}

/// Claims the letter that has waited longest, if one is due at `now` and nobody holds it. `owner` is a word that no
/// other claim has. Kinds this program does not know are left to a newer one.
///
/// # Errors
/// The database cannot be read or written.
pub fn claim(db: &mut AnyConnection, owner: &str, now: Instant) -> Result<Option<Claim>, Trouble> {
    let clock = database_now(db)?;
    let kinds: Vec<Word<Kind>> = Kind::ALL.iter().map(|kind| Word(*kind)).collect();
    let waiting: Vec<LetterId> = letter::table
        .filter(letter::sent_at.is_null().and(letter::failed_at.is_null()).and(letter::dropped_at.is_null()))
        .filter(letter::not_before.le(now).and(letter::kind.eq_any(kinds)))
        .filter(letter::lease_until.is_null().or(letter::lease_until.lt(clock)))
        .order((letter::not_before, letter::id))
        .limit(CANDIDATES)
        .select(letter::id)
        .load(db)?;
    for id in waiting {
        let taken = diesel::update(
            letter::table
                .find(id)
                .filter(
                    letter::sent_at
                        .is_null()
                        .and(letter::failed_at.is_null())
                        .and(letter::dropped_at.is_null()),
                )
                .filter(letter::not_before.le(now))
                .filter(letter::lease_until.is_null().or(letter::lease_until.lt(clock))),
        )
        .set((
            letter::lease_owner.eq(owner),
            letter::lease_until.eq(clock.plus_ms(LEASE_MS)),
            letter::attempts.eq(letter::attempts + 1),
        ))
        .execute(db)?;
        if taken == 1 {
            return claimed(db, id, owner, now);
        }
    }
    Ok(None)
}

fn claimed(
    db: &mut AnyConnection,
    id: LetterId,
    owner: &str,
    now: Instant,
) -> Result<Option<Claim>, Trouble> {
    diesel::update(letter::table.find(id).filter(letter::tried_since.is_null()))
        .set(letter::tried_since.eq(now))
        .execute(db)?;
    type Row = (Word<Kind>, PersonId, Option<ClassId>, String, Instant, i32, Option<Instant>);
    let row: Option<Row> = letter::table
        .find(id)
        .filter(letter::lease_owner.eq(owner))
        .select((
            letter::kind,
            letter::person_id,
            letter::class_id,
            letter::detail,
            letter::created_at,
            letter::attempts,
            letter::tried_since,
        ))
        .first(db)
        .optional()?;
    Ok(row.map(|(kind, person, class, detail, created_at, attempts, since)| Claim {
        letter: id,
        kind: kind.0,
        person,
        class,
        detail,
        created_at,
        attempts,
        tried_since: since.unwrap_or(now),
        owner: owner.to_owned(),
    }))
}

/// The letters of a kind that wait for a person in a class and that no runner holds: each with its detail, the last
/// first.
///
/// # Errors
/// The database cannot be read.
pub fn unheld(
    db: &mut AnyConnection,
    kind: Kind,
    class: ClassId,
    person: PersonId,
) -> Result<Vec<(LetterId, String)>, Trouble> {
    let clock = database_now(db)?;
    Ok(letter::table
        .filter(letter::person_id.eq(person).and(letter::kind.eq(Word(kind))).and(letter::class_id.eq(class)))
        .filter(letter::sent_at.is_null().and(letter::failed_at.is_null()).and(letter::dropped_at.is_null()))
        .filter(letter::lease_until.is_null().or(letter::lease_until.lt(clock)))
        .order((letter::created_at.desc(), letter::id.desc()))
        .select((letter::id, letter::detail))
        .load(db)?)
}

/// Drops a waiting letter because a later one says what holds. False when a runner has taken it meanwhile.
///
/// # Errors
/// The database cannot be written.
pub fn overtaken(db: &mut AnyConnection, id: LetterId, now: Instant) -> Result<bool, Trouble> {
    let clock = database_now(db)?;
    let dropped = diesel::update(
        letter::table
            .find(id)
            .filter(
                letter::sent_at.is_null().and(letter::failed_at.is_null()).and(letter::dropped_at.is_null()),
            )
            .filter(letter::lease_until.is_null().or(letter::lease_until.lt(clock))),
    )
    .set((letter::dropped_at.eq(now), letter::last_error.eq(OVERTAKEN)))
    .execute(db)?;
    Ok(dropped == 1)
}

/// Holds a claim for another lease. False when somebody else has the letter now: then it must not be sent.
///
/// # Errors
/// The database cannot be written.
pub fn renew(db: &mut AnyConnection, claim: &Claim) -> Result<bool, Trouble> {
    let clock = database_now(db)?;
    let held = diesel::update(
        letter::table
            .find(claim.letter)
            .filter(letter::lease_owner.eq(&claim.owner).and(letter::attempts.eq(claim.attempts)))
            .filter(letter::lease_until.ge(clock)),
    )
    .set(letter::lease_until.eq(clock.plus_ms(LEASE_MS)))
    .execute(db)?;
    Ok(held == 1)
}

/// Writes down how a try ended and lets go. False when somebody else has the letter now: then nothing is written.
///
/// # Errors
/// The database cannot be written.
pub fn finish(
    db: &mut AnyConnection,
    claim: &Claim,
    now: Instant,
    outcome: &Outcome,
) -> Result<bool, Trouble> {
    let mut change = Change::default();
    match outcome {
        Outcome::Sent => change.sent_at = Some(now),
        Outcome::Later { not_before, why } => {
            change.not_before = Some(*not_before);
            if why == QUIET {
                // Nobody was asked to take it: the row of tries begins when the quiet is over.
                (change.attempts, change.tried_since) = (Some(0), Some(None));
            }
            change.last_error = Some(Some(why.clone()));
        }
        Outcome::Failed { why } => {
            change.failed_at = Some(now);
            change.last_error = Some(Some(why.clone()));
        }
        Outcome::Dropped { why } => {
            change.dropped_at = Some(now);
            change.last_error = Some(Some((*why).to_owned()));
        }
    }
    if *outcome == Outcome::Sent {
        change.last_error = Some(None);
    }
    let held = diesel::update(
        letter::table
            .find(claim.letter)
            .filter(letter::lease_owner.eq(&claim.owner).and(letter::attempts.eq(claim.attempts))),
    )
    .set(&change)
    .execute(db)?;
    Ok(held == 1)
}

/// What `finish` writes: None leaves a column as it is, `Some(None)` empties it. The lease always goes.
#[derive(AsChangeset)]
#[diesel(table_name = letter)]
struct Change {
    lease_owner: Option<Option<String>>,
    lease_until: Option<Option<Instant>>,
    not_before: Option<Instant>,
    attempts: Option<i32>,
    tried_since: Option<Option<Instant>>,
    sent_at: Option<Instant>,
    failed_at: Option<Instant>,
    dropped_at: Option<Instant>,
    last_error: Option<Option<String>>,
}

impl Default for Change {
    fn default() -> Self {
        Self {
            lease_owner: Some(None),
            lease_until: Some(None),
            not_before: None,
            attempts: None,
            tried_since: None,
            sent_at: None,
            failed_at: None,
            dropped_at: None,
            last_error: None,
        }
    }
}

/// Whom a letter is for, as things stand when it is sent.
#[derive(Debug, Clone)]
pub struct Addressee {
    pub given_name: String,
    pub family_name: String,
    pub email: Option<String>,
    pub wants: Wants,
    pub mailbox: Mailbox,
    /// The language they chose.
    pub language: Option<Word<Language>>,
    pub school: String,
    pub class: Option<AddresseeClass>,
}

/// Which of the letters one can do without a person wants.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Queryable)]
pub struct Wants {
    pub daily: bool,
    pub urgent: bool,
    pub week: bool,
    pub handed_back: bool,
    pub due_moved: bool,
    pub second_look_asked: bool,
    pub second_look_answered: bool,
    pub grade_submitted: bool,
}

impl Wants {
    /// Whether a letter of this kind is wanted; those about an account always are.
    #[must_use]
    pub const fn kind(self, kind: Kind) -> bool {
        match kind {
            Kind::Daily => self.daily,
            Kind::Urgent => self.urgent,
            Kind::Week => self.week,
            Kind::HandedBack => self.handed_back,
            Kind::DueMoved => self.due_moved,
            Kind::SecondLookAsked => self.second_look_asked,
            Kind::SecondLookAnswered => self.second_look_answered,
            Kind::GradeSubmitted => self.grade_submitted,
            Kind::Invitation | Kind::Reset | Kind::PasswordChanged | Kind::EmailChanged => true,
        }
    }
}

/// The class a letter is of.
#[derive(Debug, Clone, Queryable)]
pub struct AddresseeClass {
    pub title: String,
    pub zone: String,
    /// Whether the person's enrolment in it is in force.
    pub enrolled: bool,
}

/// Whom a claimed letter is for. Two statements, three for a letter of a class.
///
/// # Errors
/// The database cannot be read.
pub fn addressee(db: &mut AnyConnection, claim: &Claim) -> Result<Addressee, Trouble> {
    let (given_name, family_name, email, wants, mailbox, language) = person::table
        .find(claim.person)
        .select((
            person::given_name,
            person::family_name,
            person::email,
            (
                person::daily_letter,
                person::urgent_letter,
                person::week_letter,
                person::handed_back_letter,
                person::due_moved_letter,
                person::second_look_asked_letter,
                person::second_look_answered_letter,
                person::grade_submitted_letter,
            ),
            (person::mail_refusals, person::mail_rests_since),
            person::language,
        ))
        .first(db)?;
    let school: Option<String> = school::table.select(school::name).first(db).optional()?;
    let in_force =
        enrolment::state.eq_any([Word(EnrolmentState::Enrolled), Word(EnrolmentState::Incomplete)]);
    let class = match claim.class {
        None => None,
        Some(id) => Some(
            class::table
                .inner_join(term::table)
                .left_join(
                    enrolment::table.on(enrolment::class_id
                        .eq(class::id)
                        .and(enrolment::person_id.eq(claim.person))
                        .and(in_force)),
                )
                .filter(class::id.eq(id))
                .select((class::title, term::zone, enrolment::id.nullable().is_not_null()))
                .first(db)?,
        ),
    };
    let school = school.unwrap_or_default();
    Ok(Addressee { given_name, family_name, email, wants, mailbox, language, school, class })
}
