//! The outbox: letters are rows written by the act that causes them, rendered and sent later by `post`.
//! A row never holds a secret: a link's secret is computed again from its row's id when the letter is sent.

pub mod daily;
pub mod listing;
pub mod outbox;
pub mod resting;

use std::collections::HashSet;

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, LetterId, PersonId};
use crate::spelled;
use crate::store::many::{self, Cell};
use crate::store::schema::letter;
use crate::store::write::Tx;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

spelled!(
    /// What a letter is about.
    Kind {
        /// An account waits to be opened.
        Invitation = "invitation",
        /// A forgotten password.
        Reset = "reset",
        /// The password was changed: for the owner to know.
        PasswordChanged = "password-changed",
        /// The address of an account was changed: for both addresses to know.
        EmailChanged = "email-changed",
        /// Today's work: what is ready, what is due, what is missing. At most one a day.
        Daily = "daily",
        /// A limit passes before the next daily letter. At most one for each cause ever.
        Urgent = "urgent",
        /// The class on one page, for its instructor. At most one a week.
        Week = "week",
        /// Grades were handed back.
        HandedBack = "handed-back",
        /// A student asks for a second look at a mark: for the instructors.
        SecondLookAsked = "second-look-asked",
        /// The second look was taken, and the mark stays.
        SecondLookAnswered = "second-look-answered",
        /// A grade was submitted, or a submitted one changed.
        GradeSubmitted = "grade-submitted",
        /// A due date was moved, or somebody has one of their own.
        DueMoved = "due-moved",
    }
);

impl Kind {
    /// Whether a person may do without it. What concerns an account always comes.
    #[must_use]
    pub const fn may_stop(self) -> bool {
        match self {
            Self::Daily
            | Self::Urgent
            | Self::Week
            | Self::HandedBack
            | Self::DueMoved
            | Self::SecondLookAsked
            | Self::SecondLookAnswered
            | Self::GradeSubmitted => true,
            Self::Invitation | Self::Reset | Self::PasswordChanged | Self::EmailChanged => false,
        }
    }

    /// Whether it waits for the morning of an open day where it would come in quiet hours or on a closed day. What
    /// concerns an account, or was asked for, comes at once; the daily letter and that of the week come at the hour the
    /// person chose, on open days only.
    #[must_use]
    pub const fn keeps_quiet(self) -> bool {
        match self {
            Self::Urgent
            | Self::HandedBack
            | Self::DueMoved
            | Self::SecondLookAsked
            | Self::SecondLookAnswered
            | Self::GradeSubmitted => true,
            Self::Daily
            | Self::Week
            | Self::Invitation
            | Self::Reset
            | Self::PasswordChanged
            | Self::EmailChanged => false,
        }
    }
}

/// A letter to be written.
#[derive(Debug, Clone)]
pub struct NewLetter {
    pub kind: Kind,
    pub person: PersonId,
    pub class: Option<ClassId>,
    /// What it is about, for at most one letter ever: UNIQUE.
    pub cause: Option<String>,
    /// What the templates need, without secrets: `post::letters::contents` says what each kind reads.
    pub detail: serde_json::Value,
    pub not_before: Instant,
}

impl Tx<'_> {
    /// Puts a letter into the outbox. A second letter of the same cause is quietly left out.
    ///
    /// # Errors
    /// The database refuses.
    pub fn letter(&mut self, new: &NewLetter) -> Result<Option<LetterId>, Trouble> {
        Ok(self.letters(std::slice::from_ref(new))?.pop())
    }

    /// Puts several letters into the outbox, with the ids of those that are new: what has a cause that is known, or that
    /// an earlier one of them has, is quietly left out. One statement, and one more for every eight letters.
    ///
    /// # Errors
    /// The database refuses.
    pub fn letters(&mut self, new: &[NewLetter]) -> Result<Vec<LetterId>, Trouble> {
        let mut known = self.known_causes(new)?;
        let mut ids = Vec::new();
        let mut rows: Vec<Vec<Cell>> = Vec::new();
        for new in new {
            if new.cause.as_ref().is_some_and(|cause| !known.insert(cause.clone())) {
                continue;
            }
            let id: LetterId = self.id();
            ids.push(id);
            rows.push(vec![
                id.as_str().into(),
                new.kind.word().into(),
                new.person.as_str().into(),
                new.class.map(|class| class.to_string()).into(),
                new.cause.clone().into(),
                new.detail.to_string().into(),
                self.now.millis().into(),
                new.not_before.millis().into(),
                0.into(),
            ]);
        }
        many::insert(self.connection, INTO, &rows)?;
        Ok(ids)
    }

    fn known_causes(&mut self, new: &[NewLetter]) -> Result<HashSet<String>, Trouble> {
        let causes: Vec<&String> = new.iter().filter_map(|new| new.cause.as_ref()).collect();
        let known = letter::table.select(letter::cause.assume_not_null());
        let known: Vec<String> = match causes.as_slice() {
            [] => Vec::new(),
            // Prepared once a connection, which a list of any length is not.
            [cause] => known.filter(letter::cause.eq(cause)).load(self.connection)?,
            causes => known.filter(letter::cause.eq_any(causes)).load(self.connection)?,
        };
        Ok(known.into_iter().collect())
    }
}

const INTO: &str = "letter (id, kind, person_id, class_id, cause, detail, created_at, not_before, attempts)";
