//! The plain world of a test: one school in mid-term, one class, one person of each kind and a second student.

use std::sync::OnceLock;

use chrono::NaiveDate;
use diesel::prelude::*;
use tympan::clock::Instant;
use tympan::ids::{ClassId, EnrolmentId, Id, ListingId, OpeningId, PersonId, StudioId, TermId};
use tympan::store::AnyConnection;
use tympan::store::schema::*;

/// Tuesday 20 October 2026, 10:00 in New York.
pub const NOW: Instant = Instant::from_millis(1_792_504_800_000);
/// Everybody's password.
pub const PASSWORD: &str = "gum over the whole plate";

/// Who and what there is.
#[derive(Debug, Clone)]
pub struct World {
    pub keeper: PersonId,
    pub instructor: PersonId,
    pub assistant: PersonId,
    pub student: PersonId,
    pub other_student: PersonId,
    pub records: PersonId,
    pub safety_officer: PersonId,
    /// Instructor of another class.
    pub stranger: PersonId,
    pub term: TermId,
    pub studio: StudioId,
    pub class: ClassId,
    pub other_class: ClassId,
    pub listing: ListingId,
}

pub const KEEPER: &str = "keeper@college.example";
pub const INSTRUCTOR: &str = "instructor@college.example";
pub const ASSISTANT: &str = "assistant@college.example";
pub const STUDENT: &str = "student@college.example";
pub const OTHER_STUDENT: &str = "other@college.example";
pub const RECORDS: &str = "records@college.example";
pub const SAFETY_OFFICER: &str = "safety@college.example";
pub const STRANGER: &str = "stranger@college.example";

pub fn password_hash() -> &'static str {
    static HASH: OnceLock<String> = OnceLock::new();
    HASH.get_or_init(|| {
        let passwords = tympan::passwords::Passwords::new(true).unwrap();
        let runtime = tokio::runtime::Builder::new_current_thread().build().unwrap();
        runtime.block_on(passwords.hash(PASSWORD.to_owned())).unwrap()
    })
}

impl World {
    /// Ids of nobody, for an empty house.
    pub fn nobody() -> Self {
        Self {
            keeper: Id::new(NOW),
            instructor: Id::new(NOW),
            assistant: Id::new(NOW),
            student: Id::new(NOW),
            other_student: Id::new(NOW),
            records: Id::new(NOW),
            safety_officer: Id::new(NOW),
            stranger: Id::new(NOW),
            term: Id::new(NOW),
            studio: Id::new(NOW),
            class: Id::new(NOW),
            other_class: Id::new(NOW),
            listing: Id::new(NOW),
        }
    }

    /// Puts the plain world into a database.
    pub fn plain(db: &mut AnyConnection) -> Self {
        let world = Self::nobody();
        world.school(db);
        let people = [
            (world.keeper, "Kora", "Keel", KEEPER, true, false, false, None),
            (world.instructor, "Ines", "Ravel", INSTRUCTOR, false, false, false, None),
            (world.assistant, "Abel", "Stone", ASSISTANT, false, false, false, None),
            (world.student, "Sami", "Vale", STUDENT, false, false, false, Some("S1001")),
            (world.other_student, "Otis", "Wren", OTHER_STUDENT, false, false, false, Some("S1002")),
            (world.records, "Rhea", "Folio", RECORDS, false, true, false, None),
            (world.safety_officer, "Saul", "Marsh", SAFETY_OFFICER, false, false, true, None),
            (world.stranger, "Stan", "Far", STRANGER, false, false, false, None),
        ];
        for (id, given, family, email, keeper, records, safety, number) in people {
            diesel::insert_into(person::table)
                .values((
                    (person::id.eq(id), person::given_name.eq(given), person::family_name.eq(family)),
                    (person::email.eq(email), person::email_key.eq(email), person::student_number.eq(number)),
                    (person::password_hash.eq(password_hash()), person::activated_at.eq(NOW)),
                    (person::keeper.eq(keeper), person::records.eq(records)),
                    (person::safety_officer.eq(safety), person::volume_unit.eq("us_fl_oz")),
                    (person::daily_letter.eq(true), person::failed_sign_ins.eq(0)),
                    (person::created_at.eq(NOW), person::version.eq(1)),
                ))
                .execute(db)
                .unwrap();
        }
        world.classes(db);
        world
    }

    fn school(&self, db: &mut AnyConnection) {
        diesel::insert_into(school::table)
            .values((
                school::id.eq("school"),
                school::name.eq("Alder Hill College"),
                school::safety_office.eq("Safety office, ext. 4100"),
                school::second_factor.eq(false),
                school::demo.eq(false),
                school::created_at.eq(NOW),
                school::version.eq(1),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(studio::table)
            .values((
                studio::id.eq(self.studio),
                studio::name.eq("Lower print studio"),
                studio::room_address.eq("Alder Hill, room 012"),
                studio::eyewash.eq("left of the sink"),
                studio::emergency_numbers.eq("911"),
                studio::created_at.eq(NOW),
                studio::version.eq(1),
            ))
            .execute(db)
            .unwrap();
        for weekday in 1..=5 {
            diesel::insert_into(opening::table)
                .values((
                    opening::id.eq(OpeningId::new(NOW)),
                    opening::studio_id.eq(self.studio),
                    opening::weekday.eq(weekday),
                    opening::from_minute.eq(9 * 60),
                    opening::to_minute.eq(21 * 60),
                ))
                .execute(db)
                .unwrap();
        }
    }

    fn classes(&self, db: &mut AnyConnection) {
        diesel::insert_into(term::table)
            .values((
                term::id.eq(self.term),
                term::name.eq("Autumn 2026"),
                term::starts.eq(NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
                term::ends.eq(NaiveDate::from_ymd_opt(2026, 12, 18).unwrap()),
                term::zone.eq("America/New_York"),
                term::created_at.eq(NOW),
                term::version.eq(1),
            ))
            .execute(db)
            .unwrap();
        for (id, code, title) in
            [(self.class, "LIT-B", "Plate lithography B"), (self.other_class, "LIT-A", "Plate lithography A")]
        {
            diesel::insert_into(class::table)
                .values((
                    (class::id.eq(id), class::term_id.eq(self.term), class::studio_id.eq(self.studio)),
                    (class::code.eq(code), class::title.eq(title), class::go_ahead.eq(true)),
                    (class::shares_logs.eq(false), class::created_at.eq(NOW), class::version.eq(1)),
                ))
                .execute(db)
                .unwrap();
            diesel::insert_into(journal_head::table)
                .values((
                    journal_head::scope.eq(id.to_string()),
                    journal_head::seq.eq(0),
                    journal_head::hash.eq(""),
                ))
                .execute(db)
                .unwrap();
        }
        self.enrolments(db);
    }

    fn enrolments(&self, db: &mut AnyConnection) {
        diesel::insert_into(listing::table)
            .values((
                listing::id.eq(self.listing),
                listing::class_id.eq(self.class),
                listing::code.eq("LIT 220"),
                listing::section.eq("01"),
                listing::level.eq("undergraduate"),
                listing::credits_hundredths.eq(300),
                listing::basis.eq("letter"),
                listing::version.eq(1),
            ))
            .execute(db)
            .unwrap();
        for (class_id, person_id, role) in [
            (self.class, self.instructor, "instructor"),
            (self.class, self.assistant, "assistant"),
            (self.class, self.student, "student"),
            (self.class, self.other_student, "student"),
            (self.other_class, self.stranger, "instructor"),
        ] {
            diesel::insert_into(enrolment::table)
                .values((
                    (enrolment::id.eq(EnrolmentId::new(NOW)), enrolment::class_id.eq(class_id)),
                    (enrolment::person_id.eq(person_id), enrolment::role.eq(role)),
                    enrolment::listing_id.eq((role == "student").then_some(self.listing)),
                    (enrolment::state.eq("enrolled"), enrolment::joined_at.eq(NOW)),
                    enrolment::since.eq(NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
                    enrolment::version.eq(1),
                ))
                .execute(db)
                .unwrap();
        }
    }
}
