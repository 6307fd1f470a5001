//! What was told outside, how long records are kept, and what a purge takes and leaves.

use diesel::prelude::*;
use tympan::ids::{Id, ScoreId};
use tympan::store::connections::Address;
use tympan::store::journal::{self, Finding};
use tympan::store::schema::{
    comment, etch, journal as acts, journal_detail, letter, photo, proof, score, session, submitted_grade,
};
use tympan::store::write;

use super::scene::Scene;
use crate::on_both;
use crate::stories::{names, rows};
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

const RULES: [(&str, &str); 5] =
    [("photos", "365"), ("comments", "365"), ("etch_notes", "365"), ("letters", ""), ("sign_ins", "")];

fn purge(keeper: &Visitor, class: &str, seen: &str) -> Page {
    keeper.post("/school/retention/purge", &[("class", class), ("seen", seen)])
}

/// The clock stands long after the term; whoever signs in does so then.
fn years_later(studio: &Studio) {
    studio.at("2028-03-01T15:00:00Z");
}

/// Years later, with rules for everything: purges the class, as much as is due. Gives back who did it.
fn purge_all_that_is_due(studio: &Studio) -> Visitor {
    years_later(studio);
    let keeper = studio.signed_in(KEEPER);
    assert_eq!(keeper.post("/school/retention", &RULES).status, 303);
    let page = keeper.get("/school/retention").text();
    let all = page.split("name=\"seen\" value=\"").nth(1).unwrap().split('"').next().unwrap().to_owned();
    assert_eq!(purge(&keeper, &studio.world.class.to_string(), &all).status, 303);
    keeper
}

/// The text of a page with the equals signs of its addresses.
fn signs(page: &Page) -> String {
    page.text().replace("&#x3D;", "=")
}

type Grades = Vec<(String, String, String, String)>;
type Scores = Vec<(String, Option<i64>, String)>;
type Letters = Vec<(String, String, Option<i64>)>;

/// Everything about grades, to the byte.
fn grades(studio: &Studio) -> (Grades, Scores, Letters) {
    let db = &mut studio.connection();
    (
        submitted_grade::table
            .order(submitted_grade::id)
            .select((
                submitted_grade::id,
                submitted_grade::letter,
                submitted_grade::evidence,
                submitted_grade::working,
            ))
            .load(db)
            .unwrap(),
        score::table
            .order(score::id)
            .select((score::id, score::points_hundredths, score::words))
            .load(db)
            .unwrap(),
        letter::table
            .order(letter::id)
            .select((letter::id, letter::detail, letter::sent_at))
            .load(db)
            .unwrap(),
    )
}

fn holds(bytes: &[u8], phrase: &str) -> bool {
    bytes.windows(phrase.len()).any(|part| part == phrase.as_bytes())
}

/// What somebody who backs the school up would keep: a dump of PostgreSQL's own program; of SQLite a copy by `VACUUM INTO`,
/// and its files as they lie there.
fn backups(studio: &Studio) -> Vec<(&'static str, Vec<u8>)> {
    match studio.house.db.address() {
        Address::Postgres(url) => {
            let programs =
                std::env::var("TYMPAN_POSTGRES_BIN").unwrap_or("/usr/lib/postgresql/15/bin".into());
            let dump = std::process::Command::new(format!("{programs}/pg_dump")).arg(url).output().unwrap();
            assert!(dump.status.success(), "{}", String::from_utf8_lossy(&dump.stderr));
            vec![("a dump", dump.stdout)]
        }
        Address::Sqlite(path) => {
            let folder = tempfile::tempdir().unwrap();
            let copy = folder.path().join("copy.db");
            write::execute(&mut studio.connection(), &format!("VACUUM INTO '{}'", copy.display())).unwrap();
            let mut files = std::fs::read(path).unwrap();
            files.extend(std::fs::read(path.with_extension("db-wal")).unwrap_or_default());
            vec![("a copy", std::fs::read(copy).unwrap()), ("the files", files)]
        }
    }
}

on_both! {
    fn a_purge_takes_content_and_leaves_grades_to_the_byte(studio) {
        let scene = Scene::set(studio);
        let things = &scene.things;
        let folder = studio.house.settings.photos.join(things.photo.to_string());
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join("full.jpg"), b"x").unwrap();
        let class = studio.world.class.to_string();
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/grades/people/{}/submitted", studio.class_path(), studio.world.student);
        let page = instructor.post(&path, &[("way", "by-hand"), ("before", ""), ("letter", "A"), ("reason", "x")]);
        assert_eq!(page.status, 303, "{}", page.read());
        let said = [("words", "More water"), ("about", ""), ("proof", "")];
        instructor.post(&format!("{}/plates/{}/comments", studio.class_path(), things.plate), &said);
        let keeper = studio.signed_in(KEEPER);
        assert!(keeper.get("/school/retention").read().contains("Nothing is due."), "no rule, no purge");
        assert_eq!(keeper.post("/school/retention", &RULES).status, 303);
        assert!(keeper.get("/school/retention").read().contains("Nothing is due."), "the term still runs");
        let page = keeper.post("/school/retention", &[("photos", "0")]);
        assert_eq!(page.status, 422, "{}", page.read());

        years_later(studio);
        let keeper = studio.signed_in(KEEPER);
        let before = grades(studio);
        let comments = rows(studio, "comment");
        let page = keeper.get("/school/retention");
        let read = page.read();
        assert!(read.contains(&format!("LIT-B, Autumn 2026 1 {comments} 3 0 0 0 0 Purge")), "{read}");
        assert!(!read.contains("even film") && !names(&read, "88"), "numbers alone: {read}");
        let all = (1 + comments + 3).to_string();
        assert_eq!(purge(&keeper, &class, "1").status, 422, "not what was looked at");
        assert_eq!(rows(studio, "photo WHERE sha256 IS NULL"), 0);
        let page = purge(&keeper, &class, &all);
        assert_eq!(page.status, 303, "{}", page.read());

        let db = &mut studio.connection();
        let gone: (Option<String>, String, Option<i64>) = photo::table.inner_join(proof::table)
            .filter(photo::id.eq(things.photo))
            .select((photo::sha256, proof::note, proof::removed_at)).first(db).unwrap();
        assert!(gone.0.is_none() && gone.1.is_empty() && gone.2.is_some(), "{gone:?}");
        assert!(!folder.exists(), "its files are gone");
        let words: Vec<String> = comment::table.select(comment::words).load(db).unwrap();
        assert!(words.iter().all(String::is_empty), "{words:?}");
        let seen: Vec<(String, String)> = etch::table.select((etch::seen, etch::helper)).load(db).unwrap();
        assert!(seen.iter().all(|(seen, helper)| seen.is_empty() && helper.is_empty()), "{seen:?}");
        assert!(before == grades(studio), "grades, evidence, workings, scores and letters are the same to the byte");

        let findings = journal::check(db).unwrap();
        assert!(!findings.is_empty() && findings.iter().all(|one| matches!(one, Finding::Purged { .. })), "{findings:?}");
        let told = actix_web::rt::System::new()
            .block_on(tympan::commands::check::database(&studio.house, None)).unwrap();
        assert!(told.contains("1 details are gone, purged by act "), "{told}");
        let purges: Vec<(i64, String)> = acts::table.inner_join(
                journal_detail::table.on(journal_detail::scope.eq(acts::scope).and(journal_detail::seq.eq(acts::seq))))
            .filter(acts::act.eq("record.purged")).select((acts::seq, journal_detail::detail)).load(db).unwrap();
        assert_eq!(purges.len(), 1);
        assert!(purges[0].1.contains("\"photos\":1") && purges[0].1.contains("\"etch_notes\":3"), "{purges:?}");
        assert!(studio.signed_in(KEEPER).get("/school/retention").read().contains("Nothing is due."));
    }

    /// What a purge took is in no file of an archive made later, and whose records are held is known where it is restored.
    fn an_archive_after_a_purge_holds_nothing_of_it(studio) {
        let scene = Scene::set(studio);
        let said = [("words", "More water at the hem"), ("about", ""), ("proof", "")];
        studio.signed_in(INSTRUCTOR).post(&format!("{}/plates/{}/comments", studio.class_path(), scene.things.plate), &said);
        let archive = |studio: &Studio| studio.signed_in(INSTRUCTOR).get(&format!("{}/records/archive.zip", studio.class_path()));
        let before = archive(studio).unpacked();
        assert!(before.iter().any(|(_, text)| text.contains("More water at the hem")) && before["data/etch.jsonl"].contains("even film"));
        let kept = rows(studio, "kept_archive_piece");
        assert!(kept > 0, "its text is kept");
        let keeper = purge_all_that_is_due(studio);
        assert_eq!(rows(studio, "kept_archive") + rows(studio, "kept_archive_class") + rows(studio, "kept_archive_piece"), 0);
        let hold = [("email", STUDENT), ("reason", "An appeal runs")];
        assert_eq!(keeper.post("/school/retention/holds", &hold).status, 303);
        let page = archive(studio);
        for (name, text) in page.unpacked() {
            for gone in ["More water at the hem", "even film", "Zoë", "An appeal runs"] {
                assert!(!text.contains(gone), "{name}: {gone}");
            }
        }
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("archive.zip");
        std::fs::write(&path, &page.body).unwrap();
        let other = Studio::open_empty(studio.engine());
        let asked = tympan::commands::restore::Order { from: path, keeper: "new@keeper.example".to_owned() };
        actix_web::rt::System::new().block_on(tympan::commands::restore::read_back(&other.house, &asked)).unwrap();
        let rules = |of: &Studio| tympan::store::retention::rules(&mut of.connection()).unwrap();
        assert_eq!(rules(&other), rules(studio), "how long things are kept is known there, too");
        assert_eq!(rules(&other).len(), 3, "the two left empty are no rules");
        let held = tympan::store::retention::held(&mut other.connection()).unwrap();
        assert_eq!(held.people, [studio.world.student]);
    }

    /// Somebody held by name keeps what a purge took of everybody else, in the archive and where it is restored.
    fn whoever_is_held_by_name_comes_back_whole_and_the_others_purged(studio) {
        let scene = Scene::set(studio);
        let words = [("words", "More water at the hem"), ("about", ""), ("proof", "")];
        studio.signed_in(INSTRUCTOR).post(&format!("{}/plates/{}/comments", studio.class_path(), scene.things.plate), &words);
        years_later(studio);
        let keeper = studio.signed_in(KEEPER);
        keeper.post("/school/retention", &RULES);
        assert_eq!(keeper.post("/school/retention/holds", &[("email", STUDENT), ("reason", "An appeal runs")]).status, 303);
        let purged_before = rows(studio, "etch WHERE seen = '' AND helper = ''");
        purge_all_that_is_due(studio);
        let (mine, taken) = (rows(studio, "etch WHERE seen = 'even film'"), rows(studio, "etch WHERE seen = '' AND helper = ''"));
        assert!(mine > 0 && taken > purged_before, "{mine} held, {taken} purged");
        let page = studio.signed_in(INSTRUCTOR).get(&format!("{}/records/archive.zip", studio.class_path()));
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("archive.zip");
        std::fs::write(&path, &page.body).unwrap();
        let told = tympan::commands::check::archive(&path).unwrap();
        assert!(told.contains("the chain holds"), "{told}");
        for engine in [crate::studio::Engine::Sqlite, crate::studio::Engine::Postgres] {
            let other = Studio::open_empty(engine);
            other.at("2028-03-02T15:00:00Z");
            let asked = tympan::commands::restore::Order { from: path.clone(), keeper: "new@keeper.example".to_owned() };
            actix_web::rt::System::new().block_on(tympan::commands::restore::read_back(&other.house, &asked)).unwrap();
            assert_eq!(rows(&other, "etch WHERE seen = 'even film'"), mine, "{engine:?}");
            assert_eq!(rows(&other, "etch WHERE seen = '' AND helper = ''"), taken, "{engine:?}");
            assert_eq!(rows(&other, "comment WHERE words = 'More water at the hem'"), 1, "{engine:?}");
            assert!(grades(&other).1 == grades(studio).1, "{engine:?}: scores are the same to the byte");
            let findings = journal::check(&mut other.connection()).unwrap();
            assert!(findings.iter().all(|one| matches!(one, Finding::Purged { .. })), "{engine:?}: {findings:?}");
            let held = tympan::store::retention::held(&mut other.connection()).unwrap();
            assert_eq!(held.people, [studio.world.student], "{engine:?}: and is held there, too");
        }
    }

    /// A backup made after a purge holds nothing of it: the copy SQLite makes, its files as they lie there, a dump.
    fn a_backup_after_a_purge_holds_nothing_of_it(studio) {
        let scene = Scene::set(studio);
        let said = [("words", "More water at the hem"), ("about", ""), ("proof", "")];
        studio.signed_in(INSTRUCTOR).post(&format!("{}/plates/{}/comments", studio.class_path(), scene.things.plate), &said);
        let gone = ["More water at the hem", "even film"];
        for phrase in gone {
            assert!(backups(studio).iter().all(|(_, bytes)| holds(bytes, phrase)), "{phrase} was there");
        }
        purge_all_that_is_due(studio);
        for (what, bytes) in backups(studio) {
            assert!(holds(&bytes, "record.purged"), "{what} is the record");
            for phrase in gone {
                assert!(!holds(&bytes, phrase), "{what}: {phrase}");
            }
        }
    }

    fn what_is_held_stays(studio) {
        Scene::set(studio);
        let class = studio.world.class.to_string();
        years_later(studio);
        let keeper = studio.signed_in(KEEPER);
        keeper.post("/school/retention", &RULES);
        for (fields, said) in [
            (vec![("class", class.as_str()), ("email", STUDENT), ("reason", "x")], "not both"),
            (vec![("email", ""), ("reason", "x")], "not both"),
            (vec![("email", "nobody@college.example"), ("reason", "x")], "Nobody has this e-mail address."),
        ] {
            let page = keeper.post("/school/retention/holds", &fields);
            assert_eq!(page.status, 422);
            assert!(page.read().contains(said), "{}", page.read());
        }
        let hold = |fields: &[(&str, &str)]| keeper.post("/school/retention/holds", fields).status;
        assert_eq!(hold(&[("email", STUDENT), ("reason", "An appeal runs")]), 303);
        assert_eq!(hold(&[("email", STUDENT), ("reason", "again")]), 422, "held already");
        let read = keeper.get("/school/retention").read();
        // The first student's photo, comment and etch are held; two etches of the other's would go.
        assert!(read.contains("LIT-B, Autumn 2026 0 0 2 0 0 0 3 Purge"), "{read}");
        assert!(read.contains("An appeal runs"), "{read}");
        assert_eq!(purge(&keeper, &class, "2").status, 303);
        assert_eq!(rows(studio, "photo WHERE sha256 IS NULL"), 0);
        assert_eq!(rows(studio, "etch WHERE seen = 'even film'"), 1);
        assert_eq!(hold(&[("class", &class), ("reason", "A complaint")]), 303);
        assert!(keeper.get("/school/retention").read().contains("LIT-B, Autumn 2026 0 0 0 0 0 0 3"));
        let holds: Vec<String> = tympan::store::schema::hold::table
            .select(tympan::store::schema::hold::id).load(&mut studio.connection()).unwrap();
        for id in &holds {
            assert_eq!(keeper.post(&format!("/school/retention/holds/{id}/lift"), &[]).status, 303);
        }
        assert_eq!(purge(&keeper, &class, "3").status, 303);
        assert_eq!(rows(studio, "etch WHERE seen <> ''"), 0);
    }

    fn sign_ins_go_by_their_own_rule(studio) {
        studio.signed_in(STUDENT);
        years_later(studio);
        let keeper = studio.signed_in(KEEPER);
        keeper.post("/school/retention", &[("sign_ins", "30")]);
        let read = keeper.get("/school/retention").read();
        assert!(read.contains("The school 0 0 0 0 1 0 0 Purge"), "{read}");
        assert_eq!(purge(&keeper, "", "1").status, 303);
        let left: i64 = session::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(left, 1, "the keeper's own");
        let findings = journal::check(&mut studio.connection()).unwrap();
        assert_eq!(findings.len(), 1, "{findings:?}");
        let told = actix_web::rt::System::new()
            .block_on(tympan::commands::check::database(&studio.house, None)).unwrap();
        assert!(told.contains("Journal of the school") && told.contains("1 details are gone, purged by act"), "{told}");
    }

    fn what_is_told_outside_is_recorded_and_read_by_whom_it_is_about(studio) {
        let path = format!("{}/disclosures", studio.class_path());
        let student = studio.world.student.to_string();
        let fields = [("person", student.as_str()), ("party", "Northern Arts Fund"), ("purpose", "A stipend"), ("what", "Enrolment and credits")];
        let records = studio.signed_in(RECORDS);
        crate::stories::refuses(&records, &path, "told", &fields, &[
            ("party", "", "Fill"), ("purpose", "", "Fill"), ("what", " ", "Fill"),
        ]);
        assert_eq!(records.post(&path, &crate::stories::but(&fields, "person", studio.world.stranger.as_str())).status, 404);
        assert_eq!(rows(studio, "disclosure"), 0);
        assert_eq!(records.post(&path, &fields).status, 303);
        for email in [STUDENT, INSTRUCTOR, RECORDS] {
            let read = studio.signed_in(email).get(&path).read();
            assert!(read.contains("Northern Arts Fund A stipend Enrolment and credits Rhea Folio"), "{email}: {read}");
        }
        let other = studio.signed_in(OTHER_STUDENT);
        assert!(other.get(&path).read().contains("Nothing is recorded."));
        assert_eq!(other.post(&path, &fields).status, 403);
        assert_eq!(rows(studio, "journal WHERE act = 'disclosure.recorded'"), 1);
    }

    /// Who takes a table says what for, and whom it names reads when, what, by whom and why.
    fn a_student_reads_which_tables_named_them(studio) {
        Scene::set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/records", studio.class_path());
        let page = instructor.get(&format!("{path}?for=review&words="));
        assert!(signs(&page).contains(&format!("href=\"{path}/roster.csv?for=review\"")), "{}", page.text());
        assert!(page.read().contains("Review of the department"), "{}", page.read());
        let page = instructor.get(&format!("{path}?for=other&words=Prize+%26+jury"));
        assert!(signs(&page).contains("scores.csv?words=Prize%20%26%20jury"), "{}", page.text());
        for asked in ["roster.csv?for=review", "scores.csv?words=Prize%20%26%20jury", "goals.csv", "oneroster.zip"] {
            assert_eq!(instructor.get(&format!("{path}/{asked}")).status, 200, "{asked}");
        }
        let read = instructor.get(&path).read();
        assert!(read.contains("Ines Ravel scores Prize & jury this page"), "{read}");
        let read = studio.signed_in(STUDENT).get(&format!("{}/disclosures", studio.class_path())).read();
        for part in ["Everybody who ever was in the class", "Ines Ravel Review of the department", "Ines Ravel Prize & jury", "Package for another system"] {
            assert!(read.contains(part), "{part}: {read}");
        }
        assert!(!read.contains("small groups hidden"), "counts name nobody: {read}");
        let others = studio.signed_in(RECORDS).get(&format!("{}/disclosures", studio.class_path())).read();
        assert!(!others.contains("Prize & jury"), "{others}");
    }

    fn a_file_for_an_appeal_and_ones_own_data(studio) {
        let scene = Scene::set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/grades/people/{}/file", studio.class_path(), studio.world.student);
        let page = instructor.get(&path);
        assert_eq!(page.status, 200, "{}", page.read());
        let read = page.read();
        for part in ["File of José Łukasiewicz, Jr", "88 of 100 . Given Tue 20 Oct, 10:00 by Ines Ravel", "Good blacks.", "Daily letter, Waiting", "Proof 1"] {
            assert!(read.contains(part), "{part}: {read}");
        }
        assert!(page.has(&format!("/photos/{}/1600", scene.things.photo)));
        let other = format!("{}/grades/people/{}/file", studio.class_path(), studio.world.stranger);
        assert_eq!(instructor.get(&other).status, 404);
        let page = studio.signed_in(STUDENT).get(&format!("{}/own-data.zip", studio.class_path()));
        assert_eq!(page.status, 200, "{}", page.read());
        let all: String = page.unpacked().into_values().collect();
        assert!(all.contains("Stair lamp") && all.contains("even film") && all.contains("Good blacks."), "{all}");
        assert!(!all.contains("+Harbour") && !all.contains("S1002") && !all.contains("argon2"), "nobody else's: {all}");
        assert_eq!(studio.signed_in(INSTRUCTOR).get(&format!("{}/own-data.zip", studio.class_path())).status, 403);
    }

    /// A mark that stands but was not handed back shows nothing of itself, though a grade that followed from it was
    /// submitted; what was handed back, called, and granted is all there, without the reason of what is granted.
    fn ones_own_data_holds_what_was_handed_back_alone(studio) {
        let scene = Scene::set(studio);
        let (db, world, things) = (&mut studio.connection(), &studio.world, &scene.things);
        let instructor = studio.signed_in(INSTRUCTOR);
        let (in_hand, first): (ScoreId, ScoreId) = (Id::new(NOW), things.score);
        diesel::update(score::table.find(first)).set(score::superseded_at.eq(NOW)).execute(db).unwrap();
        diesel::insert_into(score::table)
            .values((
                (score::id.eq(in_hand), score::class_id.eq(world.class), score::root.eq(first)),
                (score::assessment_id.eq(things.assessment), score::person_id.eq(world.student)),
                (score::corrects.eq(first), score::status.eq("graded"), score::points_hundredths.eq(9_100)),
                (score::words.eq("Kept back for Monday"), score::reason.eq("Counted anew")),
                (score::by_id.eq(world.instructor), score::at.eq(NOW)),
            ))
            .execute(db)
            .unwrap();
        let path = format!("{}/grades/people/{}/submitted", studio.class_path(), world.student);
        let page = instructor.post(&path, &[("way", "by-hand"), ("before", ""), ("letter", "A"), ("reason", "agreed")]);
        assert_eq!(page.status, 303, "{}", page.read());
        let granted = [("person", world.student.as_str()), ("effect", "helper"), ("words", "Somebody lifts the stone"), ("reason", "shoulder surgery")];
        let page = instructor.post(&format!("{}/accommodations", studio.class_path()), &granted);
        assert_eq!(page.status, 303, "{}", page.read());
        let kept: String = submitted_grade::table.select(submitted_grade::evidence).first(db).unwrap();
        assert!(kept.contains("Kept back for Monday") && kept.contains("Counted anew"), "the department keeps it: {kept}");
        let own = studio.signed_in(STUDENT).get(&format!("{}/own-data.zip", studio.class_path())).unpacked();
        for (name, text) in &own {
            for kept_back in ["Kept back for Monday", "Counted anew", in_hand.as_str(), "shoulder surgery"] {
                assert!(!text.contains(kept_back), "{name}: {kept_back}: {text}");
            }
        }
        assert!(own["data/score.jsonl"].contains("Good blacks."), "{}", own["data/score.jsonl"]);
        assert!(own["data/accommodation.jsonl"].contains("Somebody lifts the stone"));
        assert!(own["submitted-grades.json"].contains("\"points\": \"100\""), "{}", own["submitted-grades.json"]);
        assert!(own.contains_key("data/enrolment_change.jsonl") && own.contains_key("data/critique_note.jsonl"));
        diesel::update(score::table.find(in_hand)).set(score::handed_back_at.eq(NOW)).execute(db).unwrap();
        let own = studio.signed_in(STUDENT).get(&format!("{}/own-data.zip", studio.class_path())).unpacked();
        assert!(own["submitted-grades.json"].contains("Kept back for Monday"), "handed back by now");
        let student = studio.signed_in(STUDENT);
        studio.later_ms(11 * 60_000);
        let page = student.get(&format!("{}/own-data.zip", studio.class_path()));
        let back = format!("/account/confirm?next={}/grades", studio.class_path());
        assert_eq!((page.status, page.location()), (303, back.as_str()), "to a page, not to the file");
    }

    fn who_is_cleared_until_when_is_one_page(studio) {
        let scene = Scene::set(studio);
        scene.things.sign(&mut studio.connection(), &studio.world, "acid-and-gum", "alone");
        diesel::update(tympan::store::schema::sign_off::table.filter(
            tympan::store::schema::sign_off::grade.eq("alone").and(tympan::store::schema::sign_off::withdrawn_at.is_null())))
            .set(tympan::store::schema::sign_off::valid_until.eq(chrono::NaiveDate::from_ymd_opt(2026, 12, 18)))
            .execute(&mut studio.connection()).unwrap();
        let path = format!("{}/sign-offs/cleared", studio.class_path());
        let read = studio.signed_in(SAFETY_OFFICER).get(&path).read();
        assert!(read.contains("Cleared for Lower print studio on 20 Oct 2026."), "{read}");
        assert!(read.contains("José Łukasiewicz, Jr alone valid until 18 Dec 2026"), "{read}");
        assert!(read.contains("no substitute for the safety data sheet"), "{read}");
        studio.at("2026-12-19T15:00:00Z");
        let read = studio.signed_in(RECORDS).get(&path).read();
        assert!(read.contains("José Łukasiewicz, Jr ran out 18 Dec 2026"), "{read}");
        assert_eq!(studio.signed_in(STUDENT).get(&path).status, 403);
    }

    /// The room's page has everybody of every class that works in it now; each class sees its own people alone.
    fn a_room_has_one_page_and_a_person_another(studio) {
        let scene = Scene::set(studio);
        scene.things.sign(&mut studio.connection(), &studio.world, "acid-and-gum", "alone");
        let path = format!("{}/sign-offs/cleared", studio.class_path());
        let room = format!("{path}/room");
        for email in [SAFETY_OFFICER, RECORDS] {
            let visitor = studio.signed_in(email);
            assert!(visitor.get(&path).has(&format!("href=\"{room}\"")), "{email}");
            let read = visitor.get(&room).read();
            assert!(read.contains("LIT-A, LIT-B") && read.contains("José Łukasiewicz, Jr LIT-B alone"), "{email}: {read}");
        }
        let instructor = studio.signed_in(INSTRUCTOR);
        assert_eq!(instructor.get(&room).status, 403);
        assert!(!instructor.get(&path).has("cleared/room"));
        let own = format!("{}/people/{}/training", studio.class_path(), studio.world.student);
        assert!(instructor.get(&format!("{}/sign-offs/record", studio.class_path())).has(&format!("href=\"{own}\"")));
        let read = instructor.get(&own).read();
        assert!(read.contains("Training of José Łukasiewicz, Jr") && read.contains("alone given"), "{read}");
        assert!(!read.contains("Otis"), "{read}");
        assert_eq!(instructor.get(&format!("{}/people/{}/training", studio.class_path(), studio.world.stranger)).status, 404);
        studio.at("2027-03-01T15:00:00Z");
        let read = studio.signed_in(RECORDS).get(&room).read();
        assert!(!read.contains("LIT-B"), "the term is over: {read}");
    }
}
