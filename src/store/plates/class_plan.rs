//! The class plan's facts: what every print of a class, begun or not, still wants of the studio by its due date.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::sync::Arc;

use chrono::{Days, NaiveDate};
use chrono_tz::Tz;
use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PrintId, ProcedureVersionId, ProjectId, StudioId};
use crate::store::classes::dues::{self, Dues};
use crate::store::connections::AnyConnection;
use crate::store::people::members::Member;
use crate::store::plates::folder::{ClassRow, Folder, Which, choice, folders};
use crate::store::plates::premises::{self, Premises};
use crate::store::plates::procedures::Procedures;
use crate::store::schema::{class, procedure_version, project, term};
use crate::trade::planning::press::{Print, Problem, Work};
use crate::trade::planning::{Remaining, Span};
use crate::trade::procedure::{Case, Charted, ClassChoice, History, Place, RemainingStep};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Everything the class plan is reckoned from.
#[derive(Debug, Clone)]
pub struct ClassWork {
    pub premises: Premises,
    pub projects: Vec<Project>,
    /// Prints with something left to do, the soonest due first.
    pub prints: Vec<PrintWork>,
    /// Prints that the question is not about and that share the studio: of the class's other projects, and of other
    /// classes whose term runs. Only those due before the last of `prints` stand in its way.
    others: Vec<PrintWork>,
    now: Instant,
}

/// A project that prints answer.
#[derive(Debug, Clone)]
pub struct Project {
    pub id: ProjectId,
    pub title: String,
    edition_asked: i32,
    version: Option<ProcedureVersionId>,
}

/// One print, or the one a student has still to begin.
#[derive(Debug, Clone)]
pub struct PrintWork {
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub project: ProjectId,
    pub project_title: String,
    /// `None` while it is not begun.
    pub print: Option<(PrintId, String)>,
    pub due: Instant,
    pub sheets: u32,
    zone: Tz,
    own_class: bool,
    plates: Vec<Plate>,
}

#[derive(Debug, Clone)]
enum Plate {
    Begun(Box<Folder>),
    NotBegun { procedure: Arc<Charted>, choice: ClassChoice },
}

/// Gathers what the prints of a class still want, of one project or of all, and what others want of the same studio. The
/// number of statements depends on how many classes share the studio, and not on how many prints there are.
///
/// # Errors
/// `NotFound` where the project is not of the class, or the database cannot be read.
pub fn class_work(
    db: &mut AnyConnection,
    procedures: &Procedures,
    class: ClassId,
    studio: StudioId,
    zone: Tz,
    now: Instant,
    only: Option<ProjectId>,
) -> Result<ClassWork, Trouble> {
    let (projects, all) = work_of(db, procedures, (class, studio, zone), now)?;
    if only.is_some_and(|only| projects.iter().all(|project| project.id != only)) {
        return Err(Trouble::NotFound);
    }
    let wanted = |print: &PrintWork| only.is_none_or(|only| only == print.project);
    let (prints, mut others): (Vec<_>, Vec<_>) = all.into_iter().partition(wanted);
    for (other, zone) in beside(db, class, studio, now)? {
        let (_, prints) = work_of(db, procedures, (other, studio, zone), now)?;
        others.extend(prints.into_iter().map(PrintWork::of_another_class));
    }
    let premises = premises::premises(db, studio, class, zone)?;
    Ok(ClassWork { premises, projects, prints, others, now })
}

/// The other classes in a studio whose term is not over, with their zones. One statement.
fn beside(
    db: &mut AnyConnection,
    class: ClassId,
    studio: StudioId,
    now: Instant,
) -> Result<Vec<(ClassId, Tz)>, Trouble> {
    let rows: Vec<(ClassId, String, NaiveDate, NaiveDate)> = class::table
        .inner_join(term::table)
        .filter(class::studio_id.eq(studio).and(class::id.ne(class)))
        .filter(term::ends.ge(now.utc().date_naive() - Days::new(1)))
        .order(class::id)
        .select((class::id, term::zone, term::starts, term::ends))
        .load(db)?;
    let in_term = |(id, zone, starts, ends): (ClassId, String, NaiveDate, NaiveDate)| {
        let zone: Tz = zone.parse().ok()?;
        (starts..=ends).contains(&now.local_date(zone)).then_some((id, zone))
    };
    Ok(rows.into_iter().filter_map(in_term).collect())
}

/// The projects of a class and all its prints that have something left to do, the soonest due first.
fn work_of(
    db: &mut AnyConnection,
    procedures: &Procedures,
    (class, studio, zone): (ClassId, StudioId, Tz),
    now: Instant,
) -> Result<(Vec<Project>, Vec<PrintWork>), Trouble> {
    let projects = projects(db, class)?;
    let students = dues::students(db, class)?;
    let all = folders(db, procedures, Which::Class(class), None, studio, zone)?;
    let rules: ClassRow =
        class::table.find(class).select((class::go_ahead, class::gum_limit_days)).first(db)?;
    let versions: Vec<_> = projects.iter().filter_map(|project| project.version).collect();
    let school = School {
        dues: dues::dues_of_class(db, class, zone, None)?,
        procedures: procedures.of(db, &versions)?,
        rules,
        zone,
    };
    let here: HashMap<PersonId, &Member> = students.iter().map(|student| (student.person, student)).collect();
    let mut begun: BTreeMap<(ProjectId, PrintId), Vec<Folder>> = BTreeMap::new();
    let mut answered: HashSet<(ProjectId, PersonId)> = HashSet::new();
    for folder in all {
        answered.insert((folder.row.project.id, folder.row.person.id));
        let open = folder.row.print.handed_in_at.is_none() && !folder.replaced;
        if open && here.contains_key(&folder.row.person.id) {
            begun.entry((folder.row.project.id, folder.row.print.id)).or_default().push(folder);
        }
    }
    let mut prints: Vec<PrintWork> = begun.into_values().filter_map(of_folders).collect();
    for project in &projects {
        let left = students.iter().filter(|student| !answered.contains(&(project.id, student.person)));
        prints.extend(left.filter_map(|student| school.not_begun(project, student)));
    }
    prints.retain(|print| !print.left(now, None).is_empty());
    prints.sort_by(|a, b| (a.due, &a.family_name, a.person).cmp(&(b.due, &b.family_name, b.person)));
    Ok((projects, prints))
}

/// What a print not begun yet is made from.
struct School {
    dues: Dues,
    procedures: HashMap<ProcedureVersionId, Arc<Charted>>,
    rules: ClassRow,
    zone: Tz,
}

impl School {
    fn not_begun(&self, project: &Project, student: &Member) -> Option<PrintWork> {
        let procedure = self.procedures.get(&project.version?)?.clone();
        let choice = choice(&self.rules, &procedure);
        Some(PrintWork {
            person: student.person,
            given_name: student.given_name.clone(),
            family_name: student.family_name.clone(),
            project: project.id,
            project_title: project.title.clone(),
            print: None,
            due: self.dues.of(project.id, student.person)?.at,
            sheets: u32::try_from(project.edition_asked).unwrap_or(0),
            zone: self.zone,
            own_class: true,
            plates: vec![Plate::NotBegun { procedure, choice }],
        })
    }
}

fn of_folders(folders: Vec<Folder>) -> Option<PrintWork> {
    let first = folders.first()?;
    let row = &first.row;
    Some(PrintWork {
        person: row.person.id,
        given_name: row.person.given_name.clone(),
        family_name: row.person.family_name.clone(),
        project: row.project.id,
        project_title: row.project.title.clone(),
        print: Some((row.print.id, row.print.title.clone())),
        due: Instant::from_utc(first.due()?),
        sheets: first.sheets(),
        zone: first.zone,
        own_class: true,
        plates: folders.into_iter().map(|folder| Plate::Begun(Box::new(folder))).collect(),
    })
}

/// The projects of a class with the newest version of their procedures. Two statements.
fn projects(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Project>, Trouble> {
    type Row = (ProjectId, String, i32, crate::ids::ProcedureId);
    let rows: Vec<Row> = project::table
        .filter(project::class_id.eq(class))
        .order((project::position, project::id))
        .select((project::id, project::title, project::edition_asked, project::procedure_id))
        .load(db)?;
    let asked: BTreeSet<_> = rows.iter().map(|row| row.3).collect();
    let versions: Vec<(crate::ids::ProcedureId, ProcedureVersionId)> = procedure_version::table
        .filter(procedure_version::procedure_id.eq_any(asked))
        .order(procedure_version::number)
        .select((procedure_version::procedure_id, procedure_version::id))
        .load(db)?;
    let newest: HashMap<_, _> = versions.into_iter().collect();
    let project = |(id, title, edition_asked, procedure): Row| Project {
        id,
        title,
        edition_asked,
        version: newest.get(&procedure).copied(),
    };
    Ok(rows.into_iter().map(project).collect())
}

impl PrintWork {
    fn of_another_class(self) -> Self {
        Self { own_class: false, ..self }
    }

    /// The steps left on all its plates, as those of one piece of work; `most` cuts the edition.
    fn left(&self, now: Instant, most: Option<u32>) -> Vec<RemainingStep> {
        let zone = self.zone;
        let sheets = most.map_or(self.sheets, |most| most.min(self.sheets));
        let of_plate = |(number, plate): (usize, &Plate)| {
            let mut steps = match plate {
                Plate::Begun(folder) => folder.case().remaining(now.utc(), sheets),
                Plate::NotBegun { procedure, choice } => {
                    let history = History::default();
                    let (sign_offs, allowances) = (&[][..], &[][..]);
                    let case = Case { procedure, choice, history: &history, sign_offs, allowances, zone };
                    case.remaining(now.utc(), sheets)
                }
            };
            for step in &mut steps {
                step.key = numbered(number, &step.key);
                step.after = step.after.iter().map(|key| numbered(number, key)).collect();
                // When another class's instructor is there is not asked: those steps are planned in any open hour.
                if !self.own_class && *step.place == Place::Instructor {
                    step.place = Place::Station(String::new()).into();
                }
            }
            steps
        };
        self.plates.iter().enumerate().flat_map(of_plate).collect()
    }
}

/// The key of a step of one of several plates.
fn numbered(number: usize, key: &str) -> Arc<str> {
    format!("{number} {key}").into()
}

impl ClassWork {
    /// The work as a problem for the trade, or `None` when nothing is left to place. `most` cuts every edition to so
    /// many sheets.
    ///
    /// # Errors
    /// Every due date has passed, or a procedure no plan takes: the sentence says which.
    pub fn problem(&self, most: Option<u32>) -> Result<Option<Problem>, Remark> {
        let Some(last) = self.prints.iter().map(|print| print.due).max() else { return Ok(None) };
        let now = self.now.millis();
        if last.millis() <= now {
            return Err(Remark::new("plans-all-past"));
        }
        let stations = self.premises.stations.clone();
        let kinds: Vec<&str> = stations.iter().map(|station| station.name.as_str()).collect();
        let mut prints = Vec::with_capacity(self.prints.len());
        let ours = self.prints.iter().map(|print| (print, true));
        let others = self.in_the_way().map(|print| (print, false));
        for (number, (print, counted)) in ours.chain(others).enumerate() {
            let left = print.left(self.now, most.filter(|_| counted));
            let Some(left) = Remaining::of(&left, &kinds, now)? else { continue };
            prints.push(Print {
                name: number.to_string(),
                due: Some(print.due.millis()),
                sheets: 0,
                steps: Arc::new(left.graph),
                states: left.states,
                counted,
            });
        }
        let span = Span { start: now, finish: last.millis() };
        Problem::new(self.premises.hours.clone(), span, stations, Work::Each(prints)).map(Some)
    }

    /// The other prints that take their places beside those asked about: due before the last of them. What is due later
    /// gives way.
    pub fn in_the_way(&self) -> impl Iterator<Item = &PrintWork> {
        let last = self.prints.iter().map(|print| print.due).max();
        self.others.iter().filter(move |print| last.is_some_and(|last| print.due <= last))
    }

    /// Kinds of stations that steps name and the studio does not have; they are planned as the open studio.
    #[must_use]
    pub fn unknown_stations(&self) -> BTreeSet<String> {
        let known: HashSet<&str> =
            self.premises.stations.iter().map(|station| station.name.as_str()).collect();
        let left = self.prints.iter().flat_map(|print| print.left(self.now, None));
        let named = left.filter_map(|step| match &*step.place {
            Place::Station(word) => Some(word.clone()),
            Place::Anywhere | Place::Instructor => None,
        });
        named.filter(|word| !known.contains(word.as_str())).collect()
    }
}
