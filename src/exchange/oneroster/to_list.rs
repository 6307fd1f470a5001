//! A class list out of a package of somebody else's: the people of one class as the lines that the class list is read
//! from. Teachers are left out, because a list makes nobody an instructor.

use std::io::Cursor;

use super::given::Told;
use super::package::Package;
use crate::exchange::parcel::{Limits, Parcel};
use crate::exchange::roster::MOST_BYTES;
use crate::trade::remark::Remark;
use chrono::NaiveDate;

const LIMITS: Limits = Limits { file: 64 << 20, all: 256 << 20 };

/// Files that make a zip file a spreadsheet: of Office Open XML (ECMA-376, part 2) and of OpenDocument (ISO/IEC 26300).
const OF_SPREADSHEETS: [&str; 2] = ["[Content_Types].xml", "content.xml"];

/// Whether these bytes are a zip file that is no spreadsheet, and so has to be a package.
///
/// # Errors
/// It is a zip file that cannot be opened: damaged, a bomb, or one whose names lead elsewhere.
pub fn is_package(bytes: &[u8]) -> Result<bool, Remark> {
    if !bytes.starts_with(b"PK") {
        return Ok(false);
    }
    let parcel = Parcel::open(Cursor::new(bytes), LIMITS)?;
    Ok(!OF_SPREADSHEETS.iter().any(|name| parcel.has(name)))
}

/// The class whose list is wanted.
#[derive(Debug, Clone, Copy)]
pub struct Wanted<'a> {
    pub id: &'a str,
    /// The id another system gave it, where one did.
    pub theirs: Option<&'a str>,
    pub code: &'a str,
}

/// What a package says of a class.
#[derive(Debug, Clone)]
pub struct List {
    /// Its people, as CSV.
    pub csv: Vec<u8>,
    /// What the other system calls the class and what it stands in.
    pub told: Told,
}

/// The list of a class. Enrolments that ended by `today` are left out.
///
/// # Errors
/// What is wrong with the package; or it has no class of this id or code, and not one class alone.
pub fn list(bytes: &[u8], wanted: Wanted<'_>, today: NaiveDate) -> Result<List, Vec<Remark>> {
    let mut parcel = Parcel::open(Cursor::new(bytes), LIMITS).map_err(|remark| vec![remark])?;
    let package = Package::read(&mut parcel)?;
    for needed in ["enrollments", "users"] {
        if !package.0.contains_key(needed) {
            return Err(vec![Remark::new("oneroster-needed").with("file", needed)]);
        }
    }
    let class = class_of(&package, wanted).map_err(|remark| vec![remark])?;
    let csv = people_of(&package, &class, today)?;
    if csv.len() > MOST_BYTES {
        return Err(vec![Remark::new("parcel-all-large")]);
    }
    Ok(List { csv, told: Told::of(&package, &class) })
}

fn people_of(package: &Package, class: &str, today: NaiveDate) -> Result<Vec<u8>, Vec<Remark>> {
    let mut out = csv::Writer::from_writer(Vec::new());
    let written = |_error: csv::Error| vec![Remark::new("oneroster-no-package")];
    out.write_record([
        "given_name",
        "family_name",
        "email",
        "student_number",
        "external_id",
        "listing",
        "role",
    ])
    .map_err(written)?;
    let (enrolled, users) = (package.0.get("enrollments"), package.0.get("users"));
    for row in enrolled.into_iter().flat_map(|rows| rows.values()) {
        let value = |name: &str| row.get(name).map(String::as_str).unwrap_or_default();
        let gone = value("endDate").parse::<NaiveDate>().is_ok_and(|end| end <= today);
        let role = match value("role") {
            "student" => "student",
            "proctor" => "assistant",
            _ => continue,
        };
        if value("classSourcedId") != class || gone {
            continue;
        }
        let Some(user) = users.and_then(|users| users.get(value("userSourcedId"))) else { continue };
        let of_user = |name: &str| user.get(name).map(String::as_str).unwrap_or_default();
        // Who goes by one name has it in both columns.
        let given = if of_user("givenName") == of_user("familyName") { "" } else { of_user("givenName") };
        out.write_record([
            given,
            of_user("familyName"),
            of_user("email"),
            of_user("identifier"),
            value("userSourcedId"),
            value("metadata.listing"),
            role,
        ])
        .map_err(written)?;
    }
    out.into_inner().map_err(|_error| vec![Remark::new("oneroster-no-package")])
}

fn class_of(package: &Package, wanted: Wanted<'_>) -> Result<String, Remark> {
    let Some(classes) = package.0.get("classes").filter(|classes| !classes.is_empty()) else {
        return Err(Remark::new("oneroster-no-class"));
    };
    if let Some(known) = wanted.theirs.into_iter().chain([wanted.id]).find(|id| classes.contains_key(*id)) {
        return Ok(known.to_owned());
    }
    let of_code: Vec<&String> = classes
        .iter()
        .filter(|(_, row)| row.get("classCode").is_some_and(|code| code == wanted.code))
        .map(|(id, _)| id)
        .collect();
    match (of_code.as_slice(), classes.len()) {
        ([one], _) => Ok((*one).clone()),
        ([], 1) => Ok(classes.keys().next().cloned().unwrap_or_default()),
        _ => {
            let known: Vec<&str> =
                classes.values().filter_map(|row| row.get("classCode")).map(String::as_str).collect();
            Err(Remark::new("oneroster-which-class")
                .with("code", wanted.code)
                .with("known", known.join(", ")))
        }
    }
}
