//! Sheets of labels: paper, rows and columns and where to begin on a sheet that was used before. The sizes reach the
//! printer as a style sheet of their own, because the content policy allows no style in a page.

use actix_web::HttpResponse;
use actix_web::http::header;
use serde::Serialize;

use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::mixing::asked;
use crate::spelled;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

spelled!(
    /// What the labels stand on.
    Paper { Letter = "letter", A4 = "a4" }
);

impl Paper {
    /// Width and height in tenths of a millimetre.
    const fn tenths(self) -> (i64, i64) {
        match self {
            Self::Letter => (2159, 2794),
            Self::A4 => (2100, 2970),
        }
    }
}

/// A sheet of labels; lengths in tenths of a millimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Layout {
    paper: Paper,
    columns: i64,
    rows: i64,
    width: i64,
    height: i64,
    left: i64,
    top: i64,
    across: i64,
    down: i64,
    /// The label to begin with, from 1.
    start: i64,
    copies: i64,
}

/// What stands in the form before anybody measured a sheet: ten labels of 4 by 2 inches on letter paper.
pub const USUAL: [(&str, &str); 11] = [
    ("paper", "letter"),
    ("columns", "2"),
    ("rows", "5"),
    ("width", "101.6"),
    ("height", "50.8"),
    ("left", "4"),
    ("top", "12.7"),
    ("across", "4.7"),
    ("down", "0"),
    ("start", "1"),
    ("copies", "1"),
];

/// Where the labels come to stand.
#[derive(Debug, Serialize)]
pub struct Places {
    /// Labels of the sheet that are left free.
    before: Vec<i64>,
    /// The labels after the first one.
    more: Vec<i64>,
    first: i64,
    last: i64,
    all: i64,
}

/// Reads the fields of a sheet.
///
/// # Errors
/// Complaints at the fields, also where the labels do not fit the paper.
pub fn read(filled: &Filled) -> Result<Layout, Trouble> {
    let mut sheet = Sheet::new(filled);
    let layout = Layout {
        paper: sheet.choice("paper", Paper::Letter),
        columns: sheet.whole("columns", 1..=10),
        rows: sheet.whole("rows", 1..=30),
        width: sheet.decimal("width", 1, 150..=3000),
        height: sheet.decimal("height", 1, 100..=3000),
        left: sheet.decimal("left", 1, 0..=1000),
        top: sheet.decimal("top", 1, 0..=1000),
        across: sheet.decimal("across", 1, 0..=500),
        down: sheet.decimal("down", 1, 0..=500),
        start: sheet.whole("start", 1..=300),
        copies: sheet.whole("copies", 1..=300),
    };
    sheet.done()?;
    layout.check().map_err(|(field, remark)| Trouble::about(field, remark))?;
    Ok(layout)
}

impl Layout {
    fn check(&self) -> Result<(), (&'static str, Remark)> {
        let (wide, high) = self.paper.tenths();
        let needs_wide = self.left + self.columns * self.width + (self.columns - 1) * self.across;
        let needs_high = self.top + self.rows * self.height + (self.rows - 1) * self.down;
        let sizes = |key, need, has| {
            Remark::new(key).with("need", decimal_text(need, 1)).with("has", decimal_text(has, 1))
        };
        if needs_wide > wide {
            return Err((
                "columns",
                sizes("mixing-label-too-wide", needs_wide, wide).with("columns", self.columns),
            ));
        }
        if needs_high > high {
            return Err(("rows", sizes("mixing-label-too-high", needs_high, high).with("rows", self.rows)));
        }
        let all = self.columns * self.rows;
        if self.start > all {
            return Err(("start", Remark::new("mixing-label-start-beyond").with("all", all)));
        }
        let room = all - self.start + 1;
        if self.copies > room {
            let remark = Remark::new("mixing-label-no-room").with("start", self.start).with("room", room);
            return Err(("copies", remark));
        }
        Ok(())
    }

    #[must_use]
    pub fn places(&self) -> Places {
        Places {
            before: (1..self.start).collect(),
            more: (2..=self.copies).collect(),
            first: self.start,
            last: self.start + self.copies - 1,
            all: self.columns * self.rows,
        }
    }

    /// Whether the letters have to be small.
    #[must_use]
    pub fn is_small(&self) -> bool {
        self.height < 450 || self.width < 700
    }

    /// The layout as the query of an address.
    #[must_use]
    pub fn query(&self) -> String {
        use crate::trade::spelled::Spelled;
        let mm = |tenths| decimal_text(tenths, 1);
        format!(
            "paper={}&columns={}&rows={}&width={}&height={}&left={}&top={}&across={}&down={}&start={}&copies={}",
            self.paper.word(),
            self.columns,
            self.rows,
            mm(self.width),
            mm(self.height),
            mm(self.left),
            mm(self.top),
            mm(self.across),
            mm(self.down),
            self.start,
            self.copies
        )
    }

    fn style(&self) -> String {
        let (wide, high) = self.paper.tenths();
        let mm = |tenths| decimal_text(tenths, 1);
        format!(
            ".label-card {{ inline-size: {width}mm; block-size: {height}mm; }}\n\
             @page {{ size: {}mm {}mm; margin: 0; }}\n\
             @media print {{ .label-sheet {{ padding: {}mm 0 0 {}mm; grid-template-columns: repeat({}, {width}mm); \
             grid-auto-rows: {height}mm; gap: {}mm {}mm; }} }}\n",
            mm(wide),
            mm(high),
            mm(self.top),
            mm(self.left),
            self.columns,
            mm(self.down),
            mm(self.across),
            width = mm(self.width),
            height = mm(self.height),
        )
    }
}

/// The style sheet of a layout.
pub async fn style(ask: InClass) -> Reply {
    let layout = read(&asked(&ask))?;
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "text/css; charset=utf-8"))
        .insert_header((header::CACHE_CONTROL, "private, max-age=86400"))
        .body(layout.style()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn usual(but: &[(&str, &str)]) -> Result<Layout, Trouble> {
        let pairs = USUAL.iter().map(|(field, value)| {
            let other = but.iter().find(|(name, _)| name == field).map(|(_, value)| *value);
            ((*field).to_owned(), other.unwrap_or(value).to_owned())
        });
        read(&Filled { pairs: pairs.collect(), once: None })
    }

    #[test]
    fn ten_labels_of_four_by_two_inches_fill_letter_paper() {
        let layout = usual(&[("start", "3"), ("copies", "2")]).unwrap();
        let places = layout.places();
        assert_eq!((places.before, places.more, places.last, places.all), (vec![1, 2], vec![2], 4, 10));
        let style = layout.style();
        assert!(style.contains("size: 215.9mm 279.4mm"), "{style}");
        assert!(style.contains("repeat(2, 101.6mm)") && style.contains("gap: 0mm 4.7mm"), "{style}");
    }

    #[test]
    fn what_does_not_fit_is_said_at_its_field() {
        for (but, field) in [
            (("columns", "3"), "columns"),
            (("rows", "6"), "rows"),
            (("start", "11"), "start"),
            (("copies", "11"), "copies"),
            (("width", "0"), "width"),
            (("height", "-5"), "height"),
            (("paper", "a3"), "paper"),
        ] {
            let Err(Trouble::Complaints(all)) = usual(&[but]) else { panic!("{but:?}") };
            assert_eq!(all.first().unwrap().field, field);
        }
    }
}
