//! Which column of a list holds what: headings in any order, in several spellings, in any letter case.

use unicode_normalization::UnicodeNormalization;

use super::encoding::count;
use super::table::{Fault, MOST_CELLS, Record, Records};
use super::{Field, shown};
use crate::exchange::spreadsheet::{Column, Holds};
use crate::trade::remark::Remark;

/// The columns of a class list as the program writes it, for a `Sheet`; such a list can be read again.
pub const COLUMNS: &[Column] = &[
    Column::new("given_name", Holds::Text, "exports-column-given-name"),
    Column::new("family_name", Holds::Text, "exports-column-family-name"),
    Column::new("email", Holds::Text, "exports-column-email"),
    Column::new("student_number", Holds::Text, "exports-column-student-number"),
    Column::new("external_id", Holds::Text, "exports-column-external-id"),
    Column::new("listing", Holds::Text, "exports-column-listing"),
    Column::new("role", Holds::Text, "exports-column-role"),
];

/// Spellings of the headings in the languages the program speaks, letters and digits only, lower case; `#` counts as
/// the word number.
const SPELLINGS: [(Field, &[&str]); 9] = [
    (
        Field::GivenName,
        &[
            "givenname",
            "givennames",
            "given",
            "firstname",
            "firstnames",
            "first",
            "forename",
            "forenames",
            "nombre",
            "nombres",
            "nombredepila",
        ],
    ),
    (
        Field::FamilyName,
        &[
            "familyname",
            "familynames",
            "family",
            "lastname",
            "lastnames",
            "last",
            "surname",
            "surnames",
            "apellido",
            "apellidos",
        ],
    ),
    (
        Field::Name,
        &[
            "name",
            "names",
            "fullname",
            "student",
            "studentname",
            "studentsname",
            "nombrecompleto",
            "estudiante",
        ],
    ),
    (
        Field::Email,
        &[
            "email",
            "emails",
            "emailaddress",
            "mail",
            "mailaddress",
            "studentemail",
            "studentemailaddress",
            "schoolemail",
            "campusemail",
            "collegeemail",
            "universityemail",
            "correo",
            "correoelectrónico",
            "correoelectronico",
        ],
    ),
    (
        Field::StudentNumber,
        &[
            "studentnumber",
            "studentno",
            "studentnr",
            "studentid",
            "studentidnumber",
            "matriculationnumber",
            "matriculationno",
            "matriculation",
            "registrationnumber",
            "enrolmentnumber",
            "enrollmentnumber",
            "campusid",
            "collegeid",
            "universityid",
            "idnumber",
            "id",
            "númerodeestudiante",
            "numerodeestudiante",
            "matrícula",
            "matricula",
        ],
    ),
    // `sourcedId` is the word of the OneRoster standard.
    (
        Field::ExternalId,
        &["externalid", "externalidentifier", "externalkey", "sourcedid", "identificadorexterno"],
    ),
    (
        Field::Listing,
        &[
            "listing",
            "listings",
            "section",
            "sectioncode",
            "sectionnumber",
            "classsection",
            "asignatura",
            "sección",
            "seccion",
        ],
    ),
    (Field::Course, &["course", "coursecode", "coursenumber", "materia", "curso"]),
    (Field::Role, &["role", "classrole", "roleinclass", "función", "funcion", "rol"]),
];

const SEPARATORS: [char; 3] = [',', ';', '\t'];

/// The columns of a list that are read, and the headings of those that are not.
#[derive(Debug, Clone)]
pub(super) struct Columns {
    found: Vec<(Field, usize)>,
    headings: Vec<String>,
    pub(super) ignored: Vec<String>,
}

/// Finds the separator and the columns from the header, the first line that is not blank, and gives the records that
/// follow it.
///
/// # Errors
/// There is no header, or it names no names, one thing twice, or more columns than are read.
pub(super) fn header(text: &str) -> Result<(Columns, Records<'_>), Remark> {
    let mut best: Option<(usize, usize, Record, Records<'_>)> = None;
    let mut separators_alone = false;
    for separator in SEPARATORS {
        let mut records = Records::new(text, Some(separator));
        let Some(first) = records.by_ref().find(|record| !record.is_blank()) else {
            separators_alone = true;
            continue;
        };
        let named = first.cells.iter().filter(|cell| field(cell).is_some()).count();
        if best.as_ref().is_none_or(|(most, cells, ..)| (named, first.cells.len()) > (*most, *cells)) {
            best = Some((named, first.cells.len(), first, records));
        }
    }
    let Some((named, cells, first, mut records)) = best else { return Err(Remark::new("roster-file-empty")) };
    certain(&first)?;
    if named == 0 && separators_alone {
        return Err(Remark::new("roster-file-empty"));
    }
    if named == 0 {
        return Err(Remark::new("roster-no-header")
            .with("line", i64::from(first.line))
            .with("value", shown(&first.cells.join(" "))));
    }
    if cells == 1 {
        // One heading alone: whatever parts its values is not a separator of columns.
        records = Records::new(text, None);
        records.by_ref().find(|record| !record.is_blank());
    }
    Ok((Columns::of(first.cells)?, records))
}

/// A header whose cells are not certain would mislead about every row.
fn certain(header: &Record) -> Result<(), Remark> {
    let line = i64::from(header.line);
    match header.fault {
        None => Ok(()),
        Some(Fault::QuoteLeftOpen) => Err(Remark::new("roster-quote-open").with("line", line)),
        Some(Fault::TooManyCells) => {
            Err(Remark::new("roster-too-many-columns").with("most", count(MOST_CELLS)))
        }
        Some(Fault::AfterQuote) => Err(Remark::new("roster-quote-stray")
            .with("line", line)
            .with("value", shown(&header.cells.join(" ")))),
    }
}

impl Columns {
    fn of(headings: Vec<String>) -> Result<Self, Remark> {
        let headings: Vec<String> = headings.iter().map(|heading| shown(heading)).collect();
        let mut columns = Self { found: Vec::new(), headings, ignored: Vec::new() };
        for (place, heading) in columns.headings.iter().enumerate() {
            let Some(field) = field(heading) else { continue };
            if let Some(other) = columns.place(field) {
                let other = columns.headings.get(other).map_or("", String::as_str);
                return Err(Remark::new("roster-column-twice")
                    .with("first", other)
                    .with("second", heading.as_str()));
            }
            columns.found.push((field, place));
        }
        columns.settle_names()?;
        let ignored = columns.headings.iter().enumerate().filter(|(place, heading)| {
            !heading.is_empty() && !columns.found.iter().any(|(_, found)| found == place)
        });
        columns.ignored = ignored.map(|(_, heading)| heading.clone()).collect();
        Ok(columns)
    }

    /// Two columns of names go before one of whole names; without both, a whole name is needed.
    fn settle_names(&mut self) -> Result<(), Remark> {
        if self.has(Field::GivenName) && self.has(Field::FamilyName) {
            self.found.retain(|(field, _)| *field != Field::Name);
            Ok(())
        } else if self.has(Field::Name) {
            self.found.retain(|(field, _)| !matches!(field, Field::GivenName | Field::FamilyName));
            Ok(())
        } else {
            Err(Remark::new("roster-no-name-column").with("value", shown(&self.headings.join(", "))))
        }
    }

    fn place(&self, field: Field) -> Option<usize> {
        self.found.iter().find(|(found, _)| *found == field).map(|(_, place)| *place)
    }

    pub(super) fn has(&self, field: Field) -> bool {
        self.place(field).is_some()
    }

    /// How many columns the list has.
    pub(super) fn count(&self) -> usize {
        self.headings.len()
    }

    /// The heading as it stands in the list.
    pub(super) fn heading(&self, field: Field) -> &str {
        self.place(field).and_then(|place| self.headings.get(place)).map_or("", String::as_str)
    }

    /// The cell of a record; empty where the list has no such column or the record ends before it.
    pub(super) fn cell<'r>(&self, record: &'r Record, field: Field) -> &'r str {
        self.place(field).and_then(|place| record.cells.get(place)).map_or("", String::as_str)
    }
}

fn field(heading: &str) -> Option<Field> {
    let heading = compact(&heading.replace('#', "number"));
    SPELLINGS.iter().find(|(_, spellings)| spellings.contains(&heading.as_str())).map(|(field, _)| *field)
}

/// Letters and digits alone, lower case, so that `E-Mail`, `e_mail` and `EMAIL` are one.
pub(super) fn compact(text: &str) -> String {
    text.nfkc().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}
