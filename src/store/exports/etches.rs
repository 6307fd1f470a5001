//! Etch logs as rows: what stands, with its applications and how it came up. The applications come with the row, so that
//! none but those of the etch at hand are held.

use std::collections::HashMap;

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, ContainerId, EtchId, PersonId, PlateId};
use crate::store::connections::AnyConnection;
use crate::store::etches::entries::{Poured, pouring};
use crate::store::exports::{Owner, Take, each, owner};
use crate::store::plates::folder::KnownHow;
use crate::store::schema::{
    came_up, container, enrolment, etch, etch_application, listing, person, plate, print, step_run,
};
use crate::store::types::Word;
use crate::trouble::Trouble;

/// An etch log that stands.
#[derive(Debug, Clone, Queryable)]
pub struct EtchRow {
    pub id: EtchId,
    /// The entry it began as; itself where nothing was amended.
    pub root: EtchId,
    pub plate: PlateId,
    pub person: Owner,
    pub plate_number: i32,
    pub print_title: String,
    pub step: String,
    pub at: Instant,
    pub received_at: Instant,
    pub by: PersonId,
    pub known_how: Word<KnownHow>,
    pub mixed: Poured,
    pub tool: String,
    pub helper: String,
    /// Who else was in the room.
    pub in_room: String,
    pub seen: String,
    /// Names of the rules it was done outside of, joined by commas.
    pub outside_rules: String,
    /// Why it differs from the entry before.
    pub reason: String,
    /// How many entries it has superseded.
    pub amendments: i64,
}

/// How an etch came up.
#[derive(Debug, Clone, Queryable)]
pub struct CameUp {
    pub how: String,
    pub note: String,
    pub at: Instant,
}

/// An etch with what belongs to it.
#[derive(Debug, Clone)]
pub struct WholeEtch {
    pub etch: EtchRow,
    /// Place and seconds of each application, in order.
    pub applications: Vec<(i32, i32)>,
    /// What was told last.
    pub came_up: Option<CameUp>,
}

/// The etch logs of a class that stand, by time.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn etches(db: &mut AnyConnection, class: ClassId, take: Take<'_, WholeEtch>) -> Result<(), Trouble> {
    type Joined = (EtchRow, Option<(i32, i32)>, Option<CameUp>);
    let amendments = diesel::dsl::sql::<diesel::sql_types::BigInt>(
        "(SELECT count(*) FROM etch AS earlier WHERE earlier.root = etch.root AND earlier.superseded_at IS NOT NULL)",
    );
    let query = etch::table
        .inner_join(plate::table.inner_join(print::table))
        .inner_join(step_run::table)
        .inner_join(person::table.on(person::id.eq(plate::person_id)))
        .left_join(
            enrolment::table
                .on(enrolment::class_id.eq(etch::class_id).and(enrolment::person_id.eq(plate::person_id))),
        )
        .left_join(listing::table.on(listing::id.nullable().eq(enrolment::listing_id.nullable())))
        .left_join(etch_application::table.on(etch_application::etch_id.eq(etch::id)))
        .left_join(came_up::table.on(came_up::etch_root.eq(etch::root).and(came_up::superseded_at.is_null())))
        .filter(etch::class_id.eq(class).and(etch::superseded_at.is_null()))
        .order(((etch::class_id, etch::at, etch::id), etch_application::position, (came_up::at, came_up::id)))
        .select((
            (
                etch::id,
                etch::root,
                etch::plate_id,
                owner!(),
                plate::number,
                print::title,
                etch::step_key,
                etch::at,
                etch::received_at,
                etch::by_id,
                etch::known_how,
                pouring!(),
                etch::tool,
                etch::helper,
                step_run::in_room,
                etch::seen,
                step_run::outside_rules,
                etch::reason,
                amendments,
            ),
            (etch_application::position, etch_application::seconds).nullable(),
            (came_up::how, came_up::note, came_up::at).nullable(),
        ));
    let mut open: Option<WholeEtch> = None;
    let mut join = |(etch, application, came_up): Joined| {
        match &mut open {
            Some(held) if held.etch.id == etch.id => held.add(application, came_up),
            _ => {
                let applications = application.into_iter().collect();
                if let Some(whole) = open.replace(WholeEtch { etch, applications, came_up }) {
                    return take(whole);
                }
            }
        }
        Ok(())
    };
    each!(db, query, Joined, join)?;
    open.map_or(Ok(()), take)
}

impl WholeEtch {
    /// Takes what the next row of the same etch brings.
    fn add(&mut self, application: Option<(i32, i32)>, came_up: Option<CameUp>) {
        // With two answers on how it came up each application stands twice.
        self.applications.extend(application.filter(|one| self.applications.last() != Some(one)));
        self.came_up = came_up.or(self.came_up.take());
    }
}

/// The marks on the labels of all containers, G3, finished ones included. There are as many as bottles were bought, not as
/// many as etches were made.
///
/// # Errors
/// The database cannot be read.
pub fn marks(db: &mut AnyConnection) -> Result<HashMap<ContainerId, String>, Trouble> {
    let rows: Vec<(ContainerId, String, i32)> =
        container::table.select((container::id, container::letter, container::number)).load(db)?;
    Ok(rows.into_iter().map(|(id, letter, number)| (id, format!("{letter}{number}"))).collect())
}
