//! The list of plates: a student's own, or the whole class's, by print.

use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{PlateId, PrintId};
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::overview::looked_at;
use crate::pages::overview::square::{Square, squares};
use crate::pages::overview::today::flag_words;
use crate::trade::spelled::Spelled;

#[derive(Serialize)]
struct PlateLine {
    plate: PlateId,
    number: i32,
    materials: String,
    standing: String,
    rack_place: String,
    squares: Vec<Square>,
    next: Option<String>,
    flags: Vec<String>,
    replaced: bool,
}

#[derive(Serialize)]
struct PrintBlock {
    print: PrintId,
    title: String,
    who: Option<String>,
    project: String,
    due: Option<String>,
    handed_in: Option<String>,
    own: bool,
    plates: Vec<PlateLine>,
}

#[derive(Serialize)]
struct View {
    class_path: String,
    may_begin: bool,
    staff: bool,
    instructor: bool,
    prints: Vec<PrintBlock>,
}

/// The list.
pub async fn page(ask: InClass) -> Reply {
    let all = looked_at(&ask, ask.owner()).await?;
    let (now, zone) = (ask.now(), ask.membership.zone);
    let mut prints: Vec<PrintBlock> = Vec::new();
    for (folder, look) in &all {
        let row = &folder.row;
        let line = PlateLine {
            plate: row.id,
            number: row.number,
            materials: row.materials.clone(),
            standing: ask.house.speech.plain(&format!("plates-standing-{}", look.outlook.standing.word())),
            rack_place: row.rack_place.clone(),
            squares: squares(&ask.house.speech, &look.outlook),
            next: look.outlook.next_step().map(|next| next.title.to_string()),
            flags: flag_words(&ask, look).into_iter().map(|(_, words)| words).collect(),
            replaced: folder.replaced,
        };
        if let Some(block) = prints.iter_mut().find(|block| block.print == row.print.id) {
            block.plates.push(line);
            continue;
        }
        prints.push(PrintBlock {
            print: row.print.id,
            title: row.print.title.clone(),
            who: ask.is_staff().then(|| format!("{} {}", row.person.given_name, row.person.family_name)),
            project: row.project.title.clone(),
            due: folder.due().map(|at| dates::near(Instant::from_utc(at), now, zone)),
            handed_in: row.print.handed_in_at.map(|at| dates::near(at, now, zone)),
            own: row.person.id == ask.person.id,
            plates: vec![line],
        });
    }
    let view = View {
        class_path: format!("/classes/{}", ask.class()),
        may_begin: ask.owner().is_some(),
        staff: ask.is_staff(),
        instructor: ask.is_instructor(),
        prints,
    };
    ask.show("overview/plates", "layout-plates", &view)
}
