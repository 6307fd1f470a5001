//! A small class whose names, titles and notes are what tables stumble over: accents, commas, quotation marks, line ends
//! and beginnings of formulas.

use diesel::prelude::*;
use tympan::ids::*;
use tympan::store::schema::*;

use crate::studio::things::Things;
use crate::studio::world::NOW;
use crate::studio::{Page, Studio, Visitor};

pub struct Scene {
    pub things: Things,
    names: Vec<(String, String)>,
}

/// So many milliseconds make an hour.
const HOUR: i64 = 3_600_000;

pub fn fixed(number: u32) -> String {
    format!("00000000-0000-7000-8000-{number:012}")
}

fn id<K>(number: u32) -> Id<K> {
    fixed(number).parse().unwrap()
}

impl Scene {
    pub fn set(studio: &Studio) -> Self {
        let db = &mut studio.connection();
        let world = &studio.world;
        let things = Things::set(db, world);
        let mut names: Vec<(String, String)> = Vec::new();
        for (id, name) in [
            (world.instructor.to_string(), "instructor"),
            (world.assistant.to_string(), "assistant"),
            (world.student.to_string(), "jose"),
            (world.other_student.to_string(), "otis"),
            (things.project.to_string(), "project"),
            (things.print.to_string(), "print"),
            (things.plate.to_string(), "plate"),
            (things.etch.to_string(), "etch"),
            (things.topic.to_string(), "topic"),
            (things.sign_off.to_string(), "sign-off"),
            (things.assessment.to_string(), "assessment"),
            (things.score.to_string(), "score"),
        ] {
            names.push((id, format!("<{name}>")));
        }
        let scene = Self { things, names };
        scene.people(db, studio);
        scene.work(db, studio);
        scene.etches(db, studio);
        scene.judgements(db, studio);
        scene
    }

    /// The text of a table with names for ids that differ from run to run, and its line ends made visible.
    pub fn legible(&self, bytes: &[u8]) -> String {
        let mut text = String::from_utf8(bytes.to_vec()).unwrap();
        for (id, name) in &self.names {
            text = text.replace(id, name);
        }
        // What the plain world numbered anew in every run, and no other table names.
        let text: Vec<String> = text.split("\r\n").map(redacted).collect();
        text.join("\\r\\n\n")
    }

    fn people(&self, db: &mut tympan::store::AnyConnection, studio: &Studio) {
        let world = &studio.world;
        for (person_id, given, family) in
            [(world.student, "José", "Łukasiewicz, Jr"), (world.other_student, "=Otis", "Wren \"the\" Elder")]
        {
            diesel::update(person::table.find(person_id))
                .set((person::given_name.eq(given), person::family_name.eq(family)))
                .execute(db)
                .unwrap();
        }
        diesel::insert_into(person::table)
            .values((
                (person::id.eq(id::<tympan::ids::Person>(1)), person::given_name.eq("")),
                (person::family_name.eq("-Minus"), person::student_number.eq("@77")),
                (person::keeper.eq(false), person::records.eq(false), person::safety_officer.eq(false)),
                (person::volume_unit.eq("ml"), person::daily_letter.eq(false)),
                (person::failed_sign_ins.eq(0), person::created_at.eq(NOW), person::version.eq(1)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(listing::table)
            .values((
                (listing::id.eq(id::<tympan::ids::Listing>(2)), listing::class_id.eq(world.class)),
                (listing::code.eq("LIT 420"), listing::section.eq("01"), listing::level.eq("advanced")),
                (listing::credits_hundredths.eq(150), listing::basis.eq("audit"), listing::version.eq(1)),
            ))
            .execute(db)
            .unwrap();
        diesel::update(enrolment::table.filter(enrolment::person_id.eq(world.other_student)))
            .set(enrolment::listing_id.eq(id::<tympan::ids::Listing>(2)))
            .execute(db)
            .unwrap();
        diesel::insert_into(enrolment::table)
            .values((
                (enrolment::id.eq(id::<tympan::ids::Enrolment>(3)), enrolment::class_id.eq(world.class)),
                (enrolment::person_id.eq(id::<tympan::ids::Person>(1)), enrolment::role.eq("student")),
                (enrolment::listing_id.eq(world.listing), enrolment::state.eq("withdrawn")),
                enrolment::since.eq(chrono::NaiveDate::from_ymd_opt(2026, 10, 2).unwrap()),
                (enrolment::joined_at.eq(NOW.plus_ms(-30 * 24 * HOUR)), enrolment::version.eq(4)),
            ))
            .execute(db)
            .unwrap();
    }

    /// The other student's print, due for them alone since a week and handed in two days late; its plate was begun again.
    fn work(&self, db: &mut tympan::store::AnyConnection, studio: &Studio) {
        let (world, things) = (&studio.world, &self.things);
        diesel::insert_into(own_due::table)
            .values((
                (own_due::id.eq(id::<tympan::ids::OwnDue>(4)), own_due::project_id.eq(things.project)),
                (own_due::person_id.eq(world.other_student), own_due::due_local.eq("2026-10-13T16:30")),
                (own_due::reason.eq("away"), own_due::by_id.eq(world.instructor), own_due::at.eq(NOW)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(print::table)
            .values((
                (print::id.eq(id::<tympan::ids::Print>(5)), print::class_id.eq(world.class)),
                (print::project_id.eq(things.project), print::person_id.eq(world.other_student)),
                (print::title.eq("+Harbour, \"late\""), print::edition_size.eq(6)),
                print::handed_in_at.eq(NOW.plus_ms(-5 * 24 * HOUR)),
                (print::created_at.eq(NOW.plus_ms(-40 * 24 * HOUR)), print::version.eq(2)),
            ))
            .execute(db)
            .unwrap();
        for (number, replaces, standing, note) in [
            (6, None, "scrapped", "burned"),
            (7, Some(id::<tympan::ids::Plate>(6)), "pulled", "two\r\nlines, \"quoted\""),
        ] {
            diesel::insert_into(plate::table)
                .values((
                    (plate::id.eq(id::<tympan::ids::Plate>(number)), plate::class_id.eq(world.class)),
                    (
                        plate::print_id.eq(id::<tympan::ids::Print>(5)),
                        plate::person_id.eq(world.other_student),
                    ),
                    plate::procedure_version_id.eq(things.procedure_version),
                    (plate::number.eq(i32::try_from(number).unwrap() - 4), plate::surface.eq("plate")),
                    plate::position.eq(i32::try_from(number).unwrap() - 5),
                    (plate::width_hundredths.eq(850), plate::height_hundredths.eq(1100)),
                    (plate::size_unit.eq("in"), plate::materials.eq("tusche"), plate::weight.eq("heavy")),
                    (plate::replaces_id.eq(replaces), plate::standing.eq(standing)),
                    (plate::standing_since.eq(NOW), plate::gummed_at.eq(NOW.plus_ms(-HOUR))),
                    (plate::rack_place.eq(""), plate::note.eq(note), plate::version.eq(1)),
                    plate::created_at.eq(NOW.plus_ms(-40 * 24 * HOUR)),
                ))
                .execute(db)
                .unwrap();
        }
    }

    /// To the plain world's etch a second application and how it came up; then one amended and measured, and a stock etch.
    fn etches(&self, db: &mut tympan::store::AnyConnection, studio: &Studio) {
        let (world, things) = (&studio.world, &self.things);
        application(db, things.etch, 2, 90);
        for (number, how, hours) in [(8, "thin", 20), (9, "even", 30)] {
            diesel::insert_into(came_up::table)
                .values((
                    (came_up::id.eq(id::<tympan::ids::CameUp>(number)), came_up::class_id.eq(world.class)),
                    (came_up::plate_id.eq(things.plate), came_up::etch_root.eq(things.etch)),
                    (
                        came_up::how.eq(how),
                        came_up::note.eq("=left corner"),
                        came_up::by_id.eq(world.student),
                    ),
                    came_up::at.eq(NOW.plus_ms(hours * HOUR)),
                ))
                .execute(db)
                .unwrap();
        }
        let run: StepRunId = id(10);
        diesel::insert_into(step_run::table)
            .values((
                (step_run::id.eq(run), step_run::class_id.eq(world.class)),
                step_run::plate_id.eq(id::<tympan::ids::Plate>(7)),
                (
                    step_run::step_key.eq("second-etch"),
                    step_run::began_at.eq(NOW),
                    step_run::ended_at.eq(NOW),
                ),
                (step_run::by_id.eq(world.other_student), step_run::received_at.eq(NOW)),
                (
                    step_run::known_how.eq("card"),
                    step_run::outside_rules.eq("order,sign_off"),
                    step_run::note.eq(""),
                ),
            ))
            .execute(db)
            .unwrap();
        let root: EtchId = id(11);
        for (number, corrects, superseded, drops, reason) in
            [(11, None, Some(NOW), 3, ""), (12, Some(root), None, 5, "Miscounted; -5 it was")]
        {
            diesel::insert_into(etch::table)
                .values((
                    (etch::id.eq(id::<tympan::ids::Etch>(number)), etch::class_id.eq(world.class)),
                    (etch::plate_id.eq(id::<tympan::ids::Plate>(7)), etch::step_run_id.eq(run)),
                    (etch::step_key.eq("second-etch"), etch::root.eq(root), etch::corrects.eq(corrects)),
                    (etch::superseded_at.eq(superseded), etch::reason.eq(reason)),
                    (etch::by_id.eq(world.other_student), etch::at.eq(NOW), etch::received_at.eq(NOW)),
                    (etch::known_how.eq("card"), etch::recipe.eq("acid_in_gum"), etch::gum_id.eq(things.gum)),
                    (
                        etch::gum_microlitres.eq(30_000),
                        etch::gum_unit.eq("ml"),
                        etch::acid_id.eq(things.acid),
                    ),
                    (etch::drops.eq(drops), etch::gum_baume_tenths.eq(140), etch::gum_ph_hundredths.eq(430)),
                    (
                        etch::gum_sour.eq(false),
                        etch::acid_weight_bp.eq(8500),
                        etch::acid_kind.eq("phosphoric"),
                    ),
                    (etch::drops_per_ml_hundredths.eq(2000), etch::drops_spread_hundredths.eq(100)),
                    (etch::measured_ph_hundredths.eq(290), etch::tool.eq("brush"), etch::helper.eq("Zoë")),
                    etch::seen.eq("@ the edges"),
                ))
                .execute(db)
                .unwrap();
        }
        diesel::insert_into(etch::table)
            .values((
                (etch::id.eq(id::<tympan::ids::Etch>(13)), etch::class_id.eq(world.class)),
                (etch::plate_id.eq(id::<tympan::ids::Plate>(7)), etch::step_run_id.eq(run)),
                (etch::step_key.eq("second-etch"), etch::root.eq(id::<tympan::ids::Etch>(13))),
                (etch::reason.eq(""), etch::by_id.eq(world.other_student), etch::at.eq(NOW.plus_ms(HOUR))),
                (
                    etch::received_at.eq(NOW.plus_ms(HOUR)),
                    etch::known_how.eq("told"),
                    etch::recipe.eq("stock"),
                ),
                (etch::gum_sour.eq(false), etch::tool.eq("sponge"), etch::helper.eq(""), etch::seen.eq("")),
            ))
            .execute(db)
            .unwrap();
        application(db, id(13), 1, 60);
    }

    /// A sign-off withdrawn with its reason; one score handed back, one still in hand.
    fn judgements(&self, db: &mut tympan::store::AnyConnection, studio: &Studio) {
        let (world, things) = (&studio.world, &self.things);
        diesel::insert_into(sign_off::table)
            .values((
                (
                    sign_off::id.eq(id::<tympan::ids::SignOff>(14)),
                    sign_off::person_id.eq(world.other_student),
                ),
                (sign_off::topic_id.eq(things.topic), sign_off::topic_version_id.eq(things.topic_version)),
                (sign_off::studio_id.eq(world.studio), sign_off::class_id.eq(world.class)),
                (sign_off::grade.eq("alone"), sign_off::given_by.eq(world.assistant)),
                (sign_off::given_at.eq(NOW.plus_ms(-10 * 24 * HOUR)), sign_off::note.eq("careful, slow")),
                sign_off::acknowledged_at.eq(NOW.plus_ms(-9 * 24 * HOUR)),
                sign_off::valid_until.eq(chrono::NaiveDate::from_ymd_opt(2026, 12, 18).unwrap()),
                (sign_off::withdrawn_at.eq(NOW), sign_off::withdrawn_by.eq(world.instructor)),
                sign_off::withdrawn_reason.eq("Left the bottle open"),
            ))
            .execute(db)
            .unwrap();
        diesel::update(score::table.find(things.score))
            .set(score::handed_back_at.eq(NOW.plus_ms(HOUR)))
            .execute(db)
            .unwrap();
        diesel::insert_into(score::table)
            .values((
                (score::id.eq(id::<tympan::ids::Score>(15)), score::class_id.eq(world.class)),
                (score::root.eq(id::<tympan::ids::Score>(15)), score::assessment_id.eq(things.assessment)),
                (score::person_id.eq(world.other_student), score::status.eq("graded")),
                (score::points_hundredths.eq(-50), score::words.eq("=A1 is no mark"), score::reason.eq("")),
                (score::by_id.eq(world.instructor), score::at.eq(NOW)),
            ))
            .execute(db)
            .unwrap();
    }
}

fn application(db: &mut tympan::store::AnyConnection, etch: EtchId, position: i32, seconds: i32) {
    diesel::insert_into(etch_application::table)
        .values((
            etch_application::etch_id.eq(etch),
            etch_application::position.eq(position),
            etch_application::seconds.eq(seconds),
        ))
        .execute(db)
        .unwrap();
}

/// Other ids of the plain world differ in every run.
fn redacted(line: &str) -> String {
    line.split_inclusive([',', '"'])
        .map(|cell| {
            let (text, end) =
                cell.strip_suffix([',', '"']).map_or((cell, ""), |text| (text, &cell[text.len()..]));
            let is_id = text.len() == 36 && text.parse::<PersonId>().is_ok();
            if is_id && !text.starts_with("00000000-") { format!("<id>{end}") } else { cell.to_owned() }
        })
        .collect()
}

/// A table as the records page sends it.
pub fn sent(visitor: &Visitor, studio: &Studio, table: &str) -> Page {
    visitor.get(&format!("{}/records/{table}.csv", studio.class_path()))
}
