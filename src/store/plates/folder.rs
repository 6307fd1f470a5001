//! A plate's folder: the plate, its procedure and everything that happened to it, ready to be judged. A whole class is
//! read with the same number of statements as one plate.

use std::collections::HashMap;
use std::sync::Arc;

use chrono::{DateTime, Utc};
use chrono_tz::Tz;
use diesel::prelude::*;
use diesel::sql_types::{BigInt, Bool, Integer, Nullable, Text};

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PlateId, PrintId, ProcedureVersionId, StepRunId, StudioId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::EnrolmentState;
pub use crate::store::plates::happened::Granted;
use crate::store::plates::procedures::Procedures;
use crate::store::plates::{happened, row};
use crate::store::safety::held::{self, Whose};
use crate::store::standing::Standing;
use crate::store::types::Word;
use crate::trade::civil;
use crate::trade::procedure::flags::Refusal;
use crate::trade::procedure::{
    Allowance, Case, Charted, ClassChoice, Entry, Held, History, Ordered, Outlook, Procedure, Records,
    RuleName, Settled, StepOutlook, Verdict,
};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

pub use crate::store::plates::row::{ClassRow, PersonRow, PlateRow, PrintRow, ProjectRow, SizeUnit};
pub use crate::trade::etch::table::Weight;

spelled!(
    /// How a number or a time is known.
    KnownHow {
        /// By the program, at the moment.
        Measured = "measured",
        /// Told at the time.
        Told = "told",
        /// Told later from a card.
        Card = "card",
    }
);
/// One run of a step, as it is stored.
#[derive(Debug, Clone, Queryable)]
pub struct Run {
    pub id: StepRunId,
    pub plate: PlateId,
    pub step_key: String,
    pub began_at: Instant,
    pub ended_at: Option<Instant>,
    pub by: PersonId,
    pub known_how: Word<KnownHow>,
    pub outside_rules: String,
    pub settled_at: Option<Instant>,
    pub settlement: Option<Word<Ordered>>,
    pub settled_reason: Option<String>,
    pub sheets: Option<i32>,
    pub note: String,
    /// By how much the clock of the phone that told it was ahead; None where no phone told it.
    pub clock_off_ms: Option<i64>,
    /// The phone's clock could not be put right; the times are reckoned back from when the entry came in.
    pub clock_doubtful: bool,
    /// The applications the clocks at the table were set to, in seconds, joined by commas.
    pub planned_seconds: String,
    /// Who else was in the room, as told at the table.
    pub in_room: String,
    /// Told on the studio's tablet, where nobody is signed in.
    pub on_tablet: bool,
}

/// The columns of a row, in order.
type RunColumns = (
    Text,
    Text,
    Text,
    BigInt,
    Nullable<BigInt>,
    Text,
    Text,
    Text,
    Nullable<BigInt>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Integer>,
    Text,
    Nullable<BigInt>,
    Bool,
    Text,
    Text,
    Bool,
);

/// Seconds joined by commas, as a column has them.
#[must_use]
pub fn seconds_told(column: &str) -> Vec<i32> {
    column.split(',').filter_map(|seconds| seconds.parse().ok()).collect()
}

/// Everything about a plate that a judgement looks at.
#[derive(Debug, Clone)]
pub struct Folder {
    pub row: PlateRow,
    pub procedure: Arc<Charted>,
    pub zone: Tz,
    pub choice: ClassChoice,
    /// In the order of `history.entries`.
    pub runs: Vec<Run>,
    pub history: History,
    /// Its person's, of the studio.
    pub sign_offs: Arc<[Held]>,
    /// Why and by whom, of each allowance in turn.
    pub granted: Vec<Granted>,
    pub allowances: Vec<Allowance>,
    pub refusals: Vec<Refusal>,
    /// Another plate takes its place.
    pub replaced: bool,
    due: Option<DateTime<Utc>>,
}

impl Folder {
    /// The case for the trade floor.
    #[must_use]
    pub fn case(&self) -> Case<'_> {
        Case {
            procedure: &self.procedure,
            choice: &self.choice,
            history: &self.history,
            sign_offs: &self.sign_offs,
            allowances: &self.allowances,
            zone: self.zone,
        }
    }

    #[must_use]
    pub fn outlook(&self, now: Instant) -> Outlook {
        self.case().outlook(now.utc())
    }

    /// May that step start now, and if not why, in sentences.
    #[must_use]
    pub fn verdict(&self, step: &StepOutlook, now: Instant) -> Verdict {
        self.case().may_start(&step.key, now.utc())
    }

    /// When the print is due: the person's own date before the class's.
    #[must_use]
    pub fn due(&self) -> Option<DateTime<Utc>> {
        self.due
    }

    /// Its student dropped or withdrew: nobody waits for it.
    #[must_use]
    pub fn left(&self) -> bool {
        self.row
            .state
            .is_some_and(|state| matches!(state.0, EnrolmentState::Dropped | EnrolmentState::Withdrawn))
    }

    /// Takes in a run as the act at hand has just stored it, a new one or one that was changed, so that what follows in
    /// the same act is judged by it without reading the folder again.
    pub(crate) fn take_in(&mut self, run: Run) {
        self.runs.retain(|known| known.id != run.id);
        let place = self.runs.partition_point(|known| (known.began_at, known.id) < (run.began_at, run.id));
        self.runs.insert(place, run);
        self.history.entries = self.runs.iter().map(entry).collect();
    }

    /// The sheets its edition wants.
    #[must_use]
    pub fn sheets(&self) -> u32 {
        let asked = self.row.print.edition_size.unwrap_or(self.row.project.edition_asked);
        u32::try_from(asked).unwrap_or(0)
    }
}

/// Which plates.
#[derive(Debug, Clone, Copy)]
pub enum Which {
    Plate(ClassId, PlateId),
    Print(ClassId, PrintId),
    Class(ClassId),
}

impl Which {
    pub(super) const fn class(self) -> ClassId {
        match self {
            Self::Plate(class, _) | Self::Print(class, _) | Self::Class(class) => class,
        }
    }
}

/// The folders of some plates, by number. `owner` limits them to one person's, so that a plate of somebody else is
/// simply not among them. Four statements for a whole class, one more when a procedure was not read before.
///
/// # Errors
/// The database cannot be read.
pub fn folders(
    db: &mut AnyConnection,
    procedures: &Procedures,
    which: Which,
    owner: Option<PersonId>,
    studio: StudioId,
    zone: Tz,
) -> Result<Vec<Folder>, Trouble> {
    let rows = row::rows(db, which, owner)?;
    if rows.is_empty() {
        return Ok(Vec::new());
    }
    let mut versions: Vec<ProcedureVersionId> = rows.iter().map(|row| row.procedure_version).collect();
    versions.sort_unstable();
    versions.dedup();
    let procedures = procedures.of(db, &versions)?;
    let mut runs = by_plate(runs_of(db, which, owner)?, |run| run.plate);
    let mut happened = happened::of(db, which, owner)?;
    let mut held: HashMap<PersonId, Vec<Held>> = HashMap::new();
    for (person, one) in held::held(db, whose(which, &rows, owner, studio))? {
        held.entry(person).or_default().push(one);
    }
    let held: HashMap<PersonId, Arc<[Held]>> =
        held.into_iter().map(|(person, all)| (person, all.into())).collect();
    rows.into_iter()
        .map(|row| {
            let procedure = procedures
                .get(&row.procedure_version)
                .cloned()
                .ok_or_else(|| Trouble::broken("opening a plate's folder", "its procedure is not there"))?;
            let runs = runs.remove(&row.id).unwrap_or_default();
            let happened = happened.remove(&row.id).unwrap_or_default();
            let (granted, allowances) = happened.allowances.into_iter().unzip();
            Ok(Folder {
                zone,
                choice: choice(&row.class_rules, &procedure),
                history: History { entries: runs.iter().map(entry).collect(), put_downs: happened.put_downs },
                runs,
                sign_offs: held.get(&row.person.id).cloned().unwrap_or_default(),
                granted,
                allowances,
                refusals: happened.refusals,
                replaced: happened.replaced,
                due: due(&row, zone),
                procedure,
                row,
            })
        })
        .collect()
}

fn due(row: &PlateRow, zone: Tz) -> Option<DateTime<Utc>> {
    let text = row.own_due_local.as_deref().unwrap_or(&row.project.due_local);
    let local = chrono::NaiveDateTime::parse_from_str(text, "%Y-%m-%dT%H:%M").ok()?;
    Some(civil::instant(local, zone))
}

/// One folder.
///
/// # Errors
/// It is not of this class or not of this owner.
pub fn folder(
    db: &mut AnyConnection,
    procedures: &Procedures,
    class: ClassId,
    id: PlateId,
    owner: Option<PersonId>,
    studio: StudioId,
    zone: Tz,
) -> Result<Folder, Trouble> {
    folders(db, procedures, Which::Plate(class, id), owner, studio, zone)?.pop().ok_or(Trouble::NotFound)
}

fn whose(which: Which, rows: &[PlateRow], owner: Option<PersonId>, studio: StudioId) -> Whose {
    match (which, owner, rows.first()) {
        (_, Some(owner), _) => Whose::Person(owner, studio),
        (Which::Plate(..) | Which::Print(..), None, Some(row)) => Whose::Person(row.person.id, studio),
        _ => Whose::EnrolledIn(which.class(), studio),
    }
}

fn by_plate<T>(all: Vec<T>, plate: impl Fn(&T) -> PlateId) -> HashMap<PlateId, Vec<T>> {
    let mut found: HashMap<PlateId, Vec<T>> = HashMap::new();
    for one in all {
        found.entry(plate(&one)).or_default().push(one);
    }
    found
}

/// What the class decided: without a go-ahead where it wants none, and its own limit under gum.
pub(crate) fn choice(class: &ClassRow, procedure: &Procedure) -> ClassChoice {
    let without = if class.go_ahead {
        Vec::new()
    } else {
        procedure.all().filter(|step| step.records == Records::GoAhead).map(|step| step.key.clone()).collect()
    };
    ClassChoice { without, gum_limit_minutes: class.gum_limit_days.map(|days| i64::from(days) * 1440) }
}

fn entry(run: &Run) -> Entry {
    let settled =
        run.settled_at.zip(run.settlement).map(|(at, ordered)| Settled { at: at.utc(), ordered: ordered.0 });
    Entry {
        step: run.step_key.clone(),
        began: run.began_at.utc(),
        ended: run.ended_at.map(Instant::utc),
        outside: run.outside_rules.split(',').filter_map(RuleName::from_word).collect(),
        settled,
        gummed_at: None,
    }
}

macro_rules! runs {
    ($condition:literal) => {
        concat!(
            "SELECT r.id, r.plate_id, r.step_key, r.began_at, r.ended_at, r.by_id, r.known_how, r.outside_rules, \
             r.settled_at, r.settlement, r.settled_reason, r.sheets, r.note, r.clock_off_ms, r.clock_doubtful, \
             r.planned_seconds, r.in_room, r.on_tablet \
             FROM plate JOIN step_run r ON r.plate_id = plate.id WHERE ",
            $condition
        )
    };
}
const IN_ORDER: &str = " ORDER BY r.began_at, r.id";
const RUNS_OF_PLATE: [&str; 2] = [runs!("plate.id = "), IN_ORDER];
const RUNS_OF_PRINT: [&str; 2] = [runs!("plate.print_id = "), IN_ORDER];
const RUNS_OF_CLASS: [&str; 2] = [runs!("plate.class_id = "), IN_ORDER];
const RUNS_OF_PERSON: [&str; 3] = [runs!("plate.class_id = "), " AND plate.person_id = ", IN_ORDER];

/// The runs of the plates meant; a print's owner is looked at elsewhere.
fn runs_of(db: &mut AnyConnection, which: Which, owner: Option<PersonId>) -> Result<Vec<Run>, Trouble> {
    Ok(match (which, owner) {
        (Which::Plate(_, id), _) => {
            Standing::<RunColumns, _>::in_order(|| &RUNS_OF_PLATE, &[id.as_str()]).load(db)?
        }
        (Which::Print(_, id), _) => {
            Standing::<RunColumns, _>::in_order(|| &RUNS_OF_PRINT, &[id.as_str()]).load(db)?
        }
        (Which::Class(class), None) => {
            Standing::<RunColumns, _>::in_order(|| &RUNS_OF_CLASS, &[class.as_str()]).load(db)?
        }
        (Which::Class(class), Some(owner)) => {
            Standing::<RunColumns, _>::in_order(|| &RUNS_OF_PERSON, &[class.as_str(), owner.as_str()])
                .load(db)?
        }
    })
}
