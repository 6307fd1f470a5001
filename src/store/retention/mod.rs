//! How long each kind of record is kept: rules of the school, holds that suspend them, what would go by now, and the purge
//! that takes it. Grades, their evidence and workings, sign-offs and logs themselves are never among it.

pub mod due;
pub mod purging;

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, HoldId, PersonId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::schema::{class, hold, person, retention_rule, term};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

spelled!(
    /// A kind of record that a rule can end.
    Kind {
        /// Proof photos, with what was noted about the pull.
        Photos = "photos",
        /// Comments on plates and proofs.
        Comments = "comments",
        /// What was noted beside etch logs; the logs stay.
        EtchNotes = "etch_notes",
        /// The contents of letters that were sent or given up; that they were stays.
        Letters = "letters",
        /// Sessions that ended, and what the journal tells of signing in.
        SignIns = "sign_ins",
    }
);

/// A rule: so many days after the end of the term, or of the session.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Queryable)]
pub struct Rule {
    pub kind: Word<Kind>,
    pub days: i32,
}

/// The rules there are. A kind without one is kept.
///
/// # Errors
/// The database cannot be read.
pub fn rules(db: &mut AnyConnection) -> Result<Vec<Rule>, Trouble> {
    Ok(retention_rule::table
        .order(retention_rule::kind)
        .select((retention_rule::kind, retention_rule::days))
        .load(db)?)
}

/// A hold.
#[derive(Debug, Clone, Queryable)]
pub struct Hold {
    pub id: HoldId,
    pub class: Option<ClassId>,
    pub person: Option<PersonId>,
    pub reason: String,
    pub at: Instant,
    pub lifted_at: Option<Instant>,
    /// Code of the class and name of its term.
    pub class_name: Option<(String, String)>,
    pub person_name: Option<(String, String)>,
}

/// All holds, those that stand first.
///
/// # Errors
/// The database cannot be read.
pub fn holds(db: &mut AnyConnection) -> Result<Vec<Hold>, Trouble> {
    Ok(hold::table
        .left_join(class::table.inner_join(term::table))
        .left_join(person::table.on(person::id.nullable().eq(hold::person_id)))
        .order((hold::lifted_at.is_not_null(), hold::at.desc(), hold::id))
        .select((
            hold::id,
            hold::class_id,
            hold::person_id,
            hold::reason,
            hold::at,
            hold::lifted_at,
            (class::code, term::name).nullable(),
            (person::given_name, person::family_name).nullable(),
        ))
        .load(db)?)
}

/// Whose records are held now.
#[derive(Debug, Clone, Default)]
pub struct Held {
    pub classes: Vec<ClassId>,
    pub people: Vec<PersonId>,
}

/// Whose records are held now.
///
/// # Errors
/// The database cannot be read.
pub fn held(db: &mut AnyConnection) -> Result<Held, Trouble> {
    let mut found = Held::default();
    for one in holds(db)?.into_iter().filter(|one| one.lifted_at.is_none()) {
        found.classes.extend(one.class);
        found.people.extend(one.person);
    }
    Ok(found)
}

/// What is to be held.
#[derive(Debug, Clone, Copy)]
pub enum Whose {
    Class(ClassId),
    Person(PersonId),
}

impl Tx<'_> {
    /// Keeps the rules: those named hold, others are gone.
    ///
    /// # Errors
    /// The database refuses.
    pub fn keep_retention(&mut self, rules: &[(Kind, i32)]) -> Result<(), Trouble> {
        let by = self.person()?;
        diesel::delete(retention_rule::table).execute(self.connection)?;
        for (kind, days) in rules {
            diesel::insert_into(retention_rule::table)
                .values((
                    (retention_rule::kind.eq(Word(*kind)), retention_rule::days.eq(days)),
                    (retention_rule::by_id.eq(by), retention_rule::at.eq(self.now)),
                ))
                .execute(self.connection)?;
        }
        self.journal("retention.kept", "school", &json!({ "rules": rules }))
    }

    /// Holds the records of a class or a person.
    ///
    /// # Errors
    /// They are held already, or are not there.
    pub fn hold(&mut self, whose: Whose, reason: &str) -> Result<(), Trouble> {
        let held = held(self.connection)?;
        let (class_id, person_id, already) = match whose {
            Whose::Class(id) => (Some(id), None, held.classes.contains(&id)),
            Whose::Person(id) => (None, Some(id), held.people.contains(&id)),
        };
        if already {
            return Err(Trouble::Refused(Remark::new("retention-held-already")));
        }
        let id: HoldId = self.id();
        diesel::insert_into(hold::table)
            .values((
                (hold::id.eq(id), hold::class_id.eq(class_id), hold::person_id.eq(person_id)),
                (hold::reason.eq(reason), hold::by_id.eq(self.person()?), hold::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        self.journal("hold.set", id, &json!({ "class": class_id, "person": person_id, "reason": reason }))
    }

    /// Lifts a hold.
    ///
    /// # Errors
    /// There is none, or it is lifted already.
    pub fn lift_hold(&mut self, id: HoldId) -> Result<(), Trouble> {
        let by = self.person()?;
        let lifted = diesel::update(hold::table.find(id).filter(hold::lifted_at.is_null()))
            .set((hold::lifted_at.eq(self.now), hold::lifted_by.eq(by)))
            .execute(self.connection)?;
        if lifted == 0 {
            return Err(Trouble::NotFound);
        }
        self.journal("hold.lifted", id, &json!({}))
    }
}
