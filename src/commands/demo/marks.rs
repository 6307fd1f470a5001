//! Grades of the demo school: categories and assessments at the term's beginning, marks as they were given.

use super::deeds::Diary;
use super::school::{Founded, found};
use super::script::Works;
use crate::ids::AssessmentId;
use crate::store::grades::assessments::AssessmentDraft;
use crate::store::grades::categories::{self, CategoryDraft};
use crate::store::grades::rules;
use crate::store::grades::scores::Mark;
use crate::store::{Db, Scope, Tx};
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
        told.assessments
            .iter()
            .map(|one| {
                let place = told.categories.iter().position(|category| category.key == one.category);
                let category = place.and_then(|place| kept.get(place)).ok_or(Trouble::NotFound)?.id;
                let project = one.project.as_ref().map(|key| found(&school.projects, key)).transpose()?;
                tx.add_assessment(
                    school.class,
                    &AssessmentDraft {
                        category,
                        project,
                        title: one.title.clone(),
                        points_hundredths: one.points * 100,
                        extra_credit: false,
                    },
                )
            })
            .collect()
    })
    .await
}

/// Gives the marks of one assessment.
pub(super) fn mark(tx: &mut Tx<'_>, diary: &Diary, place: usize) -> Result<(), Trouble> {
    let told = diary.works.grades.assessments.get(place).ok_or(Trouble::NotFound)?;
    let id = *diary.assessments.get(place).ok_or(Trouble::NotFound)?;
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
