//! Grades of the demo school: categories and assessments at the term's beginning, marks as they were given.

use super::deeds::Diary;
use super::school::{Founded, found};
use super::script::{Assessment, Works};
use crate::ids::{AssessmentId, ClassId, CriterionId};
use crate::store::grades::assessments::AssessmentDraft;
use crate::store::grades::categories::{self, CategoryDraft};
use crate::store::grades::criteria;
use crate::store::grades::marks::PrintMark;
use crate::store::grades::rules;
use crate::store::grades::scores::Mark;
use crate::store::{Db, Scope, Tx};
use crate::trade::criteria::proposals;
use crate::trade::grading::Status;
use crate::trouble::Trouble;

/// Sets up what will be marked.
///
/// # Errors
/// The script names what is not there.
pub(super) async fn set_up(db: &Db, school: &Founded, works: &Works) -> Result<Vec<AssessmentId>, Trouble> {
    let (at, by) = (school.calendar.at(47, "18:00")?, school.person("instructor")?);
    let (school, told) = (school.clone(), works.grades.clone());
    db.write(Scope::Class(school.class), Some(by), at, move |tx| {
        let drafts: Vec<CategoryDraft> = told
            .categories
            .iter()
            .map(|one| CategoryDraft {
                id: None,
                title: one.title.clone(),
                weight_bp: one.weight_bp,
                drop_lowest: one.drop_lowest,
            })
            .collect();
        let seen = rules::rules(tx.connection, school.class)?.version;
        tx.keep_categories(school.class, seen, &drafts)?;
        let kept = categories::categories(tx.connection, school.class)?;
        tx.begin_usual_criteria(school.class)?;
        told.assessments
            .iter()
            .map(|one| {
                let place = told.categories.iter().position(|category| category.key == one.category);
                let category = place.and_then(|place| kept.get(place)).ok_or(Trouble::NotFound)?.id;
                let project = one.project.as_ref().map(|key| found(&school.projects, key)).transpose()?;
                let draft = AssessmentDraft {
                    category,
                    project,
                    title: one.title.clone(),
                    points_hundredths: one.points * 100,
                    extra_credit: false,
                };
                let id = tx.add_assessment(school.class, &draft)?;
                if !one.judged.is_empty() {
                    weigh(tx, school.class, id)?;
                }
                Ok(id)
            })
            .collect()
    })
    .await
}

/// An assessment marked by the proposed criteria, with the points they are proposed with.
fn weigh(tx: &mut Tx<'_>, class: ClassId, id: AssessmentId) -> Result<(), Trouble> {
    let proposed = proposals().map_err(|error| Trouble::broken("reading the criteria", error))?;
    let uses: Vec<(CriterionId, i64)> = criteria::criteria(tx.connection, class)?
        .iter()
        .filter_map(|one| {
            let points = proposed.iter().find(|proposal| proposal.title == one.title)?.points;
            Some((one.id, points * 100))
        })
        .collect();
    tx.keep_weighed(class, id, 1, &uses)
}

/// Gives the marks of one assessment that is marked by criteria: a digit for the level of each.
fn judge(tx: &mut Tx<'_>, diary: &Diary, told: &Assessment, id: AssessmentId) -> Result<(), Trouble> {
    let class = diary.founded.class;
    let used = criteria::weighed(tx.connection, class, id)?;
    let mut marks = Vec::new();
    for (number, (digits, words)) in &told.judged {
        let levels = used.iter().zip(digits.chars()).map(|(one, digit)| {
            let level = digit.to_digit(10).and_then(|digit| i32::try_from(digit).ok());
            (one.criterion.id, level, String::new())
        });
        marks.push((number, Status::Graded, levels.collect(), words.clone()));
    }
    for number in &told.missing {
        marks.push((number, Status::Missing, Vec::new(), String::new()));
    }
    for (number, status, levels, words) in marks {
        let mark = PrintMark {
            person: diary.founded.student(number)?,
            seen: None,
            status,
            levels,
            own_points: None,
            own_reason: String::new(),
            words,
        };
        tx.mark_print(class, id, &mark, "")?;
    }
    Ok(())
}

/// Gives the marks of one assessment.
pub(super) fn mark(tx: &mut Tx<'_>, diary: &Diary, place: usize) -> Result<(), Trouble> {
    let told = diary.works.grades.assessments.get(place).ok_or(Trouble::NotFound)?;
    let id = *diary.assessments.get(place).ok_or(Trouble::NotFound)?;
    if !told.judged.is_empty() {
        return judge(tx, diary, told, id);
    }
    let graded = told.scores.iter().map(|(number, (points, words))| {
        Ok(Mark {
            person: diary.founded.student(number)?,
            seen: None,
            status: Status::Graded,
            points_hundredths: Some(points * 100),
            words: words.clone(),
        })
    });
    let missing = told.missing.iter().map(|number| {
        Ok(Mark {
            person: diary.founded.student(number)?,
            seen: None,
            status: Status::Missing,
            points_hundredths: None,
            words: String::new(),
        })
    });
    let marks: Vec<Mark> = graded.chain(missing).collect::<Result<_, Trouble>>()?;
    tx.mark(diary.founded.class, id, &marks, "").map(drop)
}
