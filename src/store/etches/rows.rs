//! The rows of etch logs: each entry with its plate, its run, its applications, its containers' marks, who wrote it down
//! and how it came up, in one statement.

use std::collections::HashMap;

use diesel::prelude::*;
use diesel::sql_types::{BigInt, Bool, Integer, Nullable, Text};

use crate::ids::{ClassId, EtchId, PersonId, PlateId};
use crate::store::connections::AnyConnection;
use crate::store::etches::came_up::Seen;
use crate::store::etches::entries::{Entry, Part};
use crate::store::etches::logs::{Asked, Filter, Log, PlateLine, RunLine};
use crate::store::plates::folder::seconds_told;
use crate::store::standing::Standing;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

#[derive(Queryable)]
struct Row {
    entry: Entry,
    plate: PlateLine,
    run: RunLine,
    /// Seconds of each application, in order, joined by commas; None without applications.
    applications: Option<String>,
    /// The marks of the gum, the acid and the stock etch.
    marks: (Option<String>, Option<String>, Option<String>),
    by_given: String,
    by_family: String,
    came_up: Option<Seen>,
}

type EntryColumns = (
    Text,
    Text,
    Text,
    Text,
    Nullable<BigInt>,
    Text,
    Text,
    BigInt,
    BigInt,
    Text,
    PouredColumns,
    Text,
    Text,
    Text,
    Nullable<Text>,
);

type PouredColumns = (
    Text,
    Nullable<Text>,
    Nullable<BigInt>,
    Nullable<Text>,
    Nullable<Text>,
    Nullable<Integer>,
    Nullable<Text>,
    Nullable<BigInt>,
    Nullable<Integer>,
    Nullable<Integer>,
    Bool,
    Nullable<Integer>,
    Nullable<Text>,
    Nullable<Integer>,
    Nullable<Integer>,
    Nullable<Integer>,
);

/// The columns of a row, in order.
type Columns = (
    EntryColumns,
    (Text, Integer, Text, Text, Text, Text, Text),
    (Text, Nullable<BigInt>, Text, Text, Bool),
    Nullable<Text>,
    (Nullable<Text>, Nullable<Text>, Nullable<Text>),
    Text,
    Text,
    Nullable<(Text, Text, Nullable<Text>, Text, Text, Text, Text, Text, BigInt, Nullable<Text>)>,
);

const LOGS: &str = "SELECT etch.id, etch.step_run_id, etch.step_key, etch.root, etch.superseded_at, etch.reason, \
     etch.by_id, etch.at, etch.received_at, etch.known_how, \
     etch.recipe, etch.gum_id, etch.gum_microlitres, etch.gum_unit, etch.acid_id, etch.drops, etch.stock_id, \
     etch.stock_microlitres, etch.gum_baume_tenths, etch.gum_ph_hundredths, etch.gum_sour, etch.acid_weight_bp, \
     etch.acid_kind, etch.drops_per_ml_hundredths, etch.drops_spread_hundredths, etch.measured_ph_hundredths, \
     etch.tool, etch.helper, etch.seen, etch.doubts, \
     plate.id, plate.number, print.title, person.id, person.given_name, person.family_name, \
     plate.procedure_version_id, \
     step_run.outside_rules, step_run.settled_at, step_run.planned_seconds, step_run.in_room, \
     EXISTS (SELECT 1 FROM second_account AS told WHERE told.plate_id = step_run.plate_id \
     AND told.step_run_id = step_run.id), \
     (SELECT string_agg(CAST(one.seconds AS TEXT), ',' ORDER BY one.position) FROM etch_application AS one \
     WHERE one.etch_id = etch.id), \
     gum.letter || CAST(gum.number AS TEXT), acid.letter || CAST(acid.number AS TEXT), \
     stock.letter || CAST(stock.number AS TEXT), writer.given_name, writer.family_name, \
     came_up.id, came_up.etch_root, came_up.step_run_id, came_up.how, came_up.note, came_up.by_id, \
     seer.given_name, seer.family_name, came_up.at, came_up.corrects \
     FROM etch JOIN plate ON plate.id = etch.plate_id JOIN print ON print.id = plate.print_id \
     JOIN person ON person.id = plate.person_id JOIN step_run ON step_run.id = etch.step_run_id \
     JOIN person AS writer ON writer.id = etch.by_id LEFT JOIN container AS gum ON gum.id = etch.gum_id \
     LEFT JOIN container AS acid ON acid.id = etch.acid_id LEFT JOIN container AS stock ON stock.id = etch.stock_id \
     LEFT JOIN came_up ON came_up.etch_root = etch.root AND came_up.superseded_at IS NULL \
     LEFT JOIN person AS seer ON seer.id = came_up.by_id WHERE etch.class_id = ";
const STAND_OF: &str = " AND etch.superseded_at IS NULL AND plate.person_id = ";
const STAND_OF_ANY: &str = " AND etch.superseded_at IS NULL AND (";
const OWNER: &str = " = '' OR plate.person_id = ";
const NEWEST_FIRST: &str = ") ORDER BY etch.at DESC, etch.received_at DESC, etch.id DESC";

const OF_PLATE: [&str; 5] = [LOGS, " AND etch.plate_id = ", STAND_OF_ANY, OWNER, NEWEST_FIRST];
const OF_ROOT: [&str; 6] =
    [LOGS, " AND etch.plate_id = ", " AND etch.root = ", " AND (", OWNER, NEWEST_FIRST];
const LAST_OF: [&str; 3] =
    [LOGS, STAND_OF, " ORDER BY etch.at DESC, etch.received_at DESC, etch.id DESC LIMIT 1"];
const OF_CLASS: [&str; 12] = [
    LOGS,
    STAND_OF_ANY,
    OWNER,
    ") AND (",
    " = '' OR etch.gum_id = ",
    " OR etch.acid_id = ",
    " OR etch.stock_id = ",
    ") AND (",
    " = '' OR COALESCE(came_up.how, 'not told') = ",
    ") ORDER BY etch.at DESC, etch.received_at DESC, etch.id DESC LIMIT CAST(",
    " AS BIGINT) OFFSET CAST(",
    " AS BIGINT)",
];

/// The logs of a plate as they stand, newest first.
pub(super) fn of_plate(
    db: &mut AnyConnection,
    class: ClassId,
    plate: PlateId,
    owner: Option<PersonId>,
) -> Result<Vec<Log>, Trouble> {
    let owner = owner_text(owner.as_ref());
    Ok(logs(
        Standing::<Columns, _>::in_order(|| &OF_PLATE, &[class.as_str(), plate.as_str(), owner, owner])
            .load(db)?,
    ))
}

/// All entries of one log, the one that stands first.
pub(super) fn of_root(
    db: &mut AnyConnection,
    class: ClassId,
    plate: PlateId,
    root: EtchId,
    owner: Option<PersonId>,
) -> Result<Vec<Log>, Trouble> {
    let owner = owner_text(owner.as_ref());
    let values = [class.as_str(), plate.as_str(), root.as_str(), owner, owner];
    Ok(logs(Standing::<Columns, _>::in_order(|| &OF_ROOT, &values).load(db)?))
}

/// The newest log of a person in a class.
pub(super) fn last_of(
    db: &mut AnyConnection,
    class: ClassId,
    person: PersonId,
) -> Result<Option<Log>, Trouble> {
    let question = Standing::<Columns, _>::in_order(|| &LAST_OF, &[class.as_str(), person.as_str()]);
    Ok(question.first(db)?.map(log))
}

/// Logs of a class as they stand, newest first, narrowed.
pub(super) fn of_class(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
    filter: &Filter,
    skip: i64,
    take: i64,
) -> Result<Vec<Log>, Trouble> {
    let owner = owner_text(owner.as_ref());
    let container = filter.container.as_ref().map_or("", |id| id.as_str());
    let how = match filter.came_up {
        Some(Asked::So(how)) => how.word(),
        Some(Asked::NotToldYet) => "not told",
        None => "",
    };
    let (take, skip) = (take.to_string(), skip.to_string());
    let values =
        [class.as_str(), owner, owner, container, container, container, container, how, how, &take, &skip];
    Ok(logs(Standing::<Columns, _>::in_order(|| &OF_CLASS, &values).load(db)?))
}

/// Anybody's, where it is empty.
fn owner_text(owner: Option<&PersonId>) -> &str {
    owner.map_or("", |id| id.as_str())
}

fn logs(rows: Vec<Row>) -> Vec<Log> {
    rows.into_iter().map(log).collect()
}

fn log(row: Row) -> Log {
    let (gum, acid, stock) = row.marks;
    let marks: HashMap<_, _> = [(Part::Gum, gum), (Part::Acid, acid), (Part::Stock, stock)]
        .into_iter()
        .filter_map(|(part, mark)| row.entry.poured.named(part).zip(mark))
        .collect();
    Log {
        applications: seconds_told(row.applications.as_deref().unwrap_or_default()),
        came_up: row.came_up,
        marks,
        by_name: format!("{} {}", row.by_given, row.by_family),
        entry: row.entry,
        plate: row.plate,
        run: row.run,
    }
}
