//! Studio duties: who sees to what on which day, and whether it was done. Evidence of taking part, no score by itself.

use chrono::NaiveDate;
use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, DutyId, PersonId};
use crate::spelled;
use crate::store::classes::dues::students;
use crate::store::connections::AnyConnection;
use crate::store::schema::{duty, person};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

spelled!(
    /// What is to be seen to.
    What {
        /// Slabs scraped and wiped down, rollers put up.
        Slabs = "slabs",
        /// Sponges rinsed, bowls emptied and turned over.
        Water = "water",
        /// Press bed, tympan and scraper wiped, pressure let off.
        Press = "press",
        /// Rags in their closed can, and the can where it belongs.
        Rags = "rags",
        /// The graining sink rinsed, grit kept apart by its number.
        Sink = "sink",
        /// Blotters hung to dry, paper covered.
        Paper = "paper",
    }
);

spelled!(
    /// What became of it.
    Outcome {
        /// Not told yet.
        Set = "set",
        Done = "done",
        /// Left undone.
        Left = "left",
        Excused = "excused",
    }
);

/// A duty as it stands.
#[derive(Debug, Clone, Queryable)]
pub struct Duty {
    pub id: DutyId,
    pub root: DutyId,
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub day: NaiveDate,
    pub what: Word<What>,
    pub outcome: Word<Outcome>,
}

/// The duties of a class as they stand, the last day first; of one person alone if `owner`. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn duties(db: &mut AnyConnection, class: ClassId, owner: Option<PersonId>) -> Result<Vec<Duty>, Trouble> {
    let mut query = duty::table
        .inner_join(person::table)
        .filter(duty::class_id.eq(class).and(duty::superseded_at.is_null()))
        .order((duty::day.desc(), person::family_name, person::given_name, duty::id))
        .select((
            duty::id,
            duty::root,
            duty::person_id,
            person::given_name,
            person::family_name,
            duty::day,
            duty::what,
            duty::outcome,
        ))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(duty::person_id.eq(owner));
    }
    Ok(query.load(db)?)
}

impl Tx<'_> {
    /// Sets a duty for each of these students.
    ///
    /// # Errors
    /// A complaint at `person` about whoever is no student of the class.
    pub fn set_duties(
        &mut self,
        class: ClassId,
        people: &[PersonId],
        day: NaiveDate,
        what: What,
    ) -> Result<(), Trouble> {
        let known = students(self.connection, class)?;
        if people.is_empty() || people.iter().any(|id| known.iter().all(|one| one.person != *id)) {
            return Err(Trouble::about("person", Remark::new("classes-no-student")));
        }
        for person in people {
            let id: DutyId = self.id();
            let told = Told { person: *person, day, what, outcome: Outcome::Set, before: None };
            self.store_duty(class, id, &told)?;
            self.journal("duty.set", id, &json!({ "person": person, "day": day, "what": what }))?;
        }
        Ok(())
    }

    /// Tells what became of a duty. What was told before is kept.
    ///
    /// # Errors
    /// `NotFound`; stale where somebody else told it meanwhile.
    pub fn tell_duty(&mut self, class: ClassId, id: DutyId, outcome: Outcome) -> Result<(), Trouble> {
        let of_class = duty::class_id.eq(class).and(duty::id.eq(id));
        let (root, superseded): (DutyId, Option<crate::clock::Instant>) =
            duty::table.filter(of_class).select((duty::root, duty::superseded_at)).first(self.connection)?;
        if superseded.is_some() {
            return Err(Trouble::Refused(Remark::new("duty-meanwhile")));
        }
        let (person, day, what, before): (PersonId, NaiveDate, Word<What>, Word<Outcome>) = duty::table
            .find(id)
            .select((duty::person_id, duty::day, duty::what, duty::outcome))
            .first(self.connection)?;
        if before.0 == outcome {
            return Ok(());
        }
        diesel::update(duty::table.find(id))
            .set(duty::superseded_at.eq(self.now))
            .execute(self.connection)?;
        let next: DutyId = self.id();
        let told = Told { person, day, what: what.0, outcome, before: Some((root, id)) };
        self.store_duty(class, next, &told)?;
        self.journal("duty.told", next, &json!({ "person": person, "outcome": outcome }))
    }

    fn store_duty(&mut self, class: ClassId, id: DutyId, told: &Told) -> Result<(), Trouble> {
        diesel::insert_into(duty::table)
            .values((
                (duty::id.eq(id), duty::class_id.eq(class), duty::person_id.eq(told.person)),
                (duty::day.eq(told.day), duty::what.eq(Word(told.what))),
                (duty::outcome.eq(Word(told.outcome)), duty::root.eq(told.before.map_or(id, |one| one.0))),
                duty::corrects.eq(told.before.map(|one| one.1)),
                (duty::by_id.eq(self.person()?), duty::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        Ok(())
    }
}

/// A row to be stored; `before` is the first and the last one about the same duty.
struct Told {
    person: PersonId,
    day: NaiveDate,
    what: What,
    outcome: Outcome,
    before: Option<(DutyId, DutyId)>,
}
