//! The picture of the class's progress: for each project how many plates wait at or are in which step, and the same as a
//! table. A plate that was replaced or whose student left is not counted.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::speech::Speech;
use crate::store::plates::folder::Folder;
use crate::store::plates::plans::Look;

const WIDTH: i64 = 360;
/// Where the bars begin, after the name of the step, and the room they have before the figures.
const LEFT: i64 = 150;
const ROOM: i64 = 176;
const ROW: i64 = 24;
const HEAD: i64 = 30;
/// The widest one plate is drawn.
const PLATE: i64 = 16;

/// What the template draws and lists.
#[derive(Debug, Serialize)]
pub struct Progress {
    width: i64,
    height: i64,
    left: i64,
    projects: Vec<Project>,
}

#[derive(Debug, Serialize)]
struct Project {
    title: String,
    text_y: i64,
    line_y: i64,
    plates: usize,
    rows: Vec<Row>,
}

#[derive(Debug, Serialize)]
struct Row {
    step: String,
    text_y: i64,
    y: i64,
    width: i64,
    plates: usize,
    /// Nothing is left to do at this one.
    through: bool,
}

/// Where one plate stands: its project by due date, the place of its step on the way, and the step.
#[derive(Debug, Clone)]
struct Stand {
    project: (String, String),
    /// None: nothing is left to do.
    step: Option<(usize, String)>,
}

/// Draws where the plates of the class stand; none where there is no plate.
#[must_use]
pub fn progress<'a>(
    plates: impl Iterator<Item = (&'a Folder, &'a Look)>,
    speech: &Speech,
) -> Option<Progress> {
    let counted = plates.filter(|(folder, _)| !folder.left() && !folder.replaced);
    let stands: Vec<Stand> = counted.map(|(folder, look)| stand(folder, look)).collect();
    (!stands.is_empty()).then(|| draw(&stands, &speech.plain("progress-through")))
}

fn stand(folder: &Folder, look: &Look) -> Stand {
    let project = &folder.row.project;
    let handed_in = folder.row.print.handed_in_at.is_some();
    let next = look.outlook.next.as_deref().filter(|_| !handed_in && !look.outlook.finished);
    let place = next.and_then(|key| look.outlook.steps.iter().position(|step| *step.key == *key));
    let step = place.and_then(|place| Some((place, look.outlook.steps.get(place)?.title.to_string())));
    Stand { project: (project.due_local.clone(), project.title.clone()), step }
}

/// A step's name, how many plates stand there, and whether it is the end of the way.
type Counted = (String, usize, bool);

fn draw(stands: &[Stand], through: &str) -> Progress {
    let mut projects: BTreeMap<&(String, String), Vec<&Stand>> = BTreeMap::new();
    for stand in stands {
        projects.entry(&stand.project).or_default().push(stand);
    }
    let counted: Vec<(&str, Vec<Counted>)> = projects
        .into_iter()
        .map(|((_, title), of_project)| (title.as_str(), steps(&of_project, through)))
        .collect();
    let most = counted.iter().flat_map(|(_, steps)| steps).map(|(_, plates, _)| *plates).max().unwrap_or(1);
    let one = (ROOM / i64::try_from(most).unwrap_or(i64::MAX).max(1)).min(PLATE);
    let mut y = 0;
    let projects =
        counted.into_iter().map(|(title, steps)| project(title, steps, one, most, &mut y)).collect();
    Progress { width: WIDTH, height: y + 4, left: LEFT, projects }
}

/// The steps at which plates of one project stand, in the order of the way, each with their number.
fn steps(of_project: &[&Stand], through: &str) -> Vec<Counted> {
    // A step of the same name in two procedures is one line, at the earlier of its places.
    let mut found: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for (place, step) in of_project.iter().filter_map(|stand| stand.step.as_ref()) {
        let known = found.entry(step).or_insert((*place, 0));
        *known = (known.0.min(*place), known.1 + 1);
    }
    let mut found: Vec<(usize, &str, usize)> =
        found.into_iter().map(|(step, (place, plates))| (place, step, plates)).collect();
    found.sort_unstable();
    let done = of_project.iter().filter(|stand| stand.step.is_none()).count();
    let steps = found.into_iter().map(|(_, step, plates)| (step.to_owned(), plates, false));
    steps.chain((done > 0).then(|| (through.to_owned(), done, true))).collect()
}

fn project(title: &str, steps: Vec<(String, usize, bool)>, one: i64, most: usize, y: &mut i64) -> Project {
    let text_y = *y + 20;
    *y += HEAD;
    let line_y = *y - 4;
    let plates = steps.iter().map(|(_, plates, _)| plates).sum();
    let rows = steps
        .into_iter()
        .map(|(step, plates, through)| {
            let top = *y;
            *y += ROW;
            let count = i64::try_from(plates).unwrap_or(i64::MAX);
            // A very full class has less than a unit for a plate: then the longest bar fills the room.
            let width = match one {
                0 => count.saturating_mul(ROOM) / i64::try_from(most).unwrap_or(i64::MAX).max(1),
                one => count.saturating_mul(one),
            };
            Row { step, text_y: top + 16, y: top + 5, width: width.max(2), plates, through }
        })
        .collect();
    Project { title: title.to_owned(), text_y, line_y, plates, rows }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stand(project: &str, step: Option<(usize, &str)>) -> Stand {
        Stand {
            project: (format!("2026-11-{project}"), project.to_owned()),
            step: step.map(|(place, title)| (place, title.to_owned())),
        }
    }

    #[test]
    fn each_plate_is_counted_once_and_steps_stand_in_the_order_of_the_way() {
        let stands = [
            stand("20", Some((4, "proof"))),
            stand("20", Some((2, "etch"))),
            stand("20", None),
            stand("10", Some((2, "etch"))),
            stand("20", Some((5, "proof"))),
        ];
        let drawn = draw(&stands, "nothing left");
        let said: Vec<(&str, usize)> =
            drawn.projects.iter().map(|one| (one.title.as_str(), one.plates)).collect();
        assert_eq!(said, [("10", 1), ("20", 4)], "the earlier due date first");
        let rows = |place: usize| -> Vec<(&str, usize)> {
            drawn.projects[place].rows.iter().map(|row| (row.step.as_str(), row.plates)).collect()
        };
        assert_eq!(rows(0), [("etch", 1)]);
        assert_eq!(rows(1), [("etch", 1), ("proof", 2), ("nothing left", 1)]);
        assert!(drawn.projects[1].rows[2].through && !drawn.projects[1].rows[1].through);
        let all: Vec<&Row> = drawn.projects.iter().flat_map(|one| &one.rows).collect();
        assert!(
            all.windows(2).all(|pair| pair[0].y < pair[1].y) && all.iter().all(|row| row.y < drawn.height)
        );
    }

    #[test]
    fn a_full_class_stays_inside_the_picture() {
        for count in [1, 12, 300, 5_000] {
            let stands: Vec<Stand> = (0..count).map(|_| stand("10", Some((1, "draw")))).collect();
            let width = draw(&stands, "").projects[0].rows[0].width;
            assert!((2..=ROOM).contains(&width), "{count}: {width}");
        }
    }
}
