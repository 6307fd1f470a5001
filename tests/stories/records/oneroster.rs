//! Packages that follow the OneRoster 1.2 CSV binding: a class as one, and a class list out of one.

use std::io::{Cursor, Read, Write};

use diesel::prelude::*;
use tympan::commands::import;
use tympan::exchange::oneroster::{Package, Wanted};
use tympan::exchange::parcel::{Limits, Parcel};
use tympan::store::schema::person;

use super::scene::Scene;
use crate::on_both;
use crate::studio::Studio;
use crate::studio::world::{INSTRUCTOR, RECORDS};

const LIMITS: Limits = Limits { file: 1 << 24, all: 1 << 26 };

pub(super) fn package(bytes: &[u8]) -> Package {
    Package::read(&mut Parcel::open(Cursor::new(bytes), LIMITS).unwrap()).unwrap()
}

pub(super) fn taken(studio: &Studio) -> Vec<u8> {
    let page = studio.signed_in(INSTRUCTOR).get(&format!("{}/records/oneroster.zip", studio.class_path()));
    assert_eq!(page.status, 200, "{}", page.read());
    page.body
}

fn packed(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        zip.start_file(*name, zip::write::SimpleFileOptions::default()).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

on_both! {
    fn a_class_is_a_package_whose_every_reference_holds(studio) {
        let scene = Scene::set(studio);
        let bytes = taken(studio);
        assert!(bytes == taken(studio), "the same again");
        // Reading checks headings, values, ids and references.
        let all = package(&bytes).0;
        let class = &all["classes"][studio.world.class.as_str()];
        assert_eq!((class["classCode"].as_str(), class["classType"].as_str()), ("LIT-B", "scheduled"));
        let term = &all["academicSessions"][studio.world.term.as_str()];
        assert_eq!(
            [&term["startDate"], &term["endDate"], &term["schoolYear"], &term["type"]],
            ["2026-08-31", "2026-12-19", "2027", "semester"],
            "ranges end before their last day"
        );
        assert_eq!(all["academicSessions"][&term["parentSourcedId"]]["type"], "schoolYear");
        assert_eq!(all["users"].len(), 5);
        let jose = &all["users"][studio.world.student.as_str()];
        assert_eq!((jose["givenName"].as_str(), jose["identifier"].as_str()), ("José", "S1001"));
        assert!(!jose.contains_key("password"));
        let roles: Vec<&str> = all["roles"].values().map(|row| row["role"].as_str()).collect();
        assert_eq!(roles.iter().filter(|role| **role == "teacher").count(), 1, "{roles:?}");
        let gone = all["enrollments"].values().filter(|row| row.contains_key("endDate")).count();
        assert_eq!(gone, 1, "who withdrew is there with the day");
        let result = &all["results"][scene.things.score.as_str()];
        assert_eq!((result["score"].as_str(), result["scoreStatus"].as_str()), ("88", "fully graded"));
        assert_eq!(all["results"].len(), 1, "what was handed back alone");
        assert_eq!(all["categories"][scene.things.category.as_str()]["weight"], "100");
        let mut zip = zip::ZipArchive::new(Cursor::new(&bytes)).unwrap();
        let mut manifest = String::new();
        let place = (0..zip.len()).find(|at| zip.by_index(*at).unwrap().name_raw() == b"manifest.csv").unwrap();
        zip.by_index(place).unwrap().read_to_string(&mut manifest).unwrap();
        assert_eq!(manifest.lines().filter(|line| line.starts_with("file.")).count(), 21, "every file of the version is named");
        assert!(manifest.contains("oneroster.version,1.2\r\n") && manifest.contains("file.demographics,absent\r\n"));
        assert_eq!(studio.signed_in(RECORDS).get(&format!("{}/records/oneroster.zip", studio.class_path())).status, 403);
    }

    fn a_class_list_is_read_from_a_package(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let bytes = taken(studio);
        let path = format!("{}/people/list", studio.class_path());
        let page = instructor.upload(&path, &[], ("file", "package.zip", &bytes));
        assert_eq!(page.status, 200, "{}", page.read());
        let read = page.read();
        assert!(read.contains("Vale") && read.contains("Wren"), "{read}");
        let broken = tympan::exchange::oneroster::Package::default();
        let mut broken = broken;
        broken.add("orgs", "a", &[("name", "A".to_owned()), ("type", "school".to_owned()), ("parentSourcedId", "b".to_owned())]);
        broken.add("orgs", "b", &[("name", "B".to_owned()), ("type", "school".to_owned()), ("parentSourcedId", "a".to_owned())]);
        let page = instructor.upload(&path, &[], ("file", "package.zip", &broken.zip().unwrap()));
        assert_eq!(page.status, 422);
        assert!(page.read().contains("orgs.csv: “a” is its own parent, by way of others or at once."), "{}", page.read());
        assert_eq!(crate::stories::rows(studio, "once"), 0, "nothing was stored");
    }

    /// People stand in a package by the ids they have here, and are known by them when it comes back.
    fn a_package_of_our_own_asks_for_nothing(studio) {
        let db = &mut studio.connection();
        // A name that a spreadsheet would reckon is refused in every list.
        diesel::update(person::table.find(studio.world.other_student)).set(person::given_name.eq("Otis")).execute(db).unwrap();
        let (bytes, class) = (taken(studio), studio.world.class);
        let today = "2026-10-20".parse().unwrap();
        let wanted = Wanted { id: class.as_str(), theirs: None, code: "LIT-B" };
        let list = tympan::exchange::oneroster::list(&bytes, wanted, today).unwrap();
        let looked = tympan::pages::roster::import::look_with(db, class, &list.csv, &list.told).unwrap();
        assert!(looked.asks_for_nothing(), "{:#?} {:#?}", looked.plan, looked.given);
        assert_eq!(looked.given.notes, [], "our own ids are no ids of others");
        assert_eq!((looked.plan.bad.len(), looked.plan.added.len()), (0, 0), "{:#?}", looked.plan.bad);
        assert!(looked.plan.known.iter().all(|row| row.by.is_some()), "by id: {:#?}", looked.plan.known);
    }

    /// A zip file that cannot be opened is told so; that it is a spreadsheet is said of spreadsheets alone.
    fn a_zip_file_that_is_no_package_is_told_what_it_is(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/people/list", studio.class_path());
        let sound = taken(studio);
        let place = sound.windows(9).position(|part| part == b"users.csv").unwrap() + 60;
        let mut damaged = sound.clone();
        damaged[place] ^= 255;
        for (bytes, said) in [
            (packed(&[("[Content_Types].xml", b"<Types/>"), ("xl/workbook.xml", b"<x/>")]), "The file is a spreadsheet"),
            (packed(&[("mimetype", b"application/vnd.oasis.opendocument.spreadsheet"), ("content.xml", b"<x/>")]), "The file is a spreadsheet"),
            (packed(&[("../users.csv", b"a,b\r\n")]), "leads out of the zip file by “..”"),
            (packed(&[("manifest.csv", &vec![b' '; 8 << 20])]), "says it unpacks to more than three hundred times its size"),
            (packed(&[("notes.txt", b"x")]), "This zip file has no manifest.csv"),
            (sound[..sound.len() / 2].to_vec(), "This is no zip file, or a damaged one."),
            (damaged, "“users.csv” is damaged"),
        ] {
            let page = instructor.upload(&path, &[], ("file", "list.zip", &bytes));
            assert_eq!(page.status, 422, "{said}: {}", page.read());
            assert!(page.read().contains(said), "{said}: {}", page.read());
            let order = import::Order { class: "LIT-B", term: "Autumn 2026", apply: true, by: None };
            let told = actix_web::rt::System::new().block_on(import::bring(&studio.house, bytes, &order)).unwrap_err();
            assert!(told.contains(said), "{said}: {told}");
        }
        assert_eq!(crate::stories::rows(studio, "once"), 0, "nothing was stored");
    }
}
