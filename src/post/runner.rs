//! The runner: takes one letter after the other out of the outbox, writes it, hands it over, and keeps what came of it.
//!
//! Of two runners at once one only gets a letter, by its lease; the lease is renewed before sending and is longer than a
//! sending may take. A letter is marked as sent after the other side has said yes: a crash in between repeats it with the
//! same Message-ID rather than losing it.

use std::sync::Arc;
use std::time::Duration;

use tokio::sync::watch;

use crate::clock::{Clock, DAY_MS, Instant};
use crate::post::lapses;
use crate::post::letters::{self, Briefed, Desk, Drop};
use crate::post::reminders;
use crate::post::transport::{Lasting, Refusal, Sealed, Transport};
use crate::secrets::{self, ServerKey};
use crate::settings::Settings;
use crate::speech::Speech;
use crate::store::letters::outbox::{self, Claim, Outcome};
use crate::store::letters::resting;
use crate::store::plates::procedures::Procedures;
use crate::store::{Db, Scope};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// The wait after the first try; it doubles with each.
const FIRST_WAIT_MS: i64 = 60_000;
/// The longest wait between two tries.
const LONGEST_WAIT_MS: i64 = 6 * 3_600_000;
/// How long a letter is tried.
const GIVE_UP_MS: i64 = 5 * DAY_MS;
/// How long one sending may take: less than a lease.
const SENDING: Duration = Duration::from_secs(240);

/// How often the loop looks into the outbox.
const LOOK: Duration = Duration::from_secs(5);
/// How long it rests when the database cannot be reached, or no letter would be taken.
const REST: Duration = Duration::from_secs(30);
/// How often it sees whether daily letters are to be written.
const REMIND: Duration = Duration::from_secs(300);

/// Everything the post needs.
#[derive(Debug)]
pub struct Post {
    pub db: Db,
    pub clock: Clock,
    pub desk: Desk,
    pub transport: Arc<dyn Transport>,
    pub procedures: Arc<Procedures>,
}

/// What one look into the outbox came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Delivery {
    Sent,
    /// Nothing is due, or another runner has it.
    Nothing,
    /// Not taken this time; it will be tried again.
    Postponed,
    /// Not taken, and nothing else would be now.
    Unreachable,
    /// Refused for good, or tried for too long.
    Failed,
    /// Not sent: there is nobody it could be for any more.
    Dropped,
}

/// What came of writing a letter.
enum Written {
    Sealed(Sealed),
    Wait(Instant),
    Drop(Drop),
}

impl Post {
    /// Builds the post of a school.
    ///
    /// # Errors
    /// A sentence for the console.
    pub fn new(
        settings: &Settings,
        db: Db,
        clock: Clock,
        key: ServerKey,
        speech: Arc<Speech>,
        transport: Arc<dyn Transport>,
    ) -> Result<Self, String> {
        let desk = Desk::new(settings, key, speech)?;
        Ok(Self { db, clock, desk, transport, procedures: Arc::default() })
    }

    /// Takes the letter that has waited longest through to its end.
    ///
    /// # Errors
    /// The database cannot be reached; a claimed letter is free again when its lease ends.
    pub async fn deliver_one(&self) -> Result<Delivery, Trouble> {
        let now = self.clock.now();
        let owner = secrets::hex(&secrets::random::<16>()?);
        let Some(claim) = self.db.note(move |db| outbox::claim(db, &owner, now)).await? else {
            return Ok(Delivery::Nothing);
        };
        let mut refused = None;
        let (delivery, outcome) = match self.write(&claim, now).await {
            Ok(Written::Sealed(sealed)) => {
                let held = claim.clone();
                if !self.db.note(move |db| outbox::renew(db, &held)).await? {
                    return Ok(Delivery::Nothing);
                }
                let answer = self.hand_over(&claim, sealed).await;
                refused = answer.2;
                (answer.0, answer.1)
            }
            Ok(Written::Wait(not_before)) => {
                (Delivery::Postponed, Outcome::Later { not_before, why: outbox::QUIET.to_owned() })
            }
            Ok(Written::Drop(drop)) => (Delivery::Dropped, Outcome::Dropped { why: drop.word() }),
            Err(trouble) => {
                tracing::error!(letter = %claim.letter, kind = claim.kind.word(), ?trouble, "writing a letter");
                let refusal =
                    Refusal::new(Lasting::ForNow, "the letter could not be written; the log says why");
                postpone(&claim, &refusal, self.clock.now())
            }
        };
        self.finish(&claim, outcome).await?;
        self.mind_address(&claim, delivery, refused).await?;
        tracing::info!(letter = %claim.letter, kind = claim.kind.word(), tries = claim.attempts, ?delivery, "letter");
        Ok(delivery)
    }

    async fn write(&self, claim: &Claim, now: Instant) -> Result<Written, Trouble> {
        let asked = claim.clone();
        let brief = self.db.read(move |db| letters::brief(db, &asked, now)).await?;
        Ok(match brief {
            Briefed::Ready(brief) => Written::Sealed(self.desk.write(&brief, now)?),
            Briefed::Wait(until) => Written::Wait(until),
            Briefed::Drop(drop) => Written::Drop(drop),
        })
    }

    /// Counts what an address refuses for good, and lets it rest when that was too often; what it takes makes it good.
    async fn mind_address(
        &self,
        claim: &Claim,
        delivery: Delivery,
        refused: Option<String>,
    ) -> Result<(), Trouble> {
        let (person, now) = (claim.person, self.clock.now());
        if let Some(said) = refused {
            let refusals = self.db.note(move |db| resting::count_refusal(db, person, &said)).await?;
            if refusals >= resting::REFUSALS {
                self.db.write(Scope::School, None, now, move |tx| tx.rest_address(person)).await?;
                tracing::warn!(%person, refusals, "letters to this person rest");
            }
            return Ok(());
        }
        if delivery != Delivery::Sent {
            return Ok(());
        }
        let mailbox = self.db.read(move |db| resting::mailbox(db, person)).await?;
        match (mailbox.rests_since, mailbox.refusals) {
            (Some(_), _) => {
                self.db.write(Scope::School, None, now, move |tx| tx.wake_address(None, person)).await
            }
            (None, 0) => Ok(()),
            (None, _) => self.db.note(move |db| resting::forget_refusals(db, person)).await,
        }
    }

    /// What came of it; and what was said, where the letter was refused for good.
    async fn hand_over(&self, claim: &Claim, sealed: Sealed) -> (Delivery, Outcome, Option<String>) {
        let transport = self.transport.clone();
        let sending = tokio::task::spawn_blocking(move || transport.hand_over(&sealed));
        let answer = match tokio::time::timeout(SENDING, sending).await {
            Ok(Ok(answer)) => answer,
            // Whether it was taken is not known; the next try carries the same Message-ID.
            Ok(Err(error)) => Err(Refusal::new(Lasting::ForNow, &format!("the sending broke off: {error}"))),
            Err(_elapsed) => {
                Err(Refusal::new(Lasting::Everything, "the mail server took longer than 4 minutes"))
            }
        };
        match answer {
            Ok(()) => (Delivery::Sent, Outcome::Sent, None),
            Err(refusal) if refusal.lasting == Lasting::ForGood => {
                (Delivery::Failed, Outcome::Failed { why: refusal.words.clone() }, Some(refusal.words))
            }
            Err(refusal) => {
                let (delivery, outcome) = postpone(claim, &refusal, self.clock.now());
                (delivery, outcome, None)
            }
        }
    }

    /// Keeps what came of a letter; a database that is busy for a moment must not make it be sent twice.
    async fn finish(&self, claim: &Claim, outcome: Outcome) -> Result<(), Trouble> {
        let now = self.clock.now();
        let mut tries = 0;
        loop {
            tries += 1;
            let (held, kept) = (claim.clone(), outcome.clone());
            match self.db.note(move |db| outbox::finish(db, &held, now, &kept)).await {
                Ok(true) => return Ok(()),
                Ok(false) => {
                    tracing::warn!(letter = %claim.letter, "another runner has taken this letter over");
                    return Ok(());
                }
                Err(trouble) if tries >= 3 => return Err(trouble),
                Err(_) => tokio::time::sleep(Duration::from_millis(500)).await,
            }
        }
    }

    /// Writes the daily letters that are due.
    ///
    /// # Errors
    /// The database cannot be reached.
    pub async fn remind(&self) -> Result<usize, Trouble> {
        reminders::write_letters(&self.db, &self.procedures, self.clock.now()).await
    }

    /// Lets incompletes lapse whose day is past.
    ///
    /// # Errors
    /// The database cannot be reached.
    pub async fn lapse(&self) -> Result<usize, Trouble> {
        lapses::lapse(&self.db, &self.desk.speech, self.clock.now()).await
    }

    /// Delivers until nothing is due or nothing would be taken. Says how many letters were sent.
    ///
    /// # Errors
    /// The database cannot be reached.
    pub async fn deliver_all(&self) -> Result<usize, Trouble> {
        let mut sent = 0;
        loop {
            match self.deliver_one().await? {
                Delivery::Sent => sent += 1,
                Delivery::Nothing | Delivery::Unreachable => return Ok(sent),
                Delivery::Postponed | Delivery::Failed | Delivery::Dropped => {}
            }
        }
    }

    /// The loop of a server: delivers what is due and writes daily letters, until told to stop; a letter in the other
    /// side's hands is finished first.
    pub async fn run(&self, mut stop: watch::Receiver<bool>) {
        let mut reminded: Option<std::time::Instant> = None;
        while !*stop.borrow() {
            if reminded.is_none_or(|last| last.elapsed() >= REMIND) {
                reminded = Some(std::time::Instant::now());
                match self.remind().await {
                    Ok(0) => {}
                    Ok(letters) => tracing::info!(letters, "daily letters written"),
                    Err(trouble) => tracing::error!(?trouble, "writing daily letters"),
                }
                match self.lapse().await {
                    Ok(0) => {}
                    Ok(lapsed) => tracing::info!(lapsed, "incompletes lapsed"),
                    Err(trouble) => tracing::error!(?trouble, "letting incompletes lapse"),
                }
            }
            let pause = match self.deliver_one().await {
                Ok(Delivery::Nothing) => LOOK,
                Ok(Delivery::Unreachable) => REST,
                Ok(_) => continue,
                Err(trouble) => {
                    tracing::error!(?trouble, "looking into the outbox");
                    REST
                }
            };
            tokio::select! {
                () = tokio::time::sleep(pause) => {}
                changed = stop.changed() => {
                    // Nobody is left who could say stop: then that is what it means.
                    if changed.is_err() {
                        return;
                    }
                }
            }
        }
    }
}

/// A letter that was not taken this time: tried again after a growing wait, or given up after five days.
fn postpone(claim: &Claim, refusal: &Refusal, now: Instant) -> (Delivery, Outcome) {
    let not_before = now.plus_ms(wait_ms(claim.attempts));
    if not_before.millis() - claim.tried_since.millis() > GIVE_UP_MS {
        return (Delivery::Failed, Outcome::Failed { why: refusal.words.clone() });
    }
    let delivery =
        if refusal.lasting == Lasting::Everything { Delivery::Unreachable } else { Delivery::Postponed };
    (delivery, Outcome::Later { not_before, why: refusal.words.clone() })
}

/// The wait after so many tries: doubled each time up to six hours, and of that a random part between half and all, so
/// that letters refused together do not come back together.
fn wait_ms(attempts: i32) -> i64 {
    let doublings = u32::try_from(attempts - 1).unwrap_or(0).min(20);
    let whole = FIRST_WAIT_MS.saturating_mul(1 << doublings).min(LONGEST_WAIT_MS);
    let chance = i64::from(secrets::random::<1>().map_or(255, |byte| byte[0]));
    whole / 2 + whole / 2 * chance / 255
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waits_double_up_to_six_hours_and_differ() {
        for (attempts, whole) in [(1, 60_000), (2, 120_000), (5, 960_000), (9, 15_360_000)] {
            for _ in 0..50 {
                let wait = wait_ms(attempts);
                assert!((whole / 2..=whole).contains(&wait), "{attempts}: {wait}");
            }
        }
        for attempts in [10, 40, i32::MAX] {
            assert!((LONGEST_WAIT_MS / 2..=LONGEST_WAIT_MS).contains(&wait_ms(attempts)), "{attempts}");
        }
        let waits: std::collections::BTreeSet<i64> = (0..50).map(|_| wait_ms(9)).collect();
        assert!(waits.len() > 5, "{waits:?}");
    }

    #[test]
    fn the_lease_outlasts_a_sending() {
        assert!(i128::from(outbox::LEASE_MS) > i128::try_from(SENDING.as_millis()).unwrap());
    }
}
