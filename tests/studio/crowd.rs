//! A crowd: many classes full of students with plates on their way, told to the database by a handful of statements that
//! both databases understand, so that a school of a hundred thousand plates stands in seconds.

use tympan::ids::PlateId;
use tympan::store::{AnyConnection, write};

use super::world::{NOW, World, password_hash};

/// How many: the first class is the world's own, the others are made.
#[derive(Debug, Clone, Copy)]
pub struct Crowd {
    pub classes: u32,
    /// In each class.
    pub students: u32,
    /// Of each student, each with a print of its own.
    pub plates: u32,
}

const DAY_MS: i64 = 86_400_000;
/// What sign-offs the procedure asks for.
const TOPICS: [&str; 4] = ["studio-basics", "acid-and-gum", "solvents", "press"];
/// The way of a plate as far as the crowd goes it, with minutes of work.
const WAY: [(&str, u32); 6] =
    [("prepare", 30), ("draw", 240), ("first-etch", 45), ("roll-up", 60), ("second-etch", 45), ("proof", 90)];

const PERSON: &str = "000000a1";
const CLASS: &str = "000000a2";
const PROJECT: &str = "000000a3";
const PRINT: &str = "000000a4";
const PLATE: &str = "000000a5";

impl Crowd {
    /// The plates of one class with so many students.
    pub const fn one_class(students: u32, plates: u32) -> Self {
        Self { classes: 1, students, plates }
    }

    /// The sign-in of a student.
    pub fn email(place: u32) -> String {
        format!("student{place}@college.example")
    }

    /// A plate by place, counted over all classes: a student's first has the student's place times `plates`.
    pub fn plate(place: u32) -> PlateId {
        at(PLATE, place).parse().unwrap()
    }

    pub fn people(self) -> u32 {
        self.classes * self.students
    }

    /// Tells it to the database, in one transaction.
    pub fn fill(self, db: &mut AnyConnection, world: &World) {
        write::execute(db, "BEGIN").unwrap();
        let statements = [
            self.rooms(world),
            self.people_of(world),
            self.work(world),
            self.records(world),
            self.proofs(world),
        ];
        for statement in statements.iter().flatten() {
            write::execute(db, statement).unwrap_or_else(|trouble| panic!("{trouble:?} in {statement}"));
        }
        write::execute(db, "COMMIT").unwrap();
        write::execute(db, "ANALYZE").unwrap();
    }

    fn rooms(self, world: &World) -> Vec<String> {
        let now = NOW.millis();
        let body = include_str!("../../seed/procedures/aluminium-plate.json").replace('\'', "''");
        let class = class_sql(world, "i");
        let mut all = vec![
            format!(
                "INSERT INTO procedure (id, class_id, name, surface, created_at) \
                 VALUES ({}, NULL, 'Ball-grained aluminium plate', 'plate', {now})",
                id("000000a6", "0")
            ),
            format!(
                "INSERT INTO procedure_version (id, procedure_id, number, body, by_id, created_at) \
                 VALUES ({}, {}, 1, '{body}', NULL, {now})",
                id("000000a7", "0"),
                id("000000a6", "0")
            ),
            format!(
                "INSERT INTO class (id, term_id, studio_id, code, title, go_ahead, shares_logs, created_at, version) \
                 {} SELECT {class}, '{}', '{}', 'LIT-' || CAST(i AS TEXT), 'Plate lithography', TRUE, FALSE, {now}, 1 \
                 FROM n WHERE i > 0",
                numbers(self.classes),
                world.term,
                world.studio
            ),
            format!(
                "INSERT INTO journal_head (scope, seq, hash) {} SELECT {class}, 0, '' FROM n WHERE i > 0",
                numbers(self.classes)
            ),
            format!(
                "INSERT INTO project (id, class_id, position, title, brief, due_local, edition_asked, procedure_id, \
                 created_at, version) {} SELECT {}, {class}, 1, 'A room at night', 'Tones from crayon and wash.', \
                 '2026-11-24T16:30', 8, {}, {now}, 1 FROM n",
                numbers(self.classes),
                id(PROJECT, "i"),
                id("000000a6", "0")
            ),
        ];
        for (place, key) in TOPICS.iter().enumerate() {
            let (topic, version) = (id("000000a8", &place.to_string()), id("000000a9", &place.to_string()));
            all.push(format!(
                "INSERT INTO topic (id, key, title, position, created_at) \
                 VALUES ({topic}, '{key}', '{key}', {place}, {now})"
            ));
            all.push(format!(
                "INSERT INTO topic_version (id, topic_id, number, introduction, created_at) \
                 VALUES ({version}, {topic}, 1, '', {now})"
            ));
        }
        all
    }

    fn people_of(self, world: &World) -> Vec<String> {
        let now = NOW.millis();
        let people = numbers(self.people());
        let class = class_sql(world, &format!("(i / {})", self.students));
        let (person, instructor, studio) = (id(PERSON, "i"), world.instructor, world.studio);
        let mut all = vec![
            format!(
                "INSERT INTO person (id, given_name, family_name, email, email_key, student_number, password_hash, \
                 activated_at, keeper, records, safety_officer, volume_unit, daily_letter, failed_sign_ins, \
                 created_at, version) {people} SELECT {person}, 'Robin', 'Alder-' || CAST(i AS TEXT), \
                 'student' || CAST(i AS TEXT) || '@college.example', \
                 'student' || CAST(i AS TEXT) || '@college.example', 'N' || CAST(i AS TEXT), '{}', {now}, FALSE, \
                 FALSE, FALSE, 'us_fl_oz', TRUE, 0, {now}, 1 FROM n",
                password_hash()
            ),
            format!(
                "INSERT INTO enrolment (id, class_id, person_id, role, state, since, joined_at, version) {people} \
                 SELECT {}, {class}, {person}, 'student', 'enrolled', '2026-08-31', {now}, 1 FROM n",
                id("000000b1", "i")
            ),
            format!(
                "INSERT INTO session (id, token_hash, person_id, agent, created_at, seen_at, idle_ms, ends_at, \
                 confirmed_at) {people} SELECT {}, 'digest of ' || CAST(i AS TEXT), {person}, 'a phone', {now}, \
                 {now}, {DAY_MS}, {}, {now} FROM n",
                id("000000b2", "i"),
                now + DAY_MS
            ),
            format!(
                "INSERT INTO letter (id, kind, person_id, class_id, detail, created_at, not_before, attempts, \
                 sent_at) {people} SELECT {}, 'daily', {person}, {class}, '{{}}', {now}, {now}, 1, {now} FROM n",
                id("000000b3", "i")
            ),
        ];
        for (place, _) in TOPICS.iter().enumerate() {
            all.push(format!(
                "INSERT INTO sign_off (id, person_id, topic_id, topic_version_id, studio_id, class_id, grade, \
                 given_by, given_at, acknowledged_at, note) {people} SELECT {}, {person}, {}, {}, '{studio}', \
                 {class}, 'watched', '{instructor}', {given}, {given}, '' FROM n WHERE i % 7 <> {}",
                id("000000b4", &format!("i * 4 + {place}")),
                id("000000a8", &place.to_string()),
                id("000000a9", &place.to_string()),
                place + 3,
                given = now - 30 * DAY_MS
            ));
        }
        all
    }

    fn work(self, world: &World) -> Vec<String> {
        let (now, begun) = (NOW.millis(), NOW.millis() - 30 * DAY_MS);
        let plates = numbers(self.people() * self.plates);
        let place = format!("(i / {})", self.plates * self.students);
        let class = class_sql(world, &place);
        let person = id(PERSON, &format!("i / {}", self.plates));
        let common = format!("{class}, {person}");
        vec![
            format!(
                "INSERT INTO print (id, class_id, person_id, project_id, title, created_at, version) {plates} \
                 SELECT {}, {common}, {}, 'Stair lamp, no. ' || CAST(i AS TEXT), {begun}, 1 FROM n",
                id(PRINT, "i"),
                id(PROJECT, &place)
            ),
            format!(
                "INSERT INTO plate (id, class_id, person_id, print_id, procedure_version_id, number, position, \
                 surface, width_hundredths, height_hundredths, size_unit, materials, weight, standing, \
                 standing_since, rack_place, note, created_at, version) {plates} SELECT {}, {common}, {}, {}, \
                 i % {} + 1, 1, 'plate', 2500, 3500, 'cm', 'crayon 3 and 5, tusche wash', 'medium', 'drawn', {now}, \
                 'B3', '', {begun}, 1 FROM n",
                id(PLATE, "i"),
                id(PRINT, "i"),
                id("000000a7", "0"),
                self.plates * self.students
            ),
        ]
    }

    fn records(self, world: &World) -> Vec<String> {
        let now = NOW.millis();
        let plates = numbers(self.people() * self.plates);
        let class = class_sql(world, &format!("(i / {})", self.plates * self.students));
        let person = id(PERSON, &format!("i / {}", self.plates));
        let way: Vec<String> = WAY
            .iter()
            .enumerate()
            .map(|(k, (key, minutes))| {
                // The second etch belongs to the day of the roll-up.
                let (back, later) = if *key == "second-etch" { (k - 1, 3 * 3_600_000) } else { (k, 0) };
                format!(
                    "SELECT {k} AS k, {back} AS back, {later} AS later, '{key}' AS step, {minutes} AS minutes"
                )
            })
            .collect();
        let ended = format!("{now} - (2 * (i % 7 - back) + 1) * {DAY_MS} + later");
        vec![
            format!(
                "INSERT INTO step_run (id, class_id, plate_id, step_key, began_at, ended_at, by_id, received_at, \
                 known_how, outside_rules, note) {plates} SELECT {}, {class}, {}, step, {ended} - minutes * 60000, \
                 {ended}, {person}, {ended}, 'told', '', '' FROM n JOIN ({}) AS way ON k < i % 7",
                id("000000b5", "i * 6 + k"),
                id(PLATE, "i"),
                way.join(" UNION ALL ")
            ),
            format!(
                "INSERT INTO put_down (id, class_id, plate_id, by_id, at, gummed, buffed, talc, rack_place) {plates} \
                 SELECT {}, {class}, {}, {person}, {}, TRUE, TRUE, FALSE, 'B3' FROM n WHERE i % 7 > 0",
                id("000000b6", "i"),
                id(PLATE, "i"),
                now - 2 * DAY_MS
            ),
            format!(
                "INSERT INTO refusal (id, class_id, plate_id, person_id, step_key, rules, at) {plates} \
                 SELECT {}, {class}, {}, {person}, 'proof', 'order', {} FROM n WHERE i % 7 > 0",
                id("000000ba", "i"),
                id(PLATE, "i"),
                now - 9 * DAY_MS
            ),
            format!(
                "INSERT INTO allowance (id, class_id, plate_id, step_key, reason, given_by, given_at, used_at) \
                 {plates} SELECT {}, {class}, {}, 'draw', 'Seen together', '{}', {now} - 20 * {DAY_MS}, \
                 {now} - 19 * {DAY_MS} FROM n WHERE i % 7 > 0",
                id("000000bb", "i"),
                id(PLATE, "i"),
                world.instructor
            ),
        ]
    }

    /// A proof of each plate that came so far, with its photo's row and a comment. The shelf stays empty.
    fn proofs(self, world: &World) -> Vec<String> {
        let now = NOW.millis();
        let plates = numbers(self.people() * self.plates);
        let class = class_sql(world, &format!("(i / {})", self.plates * self.students));
        let person = id(PERSON, &format!("i / {}", self.plates));
        let (plate, photo, proof) = (id(PLATE, "i"), id("000000b7", "i"), id("000000b8", "i"));
        vec![
            format!(
                "INSERT INTO photo (id, class_id, plate_id, sha256, width, height, bytes, by_id, at) {plates} \
                 SELECT {photo}, {class}, {plate}, 'digest of ' || CAST(i AS TEXT), 3000, 4000, 2000000, {person}, \
                 {now} FROM n WHERE i % 7 = 6"
            ),
            format!(
                "INSERT INTO proof (id, class_id, plate_id, photo_id, kind, pulled_at, note, by_id, at) {plates} \
                 SELECT {proof}, {class}, {plate}, {photo}, 'trial', {now}, '', {person}, {now} \
                 FROM n WHERE i % 7 = 6"
            ),
            format!(
                "INSERT INTO comment (id, class_id, plate_id, proof_id, words, by_id, at) {plates} \
                 SELECT {}, {class}, {plate}, {proof}, 'The lamp holds.', '{}', {now} FROM n WHERE i % 7 = 6",
                id("000000b9", "i"),
                world.instructor
            ),
        ]
    }
}

/// `i` from nought, so many of them.
fn numbers(many: u32) -> String {
    format!("WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i + 1 < {many})")
}

/// The id of the thing at a place that SQL works out.
fn id(kind: &str, place: &str) -> String {
    format!("('{kind}-0000-7000-8000-' || CAST(100000000000 + ({place}) AS TEXT))")
}

/// The same id, worked out here.
fn at(kind: &str, place: u32) -> String {
    format!("{kind}-0000-7000-8000-{}", 100_000_000_000_u64 + u64::from(place))
}

fn class_sql(world: &World, place: &str) -> String {
    format!("(CASE WHEN {place} = 0 THEN '{}' ELSE {} END)", world.class, id(CLASS, place))
}
