//! A photo plate: another surface treatment, other words and rules, written by an instructor through the forms alone; then
//! a student carries a plate through it.

use diesel::prelude::*;
use tympan::ids::StepRunId;
use tympan::store::schema::*;

use super::{form_of, keep, kept_by_newest_plate, last, list, send, with};
use crate::on_both;
use crate::stories::plates::{fresh, train};
use crate::studio::world::*;
use crate::studio::{Studio, Visitor};

/// Title, whether it stands on the way, and what is typed into its form.
type Typed<'a> = (&'a str, bool, &'a [(&'a str, Option<&'a str>)]);

const STEPS: [Typed<'_>; 8] = [
    ("Make the film", true, &[("minutes", Some("1 h")), ("may_split", Some("yes"))]),
    (
        "Gum",
        false,
        &[
            ("minutes", Some("5")),
            ("gums", Some("yes")),
            ("never_waits", Some("yes")),
            ("leaves", Some("under_gum")),
        ],
    ),
    ("Take out pinholes", false, &[("minutes", Some("15 min"))]),
    (
        "Expose",
        true,
        &[
            ("minutes", Some("20")),
            ("place", Some("station")),
            ("station", Some("exposure unit")),
            ("leaves", Some("drawn")),
            ("before", Some("Clean the glass.\nFilm emulsion down.")),
            ("need0_kind", Some("once")),
            ("need0_because", Some("The coating takes one exposure.")),
            ("grade_studio-basics", Some("shown")),
            ("recording_link", Some("https://recordings.example/expose")),
            ("recording_minute", Some("12")),
        ],
    ),
    (
        "Develop",
        true,
        &[
            ("minutes", Some("15")),
            ("place", Some("station")),
            ("station", Some("graining sink")),
            ("hazards", Some("acid")),
            ("gums", Some("yes")),
            ("leaves", Some("under_gum")),
            ("counts_as", Some("Closed")),
            ("maximum", Some("same_day")),
        ],
    ),
    (
        "Proof",
        true,
        &[
            ("minutes", Some("60")),
            ("records", Some("proof")),
            ("leaves", Some("pulled")),
            ("takes_gum_off", Some("yes")),
            ("maximum", Some("under_gum")),
            ("grade_press", Some("watched")),
            ("hazards", Some("press")),
            ("need0_kind", Some("requires_since")),
            ("need0_of", Some("gummed")),
            ("need0_since", Some("take-out-pinholes")),
            ("need0_because", Some("A rubbed spot takes ink.")),
        ],
    ),
    (
        "Edition",
        true,
        &[
            ("minutes", Some("45")),
            ("per_sheet", Some("4")),
            ("records", Some("sheets")),
            ("leaves", Some("pulled")),
            ("takes_gum_off", Some("yes")),
        ],
    ),
    ("Give up", false, &[("minutes", Some("5")), ("leaves", Some("scrapped")), ("closes", Some("yes"))]),
];

fn write(instructor: &Visitor, list: &str) -> String {
    let begun =
        instructor.post(&format!("{list}/new"), &[("name", "Photo plate from film"), ("surface", "plate")]);
    assert_eq!(begun.status, 303, "{}", begun.read());
    let writing = begun.location().split('?').next().unwrap().to_owned();
    for (title, on_the_way, typed) in STEPS {
        let mut fields = vec![("title", title)];
        if !on_the_way {
            fields.push(("any_time", "yes"));
        }
        let added = instructor.post(&format!("{writing}/steps"), &fields);
        assert_eq!(added.status, 303, "{title}: {}", added.read());
        let step = added.location().split('?').next().unwrap().to_owned();
        let form = form_of(&instructor.get(&step), &step);
        let page = send(instructor, &step, &with(&form, typed));
        assert_eq!(page.status, 303, "{title}: {}", page.read());
    }
    writing
}

fn run(studio: &Studio, key: &str) -> String {
    let id: StepRunId = step_run::table
        .filter(step_run::step_key.eq(key))
        .order(step_run::began_at.desc())
        .select(step_run::id)
        .first(&mut studio.connection())
        .unwrap();
    id.to_string()
}

/// Starts a step, waits, ends it.
fn carry(studio: &Studio, student: &Visitor, plate: &str, key: &str) {
    let started = student.post(&format!("{plate}/start"), &[("step", key)]);
    assert_eq!(started.status, 303, "{key}: {}", started.read());
    studio.later_ms(20 * 60_000);
    let run = run(studio, key);
    let ended = student.post(&format!("{plate}/end"), &[("run", run.as_str()), ("sheets", "6")]);
    assert_eq!(ended.status, 303, "{key}: {}", ended.read());
    studio.later_ms(5 * 60_000);
}

on_both! {
    fn an_instructor_writes_a_photo_plate_without_code_and_a_student_carries_one_through(studio) {
        let things = fresh(studio);
        train(studio, &things);
        let (instructor, student) = (studio.signed_in(INSTRUCTOR), studio.signed_in(STUDENT));
        let writing = write(&instructor, &list(studio));
        let draft = instructor.get(&writing).read();
        assert!(draft.contains("exposure unit"), "a station nobody has is kept as typed: {draft}");
        // The word `closed` is asked by no rule yet; the check says so at its step.
        let refused = keep(&instructor, &writing);
        assert_eq!(refused.status, 422);
        assert!(refused.read().contains("Develop counts as “closed”, which no rule asks about"), "{}", refused.read());
        let pinholes = format!("{writing}/steps/take-out-pinholes");
        let form = form_of(&instructor.get(&pinholes), &pinholes);
        let rule = [("need0_kind", Some("after_any_of")), ("need0_of", Some("closed"))];
        assert_eq!(send(&instructor, &pinholes, &with(&form, &rule)).status, 303);
        assert_eq!(keep(&instructor, &writing).status, 303);

        let procedure = last(&writing).to_owned();
        let handout_page = student.get(&format!("{}/procedures/{procedure}", studio.class_path()));
        assert!(handout_page.has("<a class=\"link-row\" href=\"https://recordings.example/expose\" rel=\"noreferrer noopener\">"), "{}", handout_page.text());
        let handout = handout_page.read();
        for said in [
            "1. Make the film", "Film emulsion down.", "At most once on a plate. The coating takes one exposure.",
            "Recording, from minute 12", "the same day", "A rubbed spot takes ink.", "The press can crush",
            "any gumming", "studio-basics: shown",
        ] {
            assert!(handout.contains(said), "{said}: {handout}");
        }

        let project = things.project.to_string();
        let begun = student.post(&format!("{}/prints/new", studio.class_path()), &[
            ("project", project.as_str()), ("title", "Halftone"), ("procedure", &procedure), ("width", "25"),
            ("height", "35"), ("size_unit", "cm"), ("materials", "film"), ("weight", "medium"),
        ]);
        assert_eq!(begun.status, 303, "{}", begun.read());
        let plate = format!("{}/plates/{}", studio.class_path(), kept_by_newest_plate(studio).0);
        assert_eq!(student.post(&format!("{plate}/start"), &[("step", "develop")]).status, 409, "its own order");
        for key in ["make-the-film", "expose"] {
            carry(studio, &student, &plate, key);
        }
        let again = student.post(&format!("{plate}/start"), &[("step", "expose")]);
        assert_eq!(again.status, 409);
        assert!(again.read().contains("The coating takes one exposure."), "{}", again.read());
        carry(studio, &student, &plate, "develop");
        carry(studio, &student, &plate, "take-out-pinholes");
        assert_eq!(student.post(&format!("{plate}/start"), &[("step", "proof")]).status, 409, "gum first");

        // Gumming again is one tap on the plate's page, and the gum clock runs from it.
        let page = student.get(&plate);
        let gum = form_of(&page, &format!("{plate}/tell"));
        assert!(gum.contains(&("step".to_owned(), "gum".to_owned())) && gum.contains(&("now".to_owned(), "yes".to_owned())), "{gum:?}");
        assert_eq!(send(&student, &format!("{plate}/tell"), &gum).status, 303);
        let (gummed, standing): (Option<i64>, String) = plate::table.find(last(&plate))
            .select((plate::gummed_at, plate::standing)).first(&mut studio.connection()).unwrap();
        assert_eq!((gummed, standing.as_str()), (Some(studio.now().millis()), "under_gum"));
        studio.later_ms(60_000);
        for key in ["proof", "edition"] {
            carry(studio, &student, &plate, key);
        }
        let outside: Vec<String> = step_run::table.filter(step_run::plate_id.eq(last(&plate)))
            .select(step_run::outside_rules).load(&mut studio.connection()).unwrap();
        assert_eq!(outside.len(), 7);
        assert!(outside.iter().all(String::is_empty), "{outside:?}");
    }
}
