//! An entry made at the table: a step began, was done, or was left off half way. It is stored whatever rule it broke,
//! and marked; only what is malformed or somebody else's is turned away.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{StepRunId, TabletId};
use crate::spelled;
use crate::store::etches::mixture::Draft;
use crate::store::etches::recording::When;
use crate::store::plates::folder::{Folder, KnownHow, Run};
use crate::store::plates::procedures::Procedures;
use crate::store::plates::put_downs::PutDownDraft;
use crate::store::plates::runs::{At, Told, only_the_instructor, only_what_has_happened, step_of};
use crate::store::schema::{etch, step_run};
use crate::store::sittings::clock::{ByPhone, PutRight};
use crate::store::write::Tx;
use crate::trade::procedure::{Entry, Records, RuleName};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

spelled!(
    /// What an entry says of its step.
    Says {
        Began = "began",
        Done = "done",
        /// Abandoned half way.
        LeftOff = "left_off",
    }
);

/// An entry as it comes in.
#[derive(Debug, Clone)]
pub struct TableEntry {
    pub says: Says,
    /// Made on the phone, so that a second sending is the same run.
    pub run: StepRunId,
    pub step_key: String,
    pub began: ByPhone,
    /// None while it goes on.
    pub ended: Option<ByPhone>,
    /// The applications the clocks were set to, in seconds.
    pub planned: Vec<i32>,
    /// Who else was in the room.
    pub in_room: String,
    pub sheets: Option<i32>,
    pub note: String,
    /// What was on the plate; None where the step records no etch, or none was put on.
    pub etch: Option<Draft>,
    /// Its applications are those that the page's clocks measured.
    pub timed: bool,
    /// How the plate was put down; None: it goes on.
    pub down: Option<PutDownDraft>,
    /// The studio's tablet it was told on; None: on somebody's own phone.
    pub tablet: Option<TabletId>,
}

impl TableEntry {
    /// When it began and ended by our clock, in the order in which the phone told it.
    pub(super) fn put_right(&self, now: Instant) -> (PutRight, Option<PutRight>) {
        let began = self.began.put_right(now);
        (began, self.ended.map(|ended| ended.put_right(now).not_before(began.at)))
    }
}

/// What came of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kept {
    pub run: StepRunId,
    /// The rules the run broke; it waits to be settled.
    pub outside: Vec<RuleName>,
}

impl Tx<'_> {
    /// Stores an entry from the table.
    ///
    /// # Errors
    /// The plate is not of this class and owner or has no such step; complaints about what was told.
    pub fn keep_entry(
        &mut self,
        procedures: &Procedures,
        at: &At,
        entry: &TableEntry,
    ) -> Result<Kept, Trouble> {
        let mut folder = self.folder(procedures, at)?;
        let step = step_of(&folder, &entry.step_key)?;
        only_the_instructor(step, at)?;
        let records_etch = step.records == Records::Etch;
        let known = run_meant(&folder, entry)?.cloned();
        let told_before = known.clone().filter(|run| run.ended_at.is_some());
        let kept = match known {
            Some(run) => self.end_known(at, &mut folder, run, entry)?,
            None => self.tell_new(at, &mut folder, entry)?,
        };
        let begun = folder.runs.iter().find(|run| run.id == entry.run).map(|run| run.began_at);
        let moment = entry.put_right(self.now).1.map_or(self.now, |ended| ended.at);
        let moment = begun.map_or(moment, |begun| moment.max(begun));
        let logged = records_etch && self.has_log(kept.run)?;
        if let Some(run) = told_before {
            self.keep_second_account(at, &run, entry, logged)?;
        }
        match &entry.etch {
            Some(draft) if records_etch && !logged => {
                self.keep_standing(&folder)?;
                let when = if entry.timed { When::Timed(kept.run) } else { When::Run(kept.run) };
                self.record_etch(procedures, at, &when, draft, entry.down.as_ref())?;
            }
            _ => {
                if let Some(down) = &entry.down {
                    self.put_down(&mut folder, down, moment)?;
                }
                self.keep_standing(&folder)?;
            }
        }
        let rules: Vec<&str> = kept.outside.iter().map(|rule| rule.word()).collect();
        let detail = json!({
            "plate": at.plate, "step": entry.step_key, "says": entry.says, "outside": rules, "note": entry.note,
            "tablet": entry.tablet,
        });
        self.journal("table.entry", kept.run, &detail)?;
        Ok(kept)
    }

    /// A run that is known already ends, unless it has ended: then what is told is kept beside it.
    fn end_known(
        &mut self,
        at: &At,
        folder: &mut Folder,
        mut run: Run,
        entry: &TableEntry,
    ) -> Result<Kept, Trouble> {
        let id = run.id;
        let mut outside: Vec<RuleName> =
            run.outside_rules.split(',').filter_map(RuleName::from_word).collect();
        if run.ended_at.is_some() {
            return Ok(Kept { run: id, outside });
        }
        if run.planned_seconds.is_empty() {
            run.planned_seconds = planned_text(&entry.planned);
        }
        run.on_tablet |= entry.tablet.is_some();
        if run.in_room.is_empty() {
            run.in_room.clone_from(&entry.in_room);
        }
        if let Some(mut ended) = entry.put_right(self.now).1 {
            if id == entry.run {
                ended = ended.not_before(run.began_at);
            }
            self.only_after(run.began_at, ended.at, at)?;
            if entry.says == Says::LeftOff && !outside.contains(&RuleName::LeftOff) {
                outside.push(RuleName::LeftOff);
            }
            run.ended_at = Some(ended.at);
            run.sheets = entry.sheets;
            run.note.clone_from(&entry.note);
            run.outside_rules = words(&outside);
            run.clock_off_ms = Some(ended.off_ms);
            run.clock_doubtful |= ended.doubtful;
        }
        diesel::update(step_run::table.find(id))
            .set((
                step_run::ended_at.eq(run.ended_at),
                step_run::sheets.eq(run.sheets),
                step_run::note.eq(&run.note),
                step_run::outside_rules.eq(&run.outside_rules),
                step_run::clock_off_ms.eq(run.clock_off_ms),
                step_run::clock_doubtful.eq(run.clock_doubtful),
                step_run::planned_seconds.eq(&run.planned_seconds),
                step_run::in_room.eq(&run.in_room),
                step_run::on_tablet.eq(run.on_tablet),
            ))
            .execute(self.connection)?;
        folder.take_in(run);
        Ok(Kept { run: id, outside })
    }

    /// A run nobody has heard of is judged by what was before it, and stored.
    fn tell_new(&mut self, at: &At, folder: &mut Folder, entry: &TableEntry) -> Result<Kept, Trouble> {
        let (began, ended) = entry.put_right(self.now);
        let told = Told {
            step_key: entry.step_key.clone(),
            began_at: began.at,
            ended_at: ended.map(|ended| ended.at),
            known_how: KnownHow::Measured,
            sheets: entry.sheets,
            note: entry.note.clone(),
        };
        only_what_has_happened(&told, self.now, at.zone)?;
        let happened = Entry::new(&told.step_key, told.began_at.utc(), told.ended_at.map(Instant::utc));
        let verdict = folder.case().judge(&happened);
        let mut outside = verdict.rules();
        if !verdict.allowed.is_empty() {
            self.use_allowance(folder, &told.step_key)?;
        }
        if entry.says == Says::LeftOff {
            outside.push(RuleName::LeftOff);
        }
        self.insert_run_as(entry.run, folder, &told, &outside)?;
        self.note_clock(entry, began, ended)?;
        Ok(Kept { run: entry.run, outside })
    }

    fn note_clock(
        &mut self,
        entry: &TableEntry,
        began: PutRight,
        ended: Option<PutRight>,
    ) -> Result<(), Trouble> {
        diesel::update(step_run::table.find(entry.run))
            .set((
                step_run::clock_off_ms.eq(began.off_ms),
                step_run::clock_doubtful.eq(began.doubtful || ended.is_some_and(|ended| ended.doubtful)),
                step_run::planned_seconds.eq(planned_text(&entry.planned)),
                step_run::in_room.eq(&entry.in_room),
                step_run::on_tablet.eq(entry.tablet.is_some()),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    fn only_after(&self, began: Instant, ended: Instant, at: &At) -> Result<(), Trouble> {
        let told = Told {
            step_key: String::new(),
            began_at: began,
            ended_at: Some(ended),
            known_how: KnownHow::Measured,
            sheets: None,
            note: String::new(),
        };
        only_what_has_happened(&told, self.now, at.zone)
    }

    fn has_log(&mut self, run: StepRunId) -> Result<bool, Trouble> {
        let query = etch::table.filter(etch::step_run_id.eq(run));
        Ok(diesel::select(diesel::dsl::exists(query)).get_result(self.connection)?)
    }
}

/// The run an entry speaks of: by its id, else the one of that step that is under way.
fn run_meant<'f>(folder: &'f Folder, entry: &TableEntry) -> Result<Option<&'f Run>, Trouble> {
    if let Some(run) = folder.runs.iter().find(|run| run.id == entry.run) {
        return match run.step_key == entry.step_key {
            true => Ok(Some(run)),
            false => Err(Trouble::about("step", Remark::new("table-another-step"))),
        };
    }
    Ok(folder.runs.iter().rev().find(|run| run.step_key == entry.step_key && run.ended_at.is_none()))
}

fn words(rules: &[RuleName]) -> String {
    rules.iter().map(|rule| rule.word()).collect::<Vec<_>>().join(",")
}

/// Seconds joined by commas, as the column keeps them.
#[must_use]
pub fn planned_text(planned: &[i32]) -> String {
    planned.iter().map(i32::to_string).collect::<Vec<_>>().join(",")
}
