//! The class on one sheet: every plate with its squares, late and stuck first.

use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{PersonId, PlateId};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::overview::progress::{Progress, progress};
use crate::pages::overview::square::{Square, squares, state_words};
use crate::pages::overview::today::flag_words;
use crate::pages::overview::{looked_at, span};
use crate::store::plates::folder::Folder;
use crate::store::plates::plans::Look;
use crate::trade::procedure::{Flag, StepState};

#[derive(Serialize)]
struct FlagView {
    class: &'static str,
    words: String,
}

#[derive(Serialize)]
struct Row {
    plate: PlateId,
    number: i32,
    print_title: String,
    squares: Vec<Square>,
    now: String,
    start_by: Option<String>,
    flags: Vec<FlagView>,
    in_hand: Option<String>,
}

#[derive(Serialize)]
struct Student {
    name: String,
    rows: Vec<Row>,
    height: usize,
}

#[derive(Serialize)]
struct Group {
    say: &'static str,
    students: Vec<Student>,
    count: usize,
}

#[derive(Serialize)]
struct Choice {
    show: &'static str,
    say: &'static str,
    count: usize,
    here: bool,
}

#[derive(Serialize)]
struct View {
    wide: bool,
    class_path: String,
    choices: Vec<Choice>,
    groups: Vec<Group>,
    people: usize,
    plates: usize,
    time: String,
    empty: bool,
    instructor: bool,
    progress: Option<Progress>,
}

/// Where a plate is listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Heap {
    Late,
    Stuck,
    Yours,
    OnCourse,
    Closed,
}

const HEAPS: [(Heap, &str, &str); 5] = [
    (Heap::Late, "late", "plates-heap-late"),
    (Heap::Stuck, "stuck", "plates-heap-stuck"),
    (Heap::Yours, "yours", "plates-heap-yours"),
    (Heap::OnCourse, "on-course", "plates-heap-on-course"),
    (Heap::Closed, "closed", "plates-heap-closed"),
];

fn heap(folder: &Folder, look: &Look) -> Heap {
    let flagged = |late: bool| look.flags.iter().any(|flag| matches!(flag, Flag::Late { .. }) == late);
    if folder.left() {
        return Heap::Closed;
    }
    // Late and stuck come first, whatever else is the matter: a log that waits to be settled makes nothing less late.
    if flagged(true) {
        return Heap::Late;
    }
    if flagged(false) {
        return Heap::Stuck;
    }
    if look.outlook.blocked_by.is_some() {
        return Heap::Yours;
    }
    let waits = look
        .outlook
        .next_step()
        .is_some_and(|next| next.waits_for_instructor && next.state == StepState::Ready);
    if waits {
        return Heap::Yours;
    }
    if look.outlook.finished || folder.replaced || folder.row.print.handed_in_at.is_some() {
        return Heap::Closed;
    }
    Heap::OnCourse
}

/// The class page; `?show=late` and so on narrow it.
pub async fn page(ask: InClass) -> Reply {
    let mut all: Vec<(Heap, Folder, Look)> = looked_at(&ask, None)
        .await?
        .into_iter()
        .map(|(folder, look)| (heap(&folder, &look), folder, look))
        .collect();
    let show = ask.query("show").unwrap_or_else(|| "all".into());
    let plates = all.len();
    let mut people: Vec<_> = all
        .iter()
        .filter(|(_, folder, _)| !folder.left())
        .map(|(_, folder, _)| folder.row.person.id)
        .collect();
    people.sort_unstable();
    people.dedup();
    let mut choices =
        vec![Choice { show: "all", say: "plates-heap-all", count: plates, here: show == "all" }];
    choices.extend(HEAPS.iter().map(|(heap, word, say)| Choice {
        show: word,
        say,
        count: all.iter().filter(|one| one.0 == *heap).count(),
        here: show == *word,
    }));
    all.sort_by(|a, b| in_order(a).cmp(&in_order(b)));
    let groups = HEAPS
        .iter()
        .filter(|(_, word, _)| show == "all" || show == *word)
        .filter_map(|(heap, _, say)| group(&ask, &all, *heap, say))
        .collect();
    let view = View {
        wide: true,
        class_path: format!("/classes/{}", ask.class()),
        choices,
        groups,
        people: people.len(),
        plates,
        time: dates::moment(ask.now(), ask.membership.zone),
        empty: plates == 0,
        instructor: ask.is_instructor(),
        progress: progress(all.iter().map(|(_, folder, look)| (folder, look)), &ask.house.speech),
    };
    ask.show("overview/class", "layout-class", &view)
}

/// By heap, person and number.
fn in_order((heap, folder, _): &(Heap, Folder, Look)) -> (Heap, &str, PersonId, i32) {
    let row = &folder.row;
    (*heap, &row.person.family_name, row.person.id, row.number)
}

fn group(ask: &InClass, all: &[(Heap, Folder, Look)], heap: Heap, say: &'static str) -> Option<Group> {
    let of_heap: Vec<_> = all.iter().filter(|one| one.0 == heap).collect();
    let students: Vec<Student> = of_heap
        .chunk_by(|a, b| a.1.row.person.id == b.1.row.person.id)
        .filter_map(|plates| {
            let person = &plates.first()?.1.row.person;
            let rows: Vec<Row> = plates.iter().map(|(_, folder, look)| row(ask, folder, look)).collect();
            let name = format!("{}, {}", person.family_name, person.given_name);
            Some(Student { name, height: rows.len(), rows })
        })
        .collect();
    (!students.is_empty()).then_some(Group { say, count: of_heap.len(), students })
}

fn row(ask: &InClass, folder: &Folder, look: &Look) -> Row {
    let (speech, now) = (&ask.house.speech, ask.now());
    let start_by = look.next_start_by();
    let due = folder.due().map(Instant::from_utc);
    let mut flags = flag_words(ask, look);
    // Among the late and the stuck, what is to be settled is still said.
    if look.outlook.blocked_by.is_some() && !flags.is_empty() {
        flags.push(("flag-yours", speech.plain("plates-to-settle")));
    }
    Row {
        plate: folder.row.id,
        number: folder.row.number,
        print_title: folder.row.print.title.clone(),
        squares: squares(speech, &look.outlook),
        now: match look.outlook.next_step() {
            Some(next) => format!("{} {}", next.title, state_words(speech, next.state)),
            None => speech.plain(&format!("plates-standing-{}", word(look))),
        },
        start_by: start_by.map(|at| dates::near(Instant::from_utc(at), now, folder.zone)),
        flags: flags.into_iter().map(|(class, words)| FlagView { class, words }).collect(),
        in_hand: due.filter(|due| *due > now && look.flags.is_empty()).map(|due| span(now, due)),
    }
}

fn word(look: &Look) -> &'static str {
    crate::trade::spelled::Spelled::word(look.outlook.standing)
}
