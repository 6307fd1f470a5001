//! The hall: where everybody starts, and from where a person goes to their classes. Each line says what waits there for
//! whoever reads it: a page that only listed names would leave them to look through every class.

use std::collections::HashMap;

use serde::Serialize;

use crate::ids::ClassId;
use crate::pages::answer::{Reply, see_other};
use crate::pages::dates;
use crate::pages::entry::Ask;
use crate::pages::roster::role_key;
use crate::store::AnyConnection;
use crate::store::classes::making::{self, ClassLine};
use crate::store::people::accounts::{self, ClassOf};
use crate::store::people::duties::{self, Waits};
use crate::store::people::sessions::Role;
use crate::trade::remark::Remark;

/// A class on the way in: where it begins for this person, and what they are there.
#[derive(Serialize)]
struct WayIn {
    path: String,
    title: String,
    term: String,
    role: String,
    /// What there is to do for them there; nothing where the class says so itself.
    waits: Option<String>,
    #[serde(skip)]
    hurries: bool,
}

/// What a keeper looks after, before any class.
#[derive(Serialize)]
struct Errand {
    path: String,
    sentence: String,
}

/// What only those ask for who work for the whole school.
#[derive(Default)]
struct School {
    classes: Vec<ClassLine>,
    waits: HashMap<ClassId, Waits>,
    /// Letters that could not be sent.
    failed: i64,
}

/// Whoever works for the whole school has a way into every class.
#[derive(Clone, Copy, PartialEq, Eq)]
enum OfSchool {
    Records,
    SafetyOfficer,
}

/// Where everybody starts: straight into the class where there is but one.
pub async fn page(ask: Ask) -> Reply {
    let person = ask.person()?.clone();
    let of_school = match (person.records, person.safety_officer) {
        (true, _) => Some(OfSchool::Records),
        (false, true) => Some(OfSchool::SafetyOfficer),
        (false, false) => None,
    };
    let now = ask.now();
    let keeper = person.keeper;
    let read = move |db: &mut AnyConnection| {
        let own = accounts::classes_of(db, person.id)?;
        let staffed: Vec<ClassId> = own.iter().filter(|one| is_staff(one)).map(|one| one.class).collect();
        let asking = if own.len() > 1 && !staffed.is_empty() {
            duties::asking(db, &staffed, now)?
        } else {
            HashMap::new()
        };
        if !keeper && of_school.is_none() {
            return Ok((own, asking, School::default()));
        }
        let failed = if keeper { duties::failed_letters(db)? } else { 0 };
        let school = School { classes: making::classes(db)?, waits: duties::waits(db, now)?, failed };
        Ok((own, asking, school))
    };
    let (own, asking, school) = ask.house.db.read(read).await?;
    if let ([only], false, None) = (own.as_slice(), keeper, of_school) {
        return Ok(see_other(format!("/classes/{}", only.class)));
    }
    let errands = if keeper { errands(&ask, &school) } else { Vec::new() };
    let mut classes: Vec<WayIn> =
        own.iter().map(|one| own_class(&ask, one, asking.get(&one.class).copied())).collect();
    if let Some(right) = of_school {
        let others = school.classes.iter().filter(|line| own.iter().all(|one| one.class != line.id));
        classes.extend(others.map(|line| any_class(&ask, line, right, school.waits.get(&line.id))));
    }
    // Of classes of equal urgency the newest term stays first.
    classes.sort_by_key(|one| !one.hurries);
    ask.show(
        "people/hall",
        "people-hall",
        &serde_json::json!({
            "classes": classes, "errands": errands, "keeper": keeper, "records": person.records,
            "says": classes.iter().any(|one| one.waits.is_some()),
        }),
    )
}

fn is_staff(one: &ClassOf) -> bool {
    matches!(one.role.0, Role::Instructor | Role::Assistant)
}

/// A class in which the person has a seat, and how many ask for somebody of its staff.
fn own_class(ask: &Ask, one: &ClassOf, asking: Option<i64>) -> WayIn {
    let count = |asking| ask.house.speech.remark(&Remark::new("tonight-count").with("count", asking));
    WayIn {
        path: format!("/classes/{}", one.class),
        title: one.title.clone(),
        term: one.term.clone(),
        role: ask.house.speech.plain(role_key(one.role.0)),
        waits: asking.map(count),
        hurries: asking.is_some(),
    }
}

/// A class into which a right for the whole school leads.
fn any_class(ask: &Ask, line: &ClassLine, right: OfSchool, waits: Option<&Waits>) -> WayIn {
    let speech = &ask.house.speech;
    let (path, role) = match right {
        OfSchool::Records => ("people", "people-right-records"),
        OfSchool::SafetyOfficer => ("sign-offs", "people-right-safety-officer"),
    };
    let told: Vec<(Remark, bool)> = waits.map_or_else(Vec::new, |waits| match right {
        OfSchool::Records => grades(waits).into_iter().collect(),
        OfSchool::SafetyOfficer => dangers(waits),
    });
    WayIn {
        path: format!("/classes/{}/{path}", line.id),
        title: line.title.clone(),
        term: line.term_name.clone(),
        role: speech.plain(role),
        hurries: told.iter().any(|(_, hurries)| *hurries),
        waits: (!told.is_empty()).then(|| {
            let sentences: Vec<String> = told.iter().map(|(remark, _)| speech.remark(remark)).collect();
            sentences.join(" ")
        }),
    }
}

/// What a safety officer sees to: sign-offs that end, bottles without a data sheet while the term lasts.
fn dangers(waits: &Waits) -> Vec<(Remark, bool)> {
    let sheets = if waits.term_over { 0 } else { waits.without_sheet };
    [("people-hall-ending", waits.ending), ("people-hall-without-sheet", sheets)]
        .into_iter()
        .filter(|(_, count)| *count > 0)
        .map(|(key, count)| (Remark::new(key).with("count", count), true))
        .collect()
}

/// How it stands with the grades of a class, and whether somebody should ask for them: the term is over.
fn grades(waits: &Waits) -> Option<(Remark, bool)> {
    let missing = waits.students - waits.submitted;
    let remark = match missing {
        _ if waits.students == 0 => return None,
        0 => Remark::new("people-hall-grades-all").with("count", waits.students),
        _ if waits.term_over => Remark::new("people-hall-grades-missing")
            .with("count", missing)
            .with("day", dates::day(waits.term_ends)),
        _ => Remark::new("people-hall-grades-later").with("day", dates::day(waits.term_ends)),
    };
    Some((remark, missing > 0 && waits.term_over))
}

/// What only a keeper can mend.
fn errands(ask: &Ask, school: &School) -> Vec<Errand> {
    let speech = &ask.house.speech;
    let unled = |line: &&ClassLine| {
        school.waits.get(&line.id).is_some_and(|waits| waits.instructors == 0 && !waits.term_over)
    };
    let mut errands: Vec<Errand> = school
        .classes
        .iter()
        .filter(unled)
        .map(|line| Errand {
            path: format!("/school/classes/{}/instructors", line.id),
            sentence: speech.remark(&Remark::new("people-hall-unled").with("class", line.title.clone())),
        })
        .collect();
    if school.failed > 0 {
        errands.push(Errand {
            path: "/school/letters?state=failed".to_owned(),
            sentence: speech.remark(&Remark::new("people-hall-failed").with("count", school.failed)),
        });
    }
    errands
}
