//! The run sheet with its order, and what to put out, for a crowd of fourteen: the plates of every seventh student have
//! come as far as each other.

use diesel::prelude::*;
use tympan::ids::ProjectId;
use tympan::store::schema::project;
use tympan::store::write;

use super::tonight;
use crate::on_both;
use crate::stories::rows;
use crate::studio::crowd::Crowd;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

/// A class of fourteen that meets tonight from six to nine, in a studio with one etching table and two presses.
fn meets(studio: &Studio) -> Visitor {
    Crowd::one_class(14, 1).fill(&mut studio.connection(), &studio.world);
    let instructor = studio.signed_in(INSTRUCTOR);
    let class = studio.class_path();
    let meeting = [("kind", "meeting"), ("person", ""), ("weekday", "2"), ("from", "18:00"), ("to", "21:00")];
    assert_eq!(instructor.post(&format!("{class}/settings/meetings"), &meeting).status, 303);
    for (kind, name, units) in [
        ("etching table", "Etching table", "1"),
        ("press", "Press", "2"),
        ("graining sink", "Graining sink", "1"),
    ] {
        let page = instructor
            .post(&format!("{class}/studio/stations"), &[("kind", kind), ("name", name), ("units", units)]);
        assert_eq!(page.status, 303, "{}", page.read());
    }
    instructor
}

/// The part of the page below a heading, up to the next station or section.
fn station(page: &Page, name: &str) -> String {
    let text = page.text();
    let (_, rest) =
        text.split_once(&format!("<h3>{name}")).unwrap_or_else(|| panic!("no {name}: {}", page.read()));
    crate::studio::browserlike::plain(rest.split("<h3>").next().unwrap())
}

/// The numbers of the plates of a station in their order.
fn order(page: &Page, name: &str) -> Vec<String> {
    let text = station(page, name);
    text.split(", Stair lamp, no. ")
        .map(|before| before.rsplit(' ').next().unwrap().to_owned())
        .collect::<Vec<_>>()[..text.matches(", Stair lamp, no. ").count()]
        .to_vec()
}

fn sign_off(studio: &Studio, place: u32, topic: &str) {
    let sql = format!(
        "INSERT INTO sign_off (id, person_id, topic_id, topic_version_id, studio_id, class_id, grade, given_by, \
         given_at, acknowledged_at, note) SELECT '{}', p.person_id, s.topic_id, s.topic_version_id, s.studio_id, \
         s.class_id, s.grade, s.given_by, s.given_at, s.acknowledged_at, '' FROM plate p, sign_off s, plate o, topic t \
         WHERE p.id = '{}' AND o.id = '{}' AND s.person_id = o.person_id AND t.id = s.topic_id AND t.key = '{topic}'",
        uuid::Uuid::now_v7(),
        Crowd::plate(place),
        Crowd::plate(0),
    );
    write::execute(&mut studio.connection(), &sql).unwrap();
}

on_both! {
    fn what_is_ready_stands_on_its_station_by_latest_start(studio) {
        let instructor = meets(studio);
        let page = instructor.get(&tonight(studio));
        assert!(page.read().contains("Tue 20 Oct, meeting 18:00–21:00"), "{}", page.read());
        // Plates 3 and 10 are drawn and wait for their first etch of 45 minutes at the one table.
        assert_eq!(order(&page, "Etching table"), ["3", "10"], "{}", page.read());
        let table = station(&page, "Etching table");
        assert!(table.contains("18:00 –18:45") && table.contains("18:45 –19:30") && table.contains("1 place"), "{table}");
        assert_eq!(order(&page, "Graining sink"), ["1", "8"]);
        // The print of student 9 is due sooner, so it begins sooner.
        let id: ProjectId = project::table.select(project::id).first(&mut studio.connection()).unwrap();
        let own = format!("{}/settings/projects/{id}/own-due", studio.class_path());
        let person: String = {
            use tympan::store::schema::plate;
            plate::table.find(Crowd::plate(9)).select(plate::person_id).first(&mut studio.connection()).unwrap()
        };
        let sooner = [("person", person.as_str()), ("due", "2026-11-12T12:00"), ("reason", "Away after that")];
        assert_eq!(instructor.post(&own, &sooner).status, 303);
        let page = instructor.get(&tonight(studio));
        assert_eq!(order(&page, "Etching table"), ["10", "3"], "{}", page.read());
        // Who lacks a sign-off is held up, and it is said which.
        assert!(page.read().contains("Held up") && page.read().contains("Sign-offs"), "{}", page.read());
    }

    fn what_only_lacks_a_place_stays_on_the_sheet(studio) {
        let instructor = meets(studio);
        let table: String = {
            use tympan::store::schema::station;
            station::table.filter(station::kind.eq("etching table")).select(station::id).first(&mut studio.connection()).unwrap()
        };
        let down = [
            ("station", table.as_str()), ("unit", "1"), ("from", "2026-10-20T08:00"), ("to", "2026-10-21T20:00"),
            ("reason", "The hood is being repaired"),
        ];
        assert_eq!(instructor.post(&format!("{}/studio/downs", studio.class_path()), &down).status, 303);
        let page = instructor.get(&tonight(studio));
        assert_eq!(order(&page, "Etching table"), ["3", "10"], "{}", page.read());
        let text = station(&page, "Etching table");
        assert!(text.contains("out of order") && !text.contains("18:00 –18:45"), "{text}");
    }

    fn the_order_people_choose_is_kept_for_the_day(studio) {
        let instructor = meets(studio);
        let path = format!("{}/order", tonight(studio));
        let [three, ten] = [2, 9].map(|place| format!("{}/first-etch", Crowd::plate(place)));
        let up = [("item", ten.as_str()), ("above", three.as_str())];
        let page = instructor.post(&path, &up);
        assert_eq!(page.status, 303);
        assert!(page.location().contains("done-run-ordered"), "{}", page.location());
        let page = instructor.get(&tonight(studio));
        assert_eq!(order(&page, "Etching table"), ["10", "3"]);
        assert!(station(&page, "Etching table").contains("18:00 –18:45 First etch"), "{}", station(&page, "Etching table"));
        assert_eq!(instructor.post(&path, &up).status, 303, "from a page that was opened before");
        let page = studio.signed_in(ASSISTANT).get(&tonight(studio));
        assert_eq!(order(&page, "Etching table"), ["10", "3"], "sent twice it comes to the same");
        assert_eq!(rows(studio, "run_place"), 2);
        // What does not stand together cannot change places, and nobody but staff orders anything.
        let sink = format!("{}/prepare", Crowd::plate(0));
        let page = instructor.post(&path, &[("item", ten.as_str()), ("above", sink.as_str())]);
        assert!(page.location().contains("done-run-moved-on"), "{}", page.location());
        assert_eq!(instructor.post(&path, &[("item", "nothing"), ("above", sink.as_str())]).status, 404);
        assert_eq!(studio.signed_in(&Crowd::email(0)).post(&path, &up).status, 403);
        assert_eq!(studio.signed_in(STRANGER).post(&path, &up).status, 404);
        // Another day begins with the program's own order.
        studio.at("2026-10-27T14:00:00Z");
        let page = studio.signed_in(INSTRUCTOR).get(&tonight(studio));
        assert_eq!(order(&page, "Etching table")[..2], ["3", "10"], "{}", page.read());
    }

    /// By hand: 6.5 drops to the ounce are 7 whole drops; two plates and ten percent more are 15.4, so 16 drops; the gum
    /// goes with them, 29.574 mL × 16/7 = 67.60 mL. 16 drops at 20 ± 2 to the mL are 0.8 mL, 0.727 to 0.889.
    fn gum_acid_and_paper_are_reckoned_for_what_is_ready(studio) {
        let instructor = meets(studio);
        let read = instructor.get(&tonight(studio)).read();
        assert!(read.contains("No gum on the shelf may be used."), "{read}");
        assert!(read.contains("safety data sheet") && read.contains("local"), "cautions stand beside it");
        let shelf = format!("{}/containers/new", studio.class_path());
        let gum = [("what", "gum"), ("label", "Gum"), ("opened", "2026-10-12"), ("baume", "14"), ("ph", "4.3")];
        let acid = [
            ("what", "phosphoric"), ("label", "Acid"), ("opened", "2026-10-12"), ("weight", "85"),
            ("drops_per_ml", "20"), ("drops_spread", "2"),
        ];
        assert_eq!((instructor.post(&shelf, &gum).status, instructor.post(&shelf, &acid).status), (303, 303));
        let read = instructor.get(&tonight(studio)).read();
        assert!(read.contains("Plate 3: the class’s table has no row for its drawing."), "{read}");
        crate::stories::mixing::keep_table(studio);
        sign_off(studio, 5, "solvents");
        sign_off(studio, 13, "press");
        let edition = format!("{}/plates/{}/tell", studio.class_path(), Crowd::plate(13));
        for (visitor, step) in [(&instructor, "go-ahead"), (&studio.signed_in(&Crowd::email(13)), "tear-paper")] {
            let told = [("step", step), ("began", "2026-10-20T09:00"), ("ended", "2026-10-20T09:10")];
            let page = visitor.post(&edition, &told);
            assert_eq!(page.status, 303, "{step}: {}", page.read());
        }
        let page = instructor.get(&tonight(studio));
        let read = page.read();
        for said in [
            "Gum in all, from G1 67.6 mL, 2.286 US fl oz",
            "A1: 16 drops, 0.8 mL (0.73 to 0.89)",
            "8 sheets for editions, and what you allow for spoiled ones.",
            "Plate 14, Robin Alder-13: 8 sheets",
            "Paper for proofs, as many sheets as are pulled: Plate 6, Robin Alder-5",
        ] {
            assert!(read.contains(said), "“{said}” in {read}");
        }
        assert!(order(&page, "Press").contains(&"14".to_owned()), "{read}");
        let guess = "Plate 3: no row of the class’s table names its drawing; the row is a guess by how heavy it is.";
        assert!(!read.contains(guess), "{read}");
        // Where two rows are for drawings so heavy and the plate's names neither.
        let two = [
            ("version", "1"), ("surface-0", "plate"), ("weight-0", "medium"), ("material-0", "crayon 3 to 4"),
            ("drops-0", "6.5"), ("applications-0", "2"), ("seconds-0", "120"), ("source-0", "notes"),
            ("surface-1", "plate"), ("weight-1", "medium"), ("material-1", "tusche wash"), ("drops-1", "8"),
            ("applications-1", "2"), ("seconds-1", "120"), ("source-1", "notes"),
        ];
        let kept = instructor.post(&format!("{}/settings/etch-table", studio.class_path()), &two);
        assert_eq!(kept.status, 303, "{}", kept.read());
        assert!(!instructor.get(&tonight(studio)).read().contains("is a guess"), "crayon is named");
        write::execute(&mut studio.connection(), "UPDATE plate SET materials = 'soot' WHERE number = 3").unwrap();
        let read = instructor.get(&tonight(studio)).read();
        assert!(read.contains(guess) && !read.contains("no row for its drawing"), "{read}");
    }

    fn an_empty_page_says_what_to_do_first(studio) {
        let read = studio.signed_in(INSTRUCTOR).get(&tonight(studio)).read();
        for said in [
            "Nobody waits. Students ask from Today", "Nobody has begun a plate yet.", "No etch is ready tonight.",
            "No edition and no proof is ready tonight.", "The class does not meet today.", "no meeting any more today",
        ] {
            assert!(read.contains(said), "“{said}” in {read}");
        }
        let read = studio.signed_in(INSTRUCTOR).get(&studio.class_path());
        assert!(read.has(&format!("href=\"{}\"", tonight(studio))), "Tonight is one of the pages");
    }

    fn the_roll_of_tonights_meeting_is_one_tap_away(studio) {
        let instructor = meets(studio);
        let roll = format!("{}/rolls/2026-10-20T1800", studio.class_path());
        let page = instructor.get(&tonight(studio));
        assert!(page.has(&format!("href=\"{roll}\"")) && page.read().contains("not called"), "{}", page.read());
        assert_eq!(instructor.get(&roll).status, 200);
        assert!(!studio.signed_in(ASSISTANT).get(&tonight(studio)).has(&roll), "the roll is the instructor's");
    }
}
