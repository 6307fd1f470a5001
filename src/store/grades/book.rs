//! The book of a class: its rules, categories, assessments, scores and lateness, read in a fixed number of statements,
//! and the grades reckoned from them by `trade::grading`.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use chrono_tz::Tz;

use crate::clock::Instant;
use crate::ids::{AssessmentId, ClassId, PersonId};
use crate::store::classes::dues::{self, Dues};
use crate::store::connections::AnyConnection;
use crate::store::grades::assessments::{self, Assessment};
use crate::store::grades::categories::{self, Category};
use crate::store::grades::rules::{self, Rules};
use crate::store::grades::scores::{self, Score, Which};
use crate::store::grades::uncounted;
use crate::store::people::members::{self, Member};
use crate::store::people::sessions::Role;
use crate::store::plates::prints::{self, Print};
use crate::trade::exact::Exact;
use crate::trade::grading::{self, Grade, Item, Lateness, Status};
use crate::trade::lateness::Deadline;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Everything a class's grades follow from.
#[derive(Debug, Clone)]
pub struct Book {
    pub rules: Rules,
    pub categories: Vec<Category>,
    pub assessments: Vec<Assessment>,
    /// The students whose enrolment is in force, by family name; one alone for an owner.
    pub students: Vec<Member>,
    scores: BTreeMap<(AssessmentId, PersonId), Score>,
    /// Points supposed for work not yet marked; never stored.
    supposed: BTreeMap<(AssessmentId, PersonId), i64>,
    prints: Vec<Print>,
    dues: Dues,
    uncounted: BTreeSet<NaiveDate>,
    zone: Tz,
}

/// A student's grade, or why there is none.
pub type Outcome = Result<Grade, Remark>;

/// The grades of all students of a class, by family name. Nine statements, whatever the size of the class.
///
/// # Errors
/// The database cannot be read.
pub fn grades_of_class(
    db: &mut AnyConnection,
    class: ClassId,
    zone: Tz,
    which: Which,
) -> Result<Vec<(PersonId, Outcome)>, Trouble> {
    let book = open(db, class, zone, which, None)?;
    Ok(book.students.iter().map(|student| (student.person, book.grade(student.person))).collect())
}

/// A line of the table `grades`. What has no value is empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GradeRow {
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub student_number: String,
    /// Code and section, such as “LIT 220-01”.
    pub listing: String,
    /// Percent with four places.
    pub percent: String,
    /// Percent as the class rounds it.
    pub rounded: String,
    pub letter: String,
    /// Percent of the weight that has something counted.
    pub counted_weight: String,
    /// Why there is no grade.
    pub reason: Option<Remark>,
}

/// The grades of a class as a table. The statements of `grades_of_class`.
///
/// # Errors
/// The database cannot be read.
pub fn grade_rows(
    db: &mut AnyConnection,
    class: ClassId,
    zone: Tz,
    which: Which,
) -> Result<Vec<GradeRow>, Trouble> {
    let book = open(db, class, zone, which, None)?;
    Ok(book.students.iter().map(|student| grade_row(student, book.grade(student.person))).collect())
}

fn grade_row(student: &Member, outcome: Outcome) -> GradeRow {
    let (grade, reason) = match outcome {
        Ok(grade) => (Some(grade), None),
        Err(reason) => (None, Some(reason)),
    };
    let text = |read: fn(&Grade) -> Option<String>| grade.as_ref().and_then(read).unwrap_or_default();
    GradeRow {
        person: student.person,
        given_name: student.given_name.clone(),
        family_name: student.family_name.clone(),
        student_number: student.student_number.clone().unwrap_or_default(),
        listing: student.listing.clone().unwrap_or_default(),
        percent: text(Grade::percent_text),
        rounded: text(Grade::rounded_text),
        letter: text(|grade| grade.letter.clone()),
        counted_weight: text(|grade| Some(grade.counted_weight.to_string())),
        reason,
    }
}

/// Opens the book of a class; for an owner nothing of anybody else is read. Nine statements.
///
/// # Errors
/// The database cannot be read.
pub fn open(
    db: &mut AnyConnection,
    class: ClassId,
    zone: Tz,
    which: Which,
    owner: Option<PersonId>,
) -> Result<Book, Trouble> {
    let mut students = members::members(db, class)?;
    students.retain(|one| one.role.0 == Role::Student && owner.is_none_or(|owner| one.person == owner));
    Ok(Book {
        rules: rules::rules(db, class)?,
        categories: categories::categories(db, class)?,
        assessments: assessments::assessments(db, class)?,
        scores: scores::scores(db, class, which, owner)?
            .into_iter()
            .map(|score| ((score.assessment, score.person), score))
            .collect(),
        supposed: BTreeMap::new(),
        prints: prints::prints(db, class, None, owner)?,
        students,
        dues: dues::dues_of_class(db, class, zone, owner)?,
        uncounted: uncounted::uncounted(db, class)?,
        zone,
    })
}

impl Book {
    /// A person's score on an assessment.
    #[must_use]
    pub fn score(&self, assessment: AssessmentId, person: PersonId) -> Option<&Score> {
        self.scores.get(&(assessment, person))
    }

    /// The print of a person that an assessment is about.
    #[must_use]
    pub fn print(&self, assessment: &Assessment, person: PersonId) -> Option<&Print> {
        let named = self.score(assessment.id, person).and_then(|score| score.print);
        let named = named.and_then(|id| self.prints.iter().find(|print| print.id == id));
        named.or_else(|| scores::handed_in(&self.prints, assessment, person))
    }

    /// When a person's work for an assessment is due, with the grace and the uncounted days of the class; none without a
    /// project.
    #[must_use]
    pub fn deadline(&self, assessment: &Assessment, person: PersonId) -> Option<Deadline> {
        let due = self.dues.of(assessment.project?, person)?;
        Some(Deadline {
            due: due.local,
            personal_due: due.own.then_some(due.local),
            zone: self.zone,
            grace_minutes: u32::try_from(self.rules.grace_minutes).unwrap_or(0),
            uncounted: self.uncounted.clone(),
        })
    }

    /// Days late that began, those not counted included.
    #[must_use]
    pub fn days_begun(&self, deadline: &Deadline, received: Instant) -> u32 {
        Deadline { uncounted: BTreeSet::new(), ..deadline.clone() }.late(received.utc()).days
    }

    /// The day on which the work for an assessment is due; a person's own date where they have one.
    #[must_use]
    pub fn due_day(&self, assessment: &Assessment, person: PersonId) -> Option<chrono::NaiveDate> {
        self.deadline(assessment, person).map(|deadline| deadline.due_local().date())
    }

    /// Days late of what was handed in; 0 while nothing is.
    #[must_use]
    pub fn days_late(&self, assessment: &Assessment, person: PersonId) -> u32 {
        let received = self.print(assessment, person).and_then(|print| print.handed_in_at);
        self.deadline(assessment, person)
            .zip(received)
            .map_or(0, |(deadline, received)| deadline.late(received.utc()).days)
    }

    /// Puts a score in place of what is not yet marked, in this copy of the book alone: “what would it be if”.
    pub fn suppose(&mut self, assessment: AssessmentId, person: PersonId, points_hundredths: i64) {
        self.supposed.insert((assessment, person), points_hundredths);
    }

    /// Whether a person's work still waits for its mark.
    #[must_use]
    pub fn open(&self, assessment: AssessmentId, person: PersonId) -> bool {
        self.score(assessment, person).is_none_or(|score| score.status.0 == Status::Pending)
    }

    /// Reckons a person's grade from the scores the book was opened with; what has none is not yet marked.
    ///
    /// # Errors
    /// Why it cannot be reckoned, such as weights that miss 100 %.
    pub fn grade(&self, person: PersonId) -> Outcome {
        let categories: Vec<grading::Category> = self
            .categories
            .iter()
            .map(|category| grading::Category {
                name: category.title.clone(),
                weight: Exact::percent_from_basis_points(category.weight_bp.into()),
                drop_lowest: u32::try_from(category.drop_lowest).unwrap_or(0),
                items: self.of_category(category).map(|assessment| self.item(assessment, person)).collect(),
            })
            .collect();
        grading::reckon(&self.rules.scheme()?, &categories)
    }

    /// The assessments of a category.
    pub fn of_category<'b>(&'b self, category: &'b Category) -> impl Iterator<Item = &'b Assessment> {
        self.assessments.iter().filter(|assessment| assessment.category == category.id)
    }

    fn item(&self, assessment: &Assessment, person: PersonId) -> Item {
        let score = self.score(assessment.id, person);
        let supposed =
            self.supposed.get(&(assessment.id, person)).filter(|_| self.open(assessment.id, person));
        let known = score.and_then(|score| score.points_hundredths);
        Item {
            title: assessment.title.clone(),
            points: Exact::hundredths(assessment.points_hundredths),
            score: supposed.copied().or(known).map(Exact::hundredths),
            status: match supposed {
                Some(_) => Status::Graded,
                None => score.map_or(Status::Pending, |score| score.status.0),
            },
            lateness: Lateness::Days(self.days_late(assessment, person)),
            extra_credit: assessment.extra_credit,
        }
    }
}
