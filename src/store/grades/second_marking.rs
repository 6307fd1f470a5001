//! Two markers on a share of the work: which prints is drawn by lot, each marker is blind to the other until both are
//! done, and then how far they agree is reckoned and what they differ on most is talked about first.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{AssessmentId, BlindMarkId, ClassId, CriterionId, PersonId, SecondMarkingId};
use crate::store::connections::AnyConnection;
use crate::store::grades::assessments;
use crate::store::grades::criteria;
use crate::store::grades::marks::{self, Judged, PrintMark};
use crate::store::grades::scores::{self, Which};
use crate::store::people::members;
use crate::store::people::sessions::Role;
use crate::store::plates::prints;
use crate::store::schema::{blind_mark, second_marking, second_marking_choice};
use crate::store::write::Tx;
use crate::trade::draw::lots;
use crate::trade::exact::Exact;
use crate::trade::grading::Status;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

/// Two markers on an assessment.
#[derive(Debug, Clone, Queryable)]
pub struct SecondMarking {
    pub id: SecondMarkingId,
    pub share_percent: i32,
    pub seed: i64,
    pub first: PersonId,
    pub second: PersonId,
    pub at: Instant,
}

/// A mark given without sight of the other's.
#[derive(Debug, Clone)]
pub struct BlindMark {
    pub id: BlindMarkId,
    pub person: PersonId,
    pub by: PersonId,
    pub points_hundredths: i64,
    /// Criterion and level, counted from 1.
    pub levels: Vec<(CriterionId, i32)>,
    pub words: String,
}

/// Everything about the two markers of an assessment.
#[derive(Debug, Clone)]
pub struct Twice {
    pub marking: SecondMarking,
    /// Whose work was drawn, in the order of the class.
    pub chosen: Vec<PersonId>,
    marks: Vec<BlindMark>,
}

impl Twice {
    /// What one marker gave a person.
    #[must_use]
    pub fn mark(&self, person: PersonId, by: PersonId) -> Option<&BlindMark> {
        self.marks.iter().find(|mark| mark.person == person && mark.by == by)
    }

    /// Whether both have marked everything that was drawn.
    #[must_use]
    pub fn done(&self) -> bool {
        [self.marking.first, self.marking.second]
            .iter()
            .all(|by| self.chosen.iter().all(|person| self.mark(*person, *by).is_some()))
    }

    /// Whether a person's work is still to be marked blind by both.
    #[must_use]
    pub fn keeps_blind(&self, person: PersonId) -> bool {
        self.chosen.contains(&person) && !self.done()
    }
}

/// The two markers of an assessment, if there are any. Three statements.
///
/// # Errors
/// The database cannot be read.
pub fn twice(db: &mut AnyConnection, class: ClassId, id: AssessmentId) -> Result<Option<Twice>, Trouble> {
    let found: Option<SecondMarking> = second_marking::table
        .filter(second_marking::class_id.eq(class).and(second_marking::assessment_id.eq(id)))
        .select((
            second_marking::id,
            second_marking::share_percent,
            second_marking::seed,
            second_marking::first_id,
            second_marking::second_id,
            second_marking::at,
        ))
        .first(db)
        .optional()?;
    let Some(marking) = found else { return Ok(None) };
    let chosen = second_marking_choice::table
        .filter(second_marking_choice::second_marking_id.eq(marking.id))
        .order(second_marking_choice::position)
        .select(second_marking_choice::person_id)
        .load(db)?;
    type Row = (BlindMarkId, PersonId, PersonId, i64, String, String);
    let rows: Vec<Row> = blind_mark::table
        .filter(blind_mark::second_marking_id.eq(marking.id).and(blind_mark::superseded_at.is_null()))
        .select((
            blind_mark::id,
            blind_mark::person_id,
            blind_mark::by_id,
            blind_mark::points_hundredths,
            blind_mark::levels,
            blind_mark::words,
        ))
        .load(db)?;
    let marks = rows
        .into_iter()
        .map(|(id, person, by, points_hundredths, levels, words)| {
            let levels = serde_json::from_str(&levels)
                .map_err(|error| Trouble::broken("reading the levels of a mark", error))?;
            Ok(BlindMark { id, person, by, points_hundredths, levels, words })
        })
        .collect::<Result<_, Trouble>>()?;
    Ok(Some(Twice { marking, chosen, marks }))
}

/// What an instructor asks for.
#[derive(Debug, Clone, Copy)]
pub struct Ask {
    pub share_percent: i32,
    pub seed: i64,
    pub first: PersonId,
    pub second: PersonId,
}

impl Tx<'_> {
    /// Draws a share of the work that waits for its mark, for two markers.
    ///
    /// # Errors
    /// `NotFound`, drawn already, or complaints.
    pub fn draw_for_two(&mut self, class: ClassId, id: AssessmentId, ask: &Ask) -> Result<(), Trouble> {
        let one = assessments::assessment(self.connection, class, id)?;
        if twice(self.connection, class, id)?.is_some() {
            return Err(Trouble::Refused(Remark::new("two-drawn")));
        }
        let members = members::members(self.connection, class)?;
        let teaches = |person: PersonId| {
            members.iter().any(|member| member.person == person && member.role.0 == Role::Instructor)
        };
        if !teaches(ask.first) || !teaches(ask.second) || ask.first == ask.second {
            return Err(Trouble::about("second", Remark::new("two-instructors")));
        }
        let marked = scores::scores(self.connection, class, Which::InHand, None)?;
        let prints = prints::prints(self.connection, class, None, None)?;
        let waits: Vec<PersonId> = members
            .iter()
            .filter(|member| member.role.0 == Role::Student)
            .map(|member| member.person)
            .filter(|person| {
                let own = marked.iter().find(|score| score.assessment == id && score.person == *person);
                let handed_in = scores::handed_in(&prints, &one, *person)
                    .is_some_and(|print| print.handed_in_at.is_some());
                own.is_none_or(|score| score.status.0 == Status::Pending)
                    && (one.project.is_none() || handed_in)
            })
            .collect();
        if waits.is_empty() {
            return Err(Trouble::about("share", Remark::new("two-nothing-waits")));
        }
        let share = usize::try_from(ask.share_percent).unwrap_or(0);
        let count = (waits.len() * share).div_ceil(100);
        let marking: SecondMarkingId = self.id();
        diesel::insert_into(second_marking::table)
            .values((
                (second_marking::id.eq(marking), second_marking::class_id.eq(class)),
                (second_marking::assessment_id.eq(id), second_marking::share_percent.eq(ask.share_percent)),
                (second_marking::seed.eq(ask.seed), second_marking::first_id.eq(ask.first)),
                (second_marking::second_id.eq(ask.second), second_marking::by_id.eq(self.person()?)),
                second_marking::at.eq(self.now),
            ))
            .execute(self.connection)?;
        let drawn = lots(ask.seed.unsigned_abs(), count, waits.len());
        for (position, person) in (1..).zip(drawn.iter().filter_map(|place| waits.get(*place))) {
            diesel::insert_into(second_marking_choice::table)
                .values((
                    second_marking_choice::second_marking_id.eq(marking),
                    second_marking_choice::person_id.eq(person),
                    second_marking_choice::position.eq(position),
                ))
                .execute(self.connection)?;
        }
        let detail = json!({
            "assessment": id, "share_percent": ask.share_percent, "seed": ask.seed, "drawn": drawn.len(),
        });
        self.journal("second-marking.drawn", marking, &detail)
    }

    /// Keeps the mark of whoever acts, blind to the other's. Until both are done it may be given anew.
    ///
    /// # Errors
    /// `NotFound` for who is none of the two, or work that was not drawn; both are done; complaints as `mark_print`.
    pub fn mark_blind(&mut self, class: ClassId, id: AssessmentId, said: &PrintMark) -> Result<(), Trouble> {
        let one = assessments::assessment(self.connection, class, id)?;
        let by = self.person()?;
        let twice = twice(self.connection, class, id)?.ok_or(Trouble::NotFound)?;
        if ![twice.marking.first, twice.marking.second].contains(&by) || !twice.chosen.contains(&said.person)
        {
            return Err(Trouble::NotFound);
        }
        if twice.done() {
            return Err(Trouble::Refused(Remark::new("two-done")));
        }
        let weighed = criteria::weighed(self.connection, class, id)?;
        let mut complaints = Vec::new();
        let judged = marks::judge(&weighed, said, &mut complaints);
        let points = if judged.is_empty() { said.own_points } else { marks::sum(&judged) };
        check(&judged, points, one.points_hundredths, one.extra_credit, &mut complaints);
        let Some(points) = points.filter(|_| complaints.is_empty()) else {
            return Err(Trouble::Complaints(complaints));
        };
        let levels: Vec<(CriterionId, i32)> =
            judged.iter().filter_map(|one| Some((one.criterion, one.level?))).collect();
        let before = twice.mark(said.person, by).map(|mark| mark.id);
        if let Some(before) = before {
            diesel::update(blind_mark::table.find(before))
                .set(blind_mark::superseded_at.eq(self.now))
                .execute(self.connection)?;
        }
        let mark: BlindMarkId = self.id();
        diesel::insert_into(blind_mark::table)
            .values((
                (blind_mark::id.eq(mark), blind_mark::class_id.eq(class)),
                (blind_mark::second_marking_id.eq(twice.marking.id), blind_mark::person_id.eq(said.person)),
                (blind_mark::points_hundredths.eq(points), blind_mark::levels.eq(json!(levels).to_string())),
                (blind_mark::words.eq(&said.words), blind_mark::corrects.eq(before)),
                (blind_mark::by_id.eq(by), blind_mark::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        // The journal can be read by the other marker, so it holds no mark.
        self.journal("second-marking.marked", twice.marking.id, &json!({ "person": said.person }))
    }
}

fn check(judged: &[Judged], points: Option<i64>, most: i64, extra: bool, complaints: &mut Vec<Complaint>) {
    for one in judged.iter().filter(|one| one.level.is_none()) {
        let field = format!("level-{}", one.criterion);
        if complaints.iter().all(|known| known.field != field) {
            complaints.push(Complaint::new(field, Remark::new("criteria-choose-level")));
        }
    }
    match points {
        None if judged.is_empty() => {
            complaints.push(Complaint::new("own_points", Remark::new("grades-points-missing")));
        }
        Some(points) if points > most && !extra => {
            let text = |hundredths| Exact::hundredths(hundredths).to_string();
            let remark =
                Remark::new("grades-points-above").with("value", text(points)).with("most", text(most));
            complaints.push(Complaint::new("own_points", remark));
        }
        _ => {}
    }
}
