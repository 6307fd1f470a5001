//! The archive: the same bytes twice, nothing believed when it is checked, and an empty Tympan filled from it whose tables
//! are the same bytes again.

use std::io::{Cursor, Read, Write};
use std::path::{Path, PathBuf};

use tympan::commands::archive::{self, Order};
use tympan::commands::export::{Fault, Order as Table, take};
use tympan::commands::{check, restore};
use tympan::exchange::tables;
use tympan::store::copying::{NOT_OWN, OWN, STAYING, TABLES};
use tympan::store::journal::{self, Finding};
use tympan::store::write::execute;
use tympan::trade::spelled::Spelled;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

use super::scene::Scene;
use crate::on_both;
use crate::studio::world::{INSTRUCTOR, RECORDS, STUDENT};
use crate::studio::{Engine, Studio};

pub(super) fn order(as_of: Option<&str>, class: Option<&str>) -> Order {
    Order {
        class: class.map(str::to_owned),
        term: "Autumn 2026".to_owned(),
        as_of: as_of.map(str::to_owned),
        out: PathBuf::from("-"),
        purpose: "records".to_owned(),
    }
}

pub(super) fn block<T>(work: impl Future<Output = T>) -> T {
    actix_web::rt::System::new().block_on(work)
}

pub(super) fn made(studio: &Studio, order: &Order) -> Vec<u8> {
    let (mut spooled, _) = block(archive::take(&studio.house, order)).unwrap();
    let mut bytes = Vec::new();
    spooled.file.read_to_end(&mut bytes).unwrap();
    assert_eq!(u64::try_from(bytes.len()).unwrap(), spooled.bytes);
    bytes
}

/// A class with everything in it, one photo on the shelf, and some acts.
pub(super) fn set(studio: &Studio) -> Scene {
    let scene = Scene::set(studio);
    let folder = studio.house.settings.photos.join(scene.things.photo.to_string());
    std::fs::create_dir_all(&folder).unwrap();
    for name in ["full.jpg", "1600.jpg", "320.jpg"] {
        std::fs::write(folder.join(name), format!("the picture {name}")).unwrap();
    }
    let instructor = studio.signed_in(INSTRUCTOR);
    for from in ["09:00", "14:00"] {
        let fields = [("kind", "meeting"), ("weekday", "2"), ("from", from), ("to", "17:30")];
        assert_eq!(
            instructor.post(&format!("{}/settings/meetings", studio.class_path()), &fields).status,
            303
        );
    }
    let fields = [("way", "by-hand"), ("before", ""), ("letter", "A"), ("reason", "agreed, in \"writing\"")];
    let path = format!("{}/grades/people/{}/submitted", studio.class_path(), studio.world.student);
    assert_eq!(instructor.post(&path, &fields).status, 303);
    scene
}

fn names(bytes: &[u8]) -> Vec<String> {
    let mut zip = ZipArchive::new(Cursor::new(bytes)).unwrap();
    (0..zip.len())
        .map(|at| String::from_utf8(zip.by_index(at).unwrap().name_raw().to_vec()).unwrap())
        .collect()
}

on_both! {
    /// Signed in, the term, the package: what is in it is what the tables of each class say, and each class keeps that it
    /// was taken.
    fn records_staff_take_a_term_in_three_taps(studio) {
        set(studio);
        let records = studio.signed_in(RECORDS);
        assert!(records.get("/").has("href=\"/records\""));
        let page = records.get("/records");
        assert!(page.read().contains("1 of 2 submitted"), "{}", page.read());
        let path = format!("/records/{}.zip", studio.world.term);
        assert!(page.has(&format!("href=\"{path}\"")), "{}", page.text());
        let package = records.get(&path);
        assert_eq!(package.status, 200);
        let all = names(&package.body);
        for name in ["LIT-B/grades.csv", "LIT-B/roster.csv", "LIT-B/signoffs.csv", "README.txt", "columns.csv", "manifest-sha256.txt"] {
            assert!(all.iter().any(|known| known == name), "{name}: {all:?}");
        }
        for name in ["scores", "attendance", "journal", "images", "data/"] {
            assert!(!all.iter().any(|known| known.contains(name)), "{name}: {all:?}");
        }
        let grades = records.get(&format!("{}/records/grades.csv", studio.class_path())).text();
        assert_eq!(text(&package.body, "LIT-B/grades.csv"), grades);
        let manifest = text(&package.body, "manifest-sha256.txt");
        assert!(manifest.contains(&tympan::secrets::sha256_hex(grades.as_bytes())), "{manifest}");
        let taken = studio.signed_in(INSTRUCTOR).get(&format!("{}/records", studio.class_path())).read();
        assert!(taken.contains("Rhea Folio term Keeping the class’s records this page"), "{taken}");
        assert_eq!(records.get("/records/00000000-0000-0000-0000-000000000000.zip").status, 404);
        assert_eq!(studio.signed_in(INSTRUCTOR).get(&path).status, 403);
    }
}

pub(super) fn text(bytes: &[u8], name: &str) -> String {
    let place = names(bytes).iter().position(|known| known == name).unwrap_or_else(|| panic!("no {name}"));
    let mut zip = ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut text = String::new();
    zip.by_index(place).unwrap().read_to_string(&mut text).unwrap();
    text
}

/// The same files again, changed as told: None leaves a file out.
fn repacked(bytes: &[u8], change: impl Fn(&str, Vec<u8>) -> Option<(String, Vec<u8>)>) -> Vec<u8> {
    let mut out = ZipWriter::new(Cursor::new(Vec::new()));
    let mut zip = ZipArchive::new(Cursor::new(bytes)).unwrap();
    for (at, name) in names(bytes).iter().enumerate() {
        let mut body = Vec::new();
        zip.by_index(at).unwrap().read_to_end(&mut body).unwrap();
        if let Some((name, body)) = change(name, body) {
            out.start_file(name, SimpleFileOptions::default()).unwrap();
            out.write_all(&body).unwrap();
        }
    }
    out.finish().unwrap().into_inner()
}

fn checked(folder: &Path, bytes: &[u8]) -> Result<String, Fault> {
    let path = folder.join("archive.zip");
    std::fs::write(&path, bytes).unwrap();
    check::archive(&path)
}

fn said(outcome: Result<String, Fault>) -> String {
    match outcome {
        Err(Fault::Asked(said)) => said,
        other => panic!("{other:?}"),
    }
}

on_both! {
    fn the_same_moment_gives_the_same_bytes(studio) {
        set(studio);
        studio.later_ms(60_000);
        let first = made(studio, &order(None, Some("LIT-B")));
        studio.later_ms(3_600_000);
        assert!(first == made(studio, &order(None, Some("LIT-B"))), "the moment of the first archive is kept");
        assert!(first == made(studio, &order(Some("2026-10-20T14:01:00Z"), Some("LIT-B"))));
        assert!(text(&first, "csv/LIT-B/journal.csv").contains("grade.submitted"));
        let whole = made(studio, &order(Some("2026-10-20T14:01:00Z"), None));
        assert!(names(&whole).contains(&"csv/LIT-A/roster.csv".to_owned()), "a term has all its classes");
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/records/archive.zip?as-of=2026-10-20T14:01:00Z", studio.class_path());
        let page = instructor.get(&path);
        assert_eq!((page.status, page.headers["content-type"].as_str()), (200, "application/zip"));
        assert!(page.body == first, "page and command give the same");
        assert_eq!(page.headers["content-length"], first.len().to_string());
        assert!(page.headers["content-disposition"].contains("LIT-B Autumn 2026 2026-10-20 1401.zip"));
        let read = instructor.get(&format!("{}/records", studio.class_path())).read();
        assert!(read.contains("Ines Ravel archive Keeping the class’s records this page"), "{read}");
        assert!(read.contains("Made before") && read.contains("As of Tue 20 Oct, 10:01"), "{read}");
        for (email, status) in [(RECORDS, 403), (STUDENT, 403)] {
            assert_eq!(studio.signed_in(email).get(&path).status, status, "{email}");
        }
        let later = instructor.get(&format!("{}/records/archive.zip?as-of=2027-01-01T00:00:00Z", studio.class_path()));
        assert_eq!(later.status, 409, "no archive of what is to come");
        let wrong = block(archive::take(&studio.house, &order(Some("yesterday"), None))).unwrap_err();
        assert!(matches!(wrong, Fault::Asked(said) if said.contains("--as-of “yesterday” is no moment.")));
    }

    fn who_instructs_every_class_takes_the_whole_term(studio) {
        use diesel::prelude::*;
        use tympan::ids::EnrolmentId;
        use tympan::store::schema::enrolment;
        set(studio);
        studio.later_ms(1_000);
        let instructor = studio.signed_in(INSTRUCTOR);
        let (records, at) = (format!("{}/records", studio.class_path()), "2026-10-20T14:00:01Z");
        let path = format!("{records}/term.zip?as-of={at}");
        let page = instructor.get(&path);
        assert_eq!(page.status, 409);
        assert!(page.read().contains("You do not instruct LIT-A"), "{}", page.read());
        assert!(!instructor.get(&records).has("term.zip"));
        let now = crate::studio::world::NOW;
        diesel::insert_into(enrolment::table)
            .values((
                (enrolment::id.eq(EnrolmentId::new(now)), enrolment::class_id.eq(studio.world.other_class)),
                (enrolment::person_id.eq(studio.world.instructor), enrolment::role.eq("instructor")),
                (enrolment::state.eq("enrolled"), enrolment::joined_at.eq(now), enrolment::version.eq(1)),
                enrolment::since.eq(chrono::NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
            ))
            .execute(&mut studio.connection())
            .unwrap();
        assert!(instructor.get(&records).has("/records/term.zip\""));
        let page = instructor.get(&path);
        assert_eq!(page.status, 200, "{}", page.read());
        assert!(page.body == made(studio, &order(Some(at), None)), "page and command give the same");
        assert!(page.headers["content-disposition"].contains("Autumn 2026 2026-10-20 1400.zip"));
        assert!(instructor.get(&records).text().replace("&#x3D;", "=").contains("/records/term.zip?as-of=2026-10-20T14:00:01.000Z"));
        assert_eq!(crate::stories::rows(studio, "disclosure WHERE what LIKE '%archive%'"), 4, "kept for each class, both ways");
        assert_eq!(studio.signed_in(RECORDS).get(&path).status, 403);
    }

    fn it_holds_everything_by_name_and_digest(studio) {
        let scene = set(studio);
        studio.later_ms(1_000);
        let bytes = made(studio, &order(None, Some("LIT-B")));
        let all = names(&bytes);
        let mut sorted = all.clone();
        sorted.sort();
        assert_eq!(all, sorted, "in the order of their names");
        let photo = scene.things.photo;
        for name in [
            "README.txt", "archive.json", "csv/columns.csv", "csv/LIT-B/grades.csv", "data/etch.jsonl",
            "data/submitted_grade.jsonl", "journal-heads.json", "manifest-sha256.txt",
            &format!("images/{photo}/full.jpg"),
        ] {
            assert!(all.contains(&name.to_owned()), "{name}: {all:#?}");
        }
        assert!(all.iter().any(|name| name.starts_with("how-to/Ball-grained-aluminium-plate-v1-")), "{all:#?}");
        let working = all.iter().find(|name| name.starts_with("grades/LIT-B/ukasiewicz-Jr-Jos-")).unwrap();
        let working = text(&bytes, working);
        assert!(working.contains("A: Chosen by the instructor.") && working.contains("agreed, in \"writing\""), "{working}");
        assert!(working.contains("A room at night: 88 of 100"), "{working}");
        let readme = text(&bytes, "README.txt");
        assert!(readme.starts_with("Archive of LIT-B, Plate lithography B. Alder Hill College, Autumn 2026."), "{readme}");
        let people = text(&bytes, "data/person.jsonl");
        assert!(people.contains("student@college.example") && !people.contains("argon2"), "{people}");
        assert!(!people.contains("keeper@college.example") && !people.contains("stranger@"), "only who is named");
        let manifest = text(&bytes, "manifest-sha256.txt");
        assert_eq!(manifest.lines().count(), all.len() - 1);
        let folder = tempfile::tempdir().unwrap();
        let whole = checked(folder.path(), &bytes).unwrap();
        assert!(whole.contains(": whole. LIT-B of Alder Hill College, Autumn 2026, as of 2026-10-20T14:00:01.000Z"), "{whole}");
    }

    /// archive -> read back -> the tables are the same bytes, the pictures are there, the chains hold.
    fn an_empty_tympan_is_filled_from_it(studio) {
        let scene = set(studio);
        studio.later_ms(1_000);
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("archive.zip");
        let bytes = made(studio, &order(None, None));
        std::fs::write(&path, &bytes).unwrap();
        // Into the other database, and into its own.
        for engine in [Engine::Sqlite, Engine::Postgres] {
            let other = Studio::open_empty(engine);
            other.later_ms(1_000);
            let asked = restore::Order { from: path.clone(), keeper: "new@keeper.example".to_owned() };
            let (told, address) = block(restore::read_back(&other.house, &asked)).unwrap();
            assert!(told.contains("and 1 pictures"), "{told}");
            for class in ["LIT-A", "LIT-B"] {
                for table in tables::Table::ALL {
                    let asked = |class: &str| Table {
                        what: table.word().to_owned(), class: class.to_owned(), term: "Autumn 2026".to_owned(),
                        out: PathBuf::from("-"), purpose: "records".to_owned(),
                    };
                    let read = |studio: &Studio| {
                        let mut text = String::new();
                        block(take(&studio.house, &asked(class))).unwrap().file.read_to_string(&mut text).unwrap();
                        text
                    };
                    assert_eq!(read(&other), read(studio), "{engine:?} {class} {table:?}");
                }
            }
            let again = made(&other, &order(Some("2026-10-20T14:00:01Z"), Some("LIT-B")));
            let first = made(studio, &order(Some("2026-10-20T14:00:01Z"), Some("LIT-B")));
            for name in names(&first) {
                let same = text(&first, &name) == text(&again, &name);
                assert!(same || matches!(name.as_str(), "data/letter.jsonl" | "manifest-sha256.txt" | "data/school.jsonl"), "{engine:?}: {name}");
            }
            let before = block(archive::take(&other.house, &order(Some("2026-10-20T14:00:00.500Z"), Some("LIT-B")))).unwrap_err();
            assert!(matches!(&before, Fault::Asked(said) if said.contains("one act")), "what came before it is not known here: {before:?}");
            assert_eq!(journal::check(&mut other.connection()).unwrap(), [], "{engine:?}");
            let photo = other.house.settings.photos.join(scene.things.photo.to_string()).join("full.jpg");
            assert_eq!(std::fs::read(photo).unwrap(), b"the picture full.jpg");
            let visitor = other.visitor();
            let (_, link) = address.split_once("/links/").unwrap();
            assert_eq!(visitor.get(&format!("/links/{link}")).status, 303, "the keeper can open the account");
            let twice = block(restore::read_back(&other.house, &asked)).unwrap_err();
            assert!(matches!(twice, Fault::Asked(said) if said.contains("There is a school here already.")));
        }
    }

    fn every_table_leaves_or_is_said_to_stay(studio) {
        use diesel::prelude::*;
        #[derive(QueryableByName)]
        struct Name {
            #[diesel(sql_type = diesel::sql_types::Text)]
            name: String,
        }
        let sql = match studio.engine() {
            Engine::Sqlite => "SELECT name FROM sqlite_schema WHERE type = 'table' AND substr(name, 1, 2) <> '__' AND name NOT LIKE 'sqlite%'",
            Engine::Postgres => "SELECT table_name::text AS name FROM information_schema.tables WHERE table_schema = current_schema() AND left(table_name, 2) <> '__'",
        };
        let found: Vec<Name> = diesel::sql_query(sql).load(&mut studio.connection()).unwrap();
        let mut found: Vec<String> = found.into_iter().map(|one| one.name).collect();
        let mut known: Vec<String> = TABLES.iter().map(|table| table.name.to_owned()).chain(STAYING.iter().map(|name| (*name).to_owned())).collect();
        found.sort();
        known.sort();
        assert_eq!(found, known, "a new table is one line in store/copying/tables.rs");
        let mut known: Vec<&str> = OWN.iter().map(|table| table.name).chain(NOT_OWN.iter().copied()).collect();
        known.sort_unstable();
        assert_eq!(found, known, "a new table is a student's own or is said not to be, in store/copying/own.rs");
    }

    fn an_archive_is_not_believed(studio) {
        set(studio);
        studio.later_ms(1_000);
        let bytes = made(studio, &order(None, Some("LIT-B")));
        let folder = tempfile::tempdir().unwrap();
        let check = |bytes: &[u8]| said(checked(folder.path(), bytes));
        let changed = repacked(&bytes, |name, body| Some((name.to_owned(), if name == "csv/LIT-B/grades.csv" { b"A,A,A".to_vec() } else { body })));
        assert!(check(&changed).ends_with("csv/LIT-B/grades.csv was changed: its SHA-256 is not the one of the manifest."));
        let fewer = repacked(&bytes, |name, body| (name != "data/etch.jsonl").then(|| (name.to_owned(), body)));
        assert!(check(&fewer).ends_with("data/etch.jsonl is missing: the manifest names it."));
        let more = repacked(&bytes, |name, body| Some((name.replace("README", "READ-ME"), body)));
        let wrong = check(&more);
        assert!(wrong.contains("README.txt is missing") && wrong.contains("READ-ME.txt is too many"), "{wrong}");
        let none = repacked(&bytes, |name, body| (name != "archive.json").then(|| (name.to_owned(), body)));
        assert!(check(&none).contains("This is no archive of a Tympan"));
        for (name, told) in [
            ("../README.txt", "leads out of the zip file by “..”"),
            ("csv/../../x", "leads out of the zip file by “..”"),
            ("/etc/passwd", "names a place outside the zip file"),
            ("C:/x.txt", "names a place outside the zip file"),
            ("csv//x.txt", "is no name a file of ours can have"),
        ] {
            let odd = repacked(&bytes, |known, body| Some((if known == "README.txt" { name.to_owned() } else { known.to_owned() }, body)));
            let wrong = check(&odd);
            assert!(wrong.contains(told) || wrong.contains("too many"), "{name}: {wrong}");
        }
        let twin = repacked(&bytes, |name, body| Some((name.replace("README.txt", "archive.jsoN"), body)));
        let twin: Vec<u8> = replaced(&twin, b"archive.jsoN", b"archive.json");
        assert!(check(&twin).contains("“archive.json” stands in the zip file twice"), "{}", check(&twin));
        let bomb = {
            let mut out = ZipWriter::new(Cursor::new(Vec::new()));
            out.start_file("archive.json", SimpleFileOptions::default().compression_method(CompressionMethod::Deflated)).unwrap();
            out.write_all(&vec![b' '; 8 << 20]).unwrap();
            out.finish().unwrap().into_inner()
        };
        assert!(check(&bomb).contains("says it unpacks to more than three hundred times its size"), "{}", check(&bomb));
        assert!(check(&bytes[..bytes.len() / 2]).contains("This is no zip file"));
        assert!(check(b"").contains("This is no zip file"));
        let other = Studio::open_empty(Engine::Sqlite);
        let path = folder.path().join("changed.zip");
        std::fs::write(&path, &changed).unwrap();
        let asked = restore::Order { from: path, keeper: "new@keeper.example".to_owned() };
        let refused = block(restore::read_back(&other.house, &asked)).unwrap_err();
        assert!(matches!(refused, Fault::Asked(said) if said.contains("was changed")));
        assert_eq!(crate::stories::rows(&other, "person"), 0, "nothing half restored");
    }

    /// Whoever rewrites the journal inside an archive can make the manifest anew, but not the chain.
    fn the_chains_of_an_archive_are_walked(studio) {
        set(studio);
        studio.later_ms(1_000);
        let bytes = made(studio, &order(None, Some("LIT-B")));
        let folder = tempfile::tempdir().unwrap();
        let whole = checked(folder.path(), &bytes).unwrap();
        assert!(whole.ends_with("Journal of LIT-B, Autumn 2026: 3 acts, the chain holds."), "{whole}");
        let acts = text(&bytes, "data/journal.jsonl");
        let fewer: Vec<&str> = acts.lines().take(3).collect();
        let lines: Vec<&str> = acts.lines().collect();
        let without_second = [lines[0], lines[1], lines[3]].join("\n");
        let details = text(&bytes, "data/journal_detail.jsonl");
        let purged: Vec<&str> = details.lines().take(3).collect();
        for (name, new, said) in [
            ("data/journal.jsonl", acts.replace("grade.submitted", "grade.dreamt-up"), "Journal of LIT-B, act 3: the row was changed"),
            ("data/journal.jsonl", fewer.join("\n"), "Journal of LIT-B, at act 3: rows are missing"),
            ("data/journal.jsonl", without_second, "Journal of LIT-B, at act 2: rows are missing"),
            ("data/journal.jsonl", format!("{acts}[1]\n"), "line 5 is JSON, but not what this file has to hold"),
            ("data/journal.jsonl", format!("{acts}["), "it breaks off in line 5"),
            ("data/journal.jsonl", acts.replace("\"seq\"", "\"number\""), "has no column seq"),
            ("data/journal_detail.jsonl", details.replace("agreed, in", "forced, in"), "Journal of LIT-B, act 3: its detail was changed"),
            ("journal-heads.json", "[]".to_owned(), "does not say where the journal of LIT-B ends"),
        ] {
            let wrong = said_of(folder.path(), &rewritten(&bytes, name, &new));
            assert!(wrong.contains(said), "{said}: {wrong}");
        }
        let told = checked(folder.path(), &rewritten(&bytes, "data/journal_detail.jsonl", &purged.join("\n"))).unwrap();
        assert!(told.contains("1 details are gone, and no act says that they were purged."), "{told}");
        let other = Studio::open_empty(Engine::Sqlite);
        let path = folder.path().join("rewritten.zip");
        std::fs::write(&path, rewritten(&bytes, "data/journal.jsonl", &acts.replace("grade.submitted", "x"))).unwrap();
        let asked = restore::Order { from: path, keeper: "new@keeper.example".to_owned() };
        let refused = block(restore::read_back(&other.house, &asked)).unwrap_err();
        assert!(matches!(refused, Fault::Asked(said) if said.contains("act 3: the row was changed")));
        assert_eq!(crate::stories::rows(&other, "person"), 0, "nothing half restored");
    }

    /// Each row that does not fit is told by its line and what is wrong with it, in our own words.
    fn a_row_that_does_not_fit_is_told_by_its_line(studio) {
        set(studio);
        studio.later_ms(1_000);
        let bytes = made(studio, &order(None, Some("LIT-B")));
        let folder = tempfile::tempdir().unwrap();
        let people = text(&bytes, "data/person.jsonl");
        let again = format!("{people}{}\n", people.lines().nth(1).unwrap());
        let prints = text(&bytes, "data/print.jsonl");
        let (class, nowhere) = (studio.world.class.to_string(), "00000000-0000-7000-8000-00000000dead");
        let lost = prints.replacen(&class, nowhere, 1);
        for (name, new, said) in [
            ("data/person.jsonl", again, "person in the archive hold a row twice"),
            ("data/print.jsonl", lost, "print in the archive names another that is not there"),
        ] {
            let other = Studio::open_empty(studio.engine());
            let path = folder.path().join("odd.zip");
            std::fs::write(&path, rewritten(&bytes, name, &new)).unwrap();
            let asked = restore::Order { from: path, keeper: "new@keeper.example".to_owned() };
            match block(restore::read_back(&other.house, &asked)).unwrap_err() {
                Fault::Asked(told) => assert!(told.contains(said) && !told.contains("constraint"), "{told}"),
                other => panic!("{other:?}"),
            }
            assert_eq!(crate::stories::rows(&other, "person"), 0, "nothing half restored");
        }
    }

    fn the_journal_of_the_database_is_checked(studio) {
        set(studio);
        studio.later_ms(1_000);
        let bytes = made(studio, &order(None, Some("LIT-B")));
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("kept.zip");
        std::fs::write(&path, &bytes).unwrap();
        let told = block(check::database(&studio.house, None)).unwrap();
        assert!(told.contains("Journal of LIT-B, Autumn 2026: 3 acts, the chain holds."), "{told}");
        assert!(told.contains("cut off together with its head looks whole. Compare with an archive kept elsewhere"), "{told}");
        let told = block(check::database(&studio.house, Some(&path))).unwrap();
        assert!(told.ends_with("The rows that the file kept elsewhere names are there."), "{told}");
        let class = studio.world.class;
        let alone = folder.path().join("heads.json");
        std::fs::write(&alone, text(&bytes, "journal-heads.json")).unwrap();
        // A tail cut together with its head is seen by an anchor alone.
        let db = &mut studio.connection();
        execute(db, &format!("DELETE FROM journal WHERE scope = '{class}' AND seq = 3")).unwrap();
        execute(db, &format!("DELETE FROM journal_detail WHERE scope = '{class}' AND seq = 3")).unwrap();
        execute(db, &format!("UPDATE journal_head SET seq = 2, hash = (SELECT hash FROM journal WHERE scope = '{class}' AND seq = 2) WHERE scope = '{class}'")).unwrap();
        assert!(block(check::database(&studio.house, None)).is_ok(), "nothing to see without an anchor");
        for anchor in [&path, &alone] {
            let wrong = said(block(check::database(&studio.house, Some(anchor))));
            assert!(wrong.contains("Journal of LIT-B, Autumn 2026, act 3: the file kept elsewhere has this row"), "{wrong}");
        }
        execute(db, &format!("UPDATE journal SET act = 'nothing.done' WHERE scope = '{class}' AND seq = 1")).unwrap();
        execute(db, &format!("UPDATE journal_detail SET detail = '{{}}' WHERE scope = '{class}' AND seq = 2")).unwrap();
        let wrong = said(block(check::database(&studio.house, None)));
        assert!(wrong.contains("act 1: the row was changed after it was written."), "{wrong}");
        assert!(wrong.contains("act 2: its detail was changed after it was written."), "{wrong}");
        assert!(journal::check(db).unwrap().contains(&Finding::Tampered { scope: class.to_string(), seq: 1 }));
        let odd = folder.path().join("odd.json");
        std::fs::write(&odd, "[1]").unwrap();
        assert!(said(block(check::database(&studio.house, Some(&odd)))).contains("journal-heads.json cannot be read"));
    }
}

/// An archive with one file written anew, and a manifest that fits.
fn rewritten(bytes: &[u8], name: &str, new: &str) -> Vec<u8> {
    let old = tympan::secrets::sha256_hex(text(bytes, name).as_bytes());
    let digest = tympan::secrets::sha256_hex(new.as_bytes());
    repacked(bytes, |known, body| {
        let body = match known {
            "manifest-sha256.txt" => String::from_utf8(body)
                .unwrap()
                .replace(&format!("{old}  {name}"), &format!("{digest}  {name}"))
                .into_bytes(),
            _ if known == name => new.as_bytes().to_vec(),
            _ => body,
        };
        Some((known.to_owned(), body))
    })
}

fn said_of(folder: &Path, bytes: &[u8]) -> String {
    said(checked(folder, bytes))
}

pub(super) fn replaced(bytes: &[u8], from: &[u8], to: &[u8]) -> Vec<u8> {
    let mut out = bytes.to_vec();
    let mut at = 0;
    while at + from.len() <= out.len() {
        if out[at..].starts_with(from) {
            out[at..at + to.len()].copy_from_slice(to);
            at += from.len();
        } else {
            at += 1;
        }
    }
    out
}
