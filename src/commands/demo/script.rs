//! The script of the demo school: what `seed/school.json` and `seed/works.json` say, as types. Days count back from the
//! moment the school plays at; times of day are the school's own.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::happenings::Happening;
use crate::photos::drawn::{Hand, Motif};
use crate::store::classes::accommodations::Effect;
use crate::store::classes::duties::{Outcome, What};
use crate::store::plates::folder::Weight;
use crate::store::studio::containers::Substance;
use crate::store::tonight::askings::Kind;
use crate::trade::etch::came_up::CameUp;
use crate::trade::procedure::Grade;
use crate::trouble::Trouble;

const SCHOOL: &str = include_str!("../../../seed/school.json");
const WORKS: &str = include_str!("../../../seed/works.json");
const LIFE: &str = include_str!("../../../seed/class_life.json");

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct School {
    pub name: String,
    pub safety_office: String,
    pub zone: String,
    pub people: Vec<Staff>,
    /// Student number of the student whose sign-in is printed.
    pub shown_student: String,
    pub term: Term,
    pub studio: Studio,
    pub containers: Vec<Container>,
    pub class: Class,
    pub projects: Vec<Project>,
    pub sign_offs: Vec<SignOff>,
    pub withdrawn: Vec<Withdrawn>,
    pub happened: Vec<Happening>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Staff {
    pub role: String,
    pub given_name: String,
    pub family_name: String,
    pub email: String,
}

#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Term {
    pub began_days_ago: i64,
    pub weeks: u64,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Studio {
    pub name: String,
    pub room_address: String,
    pub eyewash: String,
    pub emergency_numbers: String,
    pub waste_words: String,
    pub openings: Vec<Opening>,
    pub stations: Vec<Station>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Opening {
    pub weekdays: Vec<i32>,
    pub from: String,
    pub to: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Station {
    pub kind: String,
    pub name: String,
    pub units: i32,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Container {
    /// As the works name it.
    pub mark: String,
    pub substance: Substance,
    pub label: String,
    /// Days ago.
    pub opened: i64,
    pub baume_tenths: Option<i32>,
    pub ph_hundredths: Option<i32>,
    pub weight_bp: Option<i32>,
    pub drops_per_ml_hundredths: Option<i32>,
    pub drops_spread_hundredths: Option<i32>,
    /// Days ago on which it was empty.
    pub finished: Option<i64>,
    pub turned: Option<Turned>,
}

/// A container found bad.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Turned {
    pub ago: i64,
    pub sour: bool,
    pub do_not_use: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Class {
    pub code: String,
    pub title: String,
    pub meetings: Vec<Weekly>,
    pub presences: Vec<Weekly>,
    pub listings: Vec<Listing>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Weekly {
    /// Who is there; a meeting names nobody.
    pub role: Option<String>,
    pub weekday: i32,
    pub from: String,
    pub to: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Listing {
    pub code: String,
    pub section: String,
    pub level: String,
    pub credits_hundredths: i32,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Project {
    pub key: String,
    pub title: String,
    pub brief: String,
    /// Below zero: days ahead.
    pub due_days_ago: i64,
    pub edition: i32,
}

/// One point of time at which a topic was signed off, for all but `without`, or for `only` some.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SignOff {
    pub topic: String,
    pub ago: i64,
    pub grade: Grade,
    #[serde(default)]
    pub without: Vec<String>,
    pub only: Option<Vec<String>>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Withdrawn {
    pub student: String,
    pub ago: i64,
    pub reason: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Works {
    pub ways: BTreeMap<String, Vec<Day>>,
    /// The usual etch for each weight of drawing.
    pub etches: BTreeMap<Weight, Etch>,
    /// Fluid ounces of gum in every etch mixed from gum and acid.
    pub gum_ounces: i64,
    pub works: Vec<Work>,
    pub grades: Grades,
}

/// A day at work on a plate.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Day {
    pub ago: i64,
    pub from: String,
    pub steps: Vec<String>,
}

/// A plate and what became of it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Work {
    pub student: String,
    pub project: String,
    pub title: String,
    pub motif: Motif,
    pub hand: Hand,
    pub materials: String,
    pub weight: Weight,
    #[serde(default)]
    pub stone: bool,
    pub way: String,
    /// The last step of the way that was done, and how many days ago.
    pub until: String,
    pub last: i64,
    /// It takes the place of the same print's scrapped plate.
    #[serde(default)]
    pub replaces: bool,
    /// A second plate of the same print.
    #[serde(default)]
    pub beside: bool,
    /// By step: what differs from the usual etch.
    #[serde(default)]
    pub etches: BTreeMap<String, Etch>,
    #[serde(default)]
    pub came_up: BTreeMap<String, CameUp>,
    #[serde(default)]
    pub remark: BTreeMap<String, String>,
    /// On the last day nobody put it down under gum.
    #[serde(default)]
    pub left_bare: bool,
    pub sheets: Option<i32>,
    /// Days ago.
    pub scrap: Option<i64>,
    pub handed_in: Option<i64>,
    pub running: Option<Running>,
    pub refused: Option<Refused>,
    pub outside: Option<Outside>,
    pub settled: Option<Settled>,
    pub comment: Option<String>,
}

#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Etch {
    pub gum: Option<String>,
    pub acid: Option<String>,
    pub drops: Option<i32>,
    pub stock: Option<String>,
    pub cut_with: Option<String>,
    /// Minutes and seconds of each.
    pub applications: Option<Vec<String>>,
    pub measured_ph_hundredths: Option<i32>,
    pub seen: Option<String>,
    pub amended: Option<Amended>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Amended {
    pub drops: i32,
    pub reason: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Running {
    pub step: String,
    pub minutes_ago: i64,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Refused {
    pub step: String,
    pub ago: Vec<i64>,
}

/// A step told although a rule stood against it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Outside {
    pub step: String,
    pub ago: i64,
    pub from: String,
}

/// The instructor let these steps stand.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Settled {
    pub steps: Vec<String>,
    pub reason: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Grades {
    pub categories: Vec<Category>,
    pub assessments: Vec<Assessment>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Category {
    pub key: String,
    pub title: String,
    pub weight_bp: i32,
    pub drop_lowest: i32,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Assessment {
    pub category: String,
    pub project: Option<String>,
    pub title: String,
    pub points: i64,
    pub ago: Option<i64>,
    pub handed_back: Option<i64>,
    /// By student number: points and a comment.
    #[serde(default)]
    pub scores: BTreeMap<String, (i64, String)>,
    /// By student number: a digit for the level of each proposed criterion, and a comment.
    #[serde(default)]
    pub judged: BTreeMap<String, (String, String)>,
    #[serde(default)]
    pub missing: Vec<String>,
}

/// What goes on in a class besides plates: a critique, second looks, rolls, duties, and what is granted.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Life {
    pub critique: Critique,
    pub second_looks: Vec<Look>,
    /// Students who are away now and then: at every so manieth meeting.
    pub away: BTreeMap<String, i64>,
    pub duties: Vec<Duty>,
    pub granted: Vec<Granted>,
    pub askings: Vec<Asking>,
}

/// Somebody asks for somebody of the staff; with a plate it is about the last one begun.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Asking {
    pub student: String,
    pub kind: Kind,
    pub plate: bool,
    pub place: String,
    pub minutes_ago: i64,
    pub answered_minutes_ago: Option<i64>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Critique {
    pub project: String,
    pub ago: i64,
    pub lines: BTreeMap<String, String>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Look {
    pub student: String,
    pub ago: i64,
    pub reason: String,
    pub answer: Option<String>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Duty {
    pub students: Vec<String>,
    pub what: What,
    pub ago: i64,
    pub outcome: Option<Outcome>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Granted {
    pub student: String,
    pub effect: Effect,
    pub percent: Option<i32>,
    pub words: String,
}

/// The script, as it is shipped.
///
/// # Errors
/// A file of `seed` does not say what these types ask for.
pub(super) fn read() -> Result<(School, Works, Life), Trouble> {
    let school =
        serde_json::from_str(SCHOOL).map_err(|error| Trouble::broken("reading seed/school.json", error))?;
    let works =
        serde_json::from_str(WORKS).map_err(|error| Trouble::broken("reading seed/works.json", error))?;
    let life =
        serde_json::from_str(LIFE).map_err(|error| Trouble::broken("reading seed/class_life.json", error))?;
    Ok((school, works, life))
}
