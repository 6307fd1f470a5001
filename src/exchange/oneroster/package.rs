//! A package in memory: rows by file, written to CSV and zip in one way, and read with everything that must hold.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{Cursor, Read, Seek, Write};

use zip::write::{SimpleFileOptions, ZipWriter};
use zip::{CompressionMethod, DateTime};

use super::layout::{Column, FILES, FIRST, File, Holds, OTHERS, is_guid};
use crate::exchange::parcel::Parcel;
use crate::trade::remark::Remark;

/// The rows of a file by their id, each value by the name of its column; what is empty is left out.
pub type Rows = BTreeMap<String, BTreeMap<String, String>>;

/// Rows by the name of their file.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Package(pub BTreeMap<&'static str, Rows>);

impl Package {
    /// Adds a row. Line ends inside a value become spaces: the binding allows none.
    pub fn add(&mut self, file: &'static str, id: &str, values: &[(&str, String)]) {
        let row = values
            .iter()
            .filter(|(_, value)| !value.is_empty())
            .map(|(name, value)| {
                ((*name).to_owned(), value.split(['\r', '\n']).collect::<Vec<_>>().join(" "))
            })
            .collect();
        self.0.entry(file).or_default().insert(id.to_owned(), row);
    }

    /// The package as a zip file; the same rows give the same bytes.
    ///
    /// # Errors
    /// It cannot be written.
    pub fn zip(&self) -> Result<Vec<u8>, String> {
        Ok(self.write(Cursor::new(Vec::new()))?.into_inner())
    }

    /// Writes the package as a zip file, row after row; nothing of the text is held.
    ///
    /// # Errors
    /// It cannot be written.
    pub fn write<W: Write + Seek>(&self, to: W) -> Result<W, String> {
        let mut zip = ZipWriter::new(to);
        let mut files: Vec<(String, Option<&File>)> = vec![("manifest.csv".to_owned(), None)];
        files.extend(
            FILES
                .iter()
                .filter(|file| self.0.contains_key(file.name))
                .map(|file| (format!("{}.csv", file.name), Some(file))),
        );
        files.sort_by(|one, other| one.0.cmp(&other.0));
        for (name, file) in files {
            let options = SimpleFileOptions::default()
                .compression_method(CompressionMethod::Deflated)
                .last_modified_time(DateTime::default())
                .unix_permissions(0o644);
            zip.start_file(name, options).map_err(|error| error.to_string())?;
            let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(&mut zip);
            let written = match file.and_then(|file| Some((file, self.0.get(file.name)?))) {
                Some((file, rows)) => write_rows(file, rows, &mut out),
                None => self.manifest().iter().try_for_each(|row| out.write_record(row)),
            };
            written.map_err(|error| error.to_string())?;
            out.flush().map_err(|error| error.to_string())?;
        }
        zip.finish().map_err(|error| error.to_string())
    }

    fn manifest(&self) -> Vec<Vec<String>> {
        let mut rows = vec![
            vec!["propertyName".to_owned(), "value".to_owned()],
            vec!["manifest.version".to_owned(), "1.0".to_owned()],
            vec!["oneroster.version".to_owned(), "1.2".to_owned()],
        ];
        let mut names: Vec<&str> = FILES.iter().map(|file| file.name).chain(OTHERS).collect();
        names.sort_unstable();
        for name in names {
            let mode = if self.0.contains_key(name) { "bulk" } else { "absent" };
            rows.push(vec![format!("file.{name}"), mode.to_owned()]);
        }
        rows.push(vec!["source.systemName".to_owned(), "Tympan".to_owned()]);
        rows
    }

    /// Reads a bulk package and holds it against the layout: headings, values, ids given twice, ids that lead nowhere, and
    /// rows that are their own ancestors.
    ///
    /// # Errors
    /// The first few things that are wrong.
    pub fn read<R: Read + Seek>(parcel: &mut Parcel<R>) -> Result<Self, Vec<Remark>> {
        let modes = modes(parcel).map_err(|remark| vec![remark])?;
        let mut package = Self::default();
        let (mut wrong, mut unreadable) = (Vec::new(), Vec::new());
        for (name, mode) in &modes {
            let there = parcel.has(&format!("{name}.csv"));
            match (mode.as_str(), there) {
                ("absent", true) => wrong.push(about("oneroster-absent-there", name)),
                ("bulk", false) => wrong.push(about("oneroster-file-missing", name)),
                ("delta", _) => wrong.push(about("oneroster-delta", name)),
                ("absent" | "bulk", _) => {}
                (other, _) => {
                    let short: String = other.chars().take(40).collect();
                    wrong.push(about("oneroster-mode", name).with("value", short));
                }
            }
        }
        if !wrong.is_empty() {
            return Err(wrong);
        }
        for known in FILES.iter().filter(|known| modes.get(known.name).is_some_and(|mode| mode == "bulk")) {
            match read_file(parcel, known, &mut wrong) {
                Ok(rows) => {
                    package.0.insert(known.name, rows);
                }
                Err(remark) => {
                    unreadable.push(known.name);
                    wrong.push(remark);
                }
            }
        }
        package.check_references(&unreadable, &mut wrong);
        wrong.truncate(MOST_SAID);
        if wrong.is_empty() { Ok(package) } else { Err(wrong) }
    }

    /// References into a file that could not be read are not looked at: why it could not is the one thing to mend.
    fn check_references(&self, unreadable: &[&str], wrong: &mut Vec<Remark>) {
        for known in FILES {
            let Some(rows) = self.0.get(known.name) else { continue };
            for (id, row) in rows {
                for column in known.columns {
                    let Some(other) = column.names.filter(|other| !unreadable.contains(other)) else {
                        continue;
                    };
                    let Some(value) = row.get(column.name) else { continue };
                    for named in value.split(',') {
                        if self.0.get(other).is_none_or(|rows| !rows.contains_key(named)) {
                            wrong.push(
                                Remark::new("oneroster-nowhere")
                                    .with("file", known.name)
                                    .with("id", id.as_str())
                                    .with("column", column.name)
                                    .with("value", named)
                                    .with("other", other),
                            );
                        }
                    }
                }
                if is_own_ancestor(rows, id) {
                    wrong.push(
                        Remark::new("oneroster-circle").with("file", known.name).with("id", id.as_str()),
                    );
                }
            }
        }
    }
}

/// So many things that are wrong are said at once.
const MOST_SAID: usize = 12;

/// Whether the way up from a row comes back to it.
fn is_own_ancestor(rows: &Rows, id: &str) -> bool {
    let mut seen = BTreeSet::new();
    let mut at = id;
    while let Some(parent) = rows.get(at).and_then(|row| row.get("parentSourcedId")) {
        if parent == id {
            return true;
        }
        if !seen.insert(parent.as_str()) {
            // A circle further up; its own rows say so.
            return false;
        }
        at = parent;
    }
    false
}

fn about(key: &'static str, file: &str) -> Remark {
    Remark::new(key).with("file", file)
}

/// What the manifest says of each file.
fn modes<R: Read + Seek>(parcel: &mut Parcel<R>) -> Result<BTreeMap<String, String>, Remark> {
    if !parcel.has("manifest.csv") {
        return Err(Remark::new("oneroster-no-package"));
    }
    let text = parcel.text("manifest.csv")?;
    let mut known = BTreeMap::new();
    for row in records("manifest", &text)?.into_iter().skip(1) {
        let (Some(name), Some(value)) = (row.first(), row.get(1)) else {
            return Err(Remark::new("oneroster-manifest"));
        };
        if known.insert(name.clone(), value.clone()).is_some() {
            return Err(Remark::new("oneroster-manifest-twice").with("name", name.as_str()));
        }
    }
    match known.get("oneroster.version").map(String::as_str) {
        Some("1.2") => {}
        other => return Err(Remark::new("oneroster-version").with("value", other.unwrap_or_default())),
    }
    Ok(known
        .into_iter()
        .filter_map(|(name, mode)| name.strip_prefix("file.").map(|file| (file.to_owned(), mode)))
        .collect())
}

fn records(file: &str, text: &str) -> Result<Vec<Vec<String>>, Remark> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(false).from_reader(text.as_bytes());
    reader
        .records()
        .map(|row| {
            row.map(|row| row.iter().map(str::to_owned).collect()).map_err(|error| csv_remark(file, &error))
        })
        .collect()
}

/// Rows of unequal length are all that the reader knows of text; a quotation mark left open makes such a row too.
fn csv_remark(file: &str, error: &csv::Error) -> Remark {
    tracing::info!(%error, file, "reading a file of a package");
    let count = |number: u64| i64::try_from(number).unwrap_or(i64::MAX);
    match error.kind() {
        csv::ErrorKind::UnequalLengths { pos, expected_len, len } => about("oneroster-row-length", file)
            // Its own count of lines is one behind where rows end with CRLF.
            .with("line", pos.as_ref().map_or(1, |pos| count(pos.record() + 1)))
            .with("count", count(*len))
            .with("wanted", count(*expected_len)),
        _ => about("oneroster-csv", file),
    }
}

fn read_file<R: Read + Seek>(
    parcel: &mut Parcel<R>,
    known: &'static File,
    wrong: &mut Vec<Remark>,
) -> Result<Rows, Remark> {
    let text = parcel.text(&format!("{}.csv", known.name))?;
    let mut all = records(known.name, &text)?.into_iter();
    let heads = all.next().unwrap_or_default();
    let wanted: Vec<&str> = FIRST.into_iter().chain(known.columns.iter().map(|column| column.name)).collect();
    let own = heads.get(..wanted.len()).unwrap_or(&heads);
    let more = heads.get(wanted.len()..).unwrap_or_default();
    if own != wanted || more.iter().any(|head| !head.starts_with("metadata.")) {
        return Err(about("oneroster-heads", known.name).with("wanted", wanted.join(",")));
    }
    let mut rows = Rows::new();
    for (line, row) in (2_i64..).zip(all) {
        let id = row.first().cloned().unwrap_or_default();
        if !is_guid(&id) {
            wrong.push(about("oneroster-no-id", known.name).with("line", line).with("value", id));
            continue;
        }
        let mut values = BTreeMap::new();
        for (column, value) in known.columns.iter().zip(row.iter().skip(FIRST.len())) {
            if let Some(remark) = check_value(known, column, value, line) {
                wrong.push(remark);
            }
            if !value.is_empty() {
                values.insert(column.name.to_owned(), value.clone());
            }
        }
        for (head, value) in
            more.iter().zip(row.iter().skip(wanted.len())).filter(|(_, value)| !value.is_empty())
        {
            values.insert(head.clone(), value.clone());
        }
        if rows.insert(id.clone(), values).is_some() {
            wrong.push(about("oneroster-id-twice", known.name).with("line", line).with("id", id));
        }
    }
    Ok(rows)
}

fn check_value(known: &File, column: &Column, value: &str, line: i64) -> Option<Remark> {
    let remark = |key| {
        let short: String = value.chars().take(60).collect();
        Some(about(key, known.name).with("line", line).with("column", column.name).with("value", short))
    };
    if value.is_empty() {
        return if column.required { remark("oneroster-empty") } else { None };
    }
    let fits = match column.holds {
        Holds::Text => true,
        Holds::Guid => is_guid(value),
        Holds::Guids => value.split(',').all(is_guid),
        Holds::Date => value.len() == 10 && chrono::NaiveDate::parse_from_str(value, "%Y-%m-%d").is_ok(),
        Holds::Year => value.len() == 4 && value.bytes().all(|byte| byte.is_ascii_digit()),
        Holds::YesNo => matches!(value, "true" | "false"),
        Holds::Integer => value.parse::<i64>().is_ok(),
        Holds::Float => value.parse::<f64>().is_ok_and(f64::is_finite),
        Holds::Word(words) => words.contains(&value) || value.starts_with("ext:"),
    };
    if fits { None } else { remark("oneroster-value") }
}

fn write_rows<W: Write>(known: &File, rows: &Rows, out: &mut csv::Writer<W>) -> Result<(), csv::Error> {
    let more: BTreeSet<&str> = rows
        .values()
        .flat_map(BTreeMap::keys)
        .map(String::as_str)
        .filter(|name| name.starts_with("metadata."))
        .collect();
    let columns: Vec<&str> = known.columns.iter().map(|column| column.name).chain(more).collect();
    out.write_record(FIRST.iter().chain(&columns))?;
    for (id, row) in rows {
        let cells = columns.iter().map(|name| row.get(*name).map(String::as_str).unwrap_or_default());
        out.write_record([id.as_str(), "", ""].into_iter().chain(cells))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pack(files: &[(&str, &str)]) -> Vec<u8> {
        let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
        for (name, text) in files {
            zip.start_file(*name, SimpleFileOptions::default()).unwrap();
            zip.write_all(text.as_bytes()).unwrap();
        }
        zip.finish().unwrap().into_inner()
    }

    fn keys(bytes: Vec<u8>) -> Vec<&'static str> {
        let limits = crate::exchange::parcel::Limits { file: 1 << 20, all: 1 << 22 };
        match Parcel::open(Cursor::new(bytes), limits) {
            Err(remark) => vec![remark.key],
            Ok(mut parcel) => match Package::read(&mut parcel) {
                Ok(_) => Vec::new(),
                Err(wrong) => wrong.iter().map(|remark| remark.key).collect(),
            },
        }
    }

    const MANIFEST: &str =
        "propertyName,value\r\nmanifest.version,1.0\r\noneroster.version,1.2\r\nfile.orgs,bulk\r\n";
    const HEADS: &str = "sourcedId,status,dateLastModified,name,type,identifier,parentSourcedId\r\n";

    fn orgs(rows: &str) -> Vec<&'static str> {
        keys(pack(&[("manifest.csv", MANIFEST), ("orgs.csv", &format!("{HEADS}{rows}"))]))
    }

    #[test]
    fn every_reference_leads_to_a_file_of_the_layout() {
        for known in FILES {
            for column in known.columns {
                assert!(
                    column.names.is_none_or(|name| FILES.iter().any(|file| file.name == name)),
                    "{}: {}",
                    known.name,
                    column.name
                );
            }
            assert!(!OTHERS.contains(&known.name));
        }
    }

    #[test]
    fn a_package_that_is_wrong_is_told_how() {
        assert_eq!(orgs("s,,,School,school,,\r\nd,,,Art,department,,s\r\n"), [""; 0]);
        assert_eq!(orgs("s,,,School,school,,x\r\n"), ["oneroster-nowhere"]);
        assert_eq!(orgs("s,,,School,school,,\r\ns,,,School,school,,\r\n"), ["oneroster-id-twice"]);
        assert_eq!(orgs("a,,,A,school,,b\r\nb,,,B,school,,a\r\n"), ["oneroster-circle", "oneroster-circle"]);
        assert_eq!(orgs("s,,,School,school,,s\r\n"), ["oneroster-circle"]);
        assert_eq!(orgs("s,,,,school,,\r\n"), ["oneroster-empty"]);
        assert_eq!(orgs("s,,,School,castle,,\r\n"), ["oneroster-value"]);
        assert_eq!(orgs("s s,,,School,school,,\r\n"), ["oneroster-no-id"]);
        assert_eq!(orgs("s,,\r\n"), ["oneroster-row-length"]);
        let heads = HEADS.replace("name", "title");
        assert_eq!(keys(pack(&[("manifest.csv", MANIFEST), ("orgs.csv", &heads)])), ["oneroster-heads"]);
        assert_eq!(keys(pack(&[("manifest.csv", MANIFEST)])), ["oneroster-file-missing"]);
        assert_eq!(keys(pack(&[("a.csv", "x")])), ["oneroster-no-package"]);
        let old = MANIFEST.replace("1.2", "1.1");
        assert_eq!(keys(pack(&[("manifest.csv", &old), ("orgs.csv", HEADS)])), ["oneroster-version"]);
        let delta = MANIFEST.replace("bulk", "delta");
        assert_eq!(keys(pack(&[("manifest.csv", &delta), ("orgs.csv", HEADS)])), ["oneroster-delta"]);
        let absent = MANIFEST.replace("bulk", "absent");
        assert_eq!(keys(pack(&[("manifest.csv", &absent), ("orgs.csv", HEADS)])), ["oneroster-absent-there"]);
        assert_eq!(keys(pack(&[("../orgs.csv", HEADS)])), ["parcel-outside"]);
        assert_eq!(keys(b"nothing of the sort".to_vec()), ["parcel-no-zip"]);
    }

    #[test]
    fn what_is_written_is_read() {
        let mut package = Package::default();
        package.add("orgs", "s", &[("name", "A, \"B\"\nC".to_owned()), ("type", "school".to_owned())]);
        let bytes = package.zip().unwrap();
        assert_eq!(bytes, package.zip().unwrap());
        let limits = crate::exchange::parcel::Limits { file: 1 << 20, all: 1 << 22 };
        let read = Package::read(&mut Parcel::open(Cursor::new(bytes), limits).unwrap()).unwrap();
        assert_eq!(read.0["orgs"]["s"]["name"], "A, \"B\" C");
    }
}
