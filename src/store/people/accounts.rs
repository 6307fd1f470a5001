//! Accounts: finding a person by what they type.

use diesel::prelude::*;
use unicode_normalization::UnicodeNormalization;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId};
use crate::secrets::ServerKey;
use crate::speech::language::Language;
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::letters::{Kind, NewLetter};
use crate::store::people::links::Purpose;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{class, enrolment, link, person, term};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trouble::Trouble;

/// How an e-mail address is compared: composed, lower case, without outer spaces.
#[must_use]
pub fn email_key(email: &str) -> String {
    email.trim().nfc().collect::<String>().to_lowercase()
}

/// What signing in needs to know.
#[derive(Debug, Clone, Queryable)]
pub struct Account {
    pub id: PersonId,
    pub password_hash: Option<String>,
}

/// The account of an e-mail key.
///
/// # Errors
/// The database cannot be read.
pub fn by_email(db: &mut AnyConnection, key: &str) -> Result<Option<Account>, Trouble> {
    Ok(person::table
        .filter(person::email_key.eq(key))
        .select((person::id, person::password_hash))
        .first(db)
        .optional()?)
}

/// A class a person stands in.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct ClassOf {
    pub class: ClassId,
    pub title: String,
    pub term: String,
    pub role: Word<Role>,
}

/// The classes of a person whose enrolment is in force, newest term first.
///
/// # Errors
/// The database cannot be read.
pub fn classes_of(db: &mut AnyConnection, id: PersonId) -> Result<Vec<ClassOf>, Trouble> {
    let in_force =
        enrolment::state.eq_any([Word(EnrolmentState::Enrolled), Word(EnrolmentState::Incomplete)]);
    Ok(enrolment::table
        .inner_join(class::table.inner_join(term::table))
        .filter(enrolment::person_id.eq(id).and(in_force))
        .order((term::starts.desc(), class::title))
        .select((class::id, class::title, term::name, enrolment::role))
        .load(db)?)
}

/// The codes of a person's classes, of every term.
///
/// # Errors
/// The database cannot be read.
pub fn class_codes_of(db: &mut AnyConnection, id: PersonId) -> Result<Vec<String>, Trouble> {
    Ok(enrolment::table
        .inner_join(class::table)
        .filter(enrolment::person_id.eq(id))
        .select(class::code)
        .load(db)?)
}

/// What stands between a person and another try at signing in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Failures {
    pub count: i32,
    pub last: Option<Instant>,
}

impl Failures {
    /// How long to wait still: nothing for the first four failures, then 1 s, 2 s, 4 s … up to 15 minutes.
    #[must_use]
    pub fn wait_ms(self, now: Instant) -> i64 {
        let Some(last) = self.last else { return 0 };
        let Ok(over) = u32::try_from(self.count - 5) else { return 0 };
        let pause = 1000_i64.saturating_mul(1 << over.min(20)).min(15 * 60_000);
        (last.millis() + pause - now.millis()).max(0)
    }
}

/// The failures of an account so far.
///
/// # Errors
/// The database cannot be read.
pub fn failures(db: &mut AnyConnection, id: PersonId) -> Result<Failures, Trouble> {
    let (count, last) =
        person::table.find(id).select((person::failed_sign_ins, person::failed_at)).first(db)?;
    Ok(Failures { count, last })
}

/// Counts a failed try. This is no act of anybody's: it stands in no journal.
///
/// # Errors
/// The database cannot be written.
pub fn count_failure(db: &mut AnyConnection, id: PersonId, now: Instant) -> Result<(), Trouble> {
    diesel::update(person::table.find(id))
        .set((person::failed_sign_ins.eq(person::failed_sign_ins + 1), person::failed_at.eq(now)))
        .execute(db)?;
    Ok(())
}

/// Forgets the failures after a success.
///
/// # Errors
/// The database cannot be written.
pub fn forget_failures(db: &mut AnyConnection, id: PersonId) -> Result<(), Trouble> {
    diesel::update(person::table.find(id))
        .set((person::failed_sign_ins.eq(0), person::failed_at.eq(None::<Instant>)))
        .execute(db)?;
    Ok(())
}

spelled!(
    /// In what a person reads volumes.
    VolumeUnit { UsFlOz = "us_fl_oz", Ml = "ml" }
);

/// What a person chose, and where their letters go.
#[derive(Debug, Clone, Queryable)]
pub struct Preferences {
    pub volume_unit: String,
    pub daily_letter: bool,
    pub urgent_letter: bool,
    pub week_letter: bool,
    pub handed_back_letter: bool,
    pub due_moved_letter: bool,
    pub second_look_asked_letter: bool,
    pub second_look_answered_letter: bool,
    pub grade_submitted_letter: bool,
    /// The local hour, in each class's own zone, at which the daily and the weekly letter are written.
    pub letter_hour: i32,
    pub language: Option<Word<Language>>,
    pub email: Option<String>,
}

/// What a person chooses.
#[derive(Debug, Clone, Copy, serde::Serialize)]
pub struct Chosen {
    pub volume_unit: VolumeUnit,
    pub daily_letter: bool,
    pub urgent_letter: bool,
    pub week_letter: bool,
    pub handed_back_letter: bool,
    pub due_moved_letter: bool,
    pub second_look_asked_letter: bool,
    pub second_look_answered_letter: bool,
    pub grade_submitted_letter: bool,
    pub letter_hour: i32,
    /// None: the browser's word holds for pages, and English for letters.
    pub language: Option<Language>,
}

/// The choices of a person.
///
/// # Errors
/// The database cannot be read.
pub fn preferences(db: &mut AnyConnection, id: PersonId) -> Result<Preferences, Trouble> {
    let columns = (
        person::volume_unit,
        person::daily_letter,
        person::urgent_letter,
        person::week_letter,
        person::handed_back_letter,
        person::due_moved_letter,
        person::second_look_asked_letter,
        person::second_look_answered_letter,
        person::grade_submitted_letter,
        person::letter_hour,
        person::language,
        person::email,
    );
    Ok(person::table.find(id).select(columns).first(db)?)
}

/// The hash of a person's password, if they have one.
///
/// # Errors
/// The database cannot be read.
pub fn password_hash(db: &mut AnyConnection, id: PersonId) -> Result<Option<String>, Trouble> {
    Ok(person::table.find(id).select(person::password_hash).first(db)?)
}

impl Tx<'_> {
    /// Keeps a person's choices.
    ///
    /// # Errors
    /// The database refuses.
    pub fn set_preferences(&mut self, id: PersonId, chosen: &Chosen) -> Result<(), Trouble> {
        diesel::update(person::table.find(id))
            .set((
                person::volume_unit.eq(Word(chosen.volume_unit)),
                person::daily_letter.eq(chosen.daily_letter),
                person::urgent_letter.eq(chosen.urgent_letter),
                person::week_letter.eq(chosen.week_letter),
                person::handed_back_letter.eq(chosen.handed_back_letter),
                person::due_moved_letter.eq(chosen.due_moved_letter),
                person::second_look_asked_letter.eq(chosen.second_look_asked_letter),
                person::second_look_answered_letter.eq(chosen.second_look_answered_letter),
                person::grade_submitted_letter.eq(chosen.grade_submitted_letter),
                person::letter_hour.eq(chosen.letter_hour),
                person::language.eq(chosen.language.map(Word)),
            ))
            .execute(self.connection)?;
        self.journal("preferences.set", id, &serde_json::json!(chosen))
    }

    /// Changes the address by which a person signs in and gets letters, and tells both addresses. Links that were sent
    /// to the old one open nothing any more.
    ///
    /// # Errors
    /// `Trouble::Taken` when somebody else has the address.
    pub fn change_email(&mut self, id: PersonId, email: &str) -> Result<(), Trouble> {
        let old: Option<String> = person::table.find(id).select(person::email).first(self.connection)?;
        self.attempt(|db| {
            diesel::update(person::table.find(id))
                .set((
                    (person::email.eq(email), person::email_key.eq(email_key(email))),
                    (person::mail_refusals.eq(0), person::mail_rests_since.eq(None::<Instant>)),
                    person::version.eq(person::version + 1),
                ))
                .execute(db)?;
            Ok(())
        })?;
        diesel::update(link::table.filter(link::person_id.eq(id).and(link::used_at.is_null())))
            .set(link::expires_at.eq(self.now))
            .execute(self.connection)?;
        let both = [old.as_deref(), Some(email)];
        for to in both.into_iter().flatten() {
            self.letter(&NewLetter {
                kind: Kind::EmailChanged,
                person: id,
                class: None,
                cause: None,
                detail: serde_json::json!({ "to": to, "email": email }),
                not_before: self.now,
            })?;
        }
        self.journal("email.changed", id, &serde_json::json!({ "from": old, "to": email }))
    }

    /// Goes on speaking the language in which a person opened their account.
    ///
    /// # Errors
    /// The database refuses.
    pub fn speak_to(&mut self, id: PersonId, language: Language) -> Result<(), Trouble> {
        diesel::update(person::table.find(id))
            .set(person::language.eq(Word(language)))
            .execute(self.connection)?;
        self.journal("language.set", id, &serde_json::json!({ "language": language }))
    }

    /// Stops one kind of letter to a person; nothing is written when it is stopped already.
    ///
    /// # Errors
    /// It is a kind that cannot be stopped, or the person is not there.
    pub fn stop_letter(&mut self, id: PersonId, kind: Kind) -> Result<(), Trouble> {
        let who = person::table.find(id);
        let stopped = match kind {
            Kind::Daily => diesel::update(who.filter(person::daily_letter.eq(true)))
                .set(person::daily_letter.eq(false))
                .execute(self.connection)?,
            Kind::Urgent => diesel::update(who.filter(person::urgent_letter.eq(true)))
                .set(person::urgent_letter.eq(false))
                .execute(self.connection)?,
            Kind::Week => diesel::update(who.filter(person::week_letter.eq(true)))
                .set(person::week_letter.eq(false))
                .execute(self.connection)?,
            Kind::HandedBack => diesel::update(who.filter(person::handed_back_letter.eq(true)))
                .set(person::handed_back_letter.eq(false))
                .execute(self.connection)?,
            Kind::DueMoved => diesel::update(who.filter(person::due_moved_letter.eq(true)))
                .set(person::due_moved_letter.eq(false))
                .execute(self.connection)?,
            Kind::SecondLookAsked => diesel::update(who.filter(person::second_look_asked_letter.eq(true)))
                .set(person::second_look_asked_letter.eq(false))
                .execute(self.connection)?,
            Kind::SecondLookAnswered => {
                diesel::update(who.filter(person::second_look_answered_letter.eq(true)))
                    .set(person::second_look_answered_letter.eq(false))
                    .execute(self.connection)?
            }
            Kind::GradeSubmitted => diesel::update(who.filter(person::grade_submitted_letter.eq(true)))
                .set(person::grade_submitted_letter.eq(false))
                .execute(self.connection)?,
            Kind::Invitation | Kind::Reset | Kind::PasswordChanged | Kind::EmailChanged => {
                return Err(Trouble::NotFound);
            }
        };
        if stopped == 0 {
            Ok(())
        } else {
            self.journal("letter.stopped", id, &serde_json::json!({ "kind": kind }))
        }
    }

    /// Sends a link for a forgotten password.
    ///
    /// # Errors
    /// The database refuses.
    pub fn send_reset(&mut self, key: &ServerKey, id: PersonId) -> Result<(), Trouble> {
        let link = self.make_link(key, Purpose::Reset, Some(id))?;
        self.letter(&NewLetter {
            kind: Kind::Reset,
            person: id,
            class: None,
            cause: None,
            detail: serde_json::json!({ "link": link }),
            not_before: self.now,
        })?;
        self.journal("password.reset-asked", id, &serde_json::json!({}))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn delays_grow_from_the_fifth_failure_and_stop_at_a_quarter_of_an_hour() {
        let at = Instant::from_millis(1_000_000);
        let wait = |count| Failures { count, last: Some(at) }.wait_ms(at);
        assert_eq!([wait(0), wait(4), wait(5), wait(6), wait(9)], [0, 0, 1000, 2000, 16_000]);
        assert_eq!(wait(1000), 15 * 60_000);
        assert_eq!(Failures { count: 9, last: Some(at) }.wait_ms(at.plus_ms(16_000)), 0);
    }
}
