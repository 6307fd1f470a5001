//! What was told outside, how long records are kept, and what a purge takes and leaves.

use diesel::prelude::*;
use tympan::store::journal::{self, Finding};
use tympan::store::schema::{
    comment, etch, journal as acts, journal_detail, letter, photo, proof, score, session, submitted_grade,
};

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
        assert!(read.contains(&format!("LIT-B, Autumn 2026 1 {comments} 3 0 0 0 Purge")), "{read}");
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
        assert!(read.contains("LIT-B, Autumn 2026 0 0 2 0 0 3 Purge"), "{read}");
        assert!(read.contains("An appeal runs"), "{read}");
        assert_eq!(purge(&keeper, &class, "2").status, 303);
        assert_eq!(rows(studio, "photo WHERE sha256 IS NULL"), 0);
        assert_eq!(rows(studio, "etch WHERE seen = 'even film'"), 1);
        assert_eq!(hold(&[("class", &class), ("reason", "A complaint")]), 303);
        assert!(keeper.get("/school/retention").read().contains("LIT-B, Autumn 2026 0 0 0 0 0 3"));
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
        assert!(read.contains("The school 0 0 0 0 1 0 Purge"), "{read}");
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
        let mut zip = zip::ZipArchive::new(std::io::Cursor::new(&page.body)).unwrap();
        let mut all = String::new();
        for at in 0..zip.len() {
            let mut text = String::new();
            std::io::Read::read_to_string(&mut zip.by_index(at).unwrap(), &mut text).unwrap();
            all.push_str(&text);
        }
        assert!(all.contains("Stair lamp") && all.contains("even film") && all.contains("Good blacks."), "{all}");
        assert!(!all.contains("+Harbour") && !all.contains("S1002") && !all.contains("argon2"), "nobody else's: {all}");
        assert_eq!(studio.signed_in(INSTRUCTOR).get(&format!("{}/own-data.zip", studio.class_path())).status, 403);
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
}
