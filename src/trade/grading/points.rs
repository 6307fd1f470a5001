//! Grade points: a letter's worth, and the average over courses weighed by credits.

use crate::trade::exact::{Exact, Rounding};
use crate::trade::remark::Remark;

/// Letters and the points each is worth. Schools differ, so a school may bring its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PointScale(Vec<(String, Exact)>);

/// One finished course.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Course {
    pub title: String,
    pub credits: Exact,
    pub letter: String,
}

/// The usual points in hundredths: trade fact 6.1 (psychweb.wustl.edu, article 32; A+ counts as A there).
const USUAL: &[(&str, i64)] = &[
    ("A+", 400),
    ("A", 400),
    ("A-", 370),
    ("B+", 330),
    ("B", 300),
    ("B-", 270),
    ("C+", 230),
    ("C", 200),
    ("C-", 170),
    ("D+", 130),
    ("D", 100),
    ("D-", 70),
    ("F", 0),
];

impl PointScale {
    /// The usual four-point scale.
    #[must_use]
    pub fn usual() -> Self {
        Self(
            USUAL.iter().map(|(letter, points)| ((*letter).to_owned(), Exact::hundredths(*points))).collect(),
        )
    }

    /// A school's own scale.
    ///
    /// # Errors
    /// A letter is given twice, or is worth less than nothing.
    pub fn new(letters: Vec<(String, Exact)>) -> Result<Self, Remark> {
        for (place, (letter, points)) in letters.iter().enumerate() {
            let wrong =
                |key| Remark::new(key).with("letter", letter.as_str()).with("value", points.to_string());
            if points.is_negative() {
                return Err(wrong("grading-letter-points-negative"));
            }
            if letters.iter().take(place).any(|(earlier, _)| earlier == letter) {
                return Err(wrong("grading-letter-points-twice"));
            }
        }
        Ok(Self(letters))
    }

    /// What a letter is worth.
    #[must_use]
    pub fn points(&self, letter: &str) -> Option<&Exact> {
        self.0.iter().find(|(known, _)| known == letter).map(|(_, points)| points)
    }

    /// The exact average over the courses, or none when they carry no credits.
    ///
    /// # Errors
    /// A letter without points (leave courses taken for pass or audit out) or negative credits.
    pub fn average(&self, courses: &[Course]) -> Result<Option<Exact>, Remark> {
        let (mut earned, mut credits) = (Exact::zero(), Exact::zero());
        for course in courses {
            if course.credits.is_negative() {
                return Err(Remark::new("grading-credits-negative")
                    .with("course", course.title.as_str())
                    .with("value", course.credits.to_string()));
            }
            let points = self.points(&course.letter).ok_or_else(|| {
                Remark::new("grading-letter-without-points")
                    .with("course", course.title.as_str())
                    .with("letter", course.letter.as_str())
            })?;
            earned = &earned + &(points * &course.credits);
            credits = &credits + &course.credits;
        }
        Ok(earned.over(&credits))
    }

    /// The average as a registrar prints it; some round, some cut off.
    ///
    /// # Errors
    /// As [`PointScale::average`], or more places than can be asked for.
    pub fn average_text(&self, courses: &[Course], rounding: Rounding) -> Result<Option<String>, Remark> {
        rounding.check()?;
        Ok(self.average(courses)?.map(|average| average.text(rounding)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn course(credits: i64, letter: &str) -> Course {
        Course { title: "Plates".to_owned(), credits: Exact::whole(credits), letter: letter.to_owned() }
    }

    #[test]
    fn what_has_no_points_is_named() {
        let usual = PointScale::usual();
        assert_eq!(usual.average(&[]), Ok(None));
        assert_eq!(usual.average(&[course(3, "P")]).unwrap_err().key, "grading-letter-without-points");
        assert_eq!(usual.average(&[course(-3, "A")]).unwrap_err().key, "grading-credits-negative");
        let twice = vec![("A".to_owned(), Exact::whole(4)), ("A".to_owned(), Exact::whole(3))];
        assert_eq!(PointScale::new(twice).unwrap_err().key, "grading-letter-points-twice");
        let negative = vec![("F".to_owned(), Exact::whole(-1))];
        assert_eq!(PointScale::new(negative).unwrap_err().key, "grading-letter-points-negative");
    }
}
