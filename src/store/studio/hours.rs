//! Hours: the openings of each weekday, days on which the studio stays closed, and openings of one day. They are wall
//! times; the zone is the term's of whoever asks. A closure closes the whole day, extra openings included.

use chrono::{Datelike, NaiveDate, NaiveDateTime, Timelike};
use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClosureId, ExtraOpeningId, OpeningId, StudioId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{closure, extra_opening, opening};
use crate::store::studio::brought_back::Gone;
use crate::store::studio::called_off::{Of, On};
use crate::store::studio::not_full;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Open every week from a minute of the day to another; weekdays count from Monday, 1, to Sunday, 7; a day has minutes
/// 0 to 1440, its end.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize, serde::Deserialize)]
pub struct Opening {
    pub id: OpeningId,
    pub weekday: i32,
    pub from_minute: i32,
    pub to_minute: i32,
}

/// A day on which the studio stays closed.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize, serde::Deserialize)]
pub struct Closure {
    pub id: ClosureId,
    pub day: NaiveDate,
    pub reason: String,
}

/// An opening of one day besides the weekly ones.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize, serde::Deserialize)]
pub struct ExtraOpening {
    pub id: ExtraOpeningId,
    pub day: NaiveDate,
    pub from_minute: i32,
    pub to_minute: i32,
    pub reason: String,
}

/// A studio's hours over a span of days. No weekly opening at all means that none were told yet.
#[derive(Debug, Clone, PartialEq, Eq, Default, serde::Serialize)]
pub struct OpenHours {
    pub weekly: Vec<Opening>,
    pub closures: Vec<Closure>,
    pub extra: Vec<ExtraOpening>,
}

impl OpenHours {
    /// The closure of a day, if there is one.
    #[must_use]
    pub fn closure_on(&self, day: NaiveDate) -> Option<&Closure> {
        self.closures.iter().find(|closure| closure.day == day)
    }

    /// The stretches of a day in minutes, weekly and extra ones together; none on a closed day.
    pub fn stretches_on(&self, day: NaiveDate) -> impl Iterator<Item = (i32, i32)> {
        let open = self.closure_on(day).is_none();
        let weekday = weekday_of(day);
        let weekly = self.weekly.iter().filter(move |opening| open && opening.weekday == weekday);
        let extra = self.extra.iter().filter(move |extra| open && extra.day == day);
        weekly
            .map(|opening| (opening.from_minute, opening.to_minute))
            .chain(extra.map(|extra| (extra.from_minute, extra.to_minute)))
    }

    /// Whether the studio opens at all on a day. Where no weekly hours are told, every day without closure counts.
    #[must_use]
    pub fn opens_on(&self, day: NaiveDate) -> bool {
        match self.weekly.is_empty() {
            true => self.closure_on(day).is_none(),
            false => self.stretches_on(day).next().is_some(),
        }
    }

    /// The minute of the day until which it stays open, if it is open at a wall time. Openings that overlap or touch
    /// count as one.
    #[must_use]
    pub fn open_until(&self, local: NaiveDateTime) -> Option<i32> {
        let mut until = i32::try_from(local.hour() * 60 + local.minute()).unwrap_or(i32::MAX);
        let mut open = false;
        let mut stretches: Vec<(i32, i32)> = self.stretches_on(local.date()).collect();
        stretches.sort_unstable();
        for (from, to) in stretches {
            let reached = if open { from <= until } else { (from..to).contains(&until) };
            if reached && to > until {
                (open, until) = (true, to);
            }
        }
        open.then_some(until)
    }

    /// Whether it is open at a wall time.
    #[must_use]
    pub fn is_open_at(&self, local: NaiveDateTime) -> bool {
        self.open_until(local).is_some()
    }
}

/// Monday is 1, Sunday 7, as in ISO 8601.
#[must_use]
pub fn weekday_of(day: NaiveDate) -> i32 {
    i32::try_from(day.weekday().number_from_monday()).unwrap_or(1)
}

/// The hours of a studio: all weekly openings, and the closures and extra openings from one day to another, both
/// included. Three statements.
///
/// # Errors
/// The database cannot be read.
pub fn open_hours(
    db: &mut AnyConnection,
    studio: StudioId,
    from: NaiveDate,
    to: NaiveDate,
) -> Result<OpenHours, Trouble> {
    Ok(OpenHours {
        weekly: opening::table
            .filter(opening::studio_id.eq(studio))
            .order((opening::weekday, opening::from_minute, opening::to_minute, opening::id))
            .select((opening::id, opening::weekday, opening::from_minute, opening::to_minute))
            .load(db)?,
        closures: closure::table
            .filter(closure::studio_id.eq(studio).and(closure::day.between(from, to)))
            .order(closure::day)
            .select((closure::id, closure::day, closure::reason))
            .load(db)?,
        extra: extra_opening::table
            .filter(extra_opening::studio_id.eq(studio).and(extra_opening::day.between(from, to)))
            .order((extra_opening::day, extra_opening::from_minute, extra_opening::id))
            .select((
                extra_opening::id,
                extra_opening::day,
                extra_opening::from_minute,
                extra_opening::to_minute,
                extra_opening::reason,
            ))
            .load(db)?,
    })
}

/// Part of a day, in minutes since midnight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Stretch {
    pub from_minute: i32,
    pub to_minute: i32,
}

impl Stretch {
    /// Checks the order; the complaint stands at the field `to`.
    ///
    /// # Errors
    /// It ends where or before it begins.
    pub fn check(self) -> Result<(), Trouble> {
        if 0 <= self.from_minute && self.from_minute < self.to_minute && self.to_minute <= 1440 {
            return Ok(());
        }
        let remark = Remark::new("studio-ends-before")
            .with("from", clock(self.from_minute))
            .with("to", clock(self.to_minute));
        Err(Trouble::about("to", remark))
    }
}

/// A minute of the day as a 24-hour clock shows it: 570 is 09:30, 1440 is 24:00.
#[must_use]
pub fn clock(minute: i32) -> String {
    format!("{:02}:{:02}", minute / 60, minute % 60)
}

impl Tx<'_> {
    /// Opens the studio each week on some weekdays. Openings may overlap: what is open twice is open.
    ///
    /// # Errors
    /// No weekday, an end before its beginning, or the database refuses.
    pub fn add_openings(
        &mut self,
        studio: StudioId,
        weekdays: &[i32],
        stretch: Stretch,
    ) -> Result<(), Trouble> {
        stretch.check()?;
        if weekdays.is_empty() || weekdays.iter().any(|weekday| !(1..=7).contains(weekday)) {
            return Err(Trouble::about("weekday", Remark::new("studio-no-weekday")));
        }
        for weekday in weekdays {
            let Stretch { from_minute, to_minute } = stretch;
            let row = Opening { id: self.id(), weekday: *weekday, from_minute, to_minute };
            self.put_opening(studio, &row)?;
        }
        self.journal("hours.opened", studio, &json!({ "weekdays": weekdays, "stretch": stretch }))
    }

    /// Takes a weekly opening away.
    ///
    /// # Errors
    /// `NotFound` where it is not of this studio, or the database refuses.
    pub fn remove_opening(&mut self, studio: StudioId, id: OpeningId) -> Result<(), Trouble> {
        let target = opening::table.filter(opening::id.eq(id).and(opening::studio_id.eq(studio)));
        let row: Opening = target
            .select((opening::id, opening::weekday, opening::from_minute, opening::to_minute))
            .first(self.connection)?;
        diesel::delete(target).execute(self.connection)?;
        let stretch = (row.from_minute, row.to_minute);
        self.call_off(&format!("open-{id}"), Of::Studio(studio), On::Weekday(row.weekday), stretch)?;
        self.journal("hours.removed", studio, &json!(Gone { studio, row }))
    }

    /// Closes the studio on each day from one to another, both included.
    ///
    /// # Errors
    /// Days out of order or too many, a day that is closed already, or the database refuses.
    pub fn add_closures(
        &mut self,
        studio: StudioId,
        first: NaiveDate,
        last: NaiveDate,
        reason: &str,
    ) -> Result<(), Trouble> {
        const MOST_DAYS: i64 = 60;
        if last < first {
            return Err(Trouble::about("last", Remark::new("studio-last-before-first")));
        }
        if last.signed_duration_since(first).num_days() >= MOST_DAYS {
            return Err(Trouble::about(
                "last",
                Remark::new("studio-closed-too-long").with("most", MOST_DAYS),
            ));
        }
        let known: Option<NaiveDate> = closure::table
            .filter(closure::studio_id.eq(studio).and(closure::day.between(first, last)))
            .order(closure::day)
            .select(closure::day)
            .first(self.connection)
            .optional()?;
        if let Some(day) = known {
            let remark = Remark::new("studio-closed-already").with("day", day.to_string());
            return Err(Trouble::about("first", remark));
        }
        for day in first.iter_days().take_while(|day| *day <= last) {
            let row = Closure { id: self.id(), day, reason: reason.to_owned() };
            self.put_closure(studio, &row)?;
        }
        self.journal("closure.added", studio, &json!({ "first": first, "last": last, "reason": reason }))
    }

    /// Takes a closure away: the day is open again as its weekday is.
    ///
    /// # Errors
    /// `NotFound` where it is not of this studio, or the database refuses.
    pub fn remove_closure(&mut self, studio: StudioId, id: ClosureId) -> Result<(), Trouble> {
        let target = closure::table.filter(closure::id.eq(id).and(closure::studio_id.eq(studio)));
        let row: Closure =
            target.select((closure::id, closure::day, closure::reason)).first(self.connection)?;
        diesel::delete(target).execute(self.connection)?;
        self.journal("closure.removed", studio, &json!(Gone { studio, row }))
    }

    /// Opens the studio on one day besides its weekly hours.
    ///
    /// # Errors
    /// An end before its beginning, a day that is closed, or the database refuses.
    pub fn add_extra_opening(
        &mut self,
        studio: StudioId,
        day: NaiveDate,
        stretch: Stretch,
        reason: &str,
    ) -> Result<(), Trouble> {
        stretch.check()?;
        let Stretch { from_minute, to_minute } = stretch;
        let row = ExtraOpening { id: self.id(), day, from_minute, to_minute, reason: reason.to_owned() };
        self.put_extra_opening(studio, &row)?;
        self.journal(
            "extra_opening.added",
            studio,
            &json!({ "day": day, "stretch": stretch, "reason": reason }),
        )
    }

    /// Keeps a weekly opening, new or brought back.
    pub(super) fn put_opening(&mut self, studio: StudioId, row: &Opening) -> Result<(), Trouble> {
        let rows = opening::table.filter(opening::studio_id.eq(studio)).count();
        not_full(rows.get_result(self.connection)?)?;
        diesel::insert_into(opening::table)
            .values((
                opening::id.eq(row.id),
                opening::studio_id.eq(studio),
                opening::weekday.eq(row.weekday),
                opening::from_minute.eq(row.from_minute),
                opening::to_minute.eq(row.to_minute),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    /// Keeps a closed day that is not closed yet, new or brought back.
    pub(super) fn put_closure(&mut self, studio: StudioId, row: &Closure) -> Result<(), Trouble> {
        diesel::insert_into(closure::table)
            .values((
                closure::id.eq(row.id),
                closure::studio_id.eq(studio),
                closure::day.eq(row.day),
                closure::reason.eq(&row.reason),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    /// Keeps an extra opening, new or brought back, on a day that is not closed.
    pub(super) fn put_extra_opening(&mut self, studio: StudioId, row: &ExtraOpening) -> Result<(), Trouble> {
        if self.is_closed(studio, row.day)? {
            let remark = Remark::new("studio-extra-on-closed").with("day", row.day.to_string());
            return Err(Trouble::about("day", remark));
        }
        let rows = extra_opening::table.filter(extra_opening::studio_id.eq(studio)).count();
        not_full(rows.get_result(self.connection)?)?;
        diesel::insert_into(extra_opening::table)
            .values((
                extra_opening::id.eq(row.id),
                extra_opening::studio_id.eq(studio),
                extra_opening::day.eq(row.day),
                extra_opening::from_minute.eq(row.from_minute),
                extra_opening::to_minute.eq(row.to_minute),
                extra_opening::reason.eq(&row.reason),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    pub(super) fn is_closed(&mut self, studio: StudioId, day: NaiveDate) -> Result<bool, Trouble> {
        let closed = closure::table.filter(closure::studio_id.eq(studio).and(closure::day.eq(day)));
        let rows: i64 = closed.count().get_result(self.connection)?;
        Ok(rows > 0)
    }

    /// Takes an extra opening away.
    ///
    /// # Errors
    /// `NotFound` where it is not of this studio, or the database refuses.
    pub fn remove_extra_opening(&mut self, studio: StudioId, id: ExtraOpeningId) -> Result<(), Trouble> {
        let target =
            extra_opening::table.filter(extra_opening::id.eq(id).and(extra_opening::studio_id.eq(studio)));
        let row: ExtraOpening = target
            .select((
                extra_opening::id,
                extra_opening::day,
                extra_opening::from_minute,
                extra_opening::to_minute,
                extra_opening::reason,
            ))
            .first(self.connection)?;
        diesel::delete(target).execute(self.connection)?;
        let stretch = (row.from_minute, row.to_minute);
        self.call_off(&format!("extra-{id}"), Of::Studio(studio), On::Day(row.day), stretch)?;
        self.journal("extra_opening.removed", studio, &json!(Gone { studio, row }))
    }
}
