//! Forms that want to know why: a preset with one tap, more words beside it, words alone, and what is refused.

use diesel::prelude::*;
use tympan::ids::SignOffId;
use tympan::store::schema::sign_off;

use crate::on_both;
use crate::stories::{planning, rows};
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Studio, Visitor};

/// A form that wants to know why.
pub struct Asks<'a> {
    /// The form's name, before the ids of its fields.
    pub form: &'a str,
    /// One of its presets, and what is read there.
    pub preset: (&'a str, &'a str),
    /// Where the sentence is stored: table and column.
    pub kept: (&'a str, &'a str),
}

type Fields<'a> = Vec<(&'a str, String)>;

impl Asks<'_> {
    fn stored(&self, studio: &Studio, sentence: &str) -> i64 {
        let (table, column) = self.kept;
        rows(studio, &format!("{table} WHERE {column} = '{sentence}'"))
    }

    fn all(&self, studio: &Studio) -> i64 {
        rows(studio, &format!("{} WHERE {} <> ''", self.kept.0, self.kept.1))
    }

    /// Sends the form in every way. `one` gives the address and the other fields of the first, second and third sending
    /// that is stored.
    pub fn go_through<'f>(
        &self,
        studio: &Studio,
        visitor: &Visitor,
        one: impl Fn(usize) -> (String, Fields<'f>),
    ) {
        let (word, sentence) = self.preset;
        let send = |place: usize, why: &[(&str, &str)]| {
            let (path, fields) = one(place);
            let fields: Vec<(&str, &str)> =
                fields.iter().map(|(name, value)| (*name, value.as_str())).collect();
            visitor.post(&path, &[&fields[..], why].concat())
        };
        let long = "because ".repeat(80);
        let before = self.all(studio);
        for (why, field, said) in [
            (&[("why", "other")][..], "reason", "write it here"),
            (&[("why", "other"), ("reason", " \t")], "reason", "write it here"),
            (&[("reason", "")], "reason", "This is missing"),
            (&[], "reason", "This is missing"),
            (&[("why", "mood"), ("reason", "typed words")], "why", "“mood” is not one of the choices"),
            (&[("why", word), ("reason", &long)], "reason", "fit. Shorten it"),
        ] {
            let page = send(0, why);
            assert_eq!(page.status, 422, "{} {why:?}: {}", self.form, page.read());
            assert!(page.has(&format!("id=\"{}-{field}-complaint\"", self.form)), "{why:?}: {}", page.text());
            assert!(page.read().contains(said), "{why:?} says “{said}”: {}", page.read());
            for (name, value) in why.iter().filter(|(_, value)| !["", "mood"].contains(value)) {
                let kept = match *name {
                    "why" => format!("value=\"{value}\" checked"),
                    _ => format!("name=\"reason\" value=\"{value}\""),
                };
                assert!(page.has(&kept), "{why:?} is kept: {}", page.text());
            }
        }
        assert_eq!(self.all(studio), before, "{}: nothing was stored", self.form);

        let page = send(0, &[("why", word), ("reason", "")]);
        assert_eq!(page.status, 303, "a preset alone: {}", page.read());
        assert_eq!(self.stored(studio, sentence), 1, "{}", self.form);
        let page = send(1, &[("why", word), ("reason", " since noon ")]);
        assert_eq!(page.status, 303, "a preset with words: {}", page.read());
        assert_eq!(self.stored(studio, &format!("{sentence}: since noon")), 1, "{}", self.form);
        let page = send(2, &[("reason", "Something else")]);
        assert_eq!(page.status, 303, "words alone, as it was before there were presets: {}", page.read());
        assert_eq!(self.stored(studio, "Something else"), 1, "{}", self.form);
        assert_eq!(self.all(studio), before + 3, "{}", self.form);
    }
}

fn with<'a>(fields: &[(&'a str, &str)]) -> Fields<'a> {
    fields.iter().map(|(name, value)| (*name, (*value).to_owned())).collect()
}

on_both! {
    fn what_is_held_back_from_the_purge_has_a_reason(studio) {
        let hold = Asks { form: "hold", preset: ("appeal", "A grade is appealed"), kept: ("hold", "reason") };
        let class = studio.world.class.to_string();
        hold.go_through(studio, &studio.signed_in(KEEPER), |place| {
            let fields = match place {
                0 => [("class", class.as_str()), ("email", "")],
                1 => [("class", ""), ("email", STUDENT)],
                _ => [("class", ""), ("email", OTHER_STUDENT)],
            };
            ("/school/retention/holds".to_owned(), with(&fields))
        });
    }

    fn a_change_of_somebodys_state_has_a_reason(studio) {
        let state = Asks {
            form: "roster-state", preset: ("asked", "Asked for by the person"), kept: ("enrolment_change", "reason"),
        };
        let path = format!("{}/people/{}/state", studio.class_path(), studio.world.student);
        state.go_through(studio, &studio.signed_in(INSTRUCTOR), |place| {
            let fields = match place {
                0 => [("version", "1"), ("state", "withdrawn"), ("since", "2026-10-19")],
                1 => [("version", "2"), ("state", "enrolled"), ("since", "2026-10-19")],
                _ => [("version", "3"), ("state", "dropped"), ("since", "2026-10-20")],
            };
            (path.clone(), with(&fields))
        });
    }

    fn a_withdrawn_sign_off_has_a_reason(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        for key in ["solvents", "press"] {
            things.sign(&mut studio.connection(), &studio.world, key, "watched");
        }
        let given: Vec<SignOffId> =
            sign_off::table.order(sign_off::id).select(sign_off::id).load(&mut studio.connection()).unwrap();
        assert_eq!(given.len(), 3);
        let withdraw = Asks {
            form: "safety-withdraw", preset: ("anew", "It has to be shown anew"), kept: ("sign_off", "withdrawn_reason"),
        };
        let path = format!("{}/sign-offs", studio.class_path());
        let instructor = studio.signed_in(INSTRUCTOR);
        let record = instructor.get(&format!("{path}/record"));
        for id in &given {
            assert_eq!(record.text().matches(&format!("id=\"safety-withdraw-reason-{id}\"")).count(), 1, "one of each id");
        }
        withdraw.go_through(studio, &instructor, |place| (format!("{path}/{}/withdraw", given[place]), Vec::new()));
    }

    fn a_moved_due_date_has_a_reason(studio) {
        let things = Things::set(&mut studio.connection(), &studio.world);
        let path = format!("{}/settings/projects/{}", studio.class_path(), things.project);
        let instructor = studio.signed_in(INSTRUCTOR);
        let all = Asks { form: "classes-due", preset: ("agreed", "Agreed with the class"), kept: ("due_move", "reason") };
        let days = ["2026-11-30T16:30", "2026-12-01T16:30", "2026-12-02T16:30"];
        all.go_through(studio, &instructor, |place| {
            let version = (place + 1).to_string();
            (format!("{path}/due"), with(&[("due", days[place]), ("version", &version)]))
        });
        let one = Asks { form: "classes-own-due", preset: ("away", "Away, and excused"), kept: ("own_due", "reason") };
        let student = studio.world.student.to_string();
        one.go_through(studio, &instructor, |place| {
            (format!("{path}/own-due"), with(&[("person", &student), ("due", days[place])]))
        });
    }

    fn what_is_out_of_order_has_a_reason(studio) {
        let press = planning::station(studio, "press", 2).to_string();
        let down = Asks { form: "studio-down", preset: ("part", "It waits for a part"), kept: ("station_down", "reason") };
        let path = format!("{}/studio/downs", studio.class_path());
        down.go_through(studio, &studio.signed_in(ASSISTANT), |place| {
            // Each for longer than what is told already.
            let from = ["2026-10-20T10:00", "2026-10-20T09:00", "2026-10-20T08:00"][place];
            (path.clone(), with(&[("station", &press), ("unit", "1"), ("from", from)]))
        });
    }

    fn a_closed_day_has_a_reason_in_the_language_of_whoever_tells_it(studio) {
        let path = format!("{}/studio/closures", studio.class_path());
        let assistant = studio.signed_in(ASSISTANT);
        let closure = Asks { form: "studio-closure", preset: ("holiday", "Public holiday"), kept: ("closure", "reason") };
        closure.go_through(studio, &assistant, |place| {
            (path.clone(), with(&[("first", ["2026-11-24", "2026-11-25", "2026-11-26"][place])]))
        });
        assistant.set_cookie("language", "es");
        let page = assistant.post(&path, &[("first", "2026-11-27"), ("why", "other"), ("reason", "")]);
        assert!(page.status == 422 && page.read().contains("Eligió otro motivo"), "{}", page.read());
        let spanish = [("first", "2026-11-27"), ("why", "building"), ("reason", "obras")];
        assert_eq!(assistant.post(&path, &spanish).status, 303);
        assert_eq!(closure.stored(studio, "El edificio está cerrado: obras"), 1);
    }
}
