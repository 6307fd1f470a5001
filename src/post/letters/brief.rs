//! What a letter is written from: its row, whom it is for as things stand now, and the link it carries. Here too stands
//! why a letter is not written at all.

use serde::Deserialize;

use crate::clock::Instant;
use crate::ids::LinkId;
use crate::post::reminders::{Daily, Urgent};
use crate::store::connections::AnyConnection;
use crate::store::letters::Kind;
use crate::store::letters::outbox::{self, Addressee, Claim};
use crate::store::people::links::{self, Purpose};
use crate::trouble::Trouble;

/// Everything a letter is written from.
#[derive(Debug, Clone)]
pub struct Brief {
    pub claim: Claim,
    pub to: Addressee,
    /// For letters that carry a one-time link.
    pub link: Option<Link>,
}

/// A link that still opens something.
#[derive(Debug, Clone, Copy)]
pub struct Link {
    pub id: LinkId,
    pub purpose: Purpose,
    pub expires_at: Instant,
}

/// Why a letter is dropped: there is nobody it could be for, or nothing it could say, any more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drop {
    NoAddress,
    /// What stands there is no address.
    BadAddress,
    /// The person's enrolment in the letter's class has ended.
    NotEnrolled,
    /// The link was used, replaced, or is too old.
    LinkDead,
    /// A daily letter whose day is over.
    DayOver,
    /// The person wants no letter of this kind any more.
    TurnedOff,
    /// What it warns of has passed.
    TooLate,
}

impl Drop {
    /// Every reason.
    pub const ALL: [Self; 7] = [
        Self::NoAddress,
        Self::BadAddress,
        Self::NotEnrolled,
        Self::LinkDead,
        Self::DayOver,
        Self::TurnedOff,
        Self::TooLate,
    ];

    /// The word kept in the row; staff read the sentence `letters-dropped-<word>`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::NoAddress => "no-address",
            Self::BadAddress => "bad-address",
            Self::NotEnrolled => "not-enrolled",
            Self::LinkDead => "link-dead",
            Self::DayOver => "day-over",
            Self::TurnedOff => "turned-off",
            Self::TooLate => "too-late",
        }
    }
}

/// The detail of a letter with a link.
#[derive(Debug, Clone, Deserialize)]
struct OfLink {
    link: LinkId,
}

/// Gathers what a claimed letter is written from, or says why it is dropped.
///
/// # Errors
/// The database cannot be read, or the row's detail does not fit its kind.
pub fn brief(db: &mut AnyConnection, claim: &Claim, now: Instant) -> Result<Result<Brief, Drop>, Trouble> {
    let to = outbox::addressee(db, claim)?;
    match to.email.as_deref().map(str::parse::<lettre::Address>) {
        None => return Ok(Err(Drop::NoAddress)),
        Some(Err(_)) => return Ok(Err(Drop::BadAddress)),
        Some(Ok(_)) => {}
    }
    if to.class.as_ref().is_some_and(|class| !class.enrolled) {
        return Ok(Err(Drop::NotEnrolled));
    }
    let mut link = None;
    match claim.kind {
        Kind::Invitation | Kind::Reset => {
            let id = read::<OfLink>(claim)?.link;
            let Some((purpose, expires_at)) = links::standing(db, id, now)? else {
                return Ok(Err(Drop::LinkDead));
            };
            link = Some(Link { id, purpose, expires_at });
        }
        Kind::Daily => {
            if !to.wants.daily {
                return Ok(Err(Drop::TurnedOff));
            }
            let daily: Daily = read(claim)?;
            if now.local_date(daily.zone()?) > daily.date {
                return Ok(Err(Drop::DayOver));
            }
        }
        Kind::Urgent => {
            if !to.wants.urgent {
                return Ok(Err(Drop::TurnedOff));
            }
            if now.millis() > read::<Urgent>(claim)?.limit {
                return Ok(Err(Drop::TooLate));
            }
        }
        Kind::Week if !to.wants.week => return Ok(Err(Drop::TurnedOff)),
        Kind::Week | Kind::PasswordChanged | Kind::HandedBack | Kind::GradeSubmitted | Kind::DueMoved => {}
    }
    Ok(Ok(Brief { claim: claim.clone(), to, link }))
}

/// The detail of a letter, as its kind has it.
///
/// # Errors
/// It does not fit.
pub fn read<T: for<'de> Deserialize<'de>>(claim: &Claim) -> Result<T, Trouble> {
    serde_json::from_str(&claim.detail)
        .map_err(|error| Trouble::broken("reading a letter's detail", format!("{}: {error}", claim.letter)))
}
