//! The grading rules of a class: lateness, work not handed in, rounding and the letter scale. A class that has kept none
//! is reckoned by the usual ones; they are stored with the first save of its rules or categories.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::ClassId;
use crate::store::connections::AnyConnection;
use crate::store::schema::grading_scheme;
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::exact::{Exact, Rounding, Ties};
use crate::trade::grading::{LateRule, Of, Scale, Scheme, Step};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// The rules as they are stored.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct Rules {
    /// Basis points that each day late takes.
    pub late_bp: i32,
    pub late_of: Word<Of>,
    /// Work later than this scores 0; none: no such limit.
    pub late_max_days: Option<i32>,
    pub grace_minutes: i32,
    pub missing_counts_zero: bool,
    pub rounding_places: i32,
    pub ties: Word<Ties>,
    /// One letter a line with the percent it begins at: `A 93`.
    pub scale: String,
    /// Goes up whenever the rules or the categories are saved; 0 while nothing is stored.
    pub version: i64,
}

/// Letters and where each begins: trade fact 6.1 (bestpercentagecalculator.net), a common scale among many.
pub const USUAL_SCALE: &str = "A 93\nA- 90\nB+ 87\nB 83\nB- 80\nC+ 77\nC 73\nC- 70\nD+ 67\nD 63\nD- 60\nF 0";

impl Rules {
    /// What holds until a class decides: 10 % of the possible points a day up to 5 days, work not handed in counts 0,
    /// whole percents with ties up (common practice, no published source; the scale: trade fact 6.1).
    #[must_use]
    pub fn usual() -> Self {
        Self {
            late_bp: 1000,
            late_of: Word(Of::Possible),
            late_max_days: Some(5),
            grace_minutes: 0,
            missing_counts_zero: true,
            rounding_places: 0,
            ties: Word(Ties::HalfUp),
            scale: USUAL_SCALE.to_owned(),
            version: 0,
        }
    }

    /// The same for `trade::grading`. Lateness reaches it in days, so the grace is seen to before.
    ///
    /// # Errors
    /// The scale cannot be read.
    pub fn scheme(&self) -> Result<Scheme, Remark> {
        let costs = self.late_bp > 0 || self.late_max_days.is_some();
        Ok(Scheme {
            late: costs.then(|| LateRule {
                percent_per_day: Exact::percent_from_basis_points(self.late_bp.into()),
                of: self.late_of.0,
                max_days: self.late_max_days.and_then(|days| u32::try_from(days).ok()),
                grace_hours: Exact::zero(),
            }),
            missing_counts_zero: self.missing_counts_zero,
            rounding: Rounding {
                places: u32::try_from(self.rounding_places).unwrap_or(0),
                ties: self.ties.0,
            },
            scale: read_scale(&self.scale)?,
        })
    }
}

/// Reads a letter scale, one letter a line with the percent it begins at; blank lines are passed over, no line at all is
/// a class without letters.
///
/// # Errors
/// A line that is not a letter and a number, or a scale that leaves a percent without its one letter.
pub fn read_scale(text: &str) -> Result<Scale, Remark> {
    let lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    let steps = lines.map(|line| {
        let step = line.rsplit_once(char::is_whitespace).and_then(|(letter, from)| {
            let from = Exact::decimal(&from.trim_end_matches('%').replace(',', "."))?;
            Some(Step { letter: letter.trim().to_owned(), from })
        });
        step.filter(|step| step.letter.chars().count() <= 20).ok_or_else(|| {
            Remark::new("grades-scale-line").with("line", line.chars().take(40).collect::<String>())
        })
    });
    Scale::new(steps.collect::<Result<_, _>>()?)
}

/// The rules of a class, the usual ones if it has kept none. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn rules(db: &mut AnyConnection, class: ClassId) -> Result<Rules, Trouble> {
    let found = grading_scheme::table
        .find(class)
        .select((
            grading_scheme::late_bp,
            grading_scheme::late_of,
            grading_scheme::late_max_days,
            grading_scheme::grace_minutes,
            grading_scheme::missing_counts_zero,
            grading_scheme::rounding_places,
            grading_scheme::ties,
            grading_scheme::scale,
            grading_scheme::version,
        ))
        .first(db)
        .optional()?;
    Ok(found.unwrap_or_else(Rules::usual))
}

impl Tx<'_> {
    /// Keeps the rules of a class; their version is the one that was seen.
    ///
    /// # Errors
    /// Stale when rules or categories were saved meanwhile; a complaint at `scale` when it cannot be used.
    pub fn keep_rules(&mut self, class: ClassId, new: &Rules) -> Result<(), Trouble> {
        read_scale(&new.scale).map_err(|remark| Trouble::about("scale", remark))?;
        self.next_rules_version(class, new.version)?;
        diesel::update(grading_scheme::table.find(class))
            .set((
                grading_scheme::late_bp.eq(new.late_bp),
                grading_scheme::late_of.eq(new.late_of),
                grading_scheme::late_max_days.eq(new.late_max_days),
                grading_scheme::grace_minutes.eq(new.grace_minutes),
                grading_scheme::missing_counts_zero.eq(new.missing_counts_zero),
                grading_scheme::rounding_places.eq(new.rounding_places),
                grading_scheme::ties.eq(new.ties),
                grading_scheme::scale.eq(&new.scale),
            ))
            .execute(self.connection)?;
        let detail = json!({
            "late_bp": new.late_bp, "late_of": new.late_of, "late_max_days": new.late_max_days,
            "grace_minutes": new.grace_minutes, "missing_counts_zero": new.missing_counts_zero,
            "rounding_places": new.rounding_places, "ties": new.ties, "scale": new.scale,
        });
        self.journal("grading-rules.kept", class, &detail)
    }

    /// Takes the next version of the rules and categories, if `seen` is the one that stands.
    pub(super) fn next_rules_version(&mut self, class: ClassId, seen: i64) -> Result<(), Trouble> {
        let standing = rules(self.connection, class)?;
        if standing.version != seen {
            return Err(Trouble::Stale(Remark::new("grades-rules-stale")));
        }
        if standing.version > 0 {
            diesel::update(grading_scheme::table.find(class))
                .set(grading_scheme::version.eq(seen + 1))
                .execute(self.connection)?;
            return Ok(());
        }
        diesel::insert_into(grading_scheme::table)
            .values((
                (grading_scheme::class_id.eq(class), grading_scheme::late_bp.eq(standing.late_bp)),
                grading_scheme::late_of.eq(standing.late_of),
                grading_scheme::late_max_days.eq(standing.late_max_days),
                grading_scheme::grace_minutes.eq(standing.grace_minutes),
                grading_scheme::missing_counts_zero.eq(standing.missing_counts_zero),
                grading_scheme::rounding_places.eq(standing.rounding_places),
                (grading_scheme::ties.eq(standing.ties), grading_scheme::scale.eq(&standing.scale)),
                grading_scheme::version.eq(1),
            ))
            .execute(self.connection)?;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_rules_are_a_scheme() {
        let scheme = Rules::usual().scheme().unwrap();
        let letter = |percent| scheme.scale.step(&Exact::whole(percent)).map(|step| step.letter.as_str());
        assert_eq!(
            (letter(93), letter(92), letter(60), letter(59)),
            (Some("A"), Some("A-"), Some("D-"), Some("F"))
        );
        assert_eq!(scheme.late.map(|late| late.max_days), Some(Some(5)));
    }

    #[test]
    fn scales_are_read_line_by_line() {
        let scale = read_scale("Very good 89,5 %\n\n  pass 50%\nfail 0\n").err();
        assert_eq!(scale.map(|remark| remark.key), Some("grades-scale-line"), "a number ends the line");
        let scale = read_scale("Very good 89,5\n\n  pass 50%\nfail 0\n").unwrap();
        assert_eq!(scale.step(&Exact::hundredths(8950)).map(|step| step.letter.as_str()), Some("Very good"));
        assert!(read_scale(" \n").unwrap().steps().is_empty());
        for (text, key) in
            [("A", "grades-scale-line"), ("A high", "grades-scale-line"), ("A 90", "grading-scale-gap")]
        {
            assert_eq!(read_scale(text).unwrap_err().key, key, "{text}");
        }
    }
}
