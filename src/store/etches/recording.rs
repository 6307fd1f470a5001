//! Recording an etch and correcting its log. An etch that happened is a fact: it is stored whatever rule it broke and
//! whatever container it came out of; both are marked.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{EtchId, PersonId, ProcedureVersionId, StepRunId};
use crate::store::etches::entries::{Doubt, Part, Poured, doubts_text};
use crate::store::etches::logs;
pub use crate::store::etches::mixture::{Draft, LONGEST_SECONDS, MOST_APPLICATIONS, holds, uses};
use crate::store::etches::mixture::{check, poured};
use crate::store::many::{self, Cell};
use crate::store::plates::folder::{Folder, KnownHow};
use crate::store::plates::procedures::Procedures;
use crate::store::plates::put_downs::PutDownDraft;
use crate::store::plates::runs::{At, Told};
use crate::store::schema::{etch, plate, step_run};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::procedure::{Records, RuleName};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// When it was done.
#[derive(Debug, Clone)]
pub enum When {
    /// In this run of an etching step; one that is under way ends with the log.
    Run(StepRunId),
    /// As `Run`, and the clocks of the page at the table measured the applications.
    Timed(StepRunId),
    /// In a run that is told now; none of its moments lies ahead of the act.
    Told { step_key: String, began_at: Instant, ended_at: Instant, known_how: KnownHow },
}

/// What came of it.
#[derive(Debug, Clone)]
pub struct Recorded {
    pub etch: EtchId,
    pub run: StepRunId,
    /// The rules a run told now broke; it waits to be settled.
    pub outside: Vec<RuleName>,
}

/// The run an etch was done in.
struct Etched {
    run: StepRunId,
    step_key: String,
    moment: Instant,
    known_how: KnownHow,
    outside: Vec<RuleName>,
    /// The act has ended it, or told it altogether.
    told_now: bool,
}

/// Step, end, how it is known, procedure and student.
type EndedRun = (String, Option<Instant>, Word<KnownHow>, ProcedureVersionId, PersonId);

impl Tx<'_> {
    /// Stores an etch with its step, its containers' figures as they are now and, where the sitting ended, how the
    /// plate was put down.
    ///
    /// # Errors
    /// The plate is not of this class and owner, or has no such run or step; complaints about what was told.
    pub fn record_etch(
        &mut self,
        procedures: &Procedures,
        at: &At,
        when: &When,
        draft: &Draft,
        down: Option<&PutDownDraft>,
    ) -> Result<Recorded, Trouble> {
        let (mut folder, etched) = match self.ended(procedures, at, when, down)? {
            Some(etched) => (None, etched),
            None => {
                let mut folder = self.folder(procedures, at)?;
                let etched = self.etched(&mut folder, at, when)?;
                (Some(folder), etched)
            }
        };
        let Etched { run, step_key, moment, known_how, outside, told_now } = etched;
        let held = self.containers_of(at, draft)?;
        let (poured, doubts) = poured(draft, &held, None, moment, at);
        check(draft, &poured)?;
        let id: EtchId = self.id();
        let row = Row {
            id,
            root: id,
            corrects: None,
            reason: "",
            run,
            step_key: &step_key,
            moment,
            known_how,
            doubts: &doubts,
        };
        self.insert_etch(at, &row, &poured, draft)?;
        if let Some(folder) = &mut folder {
            if let Some(down) = down {
                self.put_down(folder, down, moment)?;
            }
            if told_now || down.is_some() {
                self.keep_standing(folder)?;
            }
        }
        let detail =
            json!({ "plate": at.plate, "run": run, "poured": poured, "applications": draft.applications });
        self.journal("etch.recorded", id, &detail)?;
        Ok(Recorded { etch: id, run, outside })
    }

    /// The log of a run that has ended changes nothing but itself: the plate's folder need not be opened for it. None: it
    /// must be.
    fn ended(
        &mut self,
        procedures: &Procedures,
        at: &At,
        when: &When,
        down: Option<&PutDownDraft>,
    ) -> Result<Option<Etched>, Trouble> {
        let (When::Run(id) | When::Timed(id), None) = (when, down) else { return Ok(None) };
        let found: Option<EndedRun> = step_run::table
            .inner_join(plate::table.on(plate::id.eq(step_run::plate_id)))
            .filter(step_run::id.eq(*id))
            .filter(plate::id.eq(at.plate))
            .filter(plate::class_id.eq(at.class))
            .select((
                step_run::step_key,
                step_run::ended_at,
                step_run::known_how,
                plate::procedure_version_id,
                plate::person_id,
            ))
            .first(self.connection)
            .optional()?;
        let (step_key, ended_at, known_how, version, person) = found.ok_or(Trouble::NotFound)?;
        let Some(moment) = ended_at else { return Ok(None) };
        let procedure = procedures.of(self.connection, &[version])?.remove(&version);
        let step = procedure.as_ref().and_then(|procedure| procedure.find(&step_key));
        let is_etch = step.is_some_and(|step| step.records == Records::Etch);
        if !is_etch || at.owner.is_some_and(|owner| owner != person) {
            return Err(Trouble::NotFound);
        }
        let known_how = known_how_of(when, known_how.0);
        Ok(Some(Etched { run: *id, step_key, moment, known_how, outside: Vec::new(), told_now: false }))
    }

    fn etched(&mut self, folder: &mut Folder, at: &At, when: &When) -> Result<Etched, Trouble> {
        let procedure = folder.procedure.clone();
        let etches = |key: &str| procedure.find(key).is_some_and(|step| step.records == Records::Etch);
        match when {
            When::Run(id) | When::Timed(id) => {
                let run = folder.runs.iter().find(|run| run.id == *id && etches(&run.step_key));
                let run = run.cloned().ok_or(Trouble::NotFound)?;
                if run.ended_at.is_none() {
                    self.end_run(folder, *id, None, &run.note)?;
                }
                Ok(Etched {
                    run: *id,
                    step_key: run.step_key,
                    moment: run.ended_at.unwrap_or(self.now),
                    known_how: known_how_of(when, run.known_how.0),
                    outside: Vec::new(),
                    told_now: run.ended_at.is_none(),
                })
            }
            When::Told { step_key, began_at, ended_at, known_how } => {
                if !etches(step_key) {
                    return Err(Trouble::about("step", Remark::new("etches-no-etching-step")));
                }
                let told = Told {
                    step_key: step_key.clone(),
                    began_at: *began_at,
                    ended_at: Some(*ended_at),
                    known_how: *known_how,
                    sheets: None,
                    note: String::new(),
                };
                let (run, outside) = self.tell_run(folder, at, &told)?;
                Ok(Etched {
                    run,
                    step_key: told.step_key,
                    moment: *ended_at,
                    known_how: *known_how,
                    outside,
                    told_now: true,
                })
            }
        }
    }

    /// Corrects a log by a new entry; `stands` is the entry the person saw. The moment stays, and so do the figures of
    /// a container that stays.
    ///
    /// # Errors
    /// The log is not of this class, plate and owner; `Stale` when it was corrected meanwhile; complaints.
    pub fn amend_etch(
        &mut self,
        at: &At,
        id: EtchId,
        stands: EtchId,
        draft: &Draft,
        reason: &str,
    ) -> Result<EtchId, Trouble> {
        let chain = logs::chain(self.connection, at.class, at.plate, at.owner, id)?;
        let before = chain.first().map(|log| &log.entry).ok_or(Trouble::NotFound)?;
        if before.id != stands {
            return Err(Trouble::Stale(Remark::new("etches-stale")));
        }
        let held = self.containers_of(at, draft)?;
        let (poured, doubts) = poured(draft, &held, Some(before), before.at, at);
        check(draft, &poured)?;
        diesel::update(etch::table.find(before.id))
            .set(etch::superseded_at.eq(self.now))
            .execute(self.connection)?;
        let new: EtchId = self.id();
        let row = Row {
            id: new,
            root: before.root,
            corrects: Some(before.id),
            reason,
            run: before.run,
            step_key: &before.step_key,
            moment: before.at,
            known_how: before.known_how.0,
            doubts: &doubts,
        };
        self.insert_etch(at, &row, &poured, draft)?;
        let detail = json!({
            "corrects": before.id, "reason": reason, "poured": poured, "applications": draft.applications,
        });
        self.journal("etch.amended", new, &detail)?;
        Ok(new)
    }

    fn insert_etch(&mut self, at: &At, row: &Row<'_>, poured: &Poured, draft: &Draft) -> Result<(), Trouble> {
        let Poured { gum, acid, stock, .. } = poured;
        diesel::insert_into(etch::table)
            .values((
                (etch::id.eq(row.id), etch::class_id.eq(at.class), etch::plate_id.eq(at.plate)),
                (etch::step_run_id.eq(row.run), etch::step_key.eq(row.step_key), etch::root.eq(row.root)),
                (etch::corrects.eq(row.corrects), etch::reason.eq(row.reason)),
                (etch::by_id.eq(self.person()?), etch::at.eq(row.moment), etch::received_at.eq(self.now)),
                (etch::known_how.eq(Word(row.known_how)), etch::recipe.eq(poured.recipe)),
                (etch::gum_id.eq(*gum), etch::acid_id.eq(*acid), etch::stock_id.eq(*stock)),
                (etch::gum_microlitres.eq(poured.gum_microlitres), etch::gum_unit.eq(poured.unit)),
                (etch::drops.eq(poured.drops), etch::stock_microlitres.eq(poured.stock_microlitres)),
                (
                    etch::gum_baume_tenths.eq(poured.gum_baume_tenths),
                    etch::gum_ph_hundredths.eq(poured.gum_ph_hundredths),
                    etch::gum_sour.eq(poured.gum_sour),
                ),
                (etch::acid_weight_bp.eq(poured.acid_weight_bp), etch::acid_kind.eq(poured.acid_kind)),
                (
                    etch::drops_per_ml_hundredths.eq(poured.drops_per_ml_hundredths),
                    etch::drops_spread_hundredths.eq(poured.drops_spread_hundredths),
                    etch::measured_ph_hundredths.eq(poured.measured_ph_hundredths),
                ),
                (etch::tool.eq(&draft.tool), etch::helper.eq(&draft.helper), etch::seen.eq(&draft.seen)),
                etch::doubts.eq(doubts_text(row.doubts)),
            ))
            .execute(self.connection)?;
        let applications: Vec<_> = (1..)
            .zip(&draft.applications)
            .map(|(place, seconds)| vec![row.id.to_string().into(), Cell::Whole(place), (*seconds).into()])
            .collect();
        many::insert(self.connection, "etch_application (etch_id, position, seconds)", &applications)
    }
}

/// The run's moments may be the program's; what was poured and for how long is told, but where the page timed it.
fn known_how_of(when: &When, run: KnownHow) -> KnownHow {
    match (when, run) {
        (When::Timed(_), _) => KnownHow::Measured,
        (_, KnownHow::Measured) => KnownHow::Told,
        (_, other) => other,
    }
}

/// What stands in a new row beside the mixture.
struct Row<'a> {
    id: EtchId,
    root: EtchId,
    corrects: Option<EtchId>,
    reason: &'a str,
    run: StepRunId,
    step_key: &'a str,
    moment: Instant,
    known_how: KnownHow,
    doubts: &'a [(Part, Doubt)],
}
