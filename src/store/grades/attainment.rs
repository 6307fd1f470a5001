//! How many students reach each learning goal, with small groups hidden: for the instructors from the marks so far, for the
//! department's review as it was settled once. What is settled never changes, whatever becomes of goals, criteria, marks and
//! members: of two tables of the same people, what one hides could be subtracted.

use std::collections::BTreeMap;

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, CriterionId, GoalId, PersonId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::grades::criteria;
use crate::store::grades::goals::{Goal, goals};
use crate::store::grades::marks;
use crate::store::grades::scores::{self, Which};
use crate::store::people::members;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{attainment, enrolment, submitted_grade};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::concealment::{LEAST, Shown, conceal_together};
use crate::trade::grading::Status;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

spelled!(
    /// How far a student has come with a goal, by the share of the points that its criteria brought.
    Reach {
        /// Nine tenths and more.
        Far = "far",
        /// Three quarters and more.
        There = "there",
        /// Six tenths and more.
        Near = "near",
        NotYet = "not_yet",
    }
);

impl Reach {
    /// Where so many of so many points are: common practice, no published source.
    #[must_use]
    pub fn of(points: i64, possible: i64) -> Self {
        match (points.saturating_mul(100), possible) {
            (points, possible) if points >= possible.saturating_mul(90) => Self::Far,
            (points, possible) if points >= possible.saturating_mul(75) => Self::There,
            (points, possible) if points >= possible.saturating_mul(60) => Self::Near,
            _ => Self::NotYet,
        }
    }
}

/// How many students have come how far with a goal, and with each criterion that shows it, in the order of `Reach::ALL`.
#[derive(Debug, Clone)]
pub struct Attained {
    pub goal: Goal,
    pub shown: Shown,
    /// Title of the criterion as it stands.
    pub criteria: Vec<(CriterionId, String, Shown)>,
}

type Sums = BTreeMap<PersonId, (i64, i64)>;

fn counts(sums: &Sums) -> Vec<u64> {
    let count = |reach: &Reach| {
        let those = sums.values().filter(|(points, possible)| Reach::of(*points, *possible) == *reach);
        u64::try_from(those.count()).unwrap_or(u64::MAX)
    };
    Reach::ALL.iter().map(count).collect()
}

/// Goals by the criteria they share, over as many steps as it takes: places in the list, those of a group together.
fn groups(goals: &[Goal]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (place, goal) in goals.iter().enumerate() {
        let shares = |other: &usize| {
            goals.get(*other).is_some_and(|other| other.criteria.iter().any(|id| goal.criteria.contains(id)))
        };
        let (with, without): (Vec<_>, Vec<_>) =
            groups.into_iter().partition(|group| group.iter().any(shares));
        groups = without;
        groups.push(with.into_iter().flatten().chain([place]).collect());
    }
    groups
}

/// How many students have come how far with each goal and its criteria, by the marks handed back so far: for the instructors,
/// who know every mark. Eight statements at most, whatever the size of the class.
///
/// # Errors
/// The database cannot be read.
pub fn so_far(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Attained>, Trouble> {
    attained(db, class, Which::HandedBack)
}

/// What tells of the same people is hidden together.
fn attained(db: &mut AnyConnection, class: ClassId, which: Which) -> Result<Vec<Attained>, Trouble> {
    let goals = goals(db, class)?;
    let students = members::members(db, class)?;
    let marks = scores::scores(db, class, which, None)?;
    let judged = marks::judged(db, class, None, None)?;
    let in_class = |person: PersonId| {
        students.iter().any(|member| member.person == person && member.role.0 == Role::Student)
    };
    let titles: BTreeMap<CriterionId, String> =
        criteria::criteria(db, class)?.into_iter().map(|one| (one.id, one.title)).collect();
    let of = |wanted: &dyn Fn(CriterionId) -> bool| {
        let mut sums = Sums::new();
        for mark in marks.iter().filter(|mark| mark.status.0 == Status::Graded && in_class(mark.person)) {
            for one in judged.get(&mark.id).into_iter().flatten().filter(|one| wanted(one.criterion)) {
                let Some(points) = one.points_hundredths else { continue };
                let sum = sums.entry(mark.person).or_default();
                *sum = (sum.0 + points, sum.1 + one.of_hundredths);
            }
        }
        counts(&sums)
    };
    let mut all: Vec<(usize, Attained)> = Vec::new();
    for group in groups(&goals) {
        let members: Vec<(usize, &Goal)> =
            group.iter().filter_map(|place| Some((*place, goals.get(*place)?))).collect();
        let mut rows = Vec::new();
        for (_, goal) in &members {
            rows.push(of(&|id| goal.criteria.contains(&id)));
            rows.extend(goal.criteria.iter().map(|id| of(&|other| other == *id)));
        }
        let mut shown = conceal_together(&rows).into_iter();
        for (place, goal) in members {
            let Some(own) = shown.next() else { break };
            let criteria = goal
                .criteria
                .iter()
                .zip(shown.by_ref().take(goal.criteria.len()))
                .map(|(id, shown)| (*id, titles.get(id).cloned().unwrap_or_default(), shown))
                .collect();
            all.push((place, Attained { goal: goal.clone(), shown: own, criteria }));
        }
    }
    all.sort_by_key(|(place, _)| *place);
    Ok(all.into_iter().map(|(_, one)| one).collect())
}

/// A row of the settled table: a goal, or a criterion that shows it.
#[derive(Debug, Clone)]
pub struct Settled {
    pub goal: GoalId,
    pub title: String,
    pub criterion: Option<(CriterionId, String)>,
    pub shown: Shown,
}

type Row = (
    GoalId,
    String,
    Option<CriterionId>,
    String,
    (Option<i32>, Option<i32>, Option<i32>, Option<i32>),
    Option<i32>,
);

/// The settled table of a class, in its order; empty before.
///
/// # Errors
/// The database cannot be read.
pub fn settled(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Settled>, Trouble> {
    let rows: Vec<Row> = attainment::table
        .filter(attainment::class_id.eq(class))
        .order(attainment::position)
        .select((
            attainment::goal_id,
            attainment::goal_title,
            attainment::criterion_id,
            attainment::criterion_title,
            (attainment::far, attainment::there, attainment::near, attainment::not_yet),
            attainment::students,
        ))
        .load(db)?;
    let count = |cell: Option<i32>| cell.map(|cell| u64::try_from(cell).unwrap_or(0));
    Ok(rows
        .into_iter()
        .map(|(goal, title, criterion, criterion_title, (far, there, near, not_yet), students)| Settled {
            goal,
            title,
            criterion: criterion.map(|id| (id, criterion_title)),
            shown: Shown { cells: [far, there, near, not_yet].map(count).to_vec(), total: count(students) },
        })
        .collect())
}

/// How it stands with the settled table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    Settled(Instant),
    /// So many grades are submitted of so many students; fewer than `LEAST` are too few.
    Open {
        submitted: i64,
        students: i64,
    },
}

impl Standing {
    /// Whether the table can be settled: a grade or two decided early are no class.
    #[must_use]
    pub fn can_be_settled(self) -> bool {
        matches!(self, Self::Open { submitted, .. } if u64::try_from(submitted).is_ok_and(|count| count >= LEAST))
    }
}

/// How it stands with the settled table of a class. Three statements at most.
///
/// # Errors
/// The database cannot be read.
pub fn standing(db: &mut AnyConnection, class: ClassId) -> Result<Standing, Trouble> {
    let at: Option<Instant> = attainment::table
        .filter(attainment::class_id.eq(class))
        .select(diesel::dsl::min(attainment::settled_at))
        .first(db)?;
    if let Some(at) = at {
        return Ok(Standing::Settled(at));
    }
    let there = [Word(EnrolmentState::Enrolled), Word(EnrolmentState::Incomplete)];
    let students = || {
        enrolment::table
            .filter(enrolment::class_id.eq(class).and(enrolment::role.eq(Word(Role::Student))))
            .filter(enrolment::state.eq_any(there))
    };
    let with_grade = submitted_grade::table
        .filter(submitted_grade::class_id.eq(class).and(submitted_grade::superseded_at.is_null()))
        .select(submitted_grade::person_id);
    Ok(Standing::Open {
        students: students().count().get_result(db)?,
        submitted: students().filter(enrolment::person_id.eq_any(with_grade)).count().get_result(db)?,
    })
}

impl Tx<'_> {
    /// Settles the table for the department: it counts what stands now, and nothing changes it from then on.
    ///
    /// # Errors
    /// `Refused` where it is settled, where too few grades are submitted, and where there is no goal.
    pub fn settle_attainment(&mut self, class: ClassId) -> Result<(), Trouble> {
        let refused = |key| Err(Trouble::Refused(Remark::new(key)));
        match standing(self.connection, class)? {
            Standing::Settled(_) => return refused("goals-settled-already"),
            open if !open.can_be_settled() => return refused("goals-settle-early"),
            Standing::Open { .. } => {}
        }
        if self.settle(class)? { Ok(()) } else { refused("goals-settle-none") }
    }

    /// Settles the table once every student of the class has a grade, if it has goals.
    ///
    /// # Errors
    /// The database refuses.
    pub(super) fn settle_if_all_are_graded(&mut self, class: ClassId) -> Result<(), Trouble> {
        let now = standing(self.connection, class)?;
        if now.can_be_settled()
            && matches!(now, Standing::Open { submitted, students } if submitted == students)
        {
            self.settle(class)?;
        }
        Ok(())
    }

    fn settle(&mut self, class: ClassId) -> Result<bool, Trouble> {
        let all = attained(self.connection, class, Which::InHand)?;
        let rows = all.iter().flat_map(|one| {
            let criteria =
                one.criteria.iter().map(|(id, title, shown)| (&one.goal, Some((*id, title.as_str())), shown));
            std::iter::once((&one.goal, None, &one.shown)).chain(criteria)
        });
        for (position, (goal, criterion, shown)) in (0_i32..).zip(rows) {
            let count = |cell: Option<u64>| cell.and_then(|count| i32::try_from(count).ok());
            let cell = |place: usize| count(shown.cells.get(place).copied().flatten());
            diesel::insert_into(attainment::table)
                .values((
                    (attainment::class_id.eq(class), attainment::position.eq(position)),
                    (attainment::goal_id.eq(goal.id), attainment::goal_title.eq(&goal.title)),
                    attainment::criterion_id.eq(criterion.map(|(id, _)| id)),
                    attainment::criterion_title.eq(criterion.map_or("", |(_, title)| title)),
                    (attainment::far.eq(cell(0)), attainment::there.eq(cell(1))),
                    (attainment::near.eq(cell(2)), attainment::not_yet.eq(cell(3))),
                    (attainment::students.eq(count(shown.total)), attainment::settled_at.eq(self.now)),
                ))
                .execute(self.connection)?;
        }
        if !all.is_empty() {
            self.journal("goals.settled", class, &json!({ "goals": all.len() }))?;
        }
        Ok(!all.is_empty())
    }
}
