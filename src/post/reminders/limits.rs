//! Warnings of a limit that passes before the next daily letter: a second etch that belongs to the day of its roll-up, a
//! plate too long under gum. At most one for each cause ever.

use std::collections::{HashMap, HashSet};

use serde::{Deserialize, Serialize};

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PlateId};
use crate::post::reminders::facts::{Class, begins, next_begins};
use crate::store::letters::daily::{self, Reader};
use crate::store::letters::{Kind, NewLetter};
use crate::store::people::sessions::Role;
use crate::store::plates::folder::Folder;
use crate::store::plates::plans::Look;
use crate::trouble::Trouble;

/// Nobody is warned while they may still stand at the table: so long after their last step,
const AT_THE_TABLE_MS: i64 = 60 * 60_000;
/// unless there is less time than this left to begin.
const HURRY_MS: i64 = 120 * 60_000;

/// What a warning's row holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Urgent {
    pub class: ClassId,
    /// The zone its times are written in.
    pub zone: String,
    pub plate: PlateId,
    pub number: i32,
    pub title: String,
    /// The step that has to begin.
    pub step: String,
    /// The limit is the end of the day on which its rest began.
    pub same_day: bool,
    /// The last start, and the limit itself, in milliseconds of `Instant`.
    pub by: i64,
    pub limit: i64,
}

/// The warnings of a class that are still to be written.
pub(super) fn warnings(
    class: &Class<'_>,
    readers: &[Reader],
    had: &HashSet<String>,
    now: Instant,
) -> Result<Vec<NewLetter>, Trouble> {
    if daily::quiet(now, class.place.zone, &class.place.closed).is_some() {
        return Ok(Vec::new());
    }
    let students = readers.iter().filter(|one| one.urgent && one.role == Role::Student);
    let students: HashMap<PersonId, &Reader> = students.map(|one| (one.person, one)).collect();
    let mut letters = Vec::new();
    for (folder, look) in &class.plates {
        let Some(reader) = students.get(&folder.row.person.id) else { continue };
        let Some((key, urgent)) = warning(class, folder, look, reader, now) else { continue };
        let cause = daily::urgent_cause(folder.row.id, &key, Instant::from_millis(urgent.limit));
        if had.contains(&cause) {
            continue;
        }
        letters.push(NewLetter {
            kind: Kind::Urgent,
            person: reader.person,
            class: Some(class.place.class),
            cause: Some(cause),
            detail: serde_json::to_value(&urgent)
                .map_err(|error| Trouble::broken("writing a warning", error))?,
            not_before: now,
        });
    }
    Ok(letters)
}

fn warning(
    class: &Class<'_>,
    folder: &Folder,
    look: &Look,
    reader: &Reader,
    now: Instant,
) -> Option<(String, Urgent)> {
    if folder.replaced || folder.row.print.handed_in_at.is_some() || look.outlook.blocked_by.is_some() {
        return None;
    }
    let limited = look.remaining.iter().filter(|step| step.under_way_since.is_none());
    let (step, limit) = limited
        .filter_map(|step| Some((step, Instant::from_utc(step.latest_by?))))
        .filter(|(_, limit)| *limit > now)
        .min_by_key(|(_, limit)| *limit)?;
    let next = next_begins(class.place, reader.hour);
    if next.is_some_and(|next| limit >= next) || told_today(class, look, reader, limit, now) {
        return None;
    }
    let by = look.start_by.get(&step.key).map_or(limit, |by| Instant::from_utc(by).min(limit));
    let last = folder.runs.iter().filter_map(|run| run.ended_at).max();
    let at_the_table = last.is_some_and(|ended| now.millis() - ended.millis() < AT_THE_TABLE_MS);
    // Waiting until they have left must not lead into the quiet hours, in which nothing is sent.
    let later = daily::quiet(now.plus_ms(AT_THE_TABLE_MS), class.place.zone, &class.place.closed);
    if at_the_table && by.millis() - now.millis() > HURRY_MS && later.is_none() {
        return None;
    }
    let urgent = Urgent {
        class: class.place.class,
        zone: class.place.zone.name().to_owned(),
        plate: folder.row.id,
        number: folder.row.number,
        title: folder.row.print.title.clone(),
        step: step.title.to_string(),
        same_day: step.same_day,
        by: by.millis(),
        limit: limit.millis(),
    };
    Some((step.key.to_string(), urgent))
}

/// Whether the daily letter of this morning told the same limit: one under gum that ran then already.
fn told_today(class: &Class<'_>, look: &Look, reader: &Reader, limit: Instant, now: Instant) -> bool {
    let gum = &look.outlook.gum;
    let of_gum = gum.until.map(Instant::from_utc) == Some(limit);
    let stood_at = begins(class.place, reader.hour).filter(|stood_at| *stood_at <= now);
    let ran =
        stood_at.zip(gum.gummed).is_some_and(|(stood_at, gummed)| Instant::from_utc(gummed) <= stood_at);
    reader.daily && of_gum && ran
}
