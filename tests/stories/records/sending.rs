//! Who may take a table, the password asked for again, what is kept before the first byte, and the headers.

use diesel::prelude::*;
use tympan::exchange::tables::Table;
use tympan::store::schema::disclosure;
use tympan::trade::spelled::Spelled;

use super::scene::{Scene, sent};
use crate::on_both;
use crate::stories::rows;
use crate::studio::PASSWORD;
use crate::studio::world::*;

on_both! {
    fn each_seat_takes_what_is_its_own(studio) {
        Scene::set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let records = studio.signed_in(RECORDS);
        for table in Table::ALL {
            assert_eq!(sent(&instructor, studio, table.word()).status, 200, "{table:?}");
            let wanted = if matches!(table, Table::Scores | Table::Journal | Table::Attendance) { 403 } else { 200 };
            assert_eq!(sent(&records, studio, table.word()).status, wanted, "{table:?}");
        }
        for email in [STUDENT, ASSISTANT, SAFETY_OFFICER] {
            let other = studio.signed_in(email);
            assert_eq!(sent(&other, studio, "roster").status, 403, "{email}");
            assert_eq!(other.get(&format!("{}/records", studio.class_path())).status, 403, "{email}");
        }
        assert_eq!(sent(&studio.signed_in(STRANGER), studio, "roster").status, 404);
        for unknown in ["people", "roster.csv", "Roster", "%00", "..%2fkey"] {
            assert_eq!(sent(&instructor, studio, unknown).status, 404, "{unknown}");
        }
    }

    fn the_page_says_what_there_is_and_what_was_taken(studio) {
        Scene::set(studio);
        let records = studio.signed_in(RECORDS);
        let path = format!("{}/records", studio.class_path());
        let page = records.get(&path);
        assert_eq!(page.status, 200, "{}", page.read());
        assert!(page.has("aria-current=\"page\">Records</a>"), "{}", page.text());
        for (table, count) in [("roster", "5 rows"), ("prints", "2 rows"), ("plates", "3 rows"), ("etches", "3 rows"), ("grades", "2 rows")] {
            assert!(page.has(&format!("href=\"{path}/{table}.csv\"")), "{table}");
            assert!(page.read().contains(count), "{table}: {count}: {}", page.read());
        }
        assert!(!page.has("scores.csv") && !page.has("journal.csv"), "not theirs to take");
        assert!(page.read().contains("Nothing has been taken yet."));
        assert!(page.read().contains("never a measurement"), "what an estimate is, is said");
        sent(&records, studio, "grades");
        let page = records.get(&path).read();
        assert!(page.contains("Rhea Folio grades Keeping the class’s records this page"), "{page}");
    }

    fn what_is_taken_is_kept_with_its_digest(studio) {
        Scene::set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let page = sent(&instructor, studio, "etches");
        let kept: Vec<(tympan::clock::Instant, Option<String>, String, String)> = disclosure::table
            .select((disclosure::at, disclosure::by_id, disclosure::what, disclosure::purpose))
            .load(&mut studio.connection())
            .unwrap();
        let digest = page.headers["etag"].trim_matches('"').to_owned();
        assert_eq!(digest, tympan::secrets::sha256_hex(&page.body));
        assert_eq!(kept, [(
            studio.now(),
            Some(studio.world.instructor.to_string()),
            format!("{{\"export\":\"etches\",\"for\":\"records\",\"sha256\":\"{digest}\",\"words\":\"\"}}"),
            "records page".to_owned(),
        )]);
        let acts = format!("journal WHERE scope = '{}'", studio.world.class);
        assert_eq!(rows(studio, &acts), 0, "reading is no act");
    }

    fn the_password_is_asked_for_again(studio) {
        Scene::set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        studio.later_ms(11 * 60_000);
        let path = format!("{}/records", studio.class_path());
        for asked in [path.clone(), format!("{path}/grades.csv")] {
            let page = instructor.get(&asked);
            assert_eq!((page.status, page.location()), (303, format!("/account/confirm?next={path}").as_str()));
        }
        assert_eq!(rows(studio, "disclosure"), 0, "nothing left");
        let page = instructor.post("/account/confirm", &[("current", PASSWORD), ("next", &path)]);
        assert_eq!((page.status, page.location()), (303, path.as_str()));
        assert_eq!(sent(&instructor, studio, "grades").status, 200);
    }

    fn the_file_comes_whole_and_named(studio) {
        Scene::set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let page = sent(&instructor, studio, "prints");
        assert_eq!(page.headers["content-type"], "text/csv; charset=utf-8; header=present");
        assert_eq!(page.headers["content-length"], page.body.len().to_string());
        assert_eq!(page.headers["cache-control"], "no-store");
        assert!(!page.headers.contains_key("content-encoding"), "{:?}", page.headers);
        assert_eq!(
            page.headers["content-disposition"],
            "attachment; filename=\"LIT-B Autumn 2026 prints.csv\"; filename*=UTF-8''LIT-B%20Autumn%202026%20prints.csv"
        );
        let taken = rows(studio, "disclosure");
        let path = format!("{}/records/prints.csv", studio.class_path());
        let again = instructor.get_with(&path, &[("if-none-match", &page.headers["etag"])]);
        assert_eq!((again.status, again.body.len(), rows(studio, "disclosure")), (304, 0, taken));
        let other = instructor.get_with(&path, &[("if-none-match", "\"0\"")]);
        assert_eq!((other.status, other.body), (200, page.body));
    }

    fn a_third_waits_and_is_told_when_to_come_again(studio) {
        Scene::set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let places = studio.house.spool.places();
        let held = places.try_acquire_many(2).unwrap();
        let page = sent(&instructor, studio, "roster");
        assert_eq!((page.status, page.headers["retry-after"].as_str()), (503, "5"), "{}", page.read());
        drop(held);
        assert_eq!(sent(&instructor, studio, "roster").status, 200);
        let left = std::fs::read_dir(studio.house.settings.data.join("spool")).unwrap().count();
        assert_eq!(left, 0, "what was spooled has no name");
    }
}
