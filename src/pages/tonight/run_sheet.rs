//! The run sheet: what may begin before the evening ends, put on the stations of the studio. The minutes are those of the
//! procedures, so every time on it is an estimate.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::clock::Instant;
use crate::ids::PlateId;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::mixing::batch::Ready;
use crate::store::classes::rolls::Held;
use crate::store::plates::folder::Folder;
use crate::store::plates::plans::Look;
use crate::store::plates::premises::Premises;
use crate::store::studio::stations;
use crate::store::tonight::run_order::Item;
use crate::trade::civil;
use crate::trade::planning::evening::{self, Piece, Turn};
use crate::trade::planning::hours::end_of_day;
use crate::trade::planning::{DAY, MINUTE, Millis, PlatePlan};
use crate::trade::procedure::{Place, Records, RuleName, StepOutlook};

/// The stretch a run sheet is for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Evening {
    pub held: Option<Held>,
    pub from: Millis,
    pub until: Millis,
}

impl Evening {
    /// Today's meeting that is not over, the first of them; without one the rest of the day.
    pub(super) fn of(meetings: &[Held], now: Instant, zone: chrono_tz::Tz) -> Self {
        let today = now.local_date(zone);
        let at = |minute: i32| {
            let midnight = today.and_time(chrono::NaiveTime::MIN);
            let local = midnight + chrono::TimeDelta::minutes(minute.into());
            civil::instant(local, zone).timestamp_millis()
        };
        let held = meetings
            .iter()
            .filter(|held| held.day == today && at(held.to_minute) > now.millis())
            .min_by_key(|held| held.from_minute);
        match held {
            Some(held) => Self {
                held: Some(*held),
                from: at(held.from_minute).max(now.millis()),
                until: at(held.to_minute),
            },
            None => Self { held: None, from: now.millis(), until: end_of_day(now.millis(), zone) },
        }
    }
}

/// One step that may begin tonight.
#[derive(Debug, Clone)]
pub(super) struct Work<'a> {
    pub folder: &'a Folder,
    pub key: &'a str,
    pub title: &'a str,
    pub records: Records,
    pub place: &'a Place,
    piece: Piece,
    since: Option<Instant>,
}

impl Work<'_> {
    pub(super) fn item(&self) -> Item {
        (self.folder.row.id, self.key.to_owned())
    }

    /// What is to be mixed for it, if it is an etch that has not begun.
    pub(super) fn etch(&self) -> Option<Ready> {
        (self.records == Records::Etch && self.since.is_none()).then(|| Ready::of(self.folder, self.title))
    }
}

/// What is ready tonight, and what would be but for a rule.
#[derive(Debug, Clone, Default)]
pub(super) struct Found<'a> {
    pub works: Vec<Work<'a>>,
    held_up: Vec<(&'a Folder, &'a StepOutlook)>,
}

/// A plate of the class as it stands tonight.
pub(super) struct Looked {
    pub folder: Folder,
    pub look: Look,
    /// None where nothing is left to do on it, or where what is left cannot be planned.
    pub plan: Option<PlatePlan>,
}

/// Gathers the steps that may begin before the evening ends, and those that only lack a place because all of its kind are
/// out of order.
pub(super) fn found<'a>(looked: &'a [Looked], premises: &Premises, evening: &Evening) -> Found<'a> {
    let mut found = Found::default();
    for Looked { folder, look, plan } in looked {
        if folder.row.print.handed_in_at.is_some() || folder.replaced || folder.left() {
            continue;
        }
        let planned = plan.iter().flat_map(|plan| &plan.steps);
        for (step, planned) in look.remaining.iter().zip(planned) {
            let Some(stands) = look.outlook.step(&step.key) else { continue };
            let since = step.under_way_since.map(Instant::from_utc);
            let ready = planned.may_begin.filter(|at| *at < evening.until);
            let only_place = || stands.rules.is_empty() && all_down(&step.place, premises, evening.from);
            if since.is_none() && ready.is_none() && !only_place() {
                continue;
            }
            // What holds nothing up and has time is left for another day.
            let later = |by: Millis| by > evening.until.saturating_add(7 * DAY);
            if since.is_none() && step.beside_others && planned.start_by.is_some_and(later) {
                continue;
            }
            if since.is_none() && !stands.rules.only(&[RuleName::Rest]) {
                found.held_up.push((folder, stands));
                continue;
            }
            found.works.push(Work {
                folder,
                key: &step.key,
                title: &step.title,
                records: folder.procedure.find(&step.key).map(|step| step.records).unwrap_or_default(),
                place: &step.place,
                piece: Piece {
                    ready: ready.unwrap_or(evening.from).max(evening.from),
                    takes: step.minutes.saturating_mul(MINUTE),
                    start_by: planned.start_by,
                },
                since,
            });
        }
    }
    found
}

/// The places of the sheet, in the order of the page: stations as they were set up, then what needs none.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Spot {
    Station(usize),
    Unknown(String),
    Instructor,
    Anywhere,
}

fn spot(place: &Place, stations: &[stations::Station]) -> Spot {
    match place {
        Place::Anywhere => Spot::Anywhere,
        Place::Instructor => Spot::Instructor,
        Place::Station(word) => match stations.iter().position(|one| one.kind == *word) {
            Some(number) => Spot::Station(number),
            None => Spot::Unknown(word.clone()),
        },
    }
}

/// One place of the sheet.
struct Station<'a> {
    spot: Spot,
    /// In the order in which they go, with their turns.
    works: Vec<(Work<'a>, Option<Turn>)>,
    running: Vec<Work<'a>>,
    units: usize,
}

/// The places of the studio with what is ready for them.
pub(super) struct Sheet<'a> {
    places: Vec<Station<'a>>,
    held_up: Vec<(&'a Folder, &'a StepOutlook)>,
}

/// Puts what is ready on the stations: as people put it, else as the program does.
pub(super) fn sheet<'a>(
    found: Found<'a>,
    stations: &[stations::Station],
    premises: &Premises,
    kept: &[Item],
    evening: &Evening,
) -> Sheet<'a> {
    let mut by_spot: BTreeMap<Spot, Vec<Work<'a>>> = BTreeMap::new();
    for work in found.works {
        by_spot.entry(spot(work.place, stations)).or_default().push(work);
    }
    let places = by_spot
        .into_iter()
        .map(|(spot, works)| {
            let units = match &spot {
                Spot::Station(number) => {
                    stations.get(*number).map_or(0, |one| usable(&one.kind, premises, evening.from))
                }
                Spot::Instructor => 1,
                Spot::Unknown(_) | Spot::Anywhere => works.len(),
            };
            let (running, works): (Vec<_>, Vec<_>) = works.into_iter().partition(|one| one.since.is_some());
            let works = in_order(works, &running, units, kept, evening);
            Station { spot, works, running, units }
        })
        .collect();
    Sheet { places, held_up: found.held_up }
}

/// Whether the studio has such places, and all of them are out of order.
fn all_down(place: &Place, premises: &Premises, from: Millis) -> bool {
    let Place::Station(kind) = place else { return false };
    let known = premises.stations.iter().any(|one| one.name == *kind && one.count > 0);
    known && usable(kind, premises, from) == 0
}

/// Units of a kind that are not out of order when the evening begins.
fn usable(kind: &str, premises: &Premises, from: Millis) -> usize {
    let Some(kind) = premises.stations.iter().find(|one| one.name == kind) else { return 0 };
    let down =
        |unit: u32| kind.down.iter().any(|down| down.unit == unit && down.from <= from && from < down.to);
    (1..=kind.count).filter(|unit| !down(*unit)).count()
}

fn in_order<'a>(
    works: Vec<Work<'a>>,
    running: &[Work<'a>],
    units: usize,
    kept: &[Item],
    evening: &Evening,
) -> Vec<(Work<'a>, Option<Turn>)> {
    let pieces: Vec<Piece> = works.iter().map(|work| work.piece).collect();
    let items: Vec<Item> = works.iter().map(Work::item).collect();
    let found: Vec<Item> =
        evening::order(&pieces, evening.from).into_iter().filter_map(|at| items.get(at).cloned()).collect();
    let order: Vec<usize> = evening::merged(&found, kept)
        .iter()
        .filter_map(|item| items.iter().position(|one| one == item))
        .collect();
    // What runs holds its unit until its minutes are over.
    let over = |work: &Work<'_>| work.since.map(|since| since.millis().saturating_add(work.piece.takes));
    let mut free: Vec<Millis> =
        running.iter().filter_map(over).map(|at| at.max(evening.from)).take(units).collect();
    free.resize(units, evening.from);
    let turns = evening::turns(&pieces, &order, &free);
    let turn = |place: usize| turns.iter().find(|turn| turn.piece == place).copied();
    order.iter().filter_map(|place| Some((works.get(*place)?.clone(), turn(*place)))).collect()
}

impl Sheet<'_> {
    /// The items of the place where `item` stands, with `item` moved right before `above`; none where the two do not
    /// stand together any more.
    pub(super) fn moved(&self, item: &Item, above: &Item) -> Option<Vec<Item>> {
        let items =
            |place: &Station<'_>| -> Vec<Item> { place.works.iter().map(|(work, _)| work.item()).collect() };
        let mut order =
            self.places.iter().map(items).find(|items| items.contains(item) && items.contains(above))?;
        if item != above {
            order.retain(|one| one != item);
            let place = order.iter().position(|one| one == above)?;
            order.insert(place, item.clone());
        }
        Some(order)
    }

    pub(super) fn view(&self, ask: &InClass, stations: &[stations::Station], evening: &Evening) -> View {
        View {
            stations: self.places.iter().map(|place| station_view(ask, place, stations, evening)).collect(),
            held_up: self.held_up.iter().map(|(folder, step)| held_up(ask, folder, step)).collect(),
        }
    }
}

#[derive(Debug, Serialize)]
pub(super) struct View {
    stations: Vec<StationView>,
    held_up: Vec<HeldUp>,
}

#[derive(Debug, Serialize)]
struct StationView {
    name: String,
    /// Places of this kind that can be used tonight; none where they are not counted.
    units: Option<usize>,
    /// All of them are out of order.
    down: bool,
    lines: Vec<LineView>,
    running: Vec<LineView>,
}

#[derive(Debug, Serialize)]
struct LineView {
    plate: PlateId,
    number: i32,
    who: String,
    print_title: String,
    step: String,
    /// When its turn is likely to be; none: no place tonight.
    turn: Option<String>,
    until: Option<String>,
    start_by: Option<String>,
    late: bool,
    minutes: i64,
    item: String,
    /// The items before and behind it, which it can change places with.
    before: Option<String>,
    behind: Option<String>,
}

#[derive(Debug, Serialize)]
struct HeldUp {
    plate: PlateId,
    number: i32,
    who: String,
    step: String,
    sentences: Vec<String>,
    sign_off: bool,
}

/// A piece of work as a form names it.
pub(super) fn spell(item: &Item) -> String {
    format!("{}/{}", item.0, item.1)
}

/// Reads what `spell` wrote.
pub(super) fn read(text: &str) -> Option<Item> {
    let (plate, step) = text.split_once('/')?;
    Some((plate.parse().ok()?, step.to_owned()))
}

fn station_view(
    ask: &InClass,
    Station { spot, works, running, units }: &Station<'_>,
    stations: &[stations::Station],
    evening: &Evening,
) -> StationView {
    let speech = &ask.house.speech;
    let item =
        |place: Option<usize>| place.and_then(|place| works.get(place)).map(|(work, _)| spell(&work.item()));
    let line = |(place, (work, turn)): (usize, &(Work<'_>, Option<Turn>))| {
        let mut line = line_view(ask, work);
        let turn = turn.filter(|turn| turn.begin < evening.until);
        line.turn = turn.map(|turn| time(ask, turn.begin));
        line.until = turn.map(|turn| time(ask, turn.end));
        line.before = item(place.checked_sub(1));
        line.behind = item(Some(place + 1));
        line
    };
    StationView {
        name: match spot {
            Spot::Station(number) => stations.get(*number).map(|one| one.name.clone()).unwrap_or_default(),
            Spot::Unknown(word) => word.clone(),
            Spot::Instructor => speech.plain("tonight-spot-instructor"),
            Spot::Anywhere => speech.plain("tonight-spot-anywhere"),
        },
        units: matches!(spot, Spot::Station(_)).then_some(*units),
        down: *units == 0,
        lines: works.iter().enumerate().map(line).collect(),
        running: running.iter().map(|work| line_view(ask, work)).collect(),
    }
}

fn line_view(ask: &InClass, work: &Work<'_>) -> LineView {
    let row = &work.folder.row;
    let near = |at: Millis| dates::near(Instant::from_millis(at), ask.now(), ask.membership.zone);
    LineView {
        plate: row.id,
        number: row.number,
        who: format!("{} {}", row.person.given_name, row.person.family_name),
        print_title: row.print.title.clone(),
        step: work.title.to_owned(),
        turn: work.since.map(|since| time(ask, since.millis())),
        until: work.since.map(|since| time(ask, since.millis().saturating_add(work.piece.takes))),
        start_by: work.piece.start_by.map(near),
        late: work.since.is_none() && work.piece.start_by.is_some_and(|by| by < ask.now().millis()),
        minutes: work.piece.takes / MINUTE,
        item: spell(&work.item()),
        before: None,
        behind: None,
    }
}

fn time(ask: &InClass, at: Millis) -> String {
    dates::time(Instant::from_millis(at).local(ask.membership.zone))
}

fn held_up(ask: &InClass, folder: &Folder, step: &StepOutlook) -> HeldUp {
    let row = &folder.row;
    let broken = folder.verdict(step, ask.now()).broken;
    HeldUp {
        plate: row.id,
        number: row.number,
        who: format!("{} {}", row.person.given_name, row.person.family_name),
        step: step.title.to_string(),
        sentences: broken.iter().map(|one| ask.house.speech.remark(&one.remark)).collect(),
        sign_off: step.rules.contains(RuleName::SignOff),
    }
}
