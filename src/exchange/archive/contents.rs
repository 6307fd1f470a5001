//! What goes into an archive, file by file and in the order of their names, before anything of it is written.

use std::collections::BTreeMap;

use crate::exchange::archive::{
    ABOUT, About, AboutClass, FORMAT, HEADS, Head, IMAGES, PAPERS, README, VERSION,
};
use crate::exchange::tables::Table;
use crate::exchange::working;
use crate::ids::{ClassId, PersonId};
use crate::photos::shelf::{PhotoKey, Shelf, Size};
use crate::speech::Speech;
use crate::store::AnyConnection;
use crate::store::classes::facts::{self, Class};
use crate::store::copying::{self, Part, named};
use crate::store::grades::book;
use crate::store::grades::evidence;
use crate::store::grades::scores::{self, Which};
use crate::store::grades::submitted::{self, Submitted};
use crate::store::migrations;
use crate::store::people::members;
use crate::store::people::school;
use crate::store::people::sessions::Role;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// What one file is written from.
#[derive(Debug)]
pub(super) enum Content {
    Text(String),
    /// Whether grades as they stand are left out.
    Csv(ClassId, Table, bool),
    Rows(&'static copying::Table),
    Picture(PhotoKey, Size),
    Paper(String),
}

/// Files by name.
pub(super) type Contents = BTreeMap<String, Content>;

/// Lists the files of an archive.
///
/// # Errors
/// The database or the shelf cannot be read.
pub(super) fn contents(
    db: &mut AnyConnection,
    part: &Part,
    speech: &Speech,
    shelf: &dyn Shelf,
) -> Result<Contents, Trouble> {
    let mut all = Contents::new();
    let mut classes = Vec::new();
    for id in &part.classes {
        let class = facts::class(db, *id)?;
        let folder = plain(&class.code);
        for table in Table::ALL.iter().filter(|table| **table != Table::Columns) {
            all.insert(format!("csv/{folder}/{}.csv", table.word()), Content::Csv(*id, *table, false));
        }
        put_workings(db, part, speech, &class, &folder, &mut all)?;
        classes.push(class);
    }
    if let Some(first) = part.classes.first() {
        all.insert("csv/columns.csv".to_owned(), Content::Csv(*first, Table::Columns, false));
    }
    for table in copying::TABLES {
        all.insert(format!("data/{}.jsonl", table.name), Content::Rows(table));
    }
    for text in named::procedures(db, &part.classes)? {
        let name = format!("how-to/{}-v{}-{}.json", plain(&text.name), text.number, tail(text.id.as_str()));
        all.insert(name, Content::Text(text.body));
    }
    for sha256 in named::papers(db, &part.classes)? {
        all.insert(format!("{PAPERS}{sha256}.pdf"), Content::Paper(sha256));
    }
    let missing = put_pictures(db, part, shelf, &mut all)?;
    all.insert(HEADS.to_owned(), Content::Text(heads(db, part)?));
    let about = about(db, part, &classes, missing)?;
    all.insert(README.to_owned(), Content::Text(readme(speech, &about)));
    all.insert(ABOUT.to_owned(), Content::Text(json(&about)?));
    Ok(all)
}

/// Lists some tables of classes, what stands in their columns, and a word on what they are.
///
/// # Errors
/// The database cannot be read.
pub(super) fn tables_of(
    db: &mut AnyConnection,
    part: &Part,
    tables: &[Table],
    speech: &Speech,
) -> Result<Contents, Trouble> {
    let mut all = Contents::new();
    let mut codes = Vec::new();
    for id in &part.classes {
        let class = facts::class(db, *id)?;
        for table in tables.iter().filter(|table| **table != Table::Columns) {
            let name = format!("{}/{}.csv", plain(&class.code), table.word());
            all.insert(name, Content::Csv(*id, *table, true));
        }
        codes.push(format!("{}, {}", class.code, class.term.name));
    }
    if let Some(first) = part.classes.first() {
        all.insert("columns.csv".to_owned(), Content::Csv(*first, Table::Columns, true));
    }
    let about =
        Remark::new("records-readme").with("classes", codes.join("; ")).with("at", part.as_of.rfc3339());
    all.insert(README.to_owned(), Content::Text(speech.remark(&about) + "\n"));
    Ok(all)
}

fn json(value: &impl serde::Serialize) -> Result<String, Trouble> {
    serde_json::to_string_pretty(value)
        .map(|text| text + "\n")
        .map_err(|error| Trouble::broken("writing an archive", error))
}

fn put_workings(
    db: &mut AnyConnection,
    part: &Part,
    speech: &Speech,
    class: &Class,
    folder: &str,
    all: &mut Contents,
) -> Result<(), Trouble> {
    let zone = class.zone()?;
    let book = book::open(db, class.id, zone, Which::InHand, None)?;
    let submitted = submitted::submitted(db, class.id, None)?;
    let title = format!("{}, {}, {}", class.code, class.rules.title, class.term.name);
    let of =
        working::Of { speech, zone, class: &title, as_of: part.as_of, book: &book, submitted: &submitted };
    for member in members::everybody(db, class.id)?.iter().filter(|one| one.role.0 == Role::Student) {
        let named = plain(&format!("{}-{}", member.family_name, member.given_name));
        let name = format!("grades/{folder}/{named}-{}.txt", tail(member.person.as_str()));
        all.insert(name, Content::Text(working::text(&of, member)));
    }
    Ok(())
}

/// Lists the files of one student's own data.
///
/// # Errors
/// `NotFound` for whoever is no student of the class; or something cannot be read.
pub(super) fn own(
    db: &mut AnyConnection,
    part: &Part,
    speech: &Speech,
    shelf: &dyn Shelf,
    (class, person): (ClassId, PersonId),
) -> Result<Contents, Trouble> {
    let mut all = Contents::new();
    let class = facts::class(db, class)?;
    let zone = class.zone()?;
    let book = book::open(db, class.id, zone, Which::HandedBack, Some(person))?;
    let member = book.students.first().ok_or(Trouble::NotFound)?.clone();
    let submitted = submitted::submitted(db, class.id, Some(person))?;
    let title = format!("{}, {}, {}", class.code, class.rules.title, class.term.name);
    let of =
        working::Of { speech, zone, class: &title, as_of: part.as_of, book: &book, submitted: &submitted };
    all.insert("grades.txt".to_owned(), Content::Text(working::text(&of, &member)));
    all.insert(
        "submitted-grades.json".to_owned(),
        Content::Text(own_submitted(db, class.id, person, &submitted)?),
    );
    for table in copying::OWN {
        all.insert(format!("data/{}.jsonl", table.name), Content::Rows(table));
    }
    for id in named::own_pictures(db, class.id, person)? {
        let broken =
            |error: &dyn std::fmt::Display| Trouble::broken("looking for a picture", error.to_string());
        let key: PhotoKey = id.as_str().parse().map_err(|error| broken(&error))?;
        if shelf.holds(key, Size::Full).map_err(|error| broken(&error))? {
            all.insert(format!("{IMAGES}{id}.jpg"), Content::Picture(key, Size::Full));
        }
    }
    let head = Remark::new("own-data-readme")
        .with("name", format!("{} {}", member.given_name, member.family_name).trim())
        .with("class", title.as_str())
        .with("at", part.as_of.rfc3339());
    all.insert(README.to_owned(), Content::Text(speech.remark(&head) + "\n"));
    Ok(all)
}

/// What each submitted grade followed from, as far as its student may know by now.
fn own_submitted(
    db: &mut AnyConnection,
    class: ClassId,
    person: PersonId,
    submitted: &[Submitted],
) -> Result<String, Trouble> {
    let handed_back = scores::history(db, class, None, Some(person))?
        .into_iter()
        .filter(|score| score.handed_back_at.is_some())
        .map(|score| score.id)
        .collect();
    let all = submitted
        .iter()
        .map(|one| {
            let evidence = evidence::for_student(&one.evidence, &handed_back)?;
            Ok(serde_json::json!({ "id": one.id, "at": one.at.rfc3339(), "evidence": evidence }))
        })
        .collect::<Result<Vec<_>, Trouble>>()?;
    json(&all)
}

/// Lists the pictures; says which the shelf does not have.
fn put_pictures(
    db: &mut AnyConnection,
    part: &Part,
    shelf: &dyn Shelf,
    all: &mut Contents,
) -> Result<Vec<String>, Trouble> {
    let mut missing = Vec::new();
    for id in named::pictures(db, &part.classes)? {
        let broken =
            |error: &dyn std::fmt::Display| Trouble::broken("looking for a picture", error.to_string());
        let key: PhotoKey = id.parse().map_err(|error| broken(&error))?;
        for size in Size::ALL {
            let name = format!("{IMAGES}{id}/{}", size.file_name());
            if shelf.holds(key, size).map_err(|error| broken(&error))? {
                all.insert(name, Content::Picture(key, size));
            } else {
                missing.push(name);
            }
        }
    }
    Ok(missing)
}

fn heads(db: &mut AnyConnection, part: &Part) -> Result<String, Trouble> {
    let mut heads = Vec::new();
    for (class, seq) in &part.last_acts {
        heads.push(Head { scope: class.to_string(), seq: *seq, hash: named::hash_of(db, *class, *seq)? });
    }
    json(&heads)
}

fn about(
    db: &mut AnyConnection,
    part: &Part,
    classes: &[Class],
    missing: Vec<String>,
) -> Result<About, Trouble> {
    Ok(About {
        format: FORMAT.to_owned(),
        version: VERSION,
        made_by: format!("tympan {}", env!("CARGO_PKG_VERSION")),
        schema: migrations::last_step(db)?,
        as_of: part.as_of.rfc3339(),
        school: school::school(db)?.map(|school| school.name).unwrap_or_default(),
        term: classes.first().map(|class| class.term.name.clone()).unwrap_or_default(),
        classes: classes
            .iter()
            .map(|class| AboutClass {
                id: class.id.to_string(),
                code: class.code.clone(),
                title: class.rules.title.clone(),
            })
            .collect(),
        missing,
    })
}

/// The paragraphs for somebody who finds the file in ten years.
fn readme(speech: &Speech, about: &About) -> String {
    let classes: Vec<String> =
        about.classes.iter().map(|class| format!("{}, {}", class.code, class.title)).collect();
    let head = Remark::new("archive-readme-head")
        .with("school", about.school.as_str())
        .with("term", about.term.as_str())
        .with("classes", classes.join("; "))
        .with("as_of", about.as_of.as_str())
        .with("made_by", about.made_by.as_str());
    let mut parts = vec![speech.remark(&head)];
    for key in [
        "archive-readme-csv",
        "archive-readme-grades",
        "archive-readme-images",
        "archive-readme-how-to",
        "archive-readme-data-sheets",
        "archive-readme-data",
        "archive-readme-as-of",
        "archive-readme-journal",
        "archive-readme-check",
        "archive-readme-back",
        "archive-readme-guard",
    ] {
        parts.push(speech.plain(key));
    }
    if !about.missing.is_empty() {
        let count = i64::try_from(about.missing.len()).unwrap_or(i64::MAX);
        parts.push(speech.remark(&Remark::new("archive-readme-missing").with("count", count)));
    }
    parts.join("\n\n") + "\n"
}

/// A name that every file system takes: letters and digits of ASCII, other runs of signs one hyphen.
fn plain(text: &str) -> String {
    let mut name = String::new();
    for letter in text.chars() {
        if letter.is_ascii_alphanumeric() {
            name.push(letter);
        } else if !name.ends_with('-') {
            name.push('-');
        }
    }
    let name: String = name.trim_matches('-').chars().take(60).collect();
    if name.is_empty() { "x".to_owned() } else { name }
}

/// The part of an id that tells it from others of the same moment.
fn tail(id: &str) -> &str {
    id.rsplit('-').next().unwrap_or(id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_plain() {
        assert_eq!(plain("Łukasiewicz, Jr-José"), "ukasiewicz-Jr-Jos");
        assert_eq!(plain("../../etc"), "etc");
        assert_eq!(plain("  "), "x");
        assert_eq!(tail("00000000-0000-7000-8000-000000000012"), "000000000012");
    }
}
