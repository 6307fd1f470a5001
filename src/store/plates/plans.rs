//! From a plate's folder to its plan: the steps still to do within the studio's hours, back from the due date; and
//! whether the plate is late or stuck.

use chrono::{DateTime, Utc};

use crate::clock::Instant;
use crate::store::plates::folder::Folder;
use crate::store::plates::premises::Ground;
use crate::trade::planning::{Ask, PlatePlan, Remaining, Rests, outlook, start_bys};
use crate::trade::procedure::{Flag, LatestStarts, Outlook, RemainingStep, Watch};
use crate::trade::remark::Remark;

/// What is known about a plate at a moment.
#[derive(Debug, Clone)]
pub struct Look {
    pub outlook: Outlook,
    pub flags: Vec<Flag>,
    pub remaining: Vec<RemainingStep>,
    /// Latest starts by step key.
    pub start_by: LatestStarts,
}

impl Look {
    /// The latest start of the next step.
    #[must_use]
    pub fn next_start_by(&self) -> Option<DateTime<Utc>> {
        self.outlook.next.as_deref().and_then(|key| self.start_by.get(key))
    }

    /// The plan of the steps still to do, in the order of `remaining`; none where nothing is left. Only for pages that show
    /// it: the latest starts are in the look.
    ///
    /// # Errors
    /// The procedure and the class's limit under gum cannot both be kept, or its minutes are no plan's: what to change.
    pub fn plan(&self, folder: &Folder, ground: &Ground, now: Instant) -> Result<Option<PlatePlan>, Remark> {
        let left = left(&self.remaining, ground, now)?;
        Ok(left.map(|left| outlook(&left.graph, &ground.calendar, &asked(&left, due(folder), now))))
    }
}

/// Judges a plate and finds the latest starts of the rest of its way.
#[must_use]
pub fn look(folder: &Folder, ground: &Ground, now: Instant) -> Look {
    let seen = folder.case().seen(now.utc());
    let remaining = seen.remaining(folder.sheets());
    let mut start_by = LatestStarts::with_capacity(remaining.len());
    // Of steps that cannot be planned the plan's own page says why.
    if let Ok(Some(left)) = left(&remaining, ground, now) {
        let starts = start_bys(&left.graph, &ground.calendar, &asked(&left, due(folder), now));
        for (step, start) in remaining.iter().zip(starts) {
            if let Some(at) = start.and_then(DateTime::from_timestamp_millis) {
                start_by.insert(step.key.clone(), at);
            }
        }
    }
    let watch = Watch {
        begun: folder.row.created_at.utc(),
        latest_starts: &start_by,
        refusals: &folder.refusals,
        replaced: folder.replaced,
        lost: false,
    };
    let over = is_handed_in(folder) || folder.left();
    let flags = if over { Vec::new() } else { seen.late_or_stuck(&watch) };
    Look { outlook: seen.outlook, flags, remaining, start_by }
}

fn is_handed_in(folder: &Folder) -> bool {
    folder.row.print.handed_in_at.is_some()
}

/// What is handed in is due no more.
fn due(folder: &Folder) -> Option<DateTime<Utc>> {
    folder.due().filter(|_| !is_handed_in(folder))
}

fn left(remaining: &[RemainingStep], ground: &Ground, now: Instant) -> Result<Option<Remaining>, Remark> {
    Remaining::of(remaining, &ground.kinds, now.millis())
}

fn asked(left: &Remaining, due: Option<DateTime<Utc>>, now: Instant) -> Ask<'_> {
    Ask {
        start: now.millis(),
        due: due.map(|due| due.timestamp_millis()),
        sheets: 0,
        states: &left.states,
        rests: Rests::Advised,
    }
}
