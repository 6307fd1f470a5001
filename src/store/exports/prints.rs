//! Prints as rows, each with the standings of its plates.

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PrintId, ProjectId};
use crate::store::connections::AnyConnection;
use crate::store::exports::{DueRow, Owner, Take, each, owner};
use crate::store::schema::{enrolment, listing, own_due, person, plate, print, project};
use crate::store::types::Word;
use crate::trade::procedure::Standing;
use crate::trouble::Trouble;

/// A print.
#[derive(Debug, Clone, Queryable)]
pub struct PrintRow {
    pub id: PrintId,
    pub person: Owner,
    pub project: ProjectId,
    pub project_title: String,
    pub title: String,
    pub edition_asked: i32,
    pub edition_size: Option<i32>,
    pub begun_at: Instant,
    pub due: DueRow,
    pub handed_in_at: Option<Instant>,
}

/// A print with the standing of each of its plates, in printing order.
#[derive(Debug, Clone)]
pub struct WholePrint {
    pub print: PrintRow,
    pub standings: Vec<Standing>,
}

/// The prints of a class, by the person's family name and then by when they were begun.
///
/// # Errors
/// The database cannot be read, or the taker fails.
pub fn prints(db: &mut AnyConnection, class: ClassId, take: Take<'_, WholePrint>) -> Result<(), Trouble> {
    type Joined = (PrintRow, Option<Word<Standing>>);
    let query = print::table
        .inner_join(person::table)
        .inner_join(project::table)
        .left_join(
            own_due::table.on(own_due::project_id
                .eq(print::project_id)
                .and(own_due::person_id.eq(print::person_id))
                .and(own_due::superseded_at.is_null())),
        )
        .left_join(
            enrolment::table
                .on(enrolment::class_id.eq(print::class_id).and(enrolment::person_id.eq(print::person_id))),
        )
        .left_join(listing::table.on(listing::id.nullable().eq(enrolment::listing_id.nullable())))
        .left_join(plate::table.on(plate::print_id.eq(print::id)))
        .filter(print::class_id.eq(class))
        .order((
            (person::family_name, person::given_name, person::id),
            (print::created_at, print::id),
            (plate::position, plate::id),
        ))
        .select((
            (
                print::id,
                owner!(),
                project::id,
                project::title,
                print::title,
                project::edition_asked,
                print::edition_size,
                print::created_at,
                (project::due_local, own_due::due_local.nullable()),
                print::handed_in_at,
            ),
            plate::standing.nullable(),
        ));
    let mut open: Option<WholePrint> = None;
    let mut join = |(print, standing): Joined| {
        let standing = standing.map(|word| word.0);
        match &mut open {
            Some(held) if held.print.id == print.id => held.standings.extend(standing),
            _ => {
                let whole = open.replace(WholePrint { print, standings: standing.into_iter().collect() });
                if let Some(whole) = whole {
                    return take(whole);
                }
            }
        }
        Ok(())
    };
    each!(db, query, Joined, join)?;
    open.map_or(Ok(()), take)
}
