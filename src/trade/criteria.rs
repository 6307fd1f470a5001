//! Criteria: what a print is looked at for, in levels with words of the instructor's own. A level is worth a share of the
//! points its criterion has in an assessment; a mark is the sum. Points are whole hundredths, and a share that would
//! not come out even is refused where it is set, so nothing is ever rounded on the way to a score.

use serde::Deserialize;

use crate::trade::exact::Exact;
use crate::trade::remark::Remark;

/// How much of a criterion's points a level is worth: all of them.
pub const ALL_BP: i32 = 10_000;

/// One level of a criterion.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Level {
    pub title: String,
    pub descriptor: String,
    /// Basis points of the criterion's points.
    pub share_bp: i32,
}

/// What is wrong with one level; none is the criterion as a whole.
pub type Fault = (Option<usize>, Remark);

/// The points a level is worth where its criterion has so many; none where they are no whole hundredths.
#[must_use]
pub fn points(of_hundredths: i64, share_bp: i32) -> Option<i64> {
    let whole = of_hundredths.checked_mul(i64::from(share_bp))?;
    (whole % i64::from(ALL_BP) == 0).then_some(whole / i64::from(ALL_BP))
}

/// Checks the levels of a criterion: two at least, each with a title, from all of the points downwards.
///
/// # Errors
/// Every fault, with the level it is about.
pub fn check(levels: &[Level]) -> Result<(), Vec<Fault>> {
    let mut faults: Vec<Fault> = Vec::new();
    if levels.len() < 2 {
        faults.push((None, Remark::new("criteria-two-levels")));
    }
    for (place, level) in levels.iter().enumerate() {
        let share = Exact::percent_from_basis_points(level.share_bp.into()).to_string();
        if level.title.trim().is_empty() {
            faults.push((Some(place), Remark::new("criteria-level-untitled")));
        }
        let above = place.checked_sub(1).and_then(|above| levels.get(above));
        match above {
            None if level.share_bp != ALL_BP => {
                faults.push((Some(place), Remark::new("criteria-first-level-whole").with("share", share)));
            }
            Some(above) if above.share_bp <= level.share_bp => {
                let remark = Remark::new("criteria-levels-fall")
                    .with("share", share)
                    .with("above", Exact::percent_from_basis_points(above.share_bp.into()).to_string());
                faults.push((Some(place), remark));
            }
            _ => {}
        }
    }
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

/// A criterion the program proposes, with the points of 100 it is proposed for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proposal {
    pub title: String,
    pub about: String,
    pub points: i64,
    pub levels: Vec<Level>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Told {
    title: String,
    about: String,
    points: i64,
    levels: Vec<ToldLevel>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ToldLevel {
    title: String,
    share: i32,
    descriptor: String,
}

/// The criteria the program proposes: common practice, no published source. A class takes them over and rewrites them.
///
/// # Errors
/// The file is not the JSON of criteria; a test keeps that from being released.
pub fn proposals() -> Result<Vec<Proposal>, String> {
    let told: Vec<Told> = serde_json::from_str(include_str!("../../seed/criteria.json"))
        .map_err(|error| format!("seed/criteria.json: {error}"))?;
    let level = |level: ToldLevel| Level {
        title: level.title,
        descriptor: level.descriptor,
        share_bp: level.share * 100,
    };
    Ok(told
        .into_iter()
        .map(|one| Proposal {
            title: one.title,
            about: one.about,
            points: one.points,
            levels: one.levels.into_iter().map(level).collect(),
        })
        .collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_proposed_is_sound_and_makes_a_hundred_points() {
        let all = proposals().unwrap();
        assert_eq!(all.iter().map(|one| one.points).sum::<i64>(), 100);
        for one in &all {
            check(&one.levels).unwrap_or_else(|faults| panic!("{}: {faults:?}", one.title));
            for level in &one.levels {
                assert!(points(one.points * 100, level.share_bp).is_some(), "{}", one.title);
            }
        }
    }

    #[test]
    fn points_are_exact_or_refused() {
        // Arithmetic by hand: 85 % of 30 points are 25.5; a third of 10 points is no hundredth.
        assert_eq!(points(3000, 8500), Some(2550));
        assert_eq!(points(1000, 3333), None);
        assert_eq!(points(1000, 0), Some(0));
        assert_eq!(points(i64::MAX, 8500), None, "too many to multiply");
    }

    #[test]
    fn levels_fall_from_all_of_the_points() {
        let level =
            |title: &str, share_bp| Level { title: title.to_owned(), descriptor: String::new(), share_bp };
        let keys = |levels: &[Level]| -> Vec<(Option<usize>, &str)> {
            check(levels).unwrap_err().iter().map(|(place, remark)| (*place, remark.key)).collect()
        };
        assert_eq!(keys(&[level("Sure", 10_000)]), [(None, "criteria-two-levels")]);
        assert_eq!(
            keys(&[level("Sure", 9_000), level("", 9_000)]),
            [
                (Some(0), "criteria-first-level-whole"),
                (Some(1), "criteria-level-untitled"),
                (Some(1), "criteria-levels-fall")
            ]
        );
        assert!(check(&[level("Sure", 10_000), level("Not yet", 0)]).is_ok());
    }
}
