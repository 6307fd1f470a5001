//! Rests and limits: how long a plate has rested before a step, and what is said about resting too long.
//!
//! Rests run on the clock, through nights and closed days. Only the shortest rest is a rule; the longest one,
//! the same day and the time under gum warn before they are reached and are named once they are passed.

use chrono::{DateTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::chart::StepAt;
use super::history::Entry;
use super::step::{Maximum, spelled_minutes};
use super::timeline::{Gum, TOLD_ROUNDING, Timeline};
use super::verdict::Case;
use crate::spelled;
use crate::trade::civil;
use crate::trade::remark::Remark;

spelled!(
    /// What a warning is about.
    WarningName {
        /// The advised rest is not over.
        AdvisedRest = "advised_rest",
        LongestRestNear = "longest_rest_near",
        LongestRestPassed = "longest_rest_passed",
        /// The step belongs to today.
        SameDayEnds = "same_day_ends",
        SameDayPassed = "same_day_passed",
        GumNear = "gum_near",
        GumPassed = "gum_passed",
    }
);

/// Something to know before starting; it refuses nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warning {
    pub name: WarningName,
    pub remark: Remark,
    /// When the advised rest ends, or when the limit is or was reached.
    pub until: DateTime<Utc>,
}

/// The time a plate has been under gum.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct GumClock {
    /// The last gumming, while that gum is still on the plate.
    pub gummed: Option<DateTime<Utc>>,
    /// Since when the plate has been without gum, if gum was taken off and not renewed.
    pub off_since: Option<DateTime<Utc>>,
    /// The class's limit, else the procedure's.
    pub limit_minutes: Option<i64>,
    /// When the limit is reached.
    pub until: Option<DateTime<Utc>>,
}

/// The rest before a step, as far as it has a beginning.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Rested {
    pub(super) began: Option<DateTime<Utc>>,
    /// The end of the shortest rest.
    pub(super) rule: Option<DateTime<Utc>>,
    /// The end of the advised rest, never before the shortest.
    pub(super) advised: Option<DateTime<Utc>>,
}

impl WarningName {
    /// Whether a limit has been passed, rather than being near or only advised.
    #[must_use]
    pub fn is_passed(self) -> bool {
        matches!(self, Self::LongestRestPassed | Self::SameDayPassed | Self::GumPassed)
    }
}

impl Case<'_> {
    /// The rest before `step`.
    pub(super) fn rested(&self, step: StepAt<'_>, line: &Timeline<'_>) -> Rested {
        let Some(began) = line.last_end(step.rests_from()) else { return Rested::default() };
        let minimum = step.rest.minimum.max(0);
        let ends = |minutes: i64| (minutes > 0).then(|| later(began, minutes));
        Rested { began: Some(began), rule: ends(minimum), advised: ends(step.rest.advised.max(minimum)) }
    }

    /// Everything to warn of before `step` is started at `at`.
    pub(super) fn warnings(&self, step: StepAt<'_>, line: &Timeline<'_>, at: DateTime<Utc>) -> Vec<Warning> {
        let rested = self.rested(step, line);
        let advised = rested.advised.filter(|until| at < *until && rested.rule.is_none_or(|rule| at >= rule));
        let advised = advised.map(|until| Warning {
            name: WarningName::AdvisedRest,
            remark: Remark::new("procedure-advised-rest")
                .with("step", step.title.as_str())
                .with("rest", spelled_minutes(step.rest.advised))
                .with("left", spelled_minutes(minutes_between(at, until))),
            until,
        });
        advised.into_iter().chain(self.limit(step, &rested, line, at)).collect()
    }

    /// Whether a run that happened began past one of its step's limits: whether judging it would warn of one.
    pub(super) fn went_past_a_limit(&self, entry: &Entry) -> bool {
        let step = self.procedure.find_at(&entry.step).filter(|step| step.rest.maximum.is_some());
        let Some(step) = step else { return false };
        let line = Timeline::before(self.procedure, self.history, &entry.step, entry.began);
        let limit = self.limit_at(step, &line, entry.began);
        limit.is_some_and(|limit| limit.name.is_passed())
    }

    /// The gum clock of the plate.
    pub(super) fn gum_clock(&self, line: &Timeline<'_>) -> GumClock {
        let limit_minutes = self.gum_limit_minutes();
        match line.gum() {
            Gum::Never => GumClock { limit_minutes, ..GumClock::default() },
            Gum::Off(since) => GumClock { off_since: Some(since), limit_minutes, ..GumClock::default() },
            Gum::On(since) => GumClock {
                gummed: Some(since),
                off_since: None,
                limit_minutes,
                until: limit_minutes.map(|minutes| later(since, minutes)),
            },
        }
    }

    /// The class's limit under dry gum, else the procedure's.
    pub(super) fn gum_limit_minutes(&self) -> Option<i64> {
        self.choice.gum_limit_minutes.or(self.procedure.gum_limit_minutes)
    }

    /// When the longest rest before `step` is over, if it has one that runs.
    pub(super) fn latest_by(&self, step: StepAt<'_>, line: &Timeline<'_>) -> Option<DateTime<Utc>> {
        let maximum = step.rest.maximum?;
        let began = line.last_end(step.rests_from());
        match maximum {
            Maximum::Minutes(minutes) => began.map(|began| later(began, minutes)),
            Maximum::UnderGum => self.gum_clock(line).until,
            Maximum::SameDay { met_by_talc_and_gum } => began
                .filter(|began| !(met_by_talc_and_gum && rolled_up_and_safe(*began, line, self.zone)))
                .map(|began| day_ends(began, self.zone)),
        }
    }

    /// The limit before `step` that is near or passed, without a sentence.
    fn limit_at(&self, step: StepAt<'_>, line: &Timeline<'_>, at: DateTime<Utc>) -> Option<Limit> {
        let until = self.latest_by(step, line)?;
        match step.rest.maximum? {
            Maximum::Minutes(minutes) => {
                let names = (WarningName::LongestRestNear, WarningName::LongestRestPassed);
                timed(names, minutes, until, at)
            }
            Maximum::UnderGum => self.gum_limit_at(line, at),
            Maximum::SameDay { .. } => {
                let passed = at >= until;
                let name = if passed { WarningName::SameDayPassed } else { WarningName::SameDayEnds };
                Some(Limit { name, minutes: 0, until })
            }
        }
    }

    fn gum_limit_at(&self, line: &Timeline<'_>, at: DateTime<Utc>) -> Option<Limit> {
        let clock = self.gum_clock(line);
        timed((WarningName::GumNear, WarningName::GumPassed), clock.limit_minutes?, clock.until?, at)
    }

    fn limit(
        &self,
        step: StepAt<'_>,
        rested: &Rested,
        line: &Timeline<'_>,
        at: DateTime<Utc>,
    ) -> Option<Warning> {
        let limit = self.limit_at(step, line, at)?;
        let of_step = |remark: Remark| remark.with("step", step.title.as_str());
        let (name, until) = (limit.name, limit.until);
        let day = || rested.began.map(|began| civil::wall(began, self.zone).date().to_string());
        let day = |key| of_step(Remark::new(key).with("day", day().unwrap_or_default()));
        let remark = match name {
            WarningName::SameDayEnds => day("procedure-same-day-ends"),
            WarningName::SameDayPassed => day("procedure-same-day-passed"),
            WarningName::LongestRestNear => of_step(limit.remark("procedure-longest-rest-near", at)),
            WarningName::LongestRestPassed => of_step(limit.remark("procedure-longest-rest-passed", at)),
            WarningName::GumNear | WarningName::GumPassed | WarningName::AdvisedRest => limit.of_gum(at),
        };
        Some(Warning { name, remark, until })
    }

    /// The warning about the time under gum, whatever step comes next.
    pub(super) fn gum_warning(&self, line: &Timeline<'_>, at: DateTime<Utc>) -> Option<Warning> {
        let limit = self.gum_limit_at(line, at)?;
        Some(Warning { name: limit.name, remark: limit.of_gum(at), until: limit.until })
    }
}

/// A limit that is near or was passed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Limit {
    name: WarningName,
    minutes: i64,
    until: DateTime<Utc>,
}

impl Limit {
    /// How long the limit is, and how far it is passed or how much is left.
    fn remark(&self, key: &'static str, at: DateTime<Utc>) -> Remark {
        let remark = Remark::new(key).with("limit", spelled_minutes(self.minutes));
        if self.name.is_passed() {
            remark.with("over", spelled_minutes(minutes_between(self.until, at)))
        } else {
            remark.with("left", spelled_minutes(minutes_between(at, self.until)))
        }
    }

    fn of_gum(&self, at: DateTime<Utc>) -> Remark {
        let passed = self.name.is_passed();
        self.remark(if passed { "procedure-gum-passed" } else { "procedure-gum-near" }, at)
    }
}

/// Near in the last quarter of a limit, at most a day before it; passed from then on.
fn timed(
    names: (WarningName, WarningName),
    minutes: i64,
    until: DateTime<Utc>,
    at: DateTime<Utc>,
) -> Option<Limit> {
    if at > until {
        return Some(Limit { name: names.1, minutes, until });
    }
    let is_near = minutes_between(at, until) <= (minutes / 4).min(24 * 60);
    is_near.then_some(Limit { name: names.0, minutes, until })
}

/// Whether the plate was put down talced and under gum on the local day its rest began.
fn rolled_up_and_safe(began: DateTime<Utc>, line: &Timeline<'_>, zone: Tz) -> bool {
    let from = began.checked_sub_signed(TOLD_ROUNDING).unwrap_or(began);
    let day = civil::wall(began, zone).date();
    line.put_downs().iter().any(|put_down| {
        put_down.talc
            && put_down.gummed
            && put_down.at >= from
            && civil::wall(put_down.at, zone).date() == day
    })
}

/// The first instant of the next local day.
fn day_ends(at: DateTime<Utc>, zone: Tz) -> DateTime<Utc> {
    let next = civil::wall(at, zone).date().succ_opt().and_then(|day| day.and_hms_opt(0, 0, 0));
    next.map_or(DateTime::<Utc>::MAX_UTC, |midnight| civil::instant(midnight, zone))
}

/// That many minutes later, or the end of the calendar.
pub(super) fn later(at: DateTime<Utc>, minutes: i64) -> DateTime<Utc> {
    TimeDelta::try_minutes(minutes)
        .and_then(|span| at.checked_add_signed(span))
        .unwrap_or(DateTime::<Utc>::MAX_UTC)
}

/// Whole minutes from one instant to a later one, a begun minute counted.
pub(super) fn minutes_between(from: DateTime<Utc>, to: DateTime<Utc>) -> i64 {
    let milliseconds = to.signed_duration_since(from).num_milliseconds();
    milliseconds.div_euclid(60_000) + i64::from(milliseconds.rem_euclid(60_000) > 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> DateTime<Utc> {
        civil::rfc3339("at", text).unwrap()
    }

    #[test]
    fn a_local_day_ends_at_its_midnight_also_when_clocks_change() {
        // Python 3.11 zoneinfo (tzdata 2025b): datetime(y, m, d+1, tzinfo=ZoneInfo(..)).astimezone(utc).
        let cases = [
            (chrono_tz::America::New_York, "2026-03-08T05:30:00Z", "2026-03-09T04:00:00Z"),
            (chrono_tz::America::New_York, "2026-11-01T04:30:00Z", "2026-11-02T05:00:00Z"),
            (chrono_tz::Europe::Berlin, "2026-10-25T12:00:00Z", "2026-10-25T23:00:00Z"),
            (chrono_tz::UTC, "2026-10-25T23:59:59Z", "2026-10-26T00:00:00Z"),
            // Beirut puts its clock forward at midnight: 29 March 2026 has no 00:00 and begins at 01:00.
            (chrono_tz::Asia::Beirut, "2026-03-28T12:00:00Z", "2026-03-28T22:00:00Z"),
        ];
        for (zone, inside, end) in cases {
            assert_eq!(day_ends(at(inside), zone), at(end), "{zone} {inside}");
        }
    }

    #[test]
    fn a_limit_warns_in_its_last_quarter_but_at_most_a_day_before() {
        let until = at("2026-10-10T12:00:00Z");
        let names = (WarningName::GumNear, WarningName::GumPassed);
        let name = |limit, when: &str| timed(names, limit, until, at(when)).map(|it| it.name);
        assert_eq!(name(8 * 60, "2026-10-10T09:59:59Z"), None);
        assert_eq!(name(8 * 60, "2026-10-10T10:00:00Z"), Some(WarningName::GumNear));
        assert_eq!(name(8 * 60, "2026-10-10T12:00:00Z"), Some(WarningName::GumNear));
        assert_eq!(name(8 * 60, "2026-10-10T12:00:01Z"), Some(WarningName::GumPassed));
        assert_eq!(name(14 * 1440, "2026-10-09T11:59:00Z"), None);
        assert_eq!(name(14 * 1440, "2026-10-09T12:00:00Z"), Some(WarningName::GumNear));
    }

    #[test]
    fn begun_minutes_count() {
        let start = at("2026-10-10T12:00:00Z");
        for (end, minutes) in
            [("2026-10-10T12:00:00Z", 0), ("2026-10-10T12:00:01Z", 1), ("2026-10-10T12:01:00Z", 1)]
        {
            assert_eq!(minutes_between(start, at(end)), minutes);
        }
        assert_eq!(later(start, i64::MAX), DateTime::<Utc>::MAX_UTC);
    }
}
