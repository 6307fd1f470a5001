//! The school itself, and making it with its first keeper.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::PersonId;
use crate::store::connections::AnyConnection;
use crate::store::people::persons::{NewPerson, Right};
use crate::store::schema::{person, school};
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// The school as pages show it.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct School {
    pub name: String,
    pub safety_office: String,
    pub demo: bool,
    pub version: i64,
}

/// The school, if it was set up.
///
/// # Errors
/// The database cannot be read.
pub fn school(db: &mut AnyConnection) -> Result<Option<School>, Trouble> {
    Ok(school::table
        .select((school::name, school::safety_office, school::demo, school::version))
        .first(db)
        .optional()?)
}

/// When the school was set up: the one thing about it that never changes.
///
/// # Errors
/// There is none.
pub fn founded_at(db: &mut AnyConnection) -> Result<Instant, Trouble> {
    Ok(school::table.select(school::created_at).first(db)?)
}

/// Whether anybody at all is there.
///
/// # Errors
/// The database cannot be read.
pub fn is_empty(db: &mut AnyConnection) -> Result<bool, Trouble> {
    let people: i64 = person::table.count().get_result(db)?;
    Ok(people == 0)
}

impl Tx<'_> {
    /// Makes the school and its first keeper. There is one school; a second making is refused.
    ///
    /// # Errors
    /// There is a school already.
    pub fn found_school(
        &mut self,
        name: &str,
        safety_office: &str,
        keeper: &NewPerson,
        demo: bool,
    ) -> Result<PersonId, Trouble> {
        if !is_empty(self.connection)? || school(self.connection)?.is_some() {
            return Err(Trouble::Refused(Remark::new("people-school-there")));
        }
        diesel::insert_into(school::table)
            .values((
                school::id.eq("school"),
                school::name.eq(name),
                school::safety_office.eq(safety_office),
                school::second_factor.eq(false),
                school::demo.eq(demo),
                school::created_at.eq(self.now),
                school::version.eq(1),
            ))
            .execute(self.connection)?;
        self.journal("school.founded", "school", &json!({ "name": name }))?;
        let id = self.add_person(keeper)?;
        self.set_right(id, Right::Keeper, true)?;
        Ok(id)
    }

    /// Changes what the school is called and whom to ask about safety.
    ///
    /// # Errors
    /// Somebody else changed it since `version`.
    pub fn change_school(&mut self, version: i64, name: &str, safety_office: &str) -> Result<(), Trouble> {
        let changed = diesel::update(school::table.filter(school::version.eq(version)))
            .set((
                school::name.eq(name),
                school::safety_office.eq(safety_office),
                school::version.eq(school::version + 1),
            ))
            .execute(self.connection)?;
        if changed == 0 {
            return Err(Trouble::Stale(Remark::new("form-stale")));
        }
        self.journal("school.changed", "school", &json!({ "name": name, "safety_office": safety_office }))
    }
}
