//! What would go by now: for each class whose term is long enough over, the things of each kind, those held left out.

use chrono::NaiveDate;
use chrono_tz::Tz;
use diesel::prelude::*;

use super::{Held, Kind, Rule, held, rules};
use crate::clock::{DAY_MS, Instant};
use crate::ids::{ClassId, CommentId, EtchId, LetterId, PersonId, PhotoId, SessionId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{came_up, class, comment, etch, letter, photo, plate, session, term};
use crate::trade::civil;
use crate::trouble::Trouble;

/// What would go out of one class.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct OfClass {
    pub class: Option<ClassId>,
    pub code: String,
    pub term: String,
    pub photos: Vec<PhotoId>,
    pub comments: Vec<CommentId>,
    pub etches: Vec<EtchId>,
    pub letters: Vec<LetterId>,
    /// Things that would go but for a hold.
    pub held: usize,
}

/// What would go out of the school's own record.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct OfSchool {
    pub sessions: Vec<SessionId>,
    pub held: usize,
}

impl OfClass {
    /// How many things would go.
    #[must_use]
    pub fn count(&self) -> usize {
        self.photos.len() + self.comments.len() + self.etches.len() + self.letters.len()
    }
}

/// Everything that would go at `now`.
///
/// # Errors
/// The database cannot be read.
pub fn due(db: &mut AnyConnection, now: Instant) -> Result<(Vec<OfClass>, OfSchool), Trouble> {
    let (rules, held) = (rules(db)?, held(db)?);
    let days = |kind: Kind| rules.iter().find(|rule: &&Rule| rule.kind.0 == kind).map(|rule| rule.days);
    let classes: Vec<(ClassId, String, String, NaiveDate, String)> = class::table
        .inner_join(term::table)
        .order((term::starts, term::name, class::code))
        .select((class::id, class::code, term::name, term::ends, term::zone))
        .load(db)?;
    let mut found = Vec::new();
    for (id, code, term, ends, zone) in classes {
        let zone: Tz =
            civil::zone("zone", &zone).map_err(|_remark| Trouble::broken("reading a zone", &zone))?;
        let over = now.local_date(zone).signed_duration_since(ends).num_days();
        let is_due = |kind: Kind| days(kind).is_some_and(|days| over > i64::from(days));
        let one = of_class(db, id, &held, &is_due)?;
        found.push(OfClass { class: Some(id), code, term, ..one });
    }
    found.retain(|one| one.count() + one.held > 0);
    let school = match days(Kind::SignIns) {
        Some(days) => of_school(db, now.plus_ms(-i64::from(days) * DAY_MS), &held)?,
        None => OfSchool::default(),
    };
    Ok((found, school))
}

fn of_class(
    db: &mut AnyConnection,
    id: ClassId,
    held: &Held,
    is_due: &dyn Fn(Kind) -> bool,
) -> Result<OfClass, Trouble> {
    let mut found = OfClass::default();
    let whole = held.classes.contains(&id);
    let mut keep = |owner: PersonId, other: Option<PersonId>| {
        let is_held =
            whole || held.people.contains(&owner) || other.is_some_and(|id| held.people.contains(&id));
        found.held += usize::from(is_held);
        !is_held
    };
    if is_due(Kind::Photos) {
        let rows: Vec<(PhotoId, PersonId)> = photo::table
            .inner_join(plate::table)
            .filter(photo::class_id.eq(id).and(photo::sha256.is_not_null()))
            .order(photo::id)
            .select((photo::id, plate::person_id))
            .load(db)?;
        found.photos = rows.into_iter().filter(|(_, owner)| keep(*owner, None)).map(|(id, _)| id).collect();
    }
    if is_due(Kind::Comments) {
        let rows: Vec<(CommentId, PersonId, PersonId)> = comment::table
            .inner_join(plate::table)
            .filter(comment::class_id.eq(id).and(comment::words.ne("")))
            .order(comment::id)
            .select((comment::id, plate::person_id, comment::by_id))
            .load(db)?;
        found.comments =
            rows.into_iter().filter(|(_, owner, by)| keep(*owner, Some(*by))).map(|(id, _, _)| id).collect();
    }
    if is_due(Kind::EtchNotes) {
        let noted = etch::seen.ne("").or(etch::helper.ne("")).or(etch::id.eq_any(
            came_up::table
                .filter(came_up::class_id.eq(id).and(came_up::note.ne("")))
                .select(came_up::etch_root),
        ));
        let rows: Vec<(EtchId, PersonId)> = etch::table
            .inner_join(plate::table)
            .filter(etch::class_id.eq(id).and(noted))
            .order(etch::id)
            .select((etch::id, plate::person_id))
            .load(db)?;
        found.etches = rows.into_iter().filter(|(_, owner)| keep(*owner, None)).map(|(id, _)| id).collect();
    }
    if is_due(Kind::Letters) {
        let done = letter::sent_at
            .is_not_null()
            .or(letter::failed_at.is_not_null())
            .or(letter::dropped_at.is_not_null());
        let rows: Vec<(LetterId, PersonId)> = letter::table
            .filter(letter::class_id.eq(id).and(letter::detail.ne("{}")).and(done))
            .order(letter::id)
            .select((letter::id, letter::person_id))
            .load(db)?;
        found.letters = rows.into_iter().filter(|(_, owner)| keep(*owner, None)).map(|(id, _)| id).collect();
    }
    Ok(found)
}

fn of_school(db: &mut AnyConnection, before: Instant, held: &Held) -> Result<OfSchool, Trouble> {
    let over = session::ended_at.lt(before).or(session::ends_at.lt(before));
    let rows: Vec<(SessionId, PersonId)> =
        session::table.filter(over).order(session::id).select((session::id, session::person_id)).load(db)?;
    let (gone, kept): (Vec<_>, Vec<_>) =
        rows.into_iter().partition(|(_, person)| !held.people.contains(person));
    Ok(OfSchool { sessions: gone.into_iter().map(|(id, _)| id).collect(), held: kept.len() })
}
