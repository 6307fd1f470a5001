//! Learning goals: counted with small groups hidden, and told the department in one state alone.

use super::criteria::weighed;
use super::*;

on_both! {
    /// By hand: eight students at 100 % of Craft and two at 62.5 %. Below five is hidden, and another with it. The table
    /// that leaves counts what the grades rested on, and says the same for good: of two states, one student more could be
    /// subtracted.
    fn goals_are_counted_with_small_groups_hidden_and_leave_in_one_state_alone(studio) {
        let set = weighed(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/goals", studio.class_path());
        let craft = set.craft.to_string();
        let page = instructor.post(&path, &[("title", "Keep a drawing open")]);
        assert_eq!(page.status, 422);
        assert!(page.read().contains("No criterion is ticked"), "{}", page.read());
        let goal = [("title", "Keep a drawing open"), ("criteria", craft.as_str())];
        assert_eq!(instructor.post(&path, &goal).status, 303);
        assert_eq!(instructor.post(&path, &goal).status, 422, "said already");
        let mut people = Vec::new();
        for number in 0..10 {
            let person = one_more_student(studio, number);
            let level = if number < 8 { "1" } else { "2" };
            let page = send(&instructor, &set.path(studio, person), &set.form(None, [level, "1"], &[]));
            assert_eq!(page.status, 303, "{}", page.read());
            people.push(person);
        }
        let (shown, table) = (
            || instructor.get(&path).read(),
            || instructor.get(&format!("{}/records/goals.csv", studio.class_path())).text(),
        );
        assert!(!shown().contains("10"), "nothing is handed back: {}", shown());
        hand_back(studio, &instructor, set.things.assessment);
        assert!(shown().contains("hidden") && shown().contains("10"), "{}", shown());
        let submit = |person: &PersonId| {
            let path = format!("{}/grades/people/{person}/submitted", studio.class_path());
            let by_hand = [("way", "by-hand"), ("before", ""), ("letter", "A"), ("reason", "agreed")];
            let page = instructor.post(&path, &by_hand);
            assert_eq!(page.status, 303, "{}", page.read());
        };
        people[..4].iter().for_each(submit);
        assert_eq!(table().lines().count(), 1, "no count leaves before it is settled");
        let settle = format!("{path}/settle");
        let early = instructor.post(&settle, &[]);
        assert_eq!(early.status, 409, "{}", early.read());
        assert!(early.read().contains("Too few grades are submitted") && !instructor.get(&path).has("goals/settle"));
        submit(&people[4]);
        assert!(shown().contains("Grades are submitted for 5 of "), "{}", shown());
        assert_eq!(table().lines().count(), 1, "others have no grade yet");
        assert!(instructor.get(&path).has(&format!("action=\"{settle}\"")));
        assert_eq!(instructor.post(&settle, &[]).status, 303);
        let twice = instructor.post(&settle, &[]);
        assert!(twice.status == 409 && twice.read().contains("is settled already"), "{}", twice.read());
        let counted = table();
        assert_eq!(counted.lines().count(), 9, "the goal, and its criterion: {counted}");
        assert!(!counted.contains(",2,") && !counted.contains(",8,"), "the eight would give the two away: {counted}");
        assert!(counted.contains(",yes,10"), "{counted}");
        let records = instructor.get(&format!("{}/records", studio.class_path())).read();
        assert!(records.contains("Without a row until then. 8 rows"), "{records}");
        let id: String = tympan::store::schema::goal::table
            .select(tympan::store::schema::goal::id).first(&mut studio.connection()).unwrap();
        let one = format!("{path}/{id}");
        assert!(instructor.get(&one).has("value=\"Keep a drawing open\""));
        let image = set.image.to_string();
        let both = [("version", "1"), ("title", "Keep a drawing open to the end"), ("criteria", craft.as_str()), ("criteria", image.as_str())];
        assert_eq!(instructor.post(&one, &crate::stories::but(&both, "title", " ")).status, 422);
        assert_eq!(instructor.post(&one, &both).status, 303);
        let stale = instructor.post(&one, &crate::stories::but(&both, "title", "Late"));
        assert_eq!(stale.status, 422, "{}", stale.read());
        assert!(shown().contains("Keep a drawing open to the end"), "{}", shown());
        assert_eq!(table(), counted, "other criteria, the same people: not a second table of them");
        let other = [("title", "Print an image"), ("criteria", image.as_str())];
        assert_eq!(instructor.post(&path, &other).status, 303);
        assert_eq!(table(), counted, "nor by another goal");
        let back = [("version", "2"), ("title", "Keep a drawing open"), ("criteria", craft.as_str())];
        assert_eq!(instructor.post(&one, &back).status, 303);
        // Three more at the lower level are seen by the instructor; the table stays as it was, whoever submits.
        studio.later_ms(60_000);
        for number in 10..13 {
            let person = one_more_student(studio, number);
            assert_eq!(send(&instructor, &set.path(studio, person), &set.form(None, ["2", "1"], &[])).status, 303);
            submit(&person);
        }
        hand_back(studio, &instructor, set.things.assessment);
        assert!(shown().contains("13"), "{}", shown());
        withdraw(studio, people[0]);
        assert_eq!(table(), counted, "nor by who is in the class");
        assert_eq!(instructor.post(&format!("{one}/remove"), &[]).status, 303);
        assert_eq!(table(), counted);
        assert!(shown().contains("the department reads it as it was then"), "{}", shown());
    }

    /// The last grade of a class settles its table by itself.
    fn the_last_grade_settles_the_table_of_goals(studio) {
        let set = weighed(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let (craft, image) = (set.craft.to_string(), set.image.to_string());
        let goal = [("title", "Keep a drawing open"), ("criteria", craft.as_str()), ("criteria", image.as_str())];
        assert_eq!(instructor.post(&format!("{}/goals", studio.class_path()), &goal).status, 303);
        let table = || instructor.get(&format!("{}/records/goals.csv", studio.class_path())).text();
        let mut people: Vec<PersonId> = (0..12).map(|number| one_more_student(studio, number)).collect();
        for (place, person) in people.iter().enumerate() {
            let levels = if place < 7 { ["1", "2"] } else { ["2", "1"] };
            assert_eq!(send(&instructor, &set.path(studio, *person), &set.form(None, levels, &[])).status, 303);
        }
        people.extend([studio.world.student, studio.world.other_student]);
        for person in &people {
            assert_eq!(table().lines().count(), 1, "{person}");
            let path = format!("{}/grades/people/{person}/submitted", studio.class_path());
            let by_hand = [("way", "by-hand"), ("before", ""), ("letter", "A"), ("reason", "agreed")];
            assert_eq!(instructor.post(&path, &by_hand).status, 303);
        }
        let settled = table();
        assert_eq!(settled.lines().count(), 13, "the goal and both its criteria: {settled}");
        // A count of none is small, too: all are hidden, and how many there are in all is not.
        assert_eq!(settled.matches(",,yes,12\r\n").count(), 12, "{settled}");
    }
}

fn withdraw(studio: &Studio, person: PersonId) {
    use tympan::store::schema::enrolment;
    diesel::update(enrolment::table.filter(enrolment::person_id.eq(person)))
        .set(enrolment::state.eq("withdrawn"))
        .execute(&mut studio.connection())
        .unwrap();
}

fn one_more_student(studio: &Studio, number: u32) -> PersonId {
    use tympan::store::schema::person;
    let db = &mut studio.connection();
    let id: PersonId = Id::new(NOW);
    diesel::insert_into(person::table)
        .values((
            (
                person::id.eq(id),
                person::given_name.eq("Robin"),
                person::family_name.eq(format!("Alder-{number}")),
            ),
            (person::keeper.eq(false), person::records.eq(false), person::safety_officer.eq(false)),
            (person::volume_unit.eq("ml"), person::daily_letter.eq(false), person::failed_sign_ins.eq(0)),
            (person::created_at.eq(NOW), person::version.eq(1)),
        ))
        .execute(db)
        .unwrap();
    diesel::insert_into(enrolment::table)
        .values((
            (enrolment::id.eq(EnrolmentId::new(NOW)), enrolment::class_id.eq(studio.world.class)),
            (enrolment::person_id.eq(id), enrolment::role.eq("student"), enrolment::state.eq("enrolled")),
            (enrolment::joined_at.eq(NOW), enrolment::version.eq(1)),
            enrolment::since.eq(chrono::NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
        ))
        .execute(db)
        .unwrap();
    id
}
