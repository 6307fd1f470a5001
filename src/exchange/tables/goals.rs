//! `goals`: for the department's review, how many students have come how far with each learning goal, then
//! with each criterion that shows it, as it stood when the grades were submitted. Small groups are hidden, and so many
//! others that no hidden count follows from the total; before, every count is.

use std::io::Write;

use super::{number, put, word};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::ids::CriterionId;
use crate::store::AnyConnection;
use crate::store::exports::Of;
use crate::store::grades::goals::{self, Goal, Reach, Told};
use crate::trade::concealment::Shown;
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
    for one in goals::attainment(db, of.class, Told::Submitted)? {
        put_rows(sheet, &one.goal, None, &one.shown)?;
        for (id, title, shown) in &one.criteria {
            put_rows(sheet, &one.goal, Some((*id, title)), shown)?;
        }
    }
    Ok(())
}

fn put_rows<W: Write>(
    sheet: &mut Sheet<W>,
    goal: &Goal,
    criterion: Option<(CriterionId, &str)>,
    shown: &Shown,
) -> Result<(), Trouble> {
    let text = |count: &Option<u64>| count.map(|count| count.to_string()).unwrap_or_default();
    let total = text(&shown.total);
    for (reach, cell) in Reach::ALL.iter().zip(&shown.cells) {
        let students = text(cell);
        let cells = [
            Cell::Text(goal.id.as_str()),
            Cell::Text(&goal.title),
            criterion.as_ref().map_or(Cell::Empty, |(id, _)| Cell::Text(id.as_str())),
            criterion.map_or(Cell::Empty, |(_, title)| Cell::Text(title)),
            word(Some(*reach)),
            number(&students),
            Cell::YesNo(cell.is_none()),
            number(&total),
        ];
        put(sheet, &cells)?;
    }
    Ok(())
}
