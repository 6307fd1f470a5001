//! When a class meets, and when its instructor and assistants are in the studio.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, MeetingId, PersonId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::journal::{nothing_to_bring_back, taken_away};
use crate::store::people::members::{Member, members};
use crate::store::people::sessions::Role;
use crate::store::schema::{meeting, person};
use crate::store::studio::called_off::{Of, On};
use crate::store::studio::hours::Stretch;
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

spelled!(
    /// What a weekly stretch is.
    MeetingKind {
        /// The class comes together.
        Meeting = "meeting",
        /// Somebody of its staff is there to be asked.
        Presence = "presence",
    }
);

/// A weekly stretch: weekdays from Monday, 1, minutes of the local day.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Meeting {
    pub id: MeetingId,
    pub kind: Word<MeetingKind>,
    /// Who is there; for a meeting nobody in particular.
    pub person: Option<PersonId>,
    pub given_name: Option<String>,
    pub family_name: Option<String>,
    pub weekday: i32,
    pub from_minute: i32,
    pub to_minute: i32,
}

/// All meetings and presences of a class, in the order of the week.
///
/// # Errors
/// The database cannot be read.
pub fn meetings(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Meeting>, Trouble> {
    Ok(meeting::table
        .left_join(person::table)
        .filter(meeting::class_id.eq(class))
        .order((meeting::weekday, meeting::from_minute, meeting::kind, meeting::id))
        .select((
            meeting::id,
            meeting::kind,
            meeting::person_id,
            person::given_name.nullable(),
            person::family_name.nullable(),
            meeting::weekday,
            meeting::from_minute,
            meeting::to_minute,
        ))
        .load(db)?)
}

/// Instructors and assistants of a class, by name.
///
/// # Errors
/// The database cannot be read.
pub fn staff(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Member>, Trouble> {
    let mut all = members(db, class)?;
    all.retain(|member| member.role.0 != Role::Student);
    Ok(all)
}

/// What people type about a meeting or a presence.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
pub struct MeetingDraft {
    pub kind: MeetingKind,
    pub person: Option<PersonId>,
    pub weekday: i32,
    pub stretch: Stretch,
}

impl Tx<'_> {
    /// Adds a meeting, or the presence of somebody who teaches or assists in the class.
    ///
    /// # Errors
    /// Complaints, or the database refuses.
    pub fn add_meeting(&mut self, class: ClassId, draft: &MeetingDraft) -> Result<MeetingId, Trouble> {
        let id: MeetingId = self.id();
        self.keep_meeting(class, id, draft)?;
        self.journal("meeting.added", id, &json!(draft))?;
        Ok(id)
    }

    fn keep_meeting(&mut self, class: ClassId, id: MeetingId, draft: &MeetingDraft) -> Result<(), Trouble> {
        const MOST: i64 = 100;
        draft.stretch.check()?;
        if !(1..=7).contains(&draft.weekday) {
            return Err(Trouble::about("weekday", Remark::new("studio-no-weekday")));
        }
        let known = match draft.person {
            Some(person) => staff(self.connection, class)?.iter().any(|member| member.person == person),
            None => true,
        };
        match (draft.kind, draft.person) {
            (MeetingKind::Presence, None) => {
                return Err(Trouble::about("person", Remark::new("classes-presence-of-whom")));
            }
            (MeetingKind::Presence, Some(_)) if !known => {
                return Err(Trouble::about("person", Remark::new("classes-not-staff")));
            }
            _ => {}
        }
        let rows: i64 =
            meeting::table.filter(meeting::class_id.eq(class)).count().get_result(self.connection)?;
        if rows >= MOST {
            return Err(Trouble::Refused(Remark::new("classes-meetings-full").with("most", MOST)));
        }
        let person = draft.person.filter(|_| draft.kind == MeetingKind::Presence);
        diesel::insert_into(meeting::table)
            .values((
                meeting::id.eq(id),
                meeting::class_id.eq(class),
                meeting::kind.eq(Word(draft.kind)),
                meeting::person_id.eq(person),
                meeting::weekday.eq(draft.weekday),
                meeting::from_minute.eq(draft.stretch.from_minute),
                meeting::to_minute.eq(draft.stretch.to_minute),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    /// Takes a meeting or presence away.
    ///
    /// # Errors
    /// `NotFound` where it is not of this class, or the database refuses.
    pub fn remove_meeting(&mut self, class: ClassId, id: MeetingId) -> Result<(), Trouble> {
        let target = meeting::table.filter(meeting::id.eq(id).and(meeting::class_id.eq(class)));
        let (kind, weekday, from, to, who): (Word<MeetingKind>, i32, i32, i32, Option<PersonId>) = target
            .select((
                meeting::kind,
                meeting::weekday,
                meeting::from_minute,
                meeting::to_minute,
                meeting::person_id,
            ))
            .first(self.connection)?;
        diesel::delete(target).execute(self.connection)?;
        self.call_off(&format!("meeting-{id}"), Of::Class(class, who), On::Weekday(weekday), (from, to))?;
        let stretch = Stretch { from_minute: from, to_minute: to };
        let draft = MeetingDraft { kind: kind.0, person: who, weekday, stretch };
        self.journal("meeting.removed", id, &json!(Gone { id, draft }))
    }

    /// Brings a meeting or presence back, under the id it had, so that calendars know it again.
    ///
    /// # Errors
    /// Whoever asks did not take it away lately, it is there, somebody is not of the staff any more, or the database
    /// refuses.
    pub fn bring_back_meeting(&mut self, class: ClassId, id: MeetingId) -> Result<(), Trouble> {
        let gone: Gone = taken_away(self, "meeting.removed", &id.to_string())?;
        let there: i64 = meeting::table.find(id).count().get_result(self.connection)?;
        if there > 0 {
            return Err(nothing_to_bring_back());
        }
        self.keep_meeting(class, id, &gone.draft)?;
        self.call_on(&format!("meeting-{id}"))?;
        self.journal("meeting.brought_back", id, &json!(gone.draft))
    }
}

/// What was taken away, as the journal tells it.
#[derive(serde::Serialize, serde::Deserialize)]
struct Gone {
    id: MeetingId,
    #[serde(flatten)]
    draft: MeetingDraft,
}
