//! Second looks: once a mark is handed back, its student may ask once that it be looked at again, with a reason. The
//! instructor says why it stays, or gives a new mark, which is handed back like any other.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{AssessmentId, ClassId, PersonId, ScoreId, SecondLookId};
use crate::store::connections::AnyConnection;
use crate::store::grades::assessments;
use crate::store::grades::scores::{self, Score, Which};
use crate::store::letters::{Kind, NewLetter};
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::schema::{assessment, person, score, second_look};
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A second look that was asked for.
#[derive(Debug, Clone, Queryable)]
pub struct SecondLook {
    pub id: SecondLookId,
    pub score: ScoreId,
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub assessment: AssessmentId,
    pub title: String,
    pub reason: String,
    pub asked_at: Instant,
    pub answered_at: Option<Instant>,
    pub answer: String,
    /// The mark that was given instead, if it was changed.
    pub new_score: Option<ScoreId>,
}

/// The second looks of a class, those that wait first, then the newest; of one person alone if `owner`. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn second_looks(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
) -> Result<Vec<SecondLook>, Trouble> {
    let mut query = second_look::table
        .inner_join(score::table)
        .inner_join(assessment::table.on(assessment::id.eq(score::assessment_id)))
        .inner_join(person::table.on(person::id.eq(second_look::person_id)))
        .filter(second_look::class_id.eq(class))
        .order((second_look::asked_at.desc(), second_look::id))
        .select((
            second_look::id,
            second_look::score_id,
            second_look::person_id,
            person::given_name,
            person::family_name,
            assessment::id,
            assessment::title,
            second_look::reason,
            second_look::asked_at,
            second_look::answered_at,
            second_look::answer,
            second_look::new_score_id,
        ))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(second_look::person_id.eq(owner));
    }
    let mut all: Vec<SecondLook> = query.load(db)?;
    all.sort_by_key(|one| one.answered_at.is_some());
    Ok(all)
}

/// The mark a student may ask a second look at: the last one handed back, unless it was asked about before or is itself
/// the answer to a second look.
///
/// # Errors
/// `NotFound` where nothing was handed back; a refusal that says why not.
pub fn may_ask(
    db: &mut AnyConnection,
    class: ClassId,
    id: AssessmentId,
    owner: PersonId,
) -> Result<Score, Trouble> {
    assessments::assessment(db, class, id)?;
    let mark = scores::scores(db, class, Which::HandedBack, Some(owner))?
        .into_iter()
        .find(|score| score.assessment == id)
        .ok_or(Trouble::NotFound)?;
    let asked = second_looks(db, class, Some(owner))?;
    if asked.iter().any(|one| one.score == mark.id) {
        return Err(Trouble::Refused(Remark::new("second-look-once")));
    }
    if asked.iter().any(|one| one.new_score == Some(mark.id)) {
        return Err(Trouble::Refused(Remark::new("second-look-of-answer")));
    }
    Ok(mark)
}

impl Tx<'_> {
    /// Asks for a second look, with a letter to each instructor.
    ///
    /// # Errors
    /// As `may_ask`.
    pub fn ask_second_look(
        &mut self,
        class: ClassId,
        id: AssessmentId,
        reason: &str,
    ) -> Result<SecondLookId, Trouble> {
        let owner = self.person()?;
        let mark = may_ask(self.connection, class, id, owner)?;
        let title = assessments::assessment(self.connection, class, id)?.title;
        let look: SecondLookId = self.id();
        diesel::insert_into(second_look::table)
            .values((
                (second_look::id.eq(look), second_look::class_id.eq(class)),
                (second_look::score_id.eq(mark.id), second_look::person_id.eq(owner)),
                (second_look::reason.eq(reason), second_look::asked_at.eq(self.now)),
                second_look::answer.eq(""),
            ))
            .execute(self.connection)?;
        let members = members::members(self.connection, class)?;
        let who = members.iter().find(|member| member.person == owner).ok_or(Trouble::NotFound)?;
        let name = format!("{} {}", who.given_name, who.family_name);
        for instructor in members.iter().filter(|member| member.role.0 == Role::Instructor) {
            self.letter(&NewLetter {
                kind: Kind::SecondLookAsked,
                person: instructor.person,
                class: Some(class),
                cause: Some(format!("second-look {look} {}", instructor.person)),
                detail: json!({ "title": title, "name": name, "assessment": id, "person": owner }),
                not_before: self.now,
            })?;
        }
        self.journal("second-look.asked", look, &json!({ "score": mark.id, "reason": reason }))?;
        Ok(look)
    }

    /// Answers that the mark stays, and why, with a letter to the student.
    ///
    /// # Errors
    /// `NotFound`, or it is answered already.
    pub fn mark_stays(&mut self, class: ClassId, id: SecondLookId, why: &str) -> Result<(), Trouble> {
        let look = second_looks(self.connection, class, None)?
            .into_iter()
            .find(|one| one.id == id)
            .ok_or(Trouble::NotFound)?;
        if look.answered_at.is_some() {
            return Err(Trouble::Refused(Remark::new("second-look-answered")));
        }
        self.answer(id, why, None)?;
        self.letter(&NewLetter {
            kind: Kind::SecondLookAnswered,
            person: look.person,
            class: Some(class),
            cause: Some(format!("second-look-answered {id}")),
            detail: json!({ "title": look.title }),
            not_before: self.now,
        })?;
        self.journal("second-look.stays", id, &json!({ "score": look.score, "reason": why }))
    }

    /// A new mark given over one with an open second look is its answer. The student reads it, and gets the letter, once
    /// the new mark is handed back.
    pub(super) fn second_look_taken(
        &mut self,
        before: &Score,
        after: ScoreId,
        reason: &str,
    ) -> Result<(), Trouble> {
        let open: Option<SecondLookId> = second_look::table
            .filter(
                second_look::answered_at.is_null().and(
                    second_look::score_id
                        .eq_any(score::table.filter(score::root.eq(before.root)).select(score::id)),
                ),
            )
            .select(second_look::id)
            .first(self.connection)
            .optional()?;
        let Some(id) = open else { return Ok(()) };
        self.answer(id, reason, Some(after))?;
        self.journal("second-look.changed", id, &json!({ "score": before.id, "new_score": after }))
    }

    fn answer(&mut self, id: SecondLookId, words: &str, new: Option<ScoreId>) -> Result<(), Trouble> {
        diesel::update(second_look::table.find(id))
            .set((
                second_look::answered_at.eq(self.now),
                second_look::answered_by.eq(self.person()?),
                second_look::answer.eq(words),
                second_look::new_score_id.eq(new),
            ))
            .execute(self.connection)?;
        Ok(())
    }
}
