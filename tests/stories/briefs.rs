//! Students read what is asked, when it is due for them and why a date moved, and are told by letter when it moves.

use diesel::prelude::*;
use tympan::ids::LetterId;
use tympan::post::runner::Delivery;
use tympan::post::transport::{Answer, Lasting, Memory, Refusal};
use tympan::store::schema::letter;

use crate::on_both;
use crate::stories::rows;
use crate::studio::Studio;
use crate::studio::things::Things;
use crate::studio::world::*;

/// After so long a letter about a date is sent.
const SETTLED: i64 = 11 * 60_000;

/// Moves the class's date, or sets a student's own.
fn set_due(studio: &Studio, things: &Things, door: &str, fields: &[(&str, &str)]) {
    let path = format!("{}/settings/projects/{}/{door}", studio.class_path(), things.project);
    let page = studio.signed_in(INSTRUCTOR).post(&path, fields);
    assert_eq!(page.status, 303, "{}", page.read());
}

on_both! {
    fn a_student_reads_what_is_asked_and_when_it_is_due(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let home = studio.class_path();
        let (student, other) = (studio.signed_in(STUDENT), studio.signed_in(OTHER_STUDENT));
        let today = student.get(&home);
        assert!(today.has(&format!("href=\"{home}/projects\"")), "linked from Today");
        let plate = student.get(&format!("{home}/plates/{}", things.plate));
        let path = format!("{home}/projects/{}", things.project);
        assert!(plate.has(&format!("href=\"{path}\"")), "linked from the plate");
        let list = student.get(&format!("{home}/projects")).read();
        assert!(list.contains("A room at night") && list.contains("Tue 24 Nov, 16:30"), "{list}");
        let page = student.get(&path).read();
        for says in ["Tones from crayon and wash.", "Tue 24 Nov, 16:30", "America/New_York", "8 numbered impressions"] {
            assert!(page.contains(says), "{says}: {page}");
        }
        set_due(studio, &things, "due", &[("due", "2026-11-30T16:30"), ("reason", "The press was down"), ("version", "1")]);
        let person = studio.world.student.to_string();
        set_due(studio, &things, "own-due", &[("person", &person), ("due", "2026-12-04T12:00"), ("reason", "broken wrist")]);
        let page = student.get(&path).read();
        for says in ["Fri 4 Dec, 12:00", "For the class it is Mon 30 Nov, 16:30", "broken wrist", "The press was down"] {
            assert!(page.contains(says), "{says}: {page}");
        }
        assert!(student.get(&format!("{home}/projects")).read().contains("Fri 4 Dec, 12:00 your own date"));
        for reader in [&other, &studio.signed_in(ASSISTANT), &studio.signed_in(INSTRUCTOR)] {
            let page = reader.get(&path).read();
            assert!(page.contains("Mon 30 Nov, 16:30") && page.contains("The press was down"), "{page}");
            assert!(!page.contains("wrist") && !page.contains("4 Dec"), "what is somebody's own is theirs: {page}");
        }
        let nobodys = format!("{home}/projects/11111111-1111-7111-8111-111111111111");
        assert_eq!(student.get(&nobodys).status, 404);
        let theirs = format!("/classes/{}/projects/{}", studio.world.other_class, things.project);
        assert_eq!(studio.signed_in(STRANGER).get(&theirs).status, 404, "of another class");
    }

    fn a_letter_tells_of_a_date_that_moved(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        studio.letters();
        let person = studio.world.student.to_string();
        let own = [("person", person.as_str()), ("due", "2026-12-04T12:00"), ("reason", "broken wrist")];
        set_due(studio, &things, "own-due", &own);
        assert!(studio.letters().is_empty(), "it waits a little, in case the date is mended");
        studio.later_ms(SETTLED);
        let mails = studio.letters();
        assert_eq!(mails.iter().map(|mail| mail.to.as_str()).collect::<Vec<_>>(), [STUDENT]);
        let text = &mails[0].text;
        assert!(text.contains("a due date of your own for “A room at night”"), "{text}");
        assert!(text.contains("Fri 4 Dec, 12:00") && text.contains("America/New_York"), "{text}");
        assert!(text.contains("Before this it was due Tue 24 Nov, 16:30"), "{text}");
        assert!(!text.contains("wrist") && !mails[0].html.contains("wrist"), "why stands in no letter");
        assert_eq!(rows(studio, "letter WHERE detail LIKE '%wrist%'"), 0, "nor in the row");

        let door = format!("{}/settings/projects/{}/due", studio.class_path(), things.project);
        let moved = [("due", "2026-11-30T16:30"), ("reason", "The press was down"), ("version", "1")];
        let instructor = studio.signed_in(INSTRUCTOR);
        for _ in 0..2 {
            assert_eq!(instructor.post_once(&door, &moved, "moved-once-and-again").status, 303);
        }
        studio.later_ms(SETTLED);
        let mails = studio.letters();
        let to: Vec<&str> = mails.iter().map(|mail| mail.to.as_str()).collect();
        assert_eq!(to, [OTHER_STUDENT], "once, and not to somebody whose date it is not");
        let text = &mails[0].text;
        assert!(mails[0].header("Subject").is_some_and(|subject| subject.contains("New due date")), "{}", mails[0].head);
        assert!(text.contains("Mon 30 Nov, 16:30") && text.contains("The press was down"), "{text}");
        let path = mails[0].address("/classes/");
        assert_eq!(studio.signed_in(OTHER_STUDENT).get(&path).status, 200);

        let back = format!("{}/settings/projects/{}/own-due/{person}/take-back", studio.class_path(), things.project);
        assert_eq!(instructor.post(&back, &[]).status, 303);
        studio.later_ms(SETTLED);
        let mails = studio.letters();
        assert_eq!(mails.len(), 1);
        assert!(mails[0].text.contains("Your own due date for") && mails[0].text.contains("Mon 30 Nov, 16:30"), "{}", mails[0].text);
    }

    fn nobody_who_has_left_is_told(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let instructor = studio.signed_in(INSTRUCTOR);
        let gone = format!("{}/people/{}/state", studio.class_path(), studio.world.other_student);
        let left = instructor.post(&gone, &[("version", "1"), ("state", "withdrawn"), ("since", "2026-10-19"), ("reason", "asked for it")]);
        assert_eq!(left.status, 303, "{}", left.read());
        studio.letters();
        set_due(studio, &things, "due", &[("due", "2026-11-30T16:30"), ("reason", "The press was down"), ("version", "1")]);
        studio.later_ms(SETTLED);
        let mails = studio.letters();
        assert_eq!(mails.iter().map(|mail| mail.to.as_str()).collect::<Vec<_>>(), [STUDENT]);
    }

    fn dates_moved_in_quick_succession_make_one_letter_with_the_last(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        studio.letters();
        let moved = |due, version| set_due(studio, &things, "due", &[("due", due), ("reason", "The press was down"), ("version", version)]);
        moved("2026-11-30T16:30", "1");
        studio.later_ms(120_000);
        moved("2026-12-01T16:30", "2");
        studio.later_ms(SETTLED);
        let mails = studio.letters();
        let mut to: Vec<&str> = mails.iter().map(|mail| mail.to.as_str()).collect();
        to.sort_unstable();
        let mut both = [STUDENT, OTHER_STUDENT];
        both.sort_unstable();
        assert_eq!(to, both, "one each");
        for mail in &mails {
            assert!(mail.text.contains("Tue 1 Dec, 16:30") && mail.text.contains("Before this it was due Tue 24 Nov, 16:30"), "{}", mail.text);
            assert!(!mail.text.contains("30 Nov"), "{}", mail.text);
        }
        assert_eq!(rows(studio, "letter WHERE last_error = 'overtaken'"), 2);
        // Moved and moved back at once: nothing has changed for anybody.
        moved("2026-12-02T16:30", "3");
        moved("2026-12-01T16:30", "4");
        studio.later_ms(SETTLED);
        assert!(studio.letters().is_empty());
        // A date of one's own, given and taken back at once.
        let person = studio.world.student.to_string();
        set_due(studio, &things, "own-due", &[("person", &person), ("due", "2026-12-04T12:00"), ("reason", "ill")]);
        let back = format!("{}/settings/projects/{}/own-due/{person}/take-back", studio.class_path(), things.project);
        assert_eq!(studio.signed_in(INSTRUCTOR).post(&back, &[]).status, 303);
        studio.later_ms(SETTLED);
        assert!(studio.letters().is_empty());
    }

    fn a_letter_that_failed_tells_no_date_that_has_moved_since(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        studio.letters();
        let moved = |due, version| set_due(studio, &things, "due", &[("due", due), ("reason", "The press was down"), ("version", version)]);
        moved("2026-11-30T16:30", "1");
        studio.later_ms(SETTLED);
        let memory = Memory::default();
        memory.will_answer((0..2).map(|_| Answer::Refuse(Refusal::new(Lasting::ForGood, "550 5.1.1 no such mailbox"))));
        let tries: Vec<Delivery> = (0..4).map(|_| studio.deliver_one(&memory)).collect();
        assert_eq!(tries.iter().filter(|came| **came == Delivery::Failed).count(), 2, "{tries:?}");
        moved("2026-12-01T16:30", "2");
        studio.later_ms(SETTLED);
        assert_eq!(studio.letters().len(), 2);
        let failed: Vec<LetterId> = letter::table.filter(letter::failed_at.is_not_null()).select(letter::id)
            .load(&mut studio.connection()).unwrap();
        let again = format!("{}/letters/{}/again", studio.class_path(), failed[0]);
        assert_eq!(studio.signed_in(INSTRUCTOR).post(&again, &[]).status, 303);
        assert!(studio.letters().is_empty());
        assert_eq!(rows(studio, "letter WHERE last_error = 'overtaken'"), 1);
    }

    fn everybody_finds_help(studio) {
        let page = studio.visitor().get("/help");
        assert_eq!(page.status, 200);
        for says in ["Students", "Assistants", "Instructors", "Safety officers", "Records staff", "Keepers", "safety data sheet", "local codes", "safety office"] {
            assert!(page.read().contains(says), "{says}");
        }
        assert!(page.has("href=\"/sign-in\""));
        let student = studio.signed_in(STUDENT);
        assert!(student.get(&studio.class_path()).has("href=\"/help\""), "linked at the foot of every page");
        assert!(!student.get("/help").has("href=\"/sign-in\""));
    }
}
