//! `columns`: the dictionary. For each column of each table what it holds, in which unit, and what it means; written from
//! the very columns the tables are written with.

use std::io::Write;

use super::{Table, number, put};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::speech::Speech;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    Column::new("table_name", Holds::Text, "exports-column-table-name").one_of::<Table>(),
    Column::new("position", Holds::Number, "exports-column-column-position"),
    Column::new("column_name", Holds::Text, "exports-column-column-name"),
    Column::new("holds", Holds::Text, "exports-column-holds").one_of::<Holds>(),
    Column::new("unit", Holds::Text, "exports-column-unit"),
    Column::new("words", Holds::Text, "exports-column-words"),
    Column::new("meaning", Holds::Text, "exports-column-meaning"),
];

pub(super) fn write<W: Write>(speech: &Speech, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    for table in Table::ALL {
        for (place, column) in (1..).zip(table.columns()) {
            let place = i32::to_string(&place);
            let meaning = speech.plain(column.description);
            let words = (column.words)().join(";");
            put(
                sheet,
                &[
                    Cell::Text(table.word()),
                    number(&place),
                    Cell::Text(column.key),
                    Cell::Text(column.holds.word()),
                    Cell::Text(column.unit),
                    Cell::Text(&words),
                    Cell::Text(&meaning),
                ],
            )?;
        }
    }
    Ok(())
}
