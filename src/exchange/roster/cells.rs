//! One row of a list, cell by cell: what it says, and what is wrong with it.

use super::columns::{Columns, compact};
use super::encoding::count;
use super::listings::{Listings, Meant};
use super::table::Record;
use super::values::{MOST_EMAIL, is_email, is_rounded, plain};
use super::{Complaint, Details, Field, Role, shown};
use crate::exchange::spreadsheet::begins_like_formula;
use crate::trade::remark::Remark;

/// Most characters of a given or family name.
const MOST_NAME: usize = 100;
const MOST_STUDENT_NUMBER: usize = 64;
/// The length of an id in OneRoster.
const MOST_EXTERNAL_ID: usize = 255;
const MOST_OTHER: usize = 200;

/// Words for the roles a list may grant, and for those it may not.
const GRANTED: [(&str, Role); 11] = [
    ("student", Role::Student),
    ("students", Role::Student),
    ("learner", Role::Student),
    ("assistant", Role::Assistant),
    ("teachingassistant", Role::Assistant),
    ("studioassistant", Role::Assistant),
    ("technician", Role::Assistant),
    ("estudiante", Role::Student),
    ("alumno", Role::Student),
    ("alumna", Role::Student),
    ("ayudante", Role::Assistant),
];
const TOO_HIGH: [&str; 17] = [
    "instructor",
    "coinstructor",
    "teacher",
    "faculty",
    "lecturer",
    "professor",
    "keeper",
    "records",
    "recordsstaff",
    "registrar",
    "safetyofficer",
    "administrator",
    "admin",
    "owner",
    "docente",
    "profesor",
    "profesora",
];

/// A row while it is being read.
#[derive(Debug)]
pub(super) struct Draft<L> {
    pub(super) line: u32,
    pub(super) details: Details,
    pub(super) listing: Option<L>,
    pub(super) role: Option<Role>,
    pub(super) complaints: Vec<Complaint>,
    pub(super) broken: bool,
}

impl<L: Copy> Draft<L> {
    /// A row whose cells are not certain: only the complaint is.
    pub(super) fn broken(record: &Record, columns: &Columns, key: &'static str) -> Self {
        let value = shown(&record.cells.join(" "));
        let remark = Remark::new(key)
            .with("line", i64::from(record.line))
            .with("value", value.as_str())
            .with("cells", count(record.cells.len()))
            .with("columns", count(columns.count()));
        let mut draft = Self::empty(record.line);
        draft.broken = true;
        draft.complaints.push(Complaint { field: None, value, remark });
        draft
    }

    pub(super) fn read(record: &Record, columns: &Columns, listings: &Listings<L>) -> Self {
        let mut reading = Reading { record, columns, draft: Self::empty(record.line) };
        reading.names();
        reading.draft.details.email = reading.email();
        reading.draft.details.student_number = reading.student_number();
        reading.draft.details.external_id = reading.text(Field::ExternalId, MOST_EXTERNAL_ID);
        reading.draft.listing = reading.listing(listings);
        reading.draft.role = reading.role();
        reading.draft
    }

    fn empty(line: u32) -> Self {
        let details = Details::default();
        Self { line, details, listing: None, role: None, complaints: Vec::new(), broken: false }
    }

    pub(super) fn complain(&mut self, field: Field, columns: &Columns, value: &str, key: &'static str) {
        self.complain_with(field, columns, value, Remark::new(key));
    }

    /// Adds line, column and value to what is said.
    pub(super) fn complain_with(&mut self, field: Field, columns: &Columns, value: &str, remark: Remark) {
        let value = shown(value);
        let remark = remark
            .with("line", i64::from(self.line))
            .with("column", columns.heading(field))
            .with("value", value.as_str());
        self.complaints.push(Complaint { field: Some(field), value, remark });
    }
}

struct Reading<'a, L> {
    record: &'a Record,
    columns: &'a Columns,
    draft: Draft<L>,
}

impl<'a, L: Copy> Reading<'a, L> {
    fn raw(&self, field: Field) -> &'a str {
        self.columns.cell(self.record, field)
    }

    fn complain(&mut self, field: Field, key: &'static str) {
        let raw = self.raw(field);
        self.draft.complain(field, self.columns, raw, key);
    }

    /// The text of a cell in NFC, spaces around it taken away and spaces inside single. None where it is empty, or
    /// refused with a complaint.
    fn text(&mut self, field: Field, most: usize) -> Option<String> {
        match plain(self.raw(field)) {
            Ok(text) if text.chars().count() > most => {
                let remark = Remark::new("roster-too-long")
                    .with("length", count(text.chars().count()))
                    .with("most", count(most));
                self.draft.complain_with(field, self.columns, &text, remark);
                None
            }
            Ok(text) => Some(text).filter(|text| !text.is_empty()),
            Err(key) => {
                // A quotation mark too few or too many can hide the rows that follow inside one cell.
                self.draft.broken |= self.raw(field).trim().contains(['\r', '\n']);
                self.complain(field, key);
                None
            }
        }
    }

    fn names(&mut self) {
        let before = self.draft.complaints.len();
        let (given, family) = if self.columns.has(Field::Name) {
            let whole = self.text(Field::Name, 2 * MOST_NAME);
            whole.and_then(|whole| self.divided(&whole)).unwrap_or_default()
        } else {
            let given = self.text(Field::GivenName, MOST_NAME).unwrap_or_default();
            (given, self.text(Field::FamilyName, MOST_NAME).unwrap_or_default())
        };
        let complained = self.draft.complaints.len() > before;
        if given.is_empty() && family.is_empty() && !complained {
            let field = if self.columns.has(Field::Name) { Field::Name } else { Field::FamilyName };
            self.complain(field, "roster-name-empty");
        }
        self.draft.details.given_name = given;
        self.draft.details.family_name = family;
    }

    /// `Family, Given`, with any script's comma. A single word is the one name of a person; more words without a comma
    /// could be in either order.
    fn divided(&mut self, whole: &str) -> Option<(String, String)> {
        let Some((family, given)) = whole.split_once([',', '，', '،', '、']) else {
            if whole.contains(' ') {
                self.complain(Field::Name, "roster-name-undivided");
                return None;
            }
            return Some((String::new(), whole.to_owned()));
        };
        let (family, given) = (family.trim(), given.trim());
        if begins_like_formula(given) || begins_like_formula(family) {
            self.complain(Field::Name, "roster-formula");
            return None;
        }
        if family.is_empty() && given.is_empty() {
            self.complain(Field::Name, "roster-name-empty");
            return None;
        }
        Some((given.to_owned(), family.to_owned()))
    }

    fn email(&mut self) -> Option<String> {
        let email = self.text(Field::Email, MOST_EMAIL)?;
        if is_email(&email) {
            return Some(email);
        }
        self.complain(Field::Email, "roster-email-malformed");
        None
    }

    fn student_number(&mut self) -> Option<String> {
        let number = self.text(Field::StudentNumber, MOST_STUDENT_NUMBER)?;
        if is_rounded(&number) {
            self.complain(Field::StudentNumber, "roster-number-rounded");
            return None;
        }
        Some(number)
    }

    fn listing(&mut self, listings: &Listings<L>) -> Option<L> {
        let course = self.text(Field::Course, MOST_OTHER).unwrap_or_default();
        let section = self.text(Field::Listing, MOST_OTHER).unwrap_or_default();
        // A course beside an empty section says only what the whole list is about.
        if section.is_empty() && (course.is_empty() || self.columns.has(Field::Listing)) {
            return None;
        }
        let (key, field) = match (listings.find(&course, &section), section.is_empty()) {
            (Meant::One(listing), _) => return Some(listing),
            (Meant::None, true) => ("roster-listing-unknown", Field::Course),
            (Meant::None, false) => ("roster-listing-unknown", Field::Listing),
            // A course of several sections leaves open which one.
            (Meant::Several, true) => return None,
            (Meant::Several, false) => ("roster-listing-unclear", Field::Listing),
        };
        let value = if section.is_empty() { course } else { format!("{course} {section}") };
        let remark = Remark::new(key).with("known", listings.known.as_str());
        self.draft.complain_with(field, self.columns, &value, remark);
        None
    }

    fn role(&mut self) -> Option<Role> {
        let word = compact(&self.text(Field::Role, MOST_OTHER)?);
        if let Some((_, role)) = GRANTED.iter().find(|(granted, _)| *granted == word) {
            return Some(*role);
        }
        let too_high = TOO_HIGH.contains(&word.as_str());
        self.complain(Field::Role, if too_high { "roster-role-too-high" } else { "roster-role-unknown" });
        None
    }
}
