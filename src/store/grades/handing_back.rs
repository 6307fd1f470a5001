//! Handing back: from then on a student sees the mark and what follows from it. Of one assessment or of all that wait.

use std::collections::BTreeMap;

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{AssessmentId, ClassId, PersonId, ScoreId};
use crate::store::connections::AnyConnection;
use crate::store::grades::assessments::{self, Assessment};
use crate::store::grades::scores::{Score, history};
use crate::store::letters::{Kind, NewLetter};
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::schema::score;
use crate::store::write::Tx;
use crate::trade::grading::Status;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

impl Tx<'_> {
    /// Hands back every score of an assessment that waits for it, with a letter to each student. Answers how many.
    ///
    /// # Errors
    /// `NotFound`, or nothing waits.
    pub fn hand_back(&mut self, class: ClassId, id: AssessmentId) -> Result<usize, Trouble> {
        let one = assessments::assessment(self.connection, class, id)?;
        self.hand_back_these(class, &[one], id)
    }

    /// Hands back everything of a class that waits for it, with one letter to each student. Answers how many scores.
    ///
    /// # Errors
    /// Nothing waits.
    pub fn hand_back_all(&mut self, class: ClassId) -> Result<usize, Trouble> {
        let all = assessments::assessments(self.connection, class)?;
        self.hand_back_these(class, &all, class)
    }

    fn hand_back_these(
        &mut self,
        class: ClassId,
        these: &[Assessment],
        subject: impl std::fmt::Display,
    ) -> Result<usize, Trouble> {
        let waiting: Vec<Score> = waiting(self.connection, class, None)?
            .into_iter()
            .filter(|score| these.iter().any(|one| one.id == score.assessment))
            .collect();
        if waiting.is_empty() {
            return Err(Trouble::Refused(Remark::new("grades-nothing-to-hand-back")));
        }
        let ids: Vec<ScoreId> = waiting.iter().map(|score| score.id).collect();
        diesel::update(score::table.filter(score::id.eq_any(&ids)))
            .set(score::handed_back_at.eq(self.now))
            .execute(self.connection)?;
        let mut by_person: BTreeMap<PersonId, (ScoreId, Vec<&str>)> = BTreeMap::new();
        for one in these {
            for score in waiting.iter().filter(|score| score.assessment == one.id) {
                let entry = by_person.entry(score.person).or_insert((score.id, Vec::new()));
                entry.1.push(&one.title);
            }
        }
        for (person, (first, titles)) in by_person {
            self.letter(&NewLetter {
                kind: Kind::HandedBack,
                person,
                class: Some(class),
                cause: Some(format!("handed-back {first}")),
                // No score stands in a letter: it says where to read it.
                detail: json!({ "titles": titles }),
                not_before: self.now,
            })?;
        }
        self.journal("scores.handed-back", subject, &json!({ "scores": ids }))?;
        Ok(waiting.len())
    }
}

/// The scores that can be handed back, of one assessment or of all: those of students of the class that stand and were
/// not. A “not yet marked” is handed back only where it takes back a score that was.
///
/// # Errors
/// The database cannot be read.
pub fn waiting(
    db: &mut AnyConnection,
    class: ClassId,
    only: Option<AssessmentId>,
) -> Result<Vec<Score>, Trouble> {
    let all = history(db, class, only, None)?;
    let members = members::members(db, class)?;
    let was_handed_back = |one: &Score| {
        let same = |score: &&Score| score.person == one.person && score.assessment == one.assessment;
        all.iter().filter(same).any(|score| score.handed_back_at.is_some())
    };
    Ok(all
        .iter()
        .filter(|score| score.superseded_at.is_none() && score.handed_back_at.is_none())
        .filter(|score| score.status.0 != Status::Pending || was_handed_back(score))
        .filter(|score| {
            members.iter().any(|member| member.person == score.person && member.role.0 == Role::Student)
        })
        .cloned()
        .collect())
}
