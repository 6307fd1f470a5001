//! Files of an archive that hold one line of JSON for each row, read line by line: the first names the columns.

use std::io::{Read, Seek};

use serde_json::Value;

use super::checking::unreadable;
use crate::exchange::parcel::Parcel;
use crate::trade::remark::Remark;

/// A line longer than this is none of ours.
const LONGEST: usize = 64 << 20;

/// Hands out the rows of a file, each with what stands in the wanted columns, in their order.
///
/// # Errors
/// The file is not there or damaged, has no such column, or a line is no row of it; or the taker fails.
pub fn rows<R: Read + Seek>(
    parcel: &mut Parcel<R>,
    name: &str,
    wanted: &[&str],
    take: &mut dyn FnMut(&[&Value]) -> Result<(), Remark>,
) -> Result<(), Remark> {
    let mut lines = Lines { name, wanted, rest: Vec::new(), number: 0, width: 0, places: Vec::new() };
    parcel.unpack(name, &mut |piece| {
        lines.rest.extend_from_slice(piece);
        if lines.rest.len() > LONGEST {
            return Err(Remark::new("parcel-large").with("name", name));
        }
        lines.whole(take)
    })?;
    let last = std::mem::take(&mut lines.rest);
    if last.is_empty() { Ok(()) } else { lines.line(&last, take) }
}

struct Lines<'a> {
    name: &'a str,
    wanted: &'a [&'a str],
    rest: Vec<u8>,
    number: i64,
    /// So many values has every row.
    width: usize,
    /// Where the wanted columns stand.
    places: Vec<usize>,
}

type Taker<'a> = dyn FnMut(&[&Value]) -> Result<(), Remark> + 'a;

impl Lines<'_> {
    fn whole(&mut self, take: &mut Taker<'_>) -> Result<(), Remark> {
        let Some(end) = self.rest.iter().rposition(|byte| *byte == b'\n') else { return Ok(()) };
        let after = self.rest.split_off(end + 1);
        let whole = std::mem::replace(&mut self.rest, after);
        whole
            .strip_suffix(b"\n")
            .unwrap_or(&whole)
            .split(|byte| *byte == b'\n')
            .try_for_each(|line| self.line(line, take))
    }

    fn line(&mut self, line: &[u8], take: &mut Taker<'_>) -> Result<(), Remark> {
        self.number += 1;
        let wrong = |error: serde_json::Error| unreadable(self.name, self.number, &error);
        if self.number == 1 {
            let heads: Vec<String> = serde_json::from_slice(line).map_err(wrong)?;
            self.width = heads.len();
            for column in self.wanted {
                let place = heads.iter().position(|head| head == column).ok_or_else(|| {
                    Remark::new("archive-no-column").with("name", self.name).with("column", *column)
                })?;
                self.places.push(place);
            }
            return Ok(());
        }
        let row: Vec<Value> = serde_json::from_slice(line).map_err(wrong)?;
        let cells: Vec<&Value> = self.places.iter().filter_map(|place| row.get(*place)).collect();
        if row.len() != self.width || cells.len() != self.wanted.len() {
            return Err(Remark::new("archive-other-json").with("name", self.name).with("line", self.number));
        }
        take(&cells)
    }
}
