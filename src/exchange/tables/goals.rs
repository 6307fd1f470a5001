//! `goals`: for the department's review, how many students have come how far with each learning goal. Small groups are
//! hidden, and so many others that no hidden count follows from the total.

use std::io::Write;

use super::{number, put, word};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::store::AnyConnection;
use crate::store::exports::Of;
use crate::store::grades::goals::{self, Reach};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    Column::new("goal_id", Holds::Text, "exports-column-goal-id"),
    Column::new("goal", Holds::Text, "exports-column-goal"),
    Column::new("reach", Holds::Text, "exports-column-reach").one_of::<Reach>(),
    Column::new("students", Holds::Number, "exports-column-goal-students"),
    Column::new("hidden", Holds::YesNo, "exports-column-goal-hidden"),
    Column::new("students_in_all", Holds::Number, "exports-column-goal-students-in-all"),
];

pub(super) fn write<W: Write>(db: &mut AnyConnection, of: &Of, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    let text = |count: &Option<u64>| count.map(|count| count.to_string()).unwrap_or_default();
    for (goal, shown) in goals::attainment(db, of.class)? {
        let total = text(&shown.total);
        for (reach, cell) in Reach::ALL.iter().zip(&shown.cells) {
            let students = text(cell);
            let cells = [
                Cell::Text(goal.id.as_str()),
                Cell::Text(&goal.title),
                word(Some(*reach)),
                number(&students),
                Cell::YesNo(cell.is_none()),
                number(&total),
            ];
            put(sheet, &cells)?;
        }
    }
    Ok(())
}
