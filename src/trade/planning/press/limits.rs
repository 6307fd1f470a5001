//! Longest rests on the board: what was placed is looked at once all of a print is, and what came too soon before its
//! successor is held back. Wherever time runs, forward or mirrored, a limit is judged on the clock on the wall.

use chrono_tz::Tz;

use super::super::Millis;
use super::super::calendar::Span;
use super::super::hours::{end_of_day, start_of_day};
use super::board::Placed;

/// The longest rest before a task.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Limit {
    /// The task that rests, and those of the job it rests after, as their places among the job's tasks.
    pub(super) later: usize,
    pub(super) earlier: Vec<usize>,
    /// When the last of those that are done already ended.
    pub(super) since: Option<Millis>,
    pub(super) bound: Bound,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bound {
    /// It begins so long after the last of them at the latest.
    Within(Millis),
    /// All of it belongs to the local day on which the last of them ended.
    SameDay,
    BeginBy(Millis),
    EndBy(Millis),
}

/// How it stands with the limits of what was placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kept {
    All,
    /// This task must not begin before this moment (as the board's time runs); then it is to be tried again.
    Not {
        hold: usize,
        not_before: Millis,
    },
    /// Nothing that could be held would help.
    Never,
}

/// Judges limits. A limit that had passed at `from` already is nobody's to keep any more; pages warn of it instead.
pub(super) fn kept(limits: &[Limit], placed: &[Placed], mirrored: bool, from: Millis, zone: Tz) -> Kept {
    let wall = |task: usize| placed.get(task).and_then(|placed| placed.on_the_wall(mirrored));
    for limit in limits {
        let Some(later) = wall(limit.later) else { continue };
        let before = limit.earlier.iter().filter_map(|task| Some((*task, wall(*task)?)));
        let last = before.max_by_key(|(_, span)| span.finish);
        let ended = [last.map(|(_, span)| span.finish), limit.since].into_iter().flatten().max();
        let Some(by) = limit.bound.by(ended, zone) else { continue };
        let whole = matches!(limit.bound, Bound::SameDay | Bound::EndBy(_));
        let at = if whole { later.finish } else { later.start };
        if at <= by || by <= from {
            continue;
        }
        if mirrored {
            let not_before = if whole { -by } else { later.start - later.finish - by };
            return Kept::Not { hold: limit.later, not_before };
        }
        return match last.filter(|(_, span)| Some(span.finish) == ended) {
            Some((hold, span)) => match limit.bound.hold_until(later, zone) {
                Some(until) => Kept::Not { hold, not_before: span.start + (until - span.finish) },
                None => Kept::Never,
            },
            None => Kept::Never,
        };
    }
    Kept::All
}

impl Bound {
    /// The last moment it allows, those before having ended at `ended`.
    fn by(self, ended: Option<Millis>, zone: Tz) -> Option<Millis> {
        match self {
            Self::Within(most) => Some(ended?.saturating_add(most)),
            Self::SameDay => Some(end_of_day(ended?, zone)),
            Self::BeginBy(at) | Self::EndBy(at) => Some(at),
        }
    }

    /// Until when the one before is held back, so that it is kept where the later one was found.
    fn hold_until(self, later: Span, zone: Tz) -> Option<Millis> {
        match self {
            Self::Within(most) => Some(later.start.saturating_sub(most)),
            Self::SameDay => Some(start_of_day(later.finish.saturating_sub(1).max(later.start), zone)),
            Self::BeginBy(_) | Self::EndBy(_) => None,
        }
    }
}
