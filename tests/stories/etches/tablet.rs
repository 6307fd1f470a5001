//! The tablet that stands in a studio: staff make it, one address opens it once, and it takes what happens to the plate
//! whose number is typed. It is nobody at every other door.

use diesel::prelude::*;
use tympan::pages::doors::doors;
use tympan::pages::entry::Who;
use tympan::store::schema::{print, step_run, tablet};

use super::{Told, logs, plate, scene, under_way};
use crate::on_both;
use crate::stories::rows;
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Studio, Visitor};

const RUN: &str = "0199b6a0-0000-7000-8000-0000000000aa";
const MINUTE: i64 = 60_000;

fn staff_page(studio: &Studio) -> String {
    format!("{}/studio/tablets", studio.class_path())
}

/// Makes a tablet, and gives its address.
fn made(studio: &Studio) -> String {
    let staff = studio.signed_in(ASSISTANT);
    let page = staff.post(&staff_page(studio), &[("name", "tablet at the etching table")]);
    assert!(page.location().ends_with("done-tablet-made"), "{} {}", page.location(), page.read());
    let text = staff.get(&staff_page(studio)).text();
    let from = text.find("/tablet/open/").unwrap();
    text[from..].chars().take_while(|c| *c != '<').collect()
}

/// A device that has opened the address.
fn stands(studio: &Studio, address: &str) -> Visitor {
    let device = studio.visitor();
    assert_eq!(device.get(address).status, 200, "looking at the address uses nothing up");
    let page = device.post(address, &[]);
    assert_eq!((page.status, page.location()), (303, "/tablet"), "{}", page.read());
    device
}

fn on_tablet(things: &Things) -> String {
    format!("/tablet/plates/{}", things.plate)
}

/// A first etch of ten minutes, told on the tablet.
fn told(studio: &Studio, things: &Things, device: &Visitor) {
    let at = |minutes: i64| (studio.now().millis() - minutes * MINUTE).to_string();
    let (began, ended, person) = (at(20), at(10), studio.world.student.to_string());
    let told = Told { run: RUN.to_owned(), gum: things.gum.to_string(), acid: things.acid.to_string() };
    let mut fields = vec![
        ("person", person.as_str()),
        ("says", "done"),
        ("run", RUN),
        ("step", "first-etch"),
        ("began_ms", &began),
        ("ended_ms", &ended),
        ("planned", "120,90,150"),
    ];
    fields.extend(told.mixture());
    fields.extend([("gummed", "yes"), ("buffed", "yes"), ("rack_place", "B4")]);
    let hello: serde_json::Value = serde_json::from_str(&device.get("/tablet/hello").text()).unwrap();
    fields.extend([("seal", hello["seal"].as_str().unwrap()), ("once", "entry-tablet-00000000001")]);
    let page = device.post_bare(&format!("{}?offset=0", on_tablet(things)), &fields);
    assert!(page.location().contains("done-table-kept"), "{} {}", page.location(), page.read());
}

on_both! {
    fn staff_make_a_tablet_its_address_opens_once_and_it_finds_a_plate_by_number(studio) {
        let things = scene(studio);
        let student = studio.signed_in(STUDENT);
        let run = under_way(studio, &things, &student);
        diesel::delete(step_run::table.find(run)).execute(&mut studio.connection()).unwrap();
        let address = made(studio);
        let device = stands(studio, &address);
        assert_eq!(studio.visitor().post(&address, &[]).status, 409, "opened once");
        assert!(!studio.signed_in(ASSISTANT).get(&staff_page(studio)).has("/tablet/open/"), "shown no more");
        assert!(device.get("/tablet").read().contains("Number of the plate"));
        assert_eq!(device.get("/tablet?number=1").location(), on_tablet(&things));
        assert!(device.get("/tablet?number=77").read().contains("77"));
        assert!(device.get("/tablet?number=one").read().contains("one"));
        let page = device.get(&on_tablet(&things));
        assert_eq!(page.status, 200, "{}", page.read());
        for name in ["Ivo", STUDENT, "grades", "/photos/"] {
            assert!(!page.text().contains(name), "{name}: {}", page.text());
        }
        told(studio, &things, &device);
        assert_eq!(logs(studio).len(), 1);
        let seen = studio.signed_in(INSTRUCTOR).get(&plate(studio, &things)).read();
        assert!(seen.contains("on the studio’s tablet"), "{seen}");
        assert_eq!(rows(studio, "step_run WHERE on_tablet"), 1);
        diesel::update(step_run::table).set(step_run::step_key.eq("scrap")).execute(&mut studio.connection()).unwrap();
        let sent = device.get(&on_tablet(&things));
        assert_eq!((sent.status, sent.location()), (303, "/tablet?idle=yes"), "{}", sent.read());
        assert!(device.get(sent.location()).read().contains("There is nothing to do at the table for this plate now."));
    }

    fn a_tablet_is_nobody_at_every_other_door_and_opens_nothing_once_withdrawn(studio) {
        let things = scene(studio);
        let device = stands(studio, &made(studio));
        for door in doors().filter(|door| !matches!(door.who, Who::Anyone | Who::Tablet)) {
            let path = door.path.replace("{class}", studio.world.class.as_str()).replace("{plate}", things.plate.as_str());
            let page = match door.method == actix_web::http::Method::GET {
                true => device.get(&path),
                false => device.post(&path, &[]),
            };
            let refused = matches!(page.status, 401 | 403 | 404) || page.location().starts_with("/sign-in");
            assert!(refused, "{} {}: the tablet got {}", door.method, door.path, page.status);
        }
        // A plate of another studio, one handed in, one of an archived term: none is there.
        let db = &mut studio.connection();
        diesel::update(print::table.find(things.print)).set(print::handed_in_at.eq(studio.now().millis())).execute(db).unwrap();
        assert_eq!(device.get(&on_tablet(&things)).status, 404);
        diesel::update(print::table.find(things.print)).set(print::handed_in_at.eq(None::<i64>)).execute(db).unwrap();
        assert_ne!(device.get(&on_tablet(&things)).status, 404);
        let id: String = tablet::table.select(tablet::id).first(db).unwrap();
        let withdraw = format!("{}/{id}/withdraw", staff_page(studio));
        assert_eq!(studio.signed_in(STUDENT).post(&withdraw, &[]).status, 403);
        let page = studio.signed_in(INSTRUCTOR).post(&withdraw, &[]);
        assert!(page.location().ends_with("done-tablet-withdrawn"), "{} {}", page.location(), page.read());
        for path in ["/tablet", "/tablet/hello", on_tablet(&things).as_str()] {
            assert_eq!(device.get(path).status, 404, "{path}");
        }
    }

    fn an_address_that_was_not_opened_in_time_opens_nothing(studio) {
        let address = made(studio);
        studio.later_ms(61 * MINUTE);
        let page = studio.visitor().post(&address, &[]);
        assert_eq!(page.status, 409);
        assert!(page.read().contains("its time is over"), "{}", page.read());
    }
}
