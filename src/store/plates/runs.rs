//! Steps done on a plate. A rule may refuse a start; what has happened is always stored, and marked when it broke a
//! rule.

use chrono_tz::Tz;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::{DAY_MS, Instant};
use crate::ids::{ClassId, PersonId, PlateId, RefusalId, StepRunId, StudioId};
use crate::store::plates::folder::{Folder, KnownHow, Run, folder};
use crate::store::plates::procedures::Procedures;
use crate::store::schema::{allowance, plate, refusal, step_run};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::procedure::{Entry, Place, RuleName, Step, Verdict};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::{Complaint, Trouble};

/// What is told of a plate lies no longer before it was entered.
const BEFORE_ENTRY_DAYS: i64 = 120;
/// The most characters of what is noted under one step, in one go or after.
const MOST_NOTE: usize = 4000;

/// A plate as somebody stands before it: of which class, in which studio, whose.
#[derive(Debug, Clone, Copy)]
pub struct At {
    pub class: ClassId,
    pub studio: StudioId,
    pub zone: Tz,
    pub plate: PlateId,
    pub owner: Option<PersonId>,
    /// An instructor may do what waits for the instructor.
    pub instructor: bool,
}

/// What came of asking to start.
#[derive(Debug)]
pub enum Started {
    /// It runs.
    Running(StepRunId),
    /// Rules refuse it; the refusal is kept, so that somebody stuck is seen.
    Refused(Verdict),
}

/// A step that was done, as told.
#[derive(Debug, Clone)]
pub struct Told {
    pub step_key: String,
    pub began_at: Instant,
    pub ended_at: Option<Instant>,
    pub known_how: KnownHow,
    pub sheets: Option<i32>,
    pub note: String,
}

impl Tx<'_> {
    /// The folder of a plate, inside the act.
    ///
    /// # Errors
    /// Not of this class and owner.
    pub fn folder(&mut self, procedures: &Procedures, at: &At) -> Result<Folder, Trouble> {
        folder(self.connection, procedures, at.class, at.plate, at.owner, at.studio, at.zone)
    }

    /// Starts a step if no rule refuses it.
    ///
    /// # Errors
    /// The plate is not there, or has no such step.
    pub fn start_step(&mut self, procedures: &Procedures, at: &At, key: &str) -> Result<Started, Trouble> {
        let mut folder = self.folder(procedures, at)?;
        let step = step_of(&folder, key)?;
        only_the_instructor(step, at)?;
        let verdict = folder.case().may_start(key, self.now.utc());
        if !verdict.may_start() {
            self.keep_refusal(at, key, &verdict)?;
            return Ok(Started::Refused(verdict));
        }
        if !verdict.allowed.is_empty() {
            self.use_allowance(&mut folder, key)?;
        }
        let told = Told {
            step_key: key.to_owned(),
            began_at: self.now,
            ended_at: None,
            known_how: KnownHow::Measured,
            sheets: None,
            note: String::new(),
        };
        let id = self.insert_run(&mut folder, &told, &[])?;
        self.journal("step.started", id, &json!({ "plate": at.plate, "step": key }))?;
        Ok(Started::Running(id))
    }

    fn keep_refusal(&mut self, at: &At, key: &str, verdict: &Verdict) -> Result<(), Trouble> {
        let rules: Vec<&str> = verdict.rules().iter().map(|rule| rule.word()).collect();
        diesel::insert_into(refusal::table)
            .values((
                refusal::id.eq(self.id::<crate::ids::Refusal>()),
                refusal::class_id.eq(at.class),
                refusal::plate_id.eq(at.plate),
                refusal::person_id.eq(self.person()?),
                refusal::step_key.eq(key),
                refusal::rules.eq(rules.join(",")),
                refusal::at.eq(self.now),
            ))
            .execute(self.connection)?;
        let id: RefusalId = self.id();
        self.journal("step.refused", id, &json!({ "plate": at.plate, "step": key, "rules": rules }))
    }

    pub(crate) fn use_allowance(&mut self, folder: &mut Folder, key: &str) -> Result<(), Trouble> {
        let now = self.now.utc();
        let used = folder
            .allowances
            .iter_mut()
            .zip(&folder.granted)
            .find(|(one, _)| one.used.is_none() && one.covers(key, now));
        if let Some((allowed, granted)) = used {
            allowed.used = Some(now);
            diesel::update(allowance::table.find(granted.id))
                .set(allowance::used_at.eq(self.now))
                .execute(self.connection)?;
        }
        Ok(())
    }

    fn insert_run(
        &mut self,
        folder: &mut Folder,
        told: &Told,
        outside: &[RuleName],
    ) -> Result<StepRunId, Trouble> {
        let id: StepRunId = self.id();
        self.insert_run_as(id, folder, told, outside)?;
        Ok(id)
    }

    /// A run under an id that was made elsewhere, such as on a phone.
    pub(crate) fn insert_run_as(
        &mut self,
        id: StepRunId,
        folder: &mut Folder,
        told: &Told,
        outside: &[RuleName],
    ) -> Result<(), Trouble> {
        let rules: Vec<&str> = outside.iter().map(|rule| rule.word()).collect();
        let run = Run {
            id,
            plate: folder.row.id,
            step_key: told.step_key.clone(),
            began_at: told.began_at,
            ended_at: told.ended_at,
            by: self.person()?,
            known_how: Word(told.known_how),
            outside_rules: rules.join(","),
            settled_at: None,
            settlement: None,
            settled_reason: None,
            sheets: told.sheets,
            note: told.note.clone(),
            clock_off_ms: None,
            clock_doubtful: false,
            planned_seconds: String::new(),
            in_room: String::new(),
            on_tablet: false,
        };
        diesel::insert_into(step_run::table)
            .values((
                (
                    step_run::id.eq(id),
                    step_run::class_id.eq(folder.row.class),
                    step_run::plate_id.eq(run.plate),
                ),
                (step_run::step_key.eq(&run.step_key), step_run::began_at.eq(run.began_at)),
                (step_run::ended_at.eq(run.ended_at), step_run::by_id.eq(run.by)),
                (step_run::received_at.eq(self.now), step_run::known_how.eq(run.known_how)),
                (step_run::outside_rules.eq(&run.outside_rules), step_run::sheets.eq(run.sheets)),
                step_run::note.eq(&run.note),
            ))
            .execute(self.connection)?;
        folder.take_in(run);
        Ok(())
    }

    /// Ends a running step.
    ///
    /// # Errors
    /// It is not of this plate, an instructor's to do, or ended already: what was noted then is for `note_after`.
    pub fn end_step(
        &mut self,
        procedures: &Procedures,
        at: &At,
        id: StepRunId,
        sheets: Option<i32>,
        note: &str,
    ) -> Result<(), Trouble> {
        let mut folder = self.folder(procedures, at)?;
        if let Some(step) = folder.procedure.find(&run_of(&folder, id)?.step_key) {
            only_the_instructor(step, at)?;
        }
        self.end_run(&mut folder, id, sheets, note)?;
        self.keep_standing(&folder)
    }

    /// As `end_step`, in a folder at hand; whoever calls it keeps the standing afterwards.
    pub(crate) fn end_run(
        &mut self,
        folder: &mut Folder,
        id: StepRunId,
        sheets: Option<i32>,
        note: &str,
    ) -> Result<(), Trouble> {
        let mut run = run_of(folder, id)?;
        if run.ended_at.is_some() {
            return Err(Trouble::Refused(Remark::new("plates-ended-already")));
        }
        (run.ended_at, run.sheets, run.note) = (Some(self.now), sheets, note.to_owned());
        diesel::update(step_run::table.find(id))
            .set((step_run::ended_at.eq(self.now), step_run::sheets.eq(sheets), step_run::note.eq(note)))
            .execute(self.connection)?;
        let detail = json!({ "plate": run.plate, "sheets": sheets, "note": note });
        folder.take_in(run);
        self.journal("step.ended", id, &detail)
    }

    /// Writes a note under a step that has ended already, as when it was ended on another phone meanwhile. False where
    /// it runs still. When it ended, and its sheets, stay as they are.
    ///
    /// # Errors
    /// It is not of this plate, or there would be more to read than a run has room for.
    pub fn note_after(
        &mut self,
        procedures: &Procedures,
        at: &At,
        id: StepRunId,
        note: &str,
    ) -> Result<bool, Trouble> {
        let folder = self.folder(procedures, at)?;
        let run = folder.runs.iter().find(|run| run.id == id).ok_or(Trouble::NotFound)?;
        if run.ended_at.is_none() {
            return Ok(false);
        }
        let both = if run.note.is_empty() { note.to_owned() } else { format!("{}\n{note}", run.note) };
        let length = both.chars().count();
        if length > MOST_NOTE {
            let remark =
                Remark::new("form-too-long").with("length", i64::try_from(length).unwrap_or(i64::MAX));
            let most = i64::try_from(MOST_NOTE).unwrap_or(i64::MAX);
            return Err(Trouble::about("note", remark.with("most", most)));
        }
        diesel::update(step_run::table.find(id)).set(step_run::note.eq(&both)).execute(self.connection)?;
        self.journal("step.noted", id, &json!({ "plate": at.plate, "note": note }))?;
        Ok(true)
    }

    /// Stores a step that has happened, whatever rule it broke; broken rules are marked and block what follows until
    /// an instructor settles them.
    ///
    /// # Errors
    /// The plate is not there, has no such step, or the times make no sense.
    pub fn tell_step(
        &mut self,
        procedures: &Procedures,
        at: &At,
        told: &Told,
    ) -> Result<(StepRunId, Vec<RuleName>), Trouble> {
        let mut folder = self.folder(procedures, at)?;
        not_long_before(&folder, told, at.zone)?;
        let told = self.tell_run(&mut folder, at, told)?;
        self.keep_standing(&folder)?;
        Ok(told)
    }

    /// As `tell_step`, in a folder at hand; whoever calls it keeps the standing afterwards.
    pub(crate) fn tell_run(
        &mut self,
        folder: &mut Folder,
        at: &At,
        told: &Told,
    ) -> Result<(StepRunId, Vec<RuleName>), Trouble> {
        only_the_instructor(step_of(folder, &told.step_key)?, at)?;
        only_what_has_happened(told, self.now, at.zone)?;
        let entry = Entry::new(&told.step_key, told.began_at.utc(), told.ended_at.map(Instant::utc));
        let verdict = folder.case().judge(&entry);
        let outside = verdict.rules();
        if !verdict.allowed.is_empty() {
            self.use_allowance(folder, &told.step_key)?;
        }
        let id = self.insert_run(folder, told, &outside)?;
        let rules: Vec<&str> = outside.iter().map(|rule| rule.word()).collect();
        let detail = json!({ "plate": at.plate, "step": told.step_key, "outside": rules });
        self.journal("step.told", id, &detail)?;
        Ok((id, outside))
    }

    /// Brings the plate's standing, gum clock and rack place, which lists and exports read, to what its folder says.
    pub(crate) fn keep_standing(&mut self, folder: &Folder) -> Result<(), Trouble> {
        let stands = folder.case().stands(self.now.utc());
        let since = stands.since.map(Instant::from_utc).unwrap_or(self.now);
        diesel::update(plate::table.find(folder.row.id))
            .set((
                plate::standing.eq(Word(stands.standing)),
                plate::standing_since.eq(since),
                plate::gummed_at.eq(stands.gummed.map(Instant::from_utc)),
                plate::rack_place.eq(&folder.row.rack_place),
            ))
            .execute(self.connection)?;
        Ok(())
    }
}

/// The step of a plate's procedure with this key.
pub(crate) fn step_of<'f>(folder: &'f Folder, key: &str) -> Result<&'f Step, Trouble> {
    folder.procedure.find(key).ok_or_else(|| {
        let remark = Remark::new("plates-no-such-step").with("step", key.to_owned());
        Trouble::about("step", remark.with("procedure", folder.procedure.name.clone()))
    })
}

/// A run of a plate, to be changed.
pub(super) fn run_of(folder: &Folder, id: StepRunId) -> Result<Run, Trouble> {
    folder.runs.iter().find(|run| run.id == id).cloned().ok_or(Trouble::NotFound)
}

/// A plate may be entered here long after it was grained and drawn; a year before is a slip of the pen.
fn not_long_before(folder: &Folder, told: &Told, zone: Tz) -> Result<(), Trouble> {
    if told.began_at.plus_ms(BEFORE_ENTRY_DAYS * DAY_MS) >= folder.row.created_at {
        return Ok(());
    }
    let value = told.began_at.utc().with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string();
    let remark = Remark::new("plates-long-before").with("value", value).with("days", BEFORE_ENTRY_DAYS);
    Err(Trouble::about("began", remark))
}

/// A step begins before it ends, and neither lies ahead of now.
pub(crate) fn only_what_has_happened(told: &Told, now: Instant, zone: Tz) -> Result<(), Trouble> {
    let remark = |key: &'static str, at: Instant| {
        Remark::new(key).with("value", at.utc().with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string())
    };
    let mut complaints = Vec::new();
    if told.began_at > now {
        complaints.push(Complaint::new("began", remark("plates-ahead-of-now", told.began_at)));
    }
    match told.ended_at {
        Some(ended) if ended > now => {
            complaints.push(Complaint::new("ended", remark("plates-ahead-of-now", ended)));
        }
        Some(ended) if ended < told.began_at => {
            complaints.push(Complaint::new("ended", remark("plates-ended-before-began", ended)));
        }
        _ => {}
    }
    if complaints.is_empty() { Ok(()) } else { Err(Trouble::Complaints(complaints)) }
}

pub(crate) fn only_the_instructor(step: &Step, at: &At) -> Result<(), Trouble> {
    if step.place == Place::Instructor && !at.instructor {
        return Err(Trouble::Refused(
            Remark::new("plates-waits-for-instructor").with("step", step.title.clone()),
        ));
    }
    Ok(())
}
