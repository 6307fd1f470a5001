//! What a letter is written from: its row, whom it is for as things stand now, and the link it carries. Here too stands
//! why a letter is not written at all.

use serde::Deserialize;

use crate::clock::Instant;
use crate::ids::LinkId;
use crate::post::letters::contents::EmailChanged;
use crate::post::reminders::{Daily, Urgent};
use crate::store::classes::due_read;
use crate::store::classes::dues::{self, DueLetter};
use crate::store::connections::AnyConnection;
use crate::store::letters::outbox::{self, Addressee, Claim};
use crate::store::letters::{Kind, daily, resting};
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

/// What came of gathering what a letter is written from.
#[derive(Debug)]
pub enum Briefed {
    Ready(Box<Brief>),
    /// Not before then: it is kept off quiet hours and closed days.
    Wait(Instant),
    Drop(Drop),
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
    /// The date it tells is not the one that holds.
    Overtaken,
    /// The mail server has refused the address for good too often.
    AddressRests,
}

impl Drop {
    /// Every reason.
    pub const ALL: [Self; 9] = [
        Self::NoAddress,
        Self::BadAddress,
        Self::NotEnrolled,
        Self::LinkDead,
        Self::DayOver,
        Self::TurnedOff,
        Self::TooLate,
        Self::Overtaken,
        Self::AddressRests,
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
            Self::Overtaken => outbox::OVERTAKEN,
            Self::AddressRests => "address-rests",
        }
    }
}

/// The detail of a letter with a link.
#[derive(Debug, Clone, Deserialize)]
struct OfLink {
    link: LinkId,
}

/// Gathers what a claimed letter is written from, or says why it waits or is dropped.
///
/// # Errors
/// The database cannot be read, or the row's detail does not fit its kind.
pub fn brief(db: &mut AnyConnection, claim: &Claim, now: Instant) -> Result<Briefed, Trouble> {
    let mut to = outbox::addressee(db, claim)?;
    if claim.kind == Kind::EmailChanged {
        // Two letters go out: one to the address there was, one to the one there is.
        to.email = Some(read::<EmailChanged>(claim)?.to);
    }
    if let Some(drop) = nobody(&to, claim.kind) {
        return Ok(Briefed::Drop(drop));
    }
    let mut link = None;
    match claim.kind {
        Kind::Invitation | Kind::Reset => {
            let id = read::<OfLink>(claim)?.link;
            let Some((purpose, expires_at)) = links::standing(db, id, now)? else {
                return Ok(Briefed::Drop(Drop::LinkDead));
            };
            link = Some(Link { id, purpose, expires_at });
        }
        Kind::Daily => {
            let daily: Daily = read(claim)?;
            if now.local_date(daily.zone()?) > daily.date {
                return Ok(Briefed::Drop(Drop::DayOver));
            }
        }
        Kind::Urgent => {
            let urgent: Urgent = read(claim)?;
            let until = daily::quiet_until(db, urgent.class, now)?;
            if until.unwrap_or(now).millis() > urgent.limit {
                return Ok(Briefed::Drop(Drop::TooLate));
            }
        }
        Kind::DueMoved if !still_due(db, claim)? => return Ok(Briefed::Drop(Drop::Overtaken)),
        Kind::Week
        | Kind::PasswordChanged
        | Kind::EmailChanged
        | Kind::HandedBack
        | Kind::SecondLookAsked
        | Kind::SecondLookAnswered
        | Kind::GradeSubmitted
        | Kind::DueMoved => {}
    }
    if claim.kind.keeps_quiet()
        && let Some(class) = claim.class
        && let Some(until) = daily::quiet_until(db, class, now)?
    {
        return Ok(Briefed::Wait(until));
    }
    Ok(Briefed::Ready(Box::new(Brief { claim: claim.clone(), to, link })))
}

/// Why there is nobody a letter of this kind could be for.
fn nobody(to: &Addressee, kind: Kind) -> Option<Drop> {
    match to.email.as_deref().map(str::parse::<lettre::Address>) {
        None => return Some(Drop::NoAddress),
        Some(Err(_)) => return Some(Drop::BadAddress),
        Some(Ok(_)) => {}
    }
    if to.class.as_ref().is_some_and(|class| !class.enrolled) {
        return Some(Drop::NotEnrolled);
    }
    if to.mailbox.rests_since.is_some() && !resting::goes_all_the_same(kind) {
        return Some(Drop::AddressRests);
    }
    (!to.wants.kind(kind)).then_some(Drop::TurnedOff)
}

/// Whether the date a letter tells is the one that holds for its reader now.
fn still_due(db: &mut AnyConnection, claim: &Claim) -> Result<bool, Trouble> {
    let told: DueLetter = read(claim)?;
    match dues::due_of(db, told.project, claim.person) {
        Ok(due) => Ok(due.local == due_read(&told.to)?),
        Err(Trouble::NotFound) => Ok(false),
        Err(other) => Err(other),
    }
}

/// The detail of a letter, as its kind has it.
///
/// # Errors
/// It does not fit.
pub fn read<T: for<'de> Deserialize<'de>>(claim: &Claim) -> Result<T, Trouble> {
    serde_json::from_str(&claim.detail)
        .map_err(|error| Trouble::broken("reading a letter's detail", format!("{}: {error}", claim.letter)))
}
