//! The ids by which another system knows a class, its term, school year, course, school, department, categories and
//! assessments: kept when its package is confirmed, and written back in ours wherever the thing is named.

use std::collections::BTreeMap;
use std::path::PathBuf;

use diesel::prelude::*;
use tympan::commands::import;
use tympan::commands::{archive, restore};
use tympan::exchange::oneroster::Package;
use tympan::store::schema::{assessment, category, external_id, journal, journal_detail, person};

use super::oneroster::{package, taken};
use super::scene::Scene;
use crate::on_both;
use crate::stories::rows;
use crate::studio::world::*;
use crate::studio::{Engine, Page, Studio, Visitor};

/// What a renamed thing is called in the packages of this story.
type Names = BTreeMap<String, String>;

/// A package with other ids for some rows, in every column that names one. Nothing is known here of which file names which.
fn renamed(all: &Package, names: &Names) -> Package {
    let new = |id: &str| names.get(id).cloned().unwrap_or_else(|| id.to_owned());
    let mut out = Package::default();
    for (file, rows) in &all.0 {
        for (id, row) in rows {
            let row = row.iter().map(|(column, value)| {
                let many: Vec<String> = value.split(',').map(new).collect();
                (column.clone(), if column.contains("SourcedId") { many.join(",") } else { value.clone() })
            });
            out.0.entry(file).or_default().insert(new(id), row.collect());
        }
    }
    out
}

/// The one row of a file for which something holds.
fn one(all: &Package, file: &str, column: &str, value: &str) -> String {
    let found: Vec<&String> = all.0[file]
        .iter()
        .filter(|(_, row)| row.get(column).is_some_and(|one| one == value))
        .map(|(id, _)| id)
        .collect();
    assert_eq!(found.len(), 1, "{file} {column} {value}");
    found[0].clone()
}

/// What the registrar of this story calls each thing.
fn registrars(all: &Package) -> Names {
    [
        ("orgs", "type", "school", "district/alder-hill"),
        ("orgs", "type", "department", "district/alder-hill/print"),
        ("academicSessions", "type", "schoolYear", "AY27"),
        ("academicSessions", "type", "semester", "AY27.fall"),
        ("courses", "courseCode", "LIT-B", "crs_220"),
        ("classes", "classCode", "LIT-B", "sec_220_01@fall"),
        ("categories", "title", "Prints", "cat-9"),
        ("lineItems", "title", "A room at night", "li-77"),
    ]
    .into_iter()
    .map(|(file, column, value, name)| (one(all, file, column, value), name.to_owned()))
    .collect()
}

fn lists(class: tympan::ids::ClassId) -> String {
    format!("/classes/{class}/people/list")
}

fn look(who: &Visitor, class: tympan::ids::ClassId, package: &Package) -> Page {
    let page = who.upload(&lists(class), &[], ("file", "package.zip", &package.zip().unwrap()));
    assert_eq!(page.status, 200, "{}", page.read());
    page
}

fn hidden(page: &Page, name: &str) -> String {
    let text = page.text();
    let (_, rest) = text.split_once(&format!("name=\"{name}\" value=\"")).expect(name);
    rest.split('"').next().unwrap().to_owned()
}

fn confirm(who: &Visitor, class: tympan::ids::ClassId, preview: &Page) -> Page {
    let fields = ["list", "ids", "digest"].map(|name| (name, hidden(preview, name)));
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (*name, value.as_str())).collect();
    who.upload(&format!("{}/confirm", lists(class)), &fields, ("file", "", b""))
}

fn kept(studio: &Studio) -> Vec<(String, String)> {
    external_id::table
        .filter(external_id::kind.ne("person"))
        .order((external_id::kind, external_id::theirs))
        .select((external_id::kind, external_id::theirs))
        .load(&mut studio.connection())
        .unwrap()
}

/// A scene whose list can be read: a name that a spreadsheet would reckon is refused in every list.
fn set(studio: &Studio) -> Package {
    Scene::set(studio);
    diesel::update(person::table.find(studio.world.other_student))
        .set(person::given_name.eq("Otis"))
        .execute(&mut studio.connection())
        .unwrap();
    package(&taken(studio))
}

fn detail_of(studio: &Studio, act: &str) -> String {
    journal::table
        .inner_join(
            journal_detail::table
                .on(journal_detail::scope.eq(journal::scope).and(journal_detail::seq.eq(journal::seq))),
        )
        .filter(journal::act.eq(act))
        .order(journal::at.desc())
        .select(journal_detail::detail)
        .first(&mut studio.connection())
        .unwrap()
}

on_both! {
    fn ids_of_a_package_come_back_in_ours_wherever_the_thing_is_named(studio) {
        let ours = set(studio);
        let names = registrars(&ours);
        let theirs = renamed(&ours, &names);
        let (instructor, class) = (studio.signed_in(INSTRUCTOR), studio.world.class);
        let preview = look(&instructor, class, &theirs);
        let read = preview.read();
        assert!(read.contains(
            "The ids by which the other system knows this class are kept, and packages made here will use them: \
             school, department, school year, term, course, class, one category, one assessment."
        ), "{read}");
        assert!(!read.contains("Nothing to do: the list"), "an import of ids alone is something to do: {read}");
        assert_eq!((kept(studio).len(), rows(studio, "once")), (0, 0), "looking over stores nothing");
        let done = confirm(&instructor, class, &preview);
        assert_eq!(done.status, 303, "{}", done.read());
        let now = package(&taken(studio));
        assert_eq!(now, theirs, "every id of theirs stands where ours stood, and nothing else changed");
        for (id, name) in &names {
            let told = format!("{:?}", now.0);
            assert!(told.contains(name.as_str()) && !told.contains(&format!("\"{id}\"")), "{id} {name}");
        }
        assert!(detail_of(studio, "roster.brought").contains("\"theirs\":\"AY27.fall\""), "{}", detail_of(studio, "roster.brought"));
        let page = look(&instructor, class, &theirs);
        assert!(page.read().contains("Nothing to do: the list asks for no change.") && !page.has("list/confirm"), "{}", page.read());
        // Taken before the ids were kept: ours are no ids of others.
        let page = look(&instructor, class, &ours);
        assert!(page.read().contains("Nothing to do: the list asks for no change.") && !page.read().contains("is not kept"), "{}", page.read());
        assert_eq!(kept(studio).len(), 8);
        assert_eq!(tympan::store::journal::check(&mut studio.connection()).unwrap(), [], "the chain holds");
    }

    /// The class is found by the id that was kept, even where two in the package have its code.
    fn the_class_is_known_by_the_id_that_was_kept(studio) {
        let ours = set(studio);
        let theirs = renamed(&ours, &registrars(&ours));
        let (instructor, class) = (studio.signed_in(INSTRUCTOR), studio.world.class);
        confirm(&instructor, class, &look(&instructor, class, &theirs));
        let mut two = theirs.clone();
        let twin = two.0["classes"]["sec_220_01@fall"].clone();
        two.0.get_mut("classes").unwrap().insert("aaa".to_owned(), twin);
        let page = look(&instructor, class, &two);
        assert!(page.read().contains("Nothing to do: the list asks for no change."), "{}", page.read());
    }

    /// A title that stands twice, here or there, says of nothing with certainty which is meant.
    fn categories_and_assessments_are_matched_where_it_is_certain(studio) {
        let ours = set(studio);
        let mut theirs = renamed(&ours, &registrars(&ours));
        let (category, item) = (theirs.0["categories"]["cat-9"].clone(), theirs.0["lineItems"]["li-77"].clone());
        theirs.0.get_mut("categories").unwrap().insert("cat-10".to_owned(), category);
        let mut other = item;
        other.insert("title".to_owned(), "Another title".to_owned());
        let items = theirs.0.get_mut("lineItems").unwrap();
        items.insert("li-77".to_owned(), other);
        let (instructor, class) = (studio.signed_in(INSTRUCTOR), studio.world.class);
        let preview = look(&instructor, class, &theirs);
        assert!(preview.read().contains("course, class."), "{}", preview.read());
        confirm(&instructor, class, &preview);
        assert_eq!(kept(studio).iter().filter(|(kind, _)| kind == "category" || kind == "assessment").count(), 0);
        let known: i64 = category::table.count().get_result(&mut studio.connection()).unwrap();
        let marked: i64 = assessment::table.count().get_result(&mut studio.connection()).unwrap();
        assert!(package(&taken(studio)).0["categories"].len() == usize::try_from(known).unwrap() && marked > 0);
    }

    /// Two classes of a term: what they share keeps the id it was given first, and no id goes to two things.
    fn what_two_classes_share_keeps_one_id_and_no_id_has_two_owners(studio) {
        let ours = set(studio);
        let names = registrars(&ours);
        let (instructor, stranger) = (studio.signed_in(INSTRUCTOR), studio.signed_in(STRANGER));
        let (class, other) = (studio.world.class, studio.world.other_class);
        confirm(&instructor, class, &look(&instructor, class, &renamed(&ours, &names)));
        // Another system's package of the other class: the term has another id there, the class one that is taken.
        let own = package(&stranger.get(&format!("/classes/{other}/records/oneroster.zip")).body);
        let term = &own.0["classes"].values().next().unwrap()["termSourcedIds"];
        assert_eq!(term, "AY27.fall", "both classes name the term by its one id");
        let again: Names = [
            ("AY27.fall".to_owned(), "term-2".to_owned()),
            (other.to_string(), "sec_220_01@fall".to_owned()),
            (one(&own, "courses", "courseCode", "LIT-A"), "crs_110".to_owned()),
        ].into();
        let preview = look(&stranger, other, &renamed(&own, &again));
        let read = preview.read();
        assert!(read.contains("The id “term-2” (term) is not kept: other classes may share what it names, which has the id “AY27.fall”."), "{read}");
        assert!(read.contains("The id “sec_220_01@fall” (class) belongs to something else here, so it is not kept."), "{read}");
        assert!(read.contains("will use them: course."), "{read}");
        assert_eq!(confirm(&stranger, other, &preview).status, 303);
        let told = kept(studio);
        assert_eq!(told.iter().filter(|(kind, _)| kind == "term").count(), 1);
        assert!(told.contains(&("course".to_owned(), "crs_110".to_owned())), "{told:?}");
        // A class of ours that is brought into another one gives its id away to nobody; nor does a term to a school year.
        let mixed: Names = [(other.to_string(), class.to_string()), ("AY27".to_owned(), "AY27.fall".to_owned()), ("AY27.fall".to_owned(), "x".to_owned())].into();
        let read = look(&stranger, other, &renamed(&own, &mixed)).read();
        assert!(read.contains(&format!("The id “{class}” (class) belongs to something else here")), "{read}");
        assert!(read.contains("The id “AY27.fall” (school year) belongs to something else here"), "{read}");
    }

    /// A class that another system numbers anew gets its new id; the old one is in the journal, as is a person's.
    fn an_id_that_takes_the_place_of_another_is_told_and_journalled(studio) {
        let ours = set(studio);
        let mut names = registrars(&ours);
        let (instructor, class) = (studio.signed_in(INSTRUCTOR), studio.world.class);
        confirm(&instructor, class, &look(&instructor, class, &renamed(&ours, &names)));
        names.insert(class.to_string(), "sec_220_01.again".to_owned());
        let preview = look(&instructor, class, &renamed(&ours, &names));
        let read = preview.read();
        assert!(read.contains("The id “sec_220_01.again” (class) takes the place of “sec_220_01@fall”."), "{read}");
        assert_eq!(confirm(&instructor, class, &preview).status, 303);
        assert_eq!(
            detail_of(studio, "external_id.replaced").replace(' ', ""),
            "{\"after\":\"sec_220_01.again\",\"before\":\"sec_220_01@fall\",\"kind\":\"class\"}"
        );
        // Somebody without an account, who is told by another id the second time.
        let number = "S4711";
        let path = lists(class);
        for id in ["reg/1", "reg/2"] {
            let list = format!("Given name,Family name,Student number,External id,Listing\nNora,Reed,{number},{id},LIT 220-01\n");
            let page = instructor.post(&path, &[("text", &list)]);
            assert_eq!(confirm(&instructor, class, &page).status, 303, "{}", page.read());
            studio.later_ms(1_000);
        }
        let detail = detail_of(studio, "external_id.replaced");
        assert!(detail.contains("reg/1") && detail.contains("reg/2") && detail.contains("person"), "{detail}");
    }

    /// The course's id is wrong: a second package cannot replace it, since other classes may stand in the same course, but
    /// a keeper lets go of it, and then the next package brings the right one.
    fn a_keeper_lets_go_of_a_wrong_id_that_classes_share(studio) {
        let ours = set(studio);
        let right = registrars(&ours);
        let course = right.iter().find(|(_, name)| *name == "crs_220").map(|(id, _)| id.clone()).unwrap();
        let mut wrong = right.clone();
        wrong.insert(course.clone(), "crs_200".to_owned());
        let (instructor, keeper, class) = (studio.signed_in(INSTRUCTOR), studio.signed_in(KEEPER), studio.world.class);
        assert!(!keeper.get("/school").has("/school/ids"), "no package was brought");
        confirm(&instructor, class, &look(&instructor, class, &renamed(&ours, &wrong)));
        let read = look(&instructor, class, &renamed(&ours, &right)).read();
        assert!(read.contains("The id “crs_220” (course) is not kept"), "{read}");
        assert!(read.contains("a keeper lets go of it under Ids in other systems"), "{read}");
        assert!(keeper.get("/school").has("/school/ids"));
        let page = keeper.get("/school/ids");
        let read = page.read();
        assert!(read.contains("crs_200") && read.contains("LIT-B") && read.contains(&course), "{read}");
        let form = [("kind", "course"), ("ours", course.as_str()), ("seen", "crs_200")];
        let refused = keeper.post("/school/ids/let-go", &crate::stories::but(&form, "seen", "crs_220"));
        assert_eq!(refused.status, 409, "{}", refused.read());
        assert!(refused.read().contains("The id “crs_220” is no longer the one that stands."), "{}", refused.read());
        let id = class.to_string();
        let own = [("kind", "class"), ("ours", id.as_str()), ("seen", "sec_220_01@fall")];
        assert_eq!(keeper.post("/school/ids/let-go", &own).status, 404, "a class's id is its instructor's to replace");
        let done = keeper.post("/school/ids/let-go", &form);
        assert!(done.location().contains("done-outside-id"), "{} {}", done.status, done.read());
        assert!(!keeper.get("/school/ids").has("crs_200"));
        assert!(detail_of(studio, "external_id.let_go").contains("crs_200"));
        let preview = look(&instructor, class, &renamed(&ours, &right));
        assert!(!preview.read().contains("crs_200"), "{}", preview.read());
        assert_eq!(confirm(&instructor, class, &preview).status, 303);
        assert!(kept(studio).contains(&("course".to_owned(), "crs_220".to_owned())), "{:?}", kept(studio));
    }

    /// What is confirmed is what was shown: where an id was taken meanwhile, nothing is done and the page says so.
    fn ids_taken_between_look_and_confirmation_are_shown_anew(studio) {
        let ours = set(studio);
        let theirs = renamed(&ours, &registrars(&ours));
        let (instructor, class) = (studio.signed_in(INSTRUCTOR), studio.world.class);
        let preview = look(&instructor, class, &theirs);
        diesel::insert_into(external_id::table)
            .values((
                external_id::kind.eq("course"), external_id::source.eq("roster"),
                external_id::ours.eq("another course"), external_id::theirs.eq("crs_220"),
            ))
            .execute(&mut studio.connection()).unwrap();
        let page = confirm(&instructor, class, &preview);
        assert_eq!(page.status, 422, "{}", page.read());
        let read = page.read();
        assert!(read.contains("nothing was done") && read.contains("The id “crs_220” (course) belongs to something else here"), "{read}");
        assert_eq!(kept(studio).len(), 1);
        assert_eq!(confirm(&instructor, class, &page).status, 303, "what is shown now can be confirmed");
        assert_eq!(kept(studio).len(), 8);
        // A field that holds anything else is refused like a list that cannot be read.
        for odd in ["x", "e30", "eyJpZHMiOltbInBlcnNvbiIsIngiXV19", "%%%"] {
            let (list, digest) = (hidden(&preview, "list"), hidden(&preview, "digest"));
            let fields = [("list", list.as_str()), ("ids", odd), ("digest", digest.as_str())];
            let page = instructor.upload(&format!("{}/confirm", lists(class)), &fields, ("file", "", b""));
            assert_eq!(page.status, 422, "{odd}: {}", page.read());
        }
    }

    /// A package of another term's class gives no id to this one.
    fn a_package_of_another_term_gives_class_and_term_no_id(studio) {
        let ours = set(studio);
        let mut theirs = renamed(&ours, &registrars(&ours));
        let term = theirs.0.get_mut("academicSessions").unwrap().get_mut("AY27.fall").unwrap();
        term.insert("startDate".to_owned(), "2026-07-02".to_owned());
        term.insert("endDate".to_owned(), "2026-08-31".to_owned());
        let read = look(&studio.signed_in(INSTRUCTOR), studio.world.class, &theirs).read();
        assert!(read.contains("The package’s term begins on 2026-07-02 and ends before 2026-08-31, with no day in the term of this class"), "{read}");
        assert!(read.contains("will use them: school, department, course."), "{read}");
    }

    /// From the command line the same ids are told and kept; an archive carries them to wherever it is restored.
    fn the_command_keeps_them_and_an_archive_carries_them(studio) {
        let ours = set(studio);
        let theirs = renamed(&ours, &registrars(&ours));
        let bytes = theirs.zip().unwrap();
        let order = import::Order { class: "LIT-B", term: "Autumn 2026", apply: true, by: None };
        let bring = || actix_web::rt::System::new().block_on(import::bring(&studio.house, bytes.clone(), &order)).unwrap();
        let said = bring().join("\n");
        assert!(said.contains("will use them: school, department, school year, term, course, class, one category, one assessment."), "{said}");
        assert!(!bring().join("\n").contains("will use them"), "twice is once");
        assert_eq!(rows(studio, "journal WHERE act = 'roster.brought'"), 1);
        studio.later_ms(1_000);
        let order = archive::Order {
            class: Some("LIT-B".to_owned()), term: "Autumn 2026".to_owned(), as_of: None, out: PathBuf::from("-"), purpose: "records".to_owned(),
        };
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("archive.zip");
        let (mut spooled, _) = actix_web::rt::System::new().block_on(archive::take(&studio.house, &order)).unwrap();
        std::io::copy(&mut spooled.file, &mut std::fs::File::create(&path).unwrap()).unwrap();
        for engine in [Engine::Sqlite, Engine::Postgres] {
            let other = Studio::open_empty(engine);
            other.later_ms(1_000);
            let asked = restore::Order { from: path.clone(), keeper: "new@keeper.example".to_owned() };
            actix_web::rt::System::new().block_on(restore::read_back(&other.house, &asked)).unwrap();
            assert_eq!(kept(&other), kept(studio), "{engine:?}");
            let class = studio.world.class;
            let again = other.connection_package(class);
            assert_eq!(again, theirs, "{engine:?}: the package is the same");
        }
    }
}

impl Studio {
    fn connection_package(&self, class: tympan::ids::ClassId) -> Package {
        tympan::exchange::oneroster::of_class(&mut self.connection(), class).unwrap()
    }
}
