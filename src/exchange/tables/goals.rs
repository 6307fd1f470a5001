//! `goals`: for the department's review, how many students have come how far with each learning goal, then
//! with each criterion that shows it, as it was settled once. Small groups are hidden, and so many others that no hidden count
//! follows from the total; before it is settled there is no row.

use std::io::Write;

use super::{number, put, word};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::store::AnyConnection;
use crate::store::exports::Of;
use crate::store::grades::attainment::{self, Reach, Settled};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    Column::new("goal_id", Holds::Text, "exports-column-goal-id"),
    Column::new("goal", Holds::Text, "exports-column-goal"),
    Column::new("criterion_id", Holds::Text, "exports-column-goal-criterion-id"),
    Column::new("criterion", Holds::Text, "exports-column-goal-criterion"),
    Column::new("reach", Holds::Text, "exports-column-reach").one_of::<Reach>(),
    Column::new("students", Holds::Number, "exports-column-goal-students"),
    Column::new("hidden", Holds::YesNo, "exports-column-goal-hidden"),
    Column::new("students_in_all", Holds::Number, "exports-column-goal-students-in-all"),
];

pub(super) fn write<W: Write>(db: &mut AnyConnection, of: &Of, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    attainment::settled(db, of.class)?.iter().try_for_each(|row| put_rows(sheet, row))
}

fn put_rows<W: Write>(sheet: &mut Sheet<W>, row: &Settled) -> Result<(), Trouble> {
    let text = |count: &Option<u64>| count.map(|count| count.to_string()).unwrap_or_default();
    let total = text(&row.shown.total);
    for (reach, cell) in Reach::ALL.iter().zip(&row.shown.cells) {
        let students = text(cell);
        let cells = [
            Cell::Text(row.goal.as_str()),
            Cell::Text(&row.title),
            row.criterion.as_ref().map_or(Cell::Empty, |(id, _)| Cell::Text(id.as_str())),
            row.criterion.as_ref().map_or(Cell::Empty, |(_, title)| Cell::Text(title)),
            word(Some(*reach)),
            number(&students),
            Cell::YesNo(cell.is_none()),
            number(&total),
        ];
        put(sheet, &cells)?;
    }
    Ok(())
}
