//! What happened in the term, one event after the other, worked out of the script before anything is written.

use super::calendar::Calendar;
use super::life::{self, Moment};
use super::script::{Day, Life, School, Work, Works};
use crate::clock::Instant;
use crate::store::proofs::pulls::ProofKind;
use crate::trade::etch::came_up::CameUp;
use crate::trade::procedure::{Procedure, Surface, shipped};
use crate::trouble::Trouble;

const MINUTE_MS: i64 = 60_000;
/// Between one step and the next of the same day.
const PAUSE_MS: i64 = 10 * MINUTE_MS;
/// From this many days ago on it is still to be told how an etch came up.
const STILL_ASKED: i64 = 2;

/// Something that happened; numbers are places in the script's lists.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Deed {
    Began(usize),
    Told {
        work: usize,
        step: String,
        began: Instant,
    },
    /// Started by the program's clock; a rule may have refused it.
    Started {
        work: usize,
        step: String,
    },
    Amended {
        work: usize,
        step: String,
    },
    CameUp {
        work: usize,
        step: String,
        how: CameUp,
    },
    PutDown {
        work: usize,
        talc: bool,
    },
    Proof {
        work: usize,
        kind: ProofKind,
        pull: u32,
    },
    Comment(usize),
    HandedIn(usize),
    Turned(usize),
    Finished(usize),
    Withdrew(usize),
    Marked(usize),
    HandedBack(usize),
    Happened(usize),
    /// Something of the class's own life.
    Life(Moment),
}

#[derive(Debug, Clone)]
pub(super) struct Event {
    pub at: Instant,
    pub deed: Deed,
}

/// Everything that happened, in the order it did.
///
/// # Errors
/// The script names what is not there.
pub(super) fn events(
    calendar: &Calendar,
    school: &School,
    works: &Works,
    life: &Life,
) -> Result<Vec<Event>, Trouble> {
    let procedures = shipped::procedures()
        .map_err(|remark| Trouble::broken("reading the shipped procedures", format!("{remark:?}")))?;
    let mut told = Teller { calendar, procedures: &procedures, events: Vec::new() };
    for place in 0..works.works.len() {
        told.work(place, works)?;
    }
    for (place, container) in school.containers.iter().enumerate() {
        if let Some(turned) = &container.turned {
            told.add(calendar.at(turned.ago, "16:40")?, Deed::Turned(place));
        }
        if let Some(ago) = container.finished {
            told.add(calendar.at(ago, "17:00")?, Deed::Finished(place));
        }
    }
    for (place, withdrawn) in school.withdrawn.iter().enumerate() {
        told.add(calendar.at(withdrawn.ago, "09:40")?, Deed::Withdrew(place));
    }
    for (place, happening) in school.happened.iter().enumerate() {
        told.add(calendar.at(happening.ago, &happening.at)?, Deed::Happened(place));
    }
    for (place, assessment) in works.grades.assessments.iter().enumerate() {
        if let Some(ago) = assessment.ago {
            told.add(calendar.at(ago, "19:30")?, Deed::Marked(place));
        }
        if let Some(ago) = assessment.handed_back {
            told.add(calendar.at(ago, "20:15")?, Deed::HandedBack(place));
        }
    }
    for (at, moment) in life::moments(calendar, life)? {
        told.add(at, Deed::Life(moment));
    }
    // Stable: what is told of one moment stays in the order it was told in.
    told.events.sort_by_key(|event| event.at);
    Ok(told.events)
}

struct Teller<'a> {
    calendar: &'a Calendar,
    procedures: &'a [Procedure],
    events: Vec<Event>,
}

impl Teller<'_> {
    fn add(&mut self, at: Instant, deed: Deed) {
        self.events.push(Event { at: at.min(self.calendar.now), deed });
    }

    fn work(&mut self, place: usize, works: &Works) -> Result<(), Trouble> {
        let missing = |what: &str| Trouble::broken("reading the demo's works", format!("no {what}"));
        let work = works.works.get(place).ok_or_else(|| missing("work"))?;
        let way = works.ways.get(&work.way).ok_or_else(|| missing(&work.way))?;
        let last =
            way.iter().find(|day| day.steps.contains(&work.until)).ok_or_else(|| missing(&work.until))?;
        let shift = last.ago - work.last;
        let first = way.first().ok_or_else(|| missing("first day"))?;
        self.add(self.calendar.at(first.ago - shift, "09:50")?, Deed::Began(place));
        for day in way.iter().take_while(|day| day.ago >= last.ago) {
            self.day(place, work, day, shift)?;
        }
        self.what_else(place, work)
    }

    /// One day at work, as far as the plate got.
    fn day(&mut self, place: usize, work: &Work, day: &Day, shift: i64) -> Result<(), Trouble> {
        let ago = day.ago - shift;
        let mut clock = self.calendar.at(ago, &day.from)?;
        for step in &day.steps {
            let ended = clock.plus_ms(self.minutes(work, step)? * MINUTE_MS).min(self.calendar.now);
            self.add(ended, Deed::Told { work: place, step: step.clone(), began: clock });
            if work.etches.get(step).is_some_and(|etch| etch.amended.is_some()) {
                self.add(ended.plus_ms(PAUSE_MS / 2), Deed::Amended { work: place, step: step.clone() });
            }
            self.seen(place, work, step, ago, ended);
            clock = ended.plus_ms(PAUSE_MS);
            if *step == work.until {
                break;
            }
        }
        let done = |step: &str| day.steps.iter().any(|one| one == step);
        let wet = ["first-etch", "roll-up", "second-etch", "proof", "edition"];
        if wet.into_iter().any(done) && !(work.left_bare && ago == work.last) {
            let talc = done("roll-up") && !done("second-etch");
            self.add(clock.plus_ms(-PAUSE_MS / 2), Deed::PutDown { work: place, talc });
        }
        Ok(())
    }

    /// What a roll-up or a pull showed.
    fn seen(&mut self, work: usize, told: &Work, step: &str, ago: i64, at: Instant) {
        let shown = match step {
            "roll-up" => "first-etch",
            "proof" => "second-etch",
            _ => "",
        };
        let how = told.came_up.get(shown).copied();
        let how = how.or_else(|| (ago >= STILL_ASKED).then_some(CameUp::AsDrawn));
        if let Some(how) = how.filter(|_| !shown.is_empty()) {
            self.add(at, Deed::CameUp { work, step: shown.to_owned(), how });
        }
        match step {
            "proof" => {
                if told.comment.is_some() {
                    let first = at.plus_ms(-4 * PAUSE_MS);
                    self.add(first, Deed::Proof { work, kind: ProofKind::Trial, pull: 1 });
                }
                self.add(at, Deed::Proof { work, kind: ProofKind::Trial, pull: 2 });
            }
            // Every second student photographs a sheet of the edition.
            "edition" if work.is_multiple_of(2) => {
                self.add(at, Deed::Proof { work, kind: ProofKind::Edition, pull: 3 })
            }
            _ => {}
        }
    }

    fn what_else(&mut self, work: usize, told: &Work) -> Result<(), Trouble> {
        if let Some(ago) = told.scrap {
            let began = self.calendar.at(ago, "15:00")?;
            let step = if told.stone { "re-grain" } else { "scrap" }.to_owned();
            self.add(began.plus_ms(10 * MINUTE_MS), Deed::Told { work, step, began });
        }
        if let Some(outside) = &told.outside {
            let began = self.calendar.at(outside.ago, &outside.from)?;
            let ended = began.plus_ms(self.minutes(told, &outside.step)? * MINUTE_MS);
            self.add(ended, Deed::Told { work, step: outside.step.clone(), began });
        }
        if let Some(refused) = &told.refused {
            for ago in &refused.ago {
                let at = self.calendar.at(*ago, "11:20")?;
                self.add(at, Deed::Started { work, step: refused.step.clone() });
            }
        }
        if let Some(running) = &told.running {
            let at = self.calendar.now.plus_ms(-running.minutes_ago * MINUTE_MS);
            self.add(at, Deed::Started { work, step: running.step.clone() });
        }
        if told.comment.is_some() {
            self.add(self.calendar.at(told.last, "15:40")?, Deed::Comment(work));
        }
        if let Some(ago) = told.handed_in {
            self.add(self.calendar.at(ago, "15:50")?, Deed::HandedIn(work));
        }
        Ok(())
    }

    fn minutes(&self, work: &Work, step: &str) -> Result<i64, Trouble> {
        let surface = if work.stone { Surface::Stone } else { Surface::Plate };
        let procedure = self.procedures.iter().find(|one| one.surface == surface);
        let found = procedure.and_then(|procedure| procedure.find(step));
        let sheets = u32::try_from(work.sheets.unwrap_or(6)).unwrap_or(0);
        found
            .map(|step| step.hands_on(sheets))
            .ok_or_else(|| Trouble::broken("reading the demo's works", format!("no step {step}")))
    }
}
