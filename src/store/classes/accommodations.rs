//! What a student is granted beyond the class's rules. Everybody who works with the student reads the effect; why it is
//! granted stands in a table of its own that the instructor alone reads, and that no export, letter, log or journal names.

use chrono::NaiveDateTime;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{AccommodationId, ClassId, OwnDueId, PersonId, ProjectId};
use crate::spelled;
use crate::store::classes::dues::{DueLetter, Whose, dues_of_class, students};
use crate::store::classes::{Project, due_text, facts, projects};
use crate::store::connections::AnyConnection;
use crate::store::schema::{accommodation, accommodation_reason, own_due, person};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::more_time::MoreTime;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

spelled!(
    /// What is granted.
    Effect {
        MoreTime = "more_time",
        /// Somebody helps at the table.
        Helper = "helper",
        OtherSolvent = "other_solvent",
        /// Clocks and warnings are seen, not only heard.
        Signals = "signals",
    }
);

/// What is granted to one person.
#[derive(Debug, Clone, Queryable)]
pub struct Accommodation {
    pub id: AccommodationId,
    pub person: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub effect: Word<Effect>,
    pub percent: Option<i32>,
    pub days: Option<i32>,
    /// What whoever works with the student has to know.
    pub words: String,
    pub at: Instant,
}

impl Accommodation {
    fn more_time(&self) -> Option<MoreTime> {
        more_time(self.effect.0, self.percent, self.days)
    }
}

fn more_time(effect: Effect, percent: Option<i32>, days: Option<i32>) -> Option<MoreTime> {
    let whole = |number: Option<i32>| number.and_then(|number| u32::try_from(number).ok());
    (effect == Effect::MoreTime)
        .then(|| whole(days).map(MoreTime::Days).or_else(|| whole(percent).map(MoreTime::Percent)))
        .flatten()
}

/// What an instructor grants.
#[derive(Debug, Clone)]
pub struct Granted {
    pub person: PersonId,
    pub effect: Effect,
    pub percent: Option<i32>,
    pub days: Option<i32>,
    pub words: String,
    /// For the instructor alone; may be empty.
    pub reason: String,
}

/// What stands in an own due date that follows from more time.
const WHY: &str = "More time";

/// What is granted in a class and not ended, by name; to one person alone if `owner`. One statement; no reason is read.
///
/// # Errors
/// The database cannot be read.
pub fn accommodations(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
) -> Result<Vec<Accommodation>, Trouble> {
    let mut query = accommodation::table
        .inner_join(person::table)
        .filter(accommodation::class_id.eq(class).and(accommodation::ended_at.is_null()))
        .order((person::family_name, person::given_name, accommodation::at, accommodation::id))
        .select((
            accommodation::id,
            accommodation::person_id,
            person::given_name,
            person::family_name,
            accommodation::kind,
            accommodation::percent,
            accommodation::days,
            accommodation::words,
            accommodation::at,
        ))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(accommodation::person_id.eq(owner));
    }
    Ok(query.load(db)?)
}

/// Why they are granted: for the instructor's page alone. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn reasons(
    db: &mut AnyConnection,
    class: ClassId,
) -> Result<std::collections::HashMap<AccommodationId, String>, Trouble> {
    let rows: Vec<(AccommodationId, String)> = accommodation_reason::table
        .inner_join(accommodation::table)
        .filter(accommodation::class_id.eq(class).and(accommodation::ended_at.is_null()))
        .select((accommodation_reason::accommodation_id, accommodation_reason::words))
        .load(db)?;
    Ok(rows.into_iter().collect())
}

impl Tx<'_> {
    /// Grants something. More time moves the due dates of the person's projects that still lie ahead.
    ///
    /// # Errors
    /// Complaints at `person`, `percent`.
    pub fn grant(&mut self, class: ClassId, granted: &Granted) -> Result<AccommodationId, Trouble> {
        if students(self.connection, class)?.iter().all(|student| student.person != granted.person) {
            return Err(Trouble::about("person", Remark::new("classes-no-student")));
        }
        let time = more_time(granted.effect, granted.percent, granted.days);
        if granted.effect == Effect::MoreTime
            && (time.is_none() || granted.percent.is_some() == granted.days.is_some())
        {
            return Err(Trouble::about("percent", Remark::new("accommodation-how-much")));
        }
        if granted.effect != Effect::MoreTime && granted.words.is_empty() {
            return Err(Trouble::about("words", Remark::new("accommodation-say-what")));
        }
        let id: AccommodationId = self.id();
        let with_time = granted.effect == Effect::MoreTime;
        diesel::insert_into(accommodation::table)
            .values((
                (accommodation::id.eq(id), accommodation::class_id.eq(class)),
                (accommodation::person_id.eq(granted.person), accommodation::kind.eq(Word(granted.effect))),
                accommodation::percent.eq(granted.percent.filter(|_| with_time)),
                accommodation::days.eq(granted.days.filter(|_| with_time)),
                accommodation::words.eq(&granted.words),
                (accommodation::by_id.eq(self.person()?), accommodation::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        if !granted.reason.is_empty() {
            diesel::insert_into(accommodation_reason::table)
                .values((
                    accommodation_reason::accommodation_id.eq(id),
                    accommodation_reason::words.eq(&granted.reason),
                ))
                .execute(self.connection)?;
        }
        // Neither what is granted nor why stands in the journal: its table leaves the class.
        self.journal("accommodation.granted", id, &json!({}))?;
        self.spread_more_time(class, None)?;
        Ok(id)
    }

    /// Says anew why something is granted; nothing said takes it away. The journal says that it was done and no more.
    ///
    /// # Errors
    /// `NotFound`.
    pub fn say_why_granted(&mut self, class: ClassId, id: AccommodationId, why: &str) -> Result<(), Trouble> {
        accommodations(self.connection, class, None)?
            .into_iter()
            .find(|one| one.id == id)
            .ok_or(Trouble::NotFound)?;
        diesel::delete(accommodation_reason::table.find(id)).execute(self.connection)?;
        if !why.is_empty() {
            diesel::insert_into(accommodation_reason::table)
                .values((accommodation_reason::accommodation_id.eq(id), accommodation_reason::words.eq(why)))
                .execute(self.connection)?;
        }
        self.journal("accommodation.reason-said", id, &json!({}))
    }

    /// Ends what was granted; due dates that follow from it and still lie ahead are the class's again.
    ///
    /// # Errors
    /// `NotFound`.
    pub fn end_accommodation(&mut self, class: ClassId, id: AccommodationId) -> Result<(), Trouble> {
        let one = accommodations(self.connection, class, None)?
            .into_iter()
            .find(|one| one.id == id)
            .ok_or(Trouble::NotFound)?;
        let of_it: Vec<ProjectId> = own_due::table
            .filter(own_due::accommodation_id.eq(id).and(own_due::superseded_at.is_null()))
            .select(own_due::project_id)
            .load(self.connection)?;
        diesel::update(accommodation::table.find(id))
            .set(accommodation::ended_at.eq(self.now))
            .execute(self.connection)?;
        let zone = facts::class(self.connection, class)?.zone()?;
        let dues = dues_of_class(self.connection, class, zone, None)?;
        for project in of_it {
            if dues.of_class(project).is_some_and(|due| due.at > self.now) {
                self.take_back_own_due(class, project, one.person)?;
            }
        }
        self.journal("accommodation.ended", id, &json!({}))
    }

    /// Moves due dates that still lie ahead for everybody who has more time: of all projects, or of one that was moved.
    /// A date of somebody's own that was set by hand stays.
    pub(super) fn spread_more_time(
        &mut self,
        class: ClassId,
        only: Option<ProjectId>,
    ) -> Result<(), Trouble> {
        let granted = accommodations(self.connection, class, None)?;
        if granted.iter().all(|one| one.more_time().is_none()) {
            return Ok(());
        }
        let facts = facts::class(self.connection, class)?;
        let zone = facts.zone()?;
        let dues = dues_of_class(self.connection, class, zone, None)?;
        let all = projects::projects(self.connection, class)?;
        let wanted = all.iter().filter(|project| only.is_none_or(|only| project.id == only));
        for project in wanted {
            let Some(due) = dues.of_class(project.id).filter(|due| due.at > self.now) else { continue };
            let begins = begins(&all, due.local)?
                .unwrap_or_else(|| facts.term.starts.and_time(chrono::NaiveTime::MIN));
            for one in &granted {
                let Some(to) = one.more_time().and_then(|time| time.due(begins, due.local)) else { continue };
                self.set_more_time(class, project, one, to)?;
            }
        }
        Ok(())
    }

    fn set_more_time(
        &mut self,
        class: ClassId,
        project: &Project,
        one: &Accommodation,
        to: NaiveDateTime,
    ) -> Result<(), Trouble> {
        type Standing = (OwnDueId, String, Option<AccommodationId>);
        let standing: Option<Standing> = own_due::table
            .filter(own_due::project_id.eq(project.id).and(own_due::person_id.eq(one.person)))
            .filter(own_due::superseded_at.is_null())
            .select((own_due::id, own_due::due_local, own_due::accommodation_id))
            .first(self.connection)
            .optional()?;
        let by_hand = standing.as_ref().is_some_and(|(_, _, of)| *of != Some(one.id));
        let same = standing.as_ref().is_some_and(|(_, local, _)| *local == due_text(to));
        if by_hand || same {
            return Ok(());
        }
        if let Some((before, ..)) = &standing {
            diesel::update(own_due::table.find(*before))
                .set(own_due::superseded_at.eq(self.now))
                .execute(self.connection)?;
        }
        let own: OwnDueId = self.id();
        diesel::insert_into(own_due::table)
            .values((
                (own_due::id.eq(own), own_due::project_id.eq(project.id), own_due::person_id.eq(one.person)),
                (own_due::due_local.eq(due_text(to)), own_due::reason.eq(WHY)),
                (own_due::by_id.eq(self.person()?), own_due::at.eq(self.now)),
                own_due::accommodation_id.eq(one.id),
            ))
            .execute(self.connection)?;
        let about = DueLetter {
            project: project.id,
            title: project.title.clone(),
            whose: Whose::Own.word().to_owned(),
            from: Some(standing.map_or_else(|| project.due_local.clone(), |(_, local, _)| local)),
            to: due_text(to),
            reason: None,
        };
        self.letters_about_due(class, &[one.person], &format!("own-due {own}"), &about)?;
        self.journal("own_due.set", project.id, &json!({ "person": one.person, "due": due_text(to) }))
    }
}

/// When a class begins on a project that is due then: the due date of the one before it.
fn begins(all: &[Project], due: NaiveDateTime) -> Result<Option<NaiveDateTime>, Trouble> {
    let mut last = None;
    for project in all {
        let other = project.due()?;
        if other < due && last.is_none_or(|last| other > last) {
            last = Some(other);
        }
    }
    Ok(last)
}
