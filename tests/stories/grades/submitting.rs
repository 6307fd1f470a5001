//! Submitting: what is frozen, changes beside the first, bases with letters of their own, incompletes that lapse.

use tympan::post::lapses;
use tympan::store::schema::{
    etch, journal, listing, roll, roll_entry, school, session, sign_off, step_run, submitted_grade,
};

use std::sync::Arc;

use tympan::post::transport::Memory;

use super::*;
use crate::studio::letterbox::block;

type Kept = (String, String, Option<String>, Option<String>, String, Option<PersonId>, Option<String>);

/// What was submitted for a person, the oldest first: how, letter, rounded, lapses to, reason, by, last deed.
fn kept(studio: &Studio, person: PersonId) -> Vec<Kept> {
    submitted_grade::table
        .filter(submitted_grade::person_id.eq(person))
        .order((submitted_grade::at, submitted_grade::superseded_at.is_null()))
        .select((
            submitted_grade::how,
            submitted_grade::letter,
            submitted_grade::rounded,
            submitted_grade::lapses_to,
            submitted_grade::reason,
            submitted_grade::by_id,
            submitted_grade::last_deed,
        ))
        .load(&mut studio.connection())
        .unwrap()
}

fn letters(studio: &Studio, person: PersonId) -> Vec<String> {
    letter::table
        .filter(letter::kind.eq("grade-submitted").and(letter::person_id.eq(person)))
        .order(letter::created_at)
        .select(letter::detail)
        .load(&mut studio.connection())
        .unwrap()
}

fn submit(studio: &Studio, instructor: &Visitor, people: &[(PersonId, &str)]) -> Page {
    let mut all = Vec::new();
    for (person, seen) in people {
        all.push(("person".to_owned(), person.to_string()));
        all.push((format!("seen-{person}"), (*seen).to_owned()));
    }
    send(instructor, &format!("{}/grades/submit", studio.class_path()), &all)
}

fn alone(studio: &Studio, person: PersonId) -> String {
    format!("{}/grades/people/{person}/submitted", studio.class_path())
}

fn standing_id(studio: &Studio, person: PersonId) -> String {
    submitted_grade::table
        .filter(submitted_grade::person_id.eq(person).and(submitted_grade::superseded_at.is_null()))
        .select(submitted_grade::id)
        .first(&mut studio.connection())
        .unwrap()
}

fn state(studio: &Studio, person: PersonId) -> (String, Option<chrono::NaiveDate>, Option<String>) {
    enrolment::table
        .filter(enrolment::person_id.eq(person).and(enrolment::class_id.eq(studio.world.class)))
        .select((enrolment::state, enrolment::incomplete_until, enrolment::lapses_to))
        .first(&mut studio.connection())
        .unwrap()
}

fn lapse(studio: &Studio) -> usize {
    let (db, speech, now) = (studio.house.db.clone(), studio.house.speech.clone(), studio.now());
    actix_web::rt::System::new().block_on(async move { lapses::lapse(&db, &speech, now).await.unwrap() })
}

/// A roll with one entry, at six in the evening.
fn called(studio: &Studio, person: PersonId, day: &str, presence: &str) {
    let (db, world) = (&mut studio.connection(), &studio.world);
    let (roll_id, entry) = (RollId::new(NOW), RollEntryId::new(NOW));
    diesel::insert_into(roll::table)
        .values((
            (roll::id.eq(roll_id), roll::class_id.eq(world.class)),
            roll::day.eq(day.parse::<chrono::NaiveDate>().unwrap()),
            (
                roll::from_minute.eq(i32::from(1080 + u16::from(person == world.other_student))),
                roll::to_minute.eq(1200),
            ),
            (roll::by_id.eq(world.instructor), roll::at.eq(NOW)),
        ))
        .execute(db)
        .unwrap();
    diesel::insert_into(roll_entry::table)
        .values((
            (roll_entry::id.eq(entry), roll_entry::class_id.eq(world.class), roll_entry::roll_id.eq(roll_id)),
            (roll_entry::person_id.eq(person), roll_entry::presence.eq(presence), roll_entry::root.eq(entry)),
            (roll_entry::by_id.eq(world.instructor), roll_entry::at.eq(NOW)),
        ))
        .execute(db)
        .unwrap();
}

on_both! {
    fn what_a_student_has_not_been_told_is_said_before_it_is_submitted(studio) {
        set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/grades/submit", studio.class_path());
        for (told, says) in [("NULL", true), ("1", false)] {
            let sql = format!("UPDATE score SET handed_back_at = {told}");
            tympan::store::write::execute(&mut studio.connection(), &sql).unwrap();
            let read = instructor.get(&path).read();
            assert_eq!(read.contains("Counted, and not handed back yet: A room at night."), says, "{read}");
        }
    }

    fn a_class_is_looked_over_and_submitted_once(studio) {
        set(studio);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/grades/submit", studio.class_path());
        let page = instructor.get(&path);
        assert_eq!(page.status, 200, "{}", page.read());
        let read = page.read();
        assert!(read.contains("Ready: 1. Submitted already: 0. Without a grade: 1."), "{read}");
        assert!(read.contains("Sami Vale LIT 220-01, a letter B+ 88 %"), "{read}");
        assert!(read.contains("Nothing counts yet. Not yet marked, and so not counted: A room at night."), "{read}");
        assert!(page.has(&format!("name=\"seen-{}\" value=\"B+|88\"", world.student)), "{}", page.text());

        let refused = submit(studio, &instructor, &[(world.student, "B+|88"), (world.other_student, "|")]);
        assert_eq!(refused.status, 422);
        assert!(refused.read().contains("Otis Wren has no grade that could be submitted."), "{}", refused.read());
        assert!(kept(studio, world.student).is_empty(), "all or none");
        let nobody = submit(studio, &instructor, &[]);
        assert!(nobody.read().contains("Nobody is ticked."), "{}", nobody.read());

        for _ in 0..2 {
            let done = submit(studio, &instructor, &[(world.student, "B+|88")]);
            assert_eq!((done.status, done.location()), (303, format!("{}/grades/submitted?done=done-submitted", studio.class_path()).as_str()), "{}", done.read());
        }
        assert_eq!(kept(studio, world.student), [(
            "reckoned".to_owned(), "B+".to_owned(), Some("88".to_owned()), None, String::new(),
            Some(world.instructor), Some("sign-off".to_owned()),
        )], "submitted twice is submitted once");
        assert_eq!(letters(studio, world.student), ["{\"changed\":false}"]);
        let stranger = submit(studio, &instructor, &[(world.stranger, "B+|88")]);
        assert_eq!(stranger.status, 404);
    }

    /// The marks, the rules and the working of that day stay, whatever becomes of them later.
    fn what_is_submitted_is_frozen(studio) {
        let things = set(studio);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        submit(studio, &instructor, &[(world.student, "B+|88")]);
        diesel::update(score::table.find(things.score)).set(score::points_hundredths.eq(2_000))
            .execute(&mut studio.connection()).unwrap();
        instructor.post(&format!("{}/grades/rules", studio.class_path()), &RULES);
        let (evidence, working): (String, String) = submitted_grade::table
            .select((submitted_grade::evidence, submitted_grade::working))
            .first(&mut studio.connection()).unwrap();
        let evidence: serde_json::Value = serde_json::from_str(&evidence).unwrap();
        assert_eq!(evidence["percent"], "88.0000");
        assert_eq!(evidence["rules"]["scale"][1], "A- 90");
        let item = &evidence["categories"][0]["items"][0];
        assert_eq!((&item["score"], &item["points"], &item["comment"]), (&"88".into(), &"100".into(), &"Good blacks.".into()));
        assert_eq!(item["given_by"], world.instructor.to_string());
        assert_eq!(evidence["working"].as_array().unwrap().len(), working.lines().count());
        assert!(working.contains("88") && working.contains("B+"), "{working}");
        let student = studio.signed_in(STUDENT);
        let read = student.get(&format!("{}/grades", studio.class_path())).read();
        assert!(read.contains("Submitted grade B+ Reckoned by the rules of the class. Submitted Tue 20 Oct, 10:00 by Ines Ravel"), "{read}");
        assert!(read.contains("88 % rounded, from 88.0000 %"), "{read}");
        let other = studio.signed_in(OTHER_STUDENT);
        assert!(!other.get(&format!("{}/grades", studio.class_path())).read().contains("B+"));
    }

    fn a_change_stands_beside_the_first_with_its_reason(studio) {
        set(studio);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        submit(studio, &instructor, &[(world.student, "B+|88")]);
        let first = standing_id(studio, world.student);
        studio.later_ms(60_000);
        let path = alone(studio, world.student);
        let change = |before: &str, letter: &str, reason: &str| {
            instructor.post(&path, &[("way", "by-hand"), ("before", before), ("letter", letter), ("reason", reason)])
        };
        let page = change(&first, "A-", "");
        assert_eq!(page.status, 422);
        assert!(page.read().contains("is kept with its reason. Type it."), "{}", page.read());
        let page = change(&first, "A+", "because");
        assert!(page.read().contains("“A+” is not among the letters of this basis. Choose one of: A, A-, B+,"), "{}", page.read());
        assert_eq!(kept(studio, world.student).len(), 1);
        let page = change(&first, "A-", "The edition was <counted> twice.");
        assert_eq!(page.status, 303, "{}", page.read());
        let late = change(&first, "B", "slow");
        assert_eq!(late.status, 422, "somebody changed it meanwhile");
        assert!(late.read().contains("was changed meanwhile, so nothing was stored"), "{}", late.read());
        let all = kept(studio, world.student);
        assert_eq!(all.iter().map(|one| one.1.as_str()).collect::<Vec<_>>(), ["B+", "A-"]);
        assert_eq!(all[1].4, "The edition was <counted> twice.");
        assert_eq!(letters(studio, world.student), ["{\"changed\":false}", "{\"changed\":true}"]);
        for (email, at) in [(STUDENT, "/grades"), (RECORDS, "/grades/submitted"), (INSTRUCTOR, "/grades/submitted")] {
            let read = studio.signed_in(email).get(&format!("{}{at}", studio.class_path())).read();
            assert!(read.contains("A-") && read.contains("B+"), "{email}: {read}");
            assert!(read.contains("The edition was <counted> twice."), "{email}: {read}");
        }
        let acts: Vec<String> = journal::table
            .filter(journal::scope.eq(world.class.to_string()))
            .order(journal::seq).select(journal::act).load(&mut studio.connection()).unwrap();
        assert_eq!(acts, ["grade.submitted", "grade.changed"]);
    }

    fn a_mark_given_meanwhile_is_noticed(studio) {
        let things = set(studio);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        diesel::update(score::table.find(things.score)).set(score::points_hundredths.eq(8_700))
            .execute(&mut studio.connection()).unwrap();
        let page = submit(studio, &instructor, &[(world.student, "B+|88")]);
        assert_eq!(page.status, 422);
        assert!(page.read().contains("What Sami Vale’s grade is reckoned from changed since you looked."), "{}", page.read());
        assert!(page.has("value=\"B+|87\""), "what it is now is on the page");
        assert!(kept(studio, world.student).is_empty());
        assert_eq!(submit(studio, &instructor, &[(world.student, "B+|87")]).status, 303);
    }

    fn pass_and_audit_have_letters_of_their_own(studio) {
        set(studio);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        let keeper = studio.signed_in(KEEPER);
        let fields = [("version", "1"), ("pass", "CR"), ("no_pass", "NC"), ("audit", "AU"), ("incomplete", "I"), ("pass_from", "88.01")];
        let page = keeper.post("/school/grade-letters", &but(&fields, "no_pass", "CR"));
        assert!(page.read().contains("“CR” stands twice."), "{}", page.read());
        let page = keeper.post("/school/grade-letters", &but(&fields, "pass_from", "101"));
        assert_eq!(page.status, 422);
        assert_eq!(keeper.post("/school/grade-letters", &fields).status, 303);
        assert_eq!(keeper.post("/school/grade-letters", &fields).status, 422, "stale");
        let basis = |word: &str| {
            diesel::update(listing::table).set(listing::basis.eq(word)).execute(&mut studio.connection()).unwrap();
        };
        basis("audit");
        let page = instructor.get(&format!("{}/grades/submit", studio.class_path()));
        assert!(page.read().contains("Ready: 1.") && page.has("value=\"AU|\""), "nothing marked is no hindrance: {}", page.read());
        assert_eq!(submit(studio, &instructor, &[(world.other_student, "AU|")]).status, 303);
        assert_eq!(kept(studio, world.other_student)[0].1, "AU");
        basis("pass");
        assert!(instructor.get(&format!("{}/grades/submit", studio.class_path())).has("value=\"NC|88\""));
        diesel::update(school::table).set(school::pass_from_bp.eq(8_800)).execute(&mut studio.connection()).unwrap();
        assert_eq!(submit(studio, &instructor, &[(world.student, "CR|88")]).status, 303, "88 is 88");
        let page = instructor.post(&alone(studio, world.student), &[
            ("way", "by-hand"), ("before", &standing_id(studio, world.student)), ("letter", "A"), ("reason", "x"),
        ]);
        assert!(page.read().contains("Choose one of: CR, NC."), "{}", page.read());
    }

    fn a_class_without_letters_submits_the_percent(studio) {
        set(studio);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        let page = instructor.post(&format!("{}/grades/rules", studio.class_path()), &but(&RULES, "scale", ""));
        assert_eq!(page.status, 303, "{}", page.read());
        let page = instructor.get(&format!("{}/grades/submit", studio.class_path()));
        assert!(page.has("value=\"88 %|88\""), "{}", page.read());
        assert_eq!(submit(studio, &instructor, &[(world.student, "88 %|88")]).status, 303);
        assert_eq!(kept(studio, world.student)[0].1, "88 %");
        let path = alone(studio, world.student);
        assert!(instructor.get(&path).read().contains("the percent is the grade"));
        let change = |letter: &str| {
            let before = standing_id(studio, world.student);
            instructor.post(&path, &[("way", "by-hand"), ("before", &before), ("letter", letter), ("reason", "Agreed.")])
        };
        for wrong in ["B+", "-3", "201", "", "88.123456"] {
            let page = change(wrong);
            assert_eq!(page.status, 422, "{wrong}");
            assert!(page.has("id=\"decide-letter-complaint\""), "{wrong}: {}", page.read());
        }
        assert_eq!(change("91,5 %").status, 303);
        assert_eq!(kept(studio, world.student)[1].1, "91.5 %");
    }

    /// Whose grade was submitted can have it changed after they left, and stays as they are in the class.
    fn the_grade_of_who_left_can_still_be_changed(studio) {
        set(studio);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        submit(studio, &instructor, &[(world.student, "B+|88")]);
        diesel::update(enrolment::table.filter(enrolment::person_id.eq_any([world.student, world.other_student])))
            .set(enrolment::state.eq("withdrawn")).execute(&mut studio.connection()).unwrap();
        assert_eq!(instructor.get(&alone(studio, world.other_student)).status, 404, "nothing was submitted");
        let path = alone(studio, world.student);
        assert_eq!(instructor.get(&path).status, 200);
        let before = standing_id(studio, world.student);
        let page = instructor.post(&path, &[("way", "by-hand"), ("before", &before), ("letter", "A-"), ("reason", "Appeal upheld.")]);
        assert_eq!(page.status, 303, "{}", page.read());
        let all = kept(studio, world.student);
        assert_eq!((all.len(), all[1].1.as_str(), all[1].4.as_str()), (2, "A-", "Appeal upheld."));
        assert_eq!(state(studio, world.student).0, "withdrawn");
    }

    fn an_incomplete_holds_what_remains_and_lapses_by_itself(studio) {
        set(studio);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = alone(studio, world.other_student);
        let fields = [
            ("way", "incomplete"), ("before", ""), ("remains", "Edition of eight"), ("until", "2027-01-15"),
            ("lapses_to", "F"), ("reason", ""),
        ];
        for (name, value, said) in [
            ("until", "2026-10-20", "Choose a later one."),
            ("remains", " ", "Fill"),
            ("lapses_to", "Z", "is not among the letters"),
        ] {
            let page = instructor.post(&path, &but(&fields, name, value));
            assert_eq!(page.status, 422, "{name}");
            assert!(name == "remains" || page.read().contains(said), "{name}: {}", page.read());
        }
        assert_eq!(instructor.post(&path, &fields).status, 303);
        let day = chrono::NaiveDate::from_ymd_opt(2027, 1, 15);
        assert_eq!(state(studio, world.other_student), ("incomplete".into(), day, Some("F".into())));
        assert_eq!(kept(studio, world.other_student)[0].1, "I");
        let again = instructor.post(&path, &but(&fields, "before", &standing_id(studio, world.other_student)));
        assert_eq!((again.status, kept(studio, world.other_student).len()), (303, 1), "the same again is no change");
        let other = studio.signed_in(OTHER_STUDENT).get(&format!("{}/grades", studio.class_path())).read();
        assert!(other.contains("What remains: Edition of eight"), "{other}");
        assert!(other.contains("Open until 15 Jan 2027; then it lapses to F."), "{other}");

        let version: i64 = enrolment::table.filter(enrolment::person_id.eq(world.other_student))
            .select(enrolment::version).first(&mut studio.connection()).unwrap();
        let seat = instructor.post(&format!("{}/people/{}/state", studio.class_path(), world.other_student), &[
            ("version", &version.to_string()), ("state", "enrolled"), ("since", "2026-10-20"), ("reason", "x"),
        ]);
        assert!(seat.read().contains("An incomplete ends with its grade"), "{}", seat.read());

        studio.at("2027-01-16T04:59:00Z");
        assert_eq!(lapse(studio), 0, "it is still the 15th in New York");
        studio.at("2027-01-16T05:00:00Z");
        assert_eq!((lapse(studio), lapse(studio)), (1, 0), "once");
        let all = kept(studio, world.other_student);
        assert_eq!((all[1].0.as_str(), all[1].1.as_str(), all[1].5), ("lapsed", "F", None));
        assert_eq!(all[1].4, "The incomplete ran until 2027-01-15 and lapsed as agreed.");
        assert_eq!(state(studio, world.other_student), ("enrolled".into(), None, None));
        assert_eq!(letters(studio, world.other_student).len(), 2);
        let nobody: Vec<Option<PersonId>> = journal::table.filter(journal::act.eq_any(["grade.changed"]))
            .select(journal::person_id).load(&mut studio.connection()).unwrap();
        assert_eq!(nobody, [None]);
        let findings = tympan::store::journal::check(&mut studio.connection()).unwrap();
        assert!(findings.is_empty(), "{findings:?}");
    }

    /// The loop of two servers and the command may all come to it in the same second.
    fn an_incomplete_lapses_once_however_many_runners_come(studio) {
        set(studio);
        let (person, class) = (studio.world.other_student, studio.world.class);
        let instructor = studio.signed_in(INSTRUCTOR);
        let fields = [
            ("way", "incomplete"), ("before", ""), ("remains", "Edition of eight"), ("until", "2027-01-15"),
            ("lapses_to", "F"), ("reason", ""),
        ];
        assert_eq!(instructor.post(&alone(studio, person), &fields).status, 303);
        let before = kept(studio, person);
        studio.at("2027-01-16T05:00:00Z");
        let run = || block(studio.post(Arc::new(Memory::default())).lapse()).unwrap();
        let lapsed: usize = std::thread::scope(|scope| {
            let runners: Vec<_> = (0..4).map(|_| scope.spawn(run)).collect();
            runners.into_iter().map(|runner| runner.join().unwrap()).sum()
        });
        assert_eq!((lapsed, run()), (1, 0), "one runner did it, and none does it again");
        let after = kept(studio, person);
        assert_eq!((after.len(), &after[0]), (2, &before[0]), "the first stands beside it as it was");
        assert_eq!((after[1].0.as_str(), after[1].1.as_str()), ("lapsed", "F"));
        let stands: i64 = submitted_grade::table
            .filter(submitted_grade::class_id.eq(class).and(submitted_grade::superseded_at.is_null()))
            .count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(stands, 1);
        assert_eq!(state(studio, person), ("enrolled".into(), None, None));
        let acts: i64 = journal::table.filter(journal::act.eq("grade.changed")).count().get_result(&mut studio.connection()).unwrap();
        assert_eq!((acts, letters(studio, person).len()), (1, 2), "one act, one letter more");
        assert_eq!(tympan::store::journal::check(&mut studio.connection()).unwrap(), []);
    }

    /// A grade that was given before its day came is not taken back by it.
    fn an_incomplete_that_was_settled_lapses_no_more(studio) {
        set(studio);
        let person = studio.world.other_student;
        let instructor = studio.signed_in(INSTRUCTOR);
        let fields = [
            ("way", "incomplete"), ("before", ""), ("remains", "Edition of eight"), ("until", "2027-01-15"),
            ("lapses_to", "F"), ("reason", ""),
        ];
        assert_eq!(instructor.post(&alone(studio, person), &fields).status, 303);
        let settled = [("way", "by-hand"), ("before", &standing_id(studio, person)), ("letter", "B"), ("reason", "The edition came.")];
        let page = instructor.post(&alone(studio, person), &settled);
        assert_eq!(page.status, 303, "{}", page.read());
        studio.at("2027-01-16T05:00:00Z");
        assert_eq!(block(studio.post(Arc::new(Memory::default())).lapse()).unwrap(), 0);
        assert_eq!(kept(studio, person).last().unwrap().1, "B");
    }

    /// A sign-in is no participation: the other student did sign in.
    fn the_last_day_is_one_of_work(studio) {
        let things = set(studio);
        let world = &studio.world;
        studio.signed_in(OTHER_STUDENT);
        let last = |studio: &Studio| tympan::store::grades::participation::last_days(
            &mut studio.connection(), world.class, ZONE,
        ).unwrap();
        use tympan::store::grades::participation::Deed;
        let day = |text: &str| text.parse::<chrono::NaiveDate>().unwrap();
        assert_eq!(last(studio).get(&world.other_student), None);
        assert_eq!(last(studio)[&world.student], (day("2026-10-20"), Deed::SignOff));
        diesel::update(sign_off::table).set(sign_off::taken_back_at.eq(NOW)).execute(&mut studio.connection()).unwrap();
        assert_eq!(last(studio)[&world.student], (day("2026-10-15"), Deed::Log));
        diesel::update(etch::table).set(etch::by_id.eq(world.instructor)).execute(&mut studio.connection()).unwrap();
        diesel::update(step_run::table).set(step_run::by_id.eq(world.instructor)).execute(&mut studio.connection()).unwrap();
        assert_eq!(last(studio).get(&world.student), None, "what the instructor entered is not theirs");
        diesel::update(print::table.find(things.print)).set(print::handed_in_at.eq(NOW)).execute(&mut studio.connection()).unwrap();
        assert_eq!(last(studio)[&world.student], (day("2026-10-20"), Deed::HandIn));
        // A meeting on the same day says less than work; away is no part taken; a corrected entry counts no more.
        called(studio, world.student, "2026-10-20", "here");
        assert_eq!(last(studio)[&world.student], (day("2026-10-20"), Deed::HandIn));
        for (on, presence) in [("2026-10-22", "late"), ("2026-10-23", "excused"), ("2026-10-24", "away")] {
            called(studio, world.student, on, presence);
        }
        assert_eq!(last(studio)[&world.student], (day("2026-10-22"), Deed::Meeting));
        called(studio, world.other_student, "2026-10-23", "here");
        assert_eq!(last(studio)[&world.other_student], (day("2026-10-23"), Deed::Meeting));
        diesel::update(roll_entry::table).set(roll_entry::superseded_at.eq(NOW)).execute(&mut studio.connection()).unwrap();
        assert_eq!(last(studio).get(&world.other_student), None);
    }

    fn records_staff_are_given_what_was_submitted_alone(studio) {
        set(studio);
        let world = &studio.world;
        let instructor = studio.signed_in(INSTRUCTOR);
        let hand = |visitor: &Visitor| visitor.get(&format!("{}/records/grades.csv", studio.class_path())).text();
        instructor.post(&format!("{}/hand-back", marking(studio, assessment::table.select(assessment::id).first(&mut studio.connection()).unwrap())), &[]);
        let records = studio.signed_in(RECORDS);
        assert!(hand(&instructor).contains("88.0000,88,B+,100,no"), "{}", hand(&instructor));
        let own = hand(&records);
        assert!(!own.contains(",88,") && !own.contains("88.0") && !own.contains("B+"), "{own}");
        let page = records.get(&format!("{}/grades/submitted", studio.class_path()));
        assert!(page.read().contains("For 2 students nothing is submitted yet."), "{}", page.read());
        assert!(!page.read().contains("88 %") && !page.read().contains("B+"), "{}", page.read());
        submit(studio, &instructor, &[(world.student, "B+|88")]);
        assert!(hand(&records).contains(",,,,yes,B+,88,reckoned,LIT 220-01,letter,Ines Ravel,2026-10-20T14:00:00.000Z,0,,,,"), "{}", hand(&records));
        let read = records.get(&format!("{}/grades/submitted", studio.class_path())).read();
        assert!(read.contains("Sami Vale S1001 B+ 88 % rounded"), "{read}");
        for asked in ["/grades", "/grades/submit"] {
            assert_eq!(records.get(&format!("{}{asked}", studio.class_path())).status, 403);
        }
    }

    fn the_password_is_asked_for_before_submitting(studio) {
        set(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        diesel::update(session::table).set(session::confirmed_at.eq(NOW.plus_ms(-11 * 60_000)))
            .execute(&mut studio.connection()).unwrap();
        let page = instructor.get(&format!("{}/grades/submit", studio.class_path()));
        assert!(page.location().starts_with("/account/confirm"), "{}", page.location());
        let page = submit(studio, &instructor, &[(studio.world.student, "B+|88")]);
        assert_eq!((page.status, kept(studio, studio.world.student).len()), (401, 0));
    }
}
