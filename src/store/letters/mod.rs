//! The outbox: letters are rows written by the act that causes them, rendered and sent later by `post`.
//! A row never holds a secret: a link's secret is computed again from its row's id when the letter is sent.

pub mod daily;
pub mod listing;
pub mod outbox;
pub mod resting;

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, LetterId, PersonId};
use crate::spelled;
use crate::store::schema::letter;
use crate::store::types::Word;
use crate::store::write::Tx;
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
        if let Some(cause) = &new.cause {
            let known: i64 =
                letter::table.filter(letter::cause.eq(cause)).count().get_result(self.connection)?;
            if known > 0 {
                return Ok(None);
            }
        }
        let id: LetterId = self.id();
        diesel::insert_into(letter::table)
            .values((
                letter::id.eq(id),
                letter::kind.eq(Word(new.kind)),
                letter::person_id.eq(new.person),
                letter::class_id.eq(new.class),
                letter::cause.eq(&new.cause),
                letter::detail.eq(new.detail.to_string()),
                letter::created_at.eq(self.now),
                letter::not_before.eq(new.not_before),
                letter::attempts.eq(0),
            ))
            .execute(self.connection)?;
        Ok(Some(id))
    }
}
