//! Making classes, which a keeper does, with the first instructor of each; and the list of all classes.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{ClassId, EnrolmentId, PersonId, StudioId, TermId};
use crate::store::classes::{facts, stale};
use crate::store::connections::AnyConnection;
use crate::store::people::persons::NewPerson;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::schema::{class, enrolment, person, studio, term};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// What a keeper tells about a class.
#[derive(Debug, Clone, serde::Serialize)]
pub struct NewClass {
    pub term: TermId,
    pub studio: StudioId,
    pub code: String,
    pub title: String,
}

/// Who is to teach: somebody known, or somebody new.
#[derive(Debug, Clone)]
pub enum Teacher {
    Known(PersonId),
    New(NewPerson),
}

/// A class that was made, and the person who came in with it.
#[derive(Debug, Clone, Copy)]
pub struct Made {
    pub class: ClassId,
    /// Somebody new, to be invited.
    pub newcomer: Option<PersonId>,
}

/// A class in the keeper's list.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct ClassLine {
    pub id: ClassId,
    pub code: String,
    pub title: String,
    pub term: TermId,
    pub term_name: String,
    pub studio_name: String,
}

/// All classes of the school, the newest term first.
///
/// # Errors
/// The database cannot be read.
pub fn classes(db: &mut AnyConnection) -> Result<Vec<ClassLine>, Trouble> {
    Ok(class::table
        .inner_join(term::table)
        .inner_join(studio::table)
        .order((term::starts.desc(), term::name, class::code, class::id))
        .select((class::id, class::code, class::title, term::id, term::name, studio::name))
        .load(db)?)
}

/// A person who may be chosen to teach.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct Candidate {
    pub id: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub email: Option<String>,
}

const CANDIDATE: (person::id, person::given_name, person::family_name, person::email) =
    (person::id, person::given_name, person::family_name, person::email);

/// Who teaches which class: for lists of classes and for choosing. Everybody who is an instructor somewhere.
///
/// # Errors
/// The database cannot be read.
pub fn instructors(db: &mut AnyConnection) -> Result<Vec<(ClassId, Candidate)>, Trouble> {
    Ok(enrolment::table
        .inner_join(person::table)
        .filter(enrolment::role.eq(Word(Role::Instructor)))
        .filter(enrolment::state.eq(Word(EnrolmentState::Enrolled)))
        .order((person::family_name, person::given_name, person::id))
        .select((enrolment::class_id, CANDIDATE))
        .load(db)?)
}

/// People who may be chosen to teach: everybody but those who are only students, and whoever has the e-mail key just
/// typed. Students are found by their e-mail alone, so that the list stays one to read.
///
/// # Errors
/// The database cannot be read.
pub fn candidates(db: &mut AnyConnection, email_key: Option<&str>) -> Result<Vec<Candidate>, Trouble> {
    let student = enrolment::role.eq(Word(Role::Student));
    let students = enrolment::table.filter(student).select(enrolment::person_id);
    let above = enrolment::role.ne(Word(Role::Student));
    let staff = enrolment::table.filter(above).select(enrolment::person_id);
    Ok(person::table
        .filter(
            person::id
                .ne_all(students)
                .or(person::id.eq_any(staff))
                .or(person::email_key.is_not_null().and(person::email_key.eq(email_key.unwrap_or_default()))),
        )
        .order((person::family_name, person::given_name, person::id))
        .select(CANDIDATE)
        .load(db)?)
}

fn coded_before(trouble: Trouble) -> Trouble {
    match trouble {
        Trouble::Taken => Trouble::about("code", Remark::new("classes-code-taken")),
        other => other,
    }
}

impl Tx<'_> {
    /// Makes a class with its first instructor and opens its journal. The go-ahead is asked for, logs are not shared,
    /// and there are no limits until the instructor sets them.
    ///
    /// # Errors
    /// Complaints, or the database refuses.
    pub fn add_class(&mut self, new: &NewClass, teacher: &Teacher) -> Result<Made, Trouble> {
        there_is(self, "term", term::table.find(new.term).count())?;
        there_is(self, "studio", studio::table.find(new.studio).count())?;
        let (id, now): (ClassId, _) = (self.id(), self.now);
        self.attempt(|db| {
            diesel::insert_into(class::table)
                .values((
                    (class::id.eq(id), class::term_id.eq(new.term), class::studio_id.eq(new.studio)),
                    (class::code.eq(&new.code), class::title.eq(&new.title), class::go_ahead.eq(true)),
                    (class::shares_logs.eq(false), class::created_at.eq(now), class::version.eq(1)),
                ))
                .execute(db)?;
            Ok(())
        })
        .map_err(coded_before)?;
        self.open_journal(id)?;
        self.journal("class.added", id, &json!(new))?;
        let newcomer = self.add_instructor(id, teacher)?;
        Ok(Made { class: id, newcomer })
    }

    /// Adds an instructor to a class; answers who came in new, to be invited.
    ///
    /// # Errors
    /// Complaints where the person is not there, is a student of the class, or the e-mail is taken.
    pub fn add_instructor(&mut self, id: ClassId, teacher: &Teacher) -> Result<Option<PersonId>, Trouble> {
        let today = self.now.local_date(facts::class(self.connection, id)?.zone()?);
        let (person_id, newcomer) = match teacher {
            Teacher::Known(person_id) => {
                there_is(self, "instructor", person::table.find(*person_id).count())?;
                (*person_id, None)
            }
            Teacher::New(new) => {
                let taken = |trouble| match trouble {
                    Trouble::Taken => Trouble::about("email", Remark::new("classes-email-known")),
                    other => other,
                };
                let person_id = self.add_person(new).map_err(taken)?;
                (person_id, Some(person_id))
            }
        };
        let stands: Option<(EnrolmentId, Word<Role>)> = enrolment::table
            .filter(
                enrolment::class_id
                    .eq(id)
                    .and(enrolment::person_id.eq(person_id))
                    .and(enrolment::state.eq(Word(EnrolmentState::Enrolled))),
            )
            .select((enrolment::id, enrolment::role))
            .first(self.connection)
            .optional()?;
        match stands {
            Some((_, Word(Role::Student))) => {
                Err(Trouble::about("instructor", Remark::new("classes-student-here")))
            }
            Some((_, Word(Role::Instructor))) => {
                Err(Trouble::about("instructor", Remark::new("classes-instructor-already")))
            }
            _ => {
                self.enrol(id, person_id, None, Role::Instructor, today, "")?;
                Ok(newcomer)
            }
        }
    }

    /// Changes what the keeper told about a class, if it still has the version it was shown with; its term stays.
    ///
    /// # Errors
    /// `NotFound`, `Stale`, complaints, or the database refuses.
    pub fn change_class(
        &mut self,
        id: ClassId,
        version: i64,
        code: &str,
        title: &str,
        studio_id: StudioId,
    ) -> Result<(), Trouble> {
        let before = facts::class(self.connection, id)?;
        there_is(self, "studio", studio::table.find(studio_id).count())?;
        let changed = self
            .attempt(|db| {
                Ok(diesel::update(class::table.find(id).filter(class::version.eq(version)))
                    .set((
                        class::code.eq(code),
                        class::title.eq(title),
                        class::studio_id.eq(studio_id),
                        class::version.eq(version + 1),
                    ))
                    .execute(db)?)
            })
            .map_err(coded_before)?;
        if changed == 0 {
            return Err(stale());
        }
        let after = json!({ "code": code, "title": title, "studio": studio_id });
        self.journal("class.changed", id, &json!({ "before": before, "after": after }))
    }
}

/// Complains at a field whose choice is not there any more.
fn there_is<Q>(tx: &mut Tx<'_>, field: &str, count: Q) -> Result<(), Trouble>
where
    Q: for<'q> diesel::query_dsl::LoadQuery<'q, AnyConnection, i64>,
{
    let found: i64 = count.get_result(tx.connection)?;
    if found == 1 { Ok(()) } else { Err(Trouble::about(field, Remark::new("classes-choice-gone"))) }
}
