//! Prints and their plates: procedures in versions, what was done on a plate, and everything a judgement of it needs.

pub mod agenda;
pub mod class_plan;
pub mod drafts;
pub mod folder;
mod happened;
pub mod pictures;
pub mod plans;
pub mod premises;
pub mod prints;
pub mod procedures;
mod row;
pub mod runs;

/// Joins a question about plates to the due date that is the person's own, where there is one, and to the person's seat.
macro_rules! with_own_due_and_seat {
    ($query:expr) => {{
        use $crate::store::schema::{enrolment, own_due, plate, print};
        $query
            .left_join(
                own_due::table.on(own_due::project_id
                    .eq(print::project_id)
                    .and(own_due::person_id.eq(plate::person_id))
                    .and(own_due::superseded_at.is_null())),
            )
            .left_join(
                enrolment::table.on(enrolment::class_id
                    .eq(plate::class_id)
                    .and(enrolment::person_id.eq(plate::person_id))),
            )
    }};
}
pub(crate) use with_own_due_and_seat;
