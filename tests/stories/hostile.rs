//! The sweep of what can be typed: every door that acts, by each seat that may, with each field of its form in turn empty,
//! very long, full of control characters, or the id of nothing; and with things of another class. Whatever happens,
//! nothing breaks, and where it is refused nothing is stored. Forms are read off the pages, doors off their table.

use std::collections::BTreeMap;

use actix_web::http::Method;
use diesel::prelude::*;
use diesel::sql_types::Text;
use tympan::pages::doors::{Door, doors};
use tympan::pages::entry::{Seat, Who};
use tympan::store::AnyConnection;
use tympan::store::schema::{class, enrolment, person};
use tympan::store::write;

use crate::on_both;
use crate::stories::doors::{path, things};
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

const NOTHING: &str = "11111111-1111-7111-8111-111111111111";

/// A form as a page shows it: where it goes and what stands in its fields.
#[derive(Debug, Clone)]
struct Shown {
    action: String,
    fields: Vec<(String, String)>,
    /// The field of a form that takes a file.
    file: Option<String>,
}

fn attribute(tag: &str, name: &str) -> Option<String> {
    let (_, rest) = tag.split_once(&format!(" {name}=\""))?;
    let value = rest.split('"').next()?;
    Some(
        value
            .replace("&quot;", "\"")
            .replace("&#x27;", "'")
            .replace("&lt;", "<")
            .replace("&gt;", ">")
            .replace("&#x3D;", "=")
            .replace("&amp;", "&"),
    )
}

/// What somebody would type where nothing stands yet.
fn typed(tag: &str, kind: &str) -> String {
    let numeric = attribute(tag, "inputmode").is_some();
    match kind {
        "date" => "2026-10-22".into(),
        "datetime-local" => "2026-10-22T10:00".into(),
        "time" => "10:00".into(),
        "email" => "newcomer@college.example".into(),
        "hidden" | "password" | "file" => String::new(),
        _ if numeric || kind == "number" => "5".into(),
        _ => "a word".into(),
    }
}

/// The forms of a page that act.
fn forms(page: &Page) -> Vec<Shown> {
    let text = page.text();
    let mut found = Vec::new();
    for piece in text.split("<form ").skip(1) {
        let piece = piece.split("</form>").next().unwrap();
        let Some(head) = piece.split('>').next().map(|head| format!(" {head}")) else { continue };
        if attribute(&head, "method").as_deref() != Some("post") {
            continue;
        }
        let Some(action) = attribute(&head, "action") else { continue };
        let mut fields: Vec<(String, String)> = Vec::new();
        let mut file = None;
        for tag in piece.split('<').skip(1) {
            let (inside, after) = tag.split_once('>').unwrap_or((tag, ""));
            let Some(name) = attribute(inside, "name") else { continue };
            let kind = attribute(inside, "type").unwrap_or_default();
            let value = attribute(inside, "value").unwrap_or_default();
            if kind == "file" {
                file = Some(name.clone());
            }
            let value = match inside.split([' ', '\n']).next() {
                Some("input")
                    if matches!(kind.as_str(), "checkbox" | "radio") && !inside.contains(" checked") =>
                {
                    continue;
                }
                Some("input") if value.is_empty() => typed(inside, &kind),
                Some("textarea") if after.trim().is_empty() => "some words".into(),
                Some("textarea") => after.trim().to_owned(),
                Some("select") => {
                    let options: Vec<String> = piece
                        .split(&format!(" name=\"{name}\""))
                        .nth(1)
                        .unwrap_or_default()
                        .split("</select>")
                        .next()
                        .unwrap_or_default()
                        .split("<option")
                        .skip(1)
                        .map(|option| format!(" {option}"))
                        .collect();
                    let chosen = options.iter().find(|option| option.contains(" selected"));
                    let some = options
                        .iter()
                        .find(|option| attribute(option, "value").is_some_and(|value| !value.is_empty()));
                    chosen.or(some).and_then(|option| attribute(option, "value")).unwrap_or_default()
                }
                Some("button") if fields.iter().any(|(known, _)| *known == name) => continue,
                _ => value,
            };
            if name != "seal" && name != "once" {
                fields.push((name, value));
            }
        }
        found.push(Shown { action, fields, file });
    }
    found
}

/// Whether an address is one of a door's.
fn leads_to(door: &Door, address: &str) -> bool {
    let address = address.split('?').next().unwrap();
    let (pattern, pieces): (Vec<_>, Vec<_>) = (door.path.split('/').collect(), address.split('/').collect());
    pattern.len() == pieces.len()
        && pattern.iter().zip(pieces).all(|(part, piece)| part.starts_with('{') || *part == piece)
}

/// The door an address leads to: words before what stands for any word.
fn door_of(address: &str) -> Option<&'static Door> {
    doors()
        .filter(|door| door.method == Method::POST && leads_to(door, address))
        .min_by_key(|door| door.path.matches('{').count())
}

#[derive(QueryableByName)]
struct Line {
    #[diesel(sql_type = Text)]
    line: String,
}

/// One text with the number of rows of every table.
struct Counting(String);

impl Counting {
    fn of(db: &mut AnyConnection) -> Self {
        let names = match db {
            AnyConnection::Sqlite(_) => {
                "SELECT name AS line FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
            }
            AnyConnection::Postgres(_) => {
                "SELECT tablename AS line FROM pg_tables WHERE schemaname = current_schema()"
            }
        };
        let mut names: Vec<String> =
            diesel::sql_query(names).load::<Line>(db).unwrap().into_iter().map(|row| row.line).collect();
        names.sort();
        // A start that is refused is told, and so is a try to sign in.
        names.retain(|name| !matches!(name.as_str(), "refusal" | "session"));
        let counts: Vec<String> =
            names.iter().map(|name| format!("'{name} ' || (SELECT count(*) FROM \"{name}\")")).collect();
        let question = format!("SELECT {} AS line", counts.join(" || ', ' || "));
        // Making a plan for so many tables takes longer than counting their rows.
        if let AnyConnection::Postgres(_) = db {
            write::execute(db, &format!("PREPARE counted AS {question}")).unwrap();
            return Self("EXECUTE counted".to_owned());
        }
        Self(question)
    }

    fn now(&self, db: &mut AnyConnection) -> String {
        diesel::sql_query(&self.0).get_result::<Line>(db).unwrap().line
    }
}

/// Those who act, by what opens a door to them.
struct Cast<'s> {
    studio: &'s Studio,
    visitors: BTreeMap<&'static str, Visitor>,
}

const SEATS: [(Seat, &str); 5] = [
    (Seat::Student, STUDENT),
    (Seat::Assistant, ASSISTANT),
    (Seat::Instructor, INSTRUCTOR),
    (Seat::SafetyOfficer, SAFETY_OFFICER),
    (Seat::Records, RECORDS),
];

impl<'s> Cast<'s> {
    fn of(studio: &'s Studio) -> Self {
        let all = SEATS.iter().map(|(_, email)| *email).chain([KEEPER]);
        Self { studio, visitors: all.map(|email| (email, studio.signed_in(email))).collect() }
    }

    fn may(door: &Door) -> Vec<&'static str> {
        match door.who {
            Who::Anyone | Who::SignedIn => vec![STUDENT],
            Who::Keeper => vec![KEEPER],
            Who::Records => vec![RECORDS],
            // Its one door that acts takes entries of the table and no form; `etches::tablet` sends those.
            Who::Tablet => Vec::new(),
            Who::InClass(named) | Who::OwnPlate(named) => {
                SEATS.iter().filter(|(seat, _)| named.contains(seat)).map(|(_, email)| *email).collect()
            }
        }
    }

    /// Sends a form, signing in again first where an act before it ended the session.
    fn send(&mut self, email: &'static str, path: &str, fields: &[(&str, &str)], file: Option<&str>) -> Page {
        let once = |visitor: &Visitor| match file {
            Some(file) => {
                let bytes =
                    fields.iter().find(|(name, _)| *name == file).map_or("", |(_, value)| value).as_bytes();
                let others: Vec<(&str, &str)> =
                    fields.iter().copied().filter(|(name, _)| *name != file).collect();
                visitor.upload(path, &others, (file, "list.csv", bytes))
            }
            None => visitor.post(path, fields),
        };
        let page = once(&self.visitors[email]);
        let out =
            page.location().starts_with("/sign-in") || (page.status == 401 && path != "/account/confirm");
        if out && self.visitors[email].get("/account").status != 200 {
            // Wrong passwords were among what was typed; the pauses after them have a story of their own.
            let db = &mut self.studio.connection();
            diesel::update(person::table).set(person::failed_sign_ins.eq(0)).execute(db).unwrap();
            self.visitors.insert(email, self.studio.signed_in(email));
            return once(&self.visitors[email]);
        }
        page
    }

    /// The first form of each door that somebody is shown, with who is shown it.
    fn forms(&self, things: &Things) -> BTreeMap<(&'static str, &'static str), Shown> {
        let mut found = BTreeMap::new();
        for (email, visitor) in &self.visitors {
            for door in doors().filter(|door| door.method == Method::GET) {
                if !Self::may(door).contains(email) || door.path.starts_with("/language") {
                    continue;
                }
                let page = visitor.get(&path(door, self.studio, things).0);
                for form in forms(&page) {
                    let Some(to) = door_of(&form.action) else { continue };
                    if Self::may(to).contains(email) {
                        found.entry((to.path, *email)).or_insert(form);
                    }
                }
            }
        }
        found
    }
}

/// Doors after which others would find nothing come last.
fn last_things_last(door: &Door) -> usize {
    let ends = [
        "remove",
        "discard",
        "end",
        "withdraw",
        "take-back",
        "finished",
        "put-down",
        "state",
        "sign-out",
        "people",
    ];
    ends.iter().position(|end| door.path.ends_with(end)).map_or(0, |place| place + 1)
}

/// A second class in the studio of its own, with one of each thing.
fn elsewhere(studio: &Studio) -> (World, Things) {
    let db = &mut studio.connection();
    let world = World {
        class: studio.world.other_class,
        student: studio.world.keeper,
        other_student: studio.world.keeper,
        instructor: studio.world.stranger,
        studio: tympan::ids::Id::new(NOW),
        ..studio.world.clone()
    };
    {
        use tympan::store::schema::studio as room;
        diesel::insert_into(room::table)
            .values((
                (room::id.eq(world.studio), room::name.eq("Upper studio"), room::room_address.eq("Annex 3")),
                (room::eyewash.eq("by the door"), room::emergency_numbers.eq("911")),
                (room::created_at.eq(NOW), room::version.eq(1)),
            ))
            .execute(db)
            .unwrap();
    }
    diesel::update(class::table.find(world.class))
        .set(class::studio_id.eq(world.studio))
        .execute(db)
        .unwrap();
    diesel::insert_into(enrolment::table)
        .values((
            (enrolment::id.eq(tympan::ids::EnrolmentId::new(NOW)), enrolment::class_id.eq(world.class)),
            (
                enrolment::person_id.eq(world.student),
                enrolment::role.eq("student"),
                enrolment::state.eq("enrolled"),
            ),
            (enrolment::joined_at.eq(NOW), enrolment::version.eq(1)),
            enrolment::since.eq(chrono::NaiveDate::from_ymd_opt(2026, 8, 31).unwrap()),
        ))
        .execute(db)
        .unwrap();
    let theirs = Things::set(db, &world);
    (world, theirs)
}

/// Ids of the first class with those of the same things elsewhere.
fn pairs(studio: &Studio, own: &Things, world: &World, theirs: &Things) -> Vec<(String, String)> {
    macro_rules! pairs {
        ($($thing:ident)+) => { vec![$((own.$thing.to_string(), theirs.$thing.to_string())),+] };
    }
    let mut all = pairs!(project procedure procedure_version print plate step_run gum acid etch photo proof comment
        sign_off category assessment score letter asking);
    all.push((studio.world.student.to_string(), world.student.to_string()));
    all.push((studio.world.other_student.to_string(), world.student.to_string()));
    all
}

on_both! {
    fn nothing_that_is_typed_breaks_a_door(studio) {
        let things = things(studio);
        let mut cast = Cast::of(studio);
        let shown = cast.forms(&things);
        let db = &mut studio.connection();
        let counting = Counting::of(db);
        let long = "x ".repeat(50_000);
        let (mut tried, mut refused, mut wrong, mut bare) = (0, 0, Vec::new(), Vec::new());
        let mut all: Vec<&Door> = doors().filter(|door| door.method == Method::POST).collect();
        all.sort_by_key(|door| last_things_last(door));
        let mut before = counting.now(db);
        for door in all {
            let mut by: Vec<&'static str> =
                Cast::may(door).into_iter().filter(|email| shown.contains_key(&(door.path, *email))).collect();
            if by.is_empty() {
                by.extend(Cast::may(door).first());
            }
            for email in by {
                let form = shown.get(&(door.path, email)).cloned().unwrap_or_else(|| Shown {
                    action: path(door, studio, &things).0,
                    fields: ["title", "words", "reason", "version", "id", "person"].map(|name| (name.to_owned(), "a word".to_owned())).into(), file: None });
                for place in 0..form.fields.len().max(1) {
                    for value in ["", long.as_str(), "a\u{7}b\u{0}c", NOTHING] {
                        let mut fields: Vec<(&str, &str)> =
                            form.fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
                        if let Some(field) = fields.get_mut(place) { field.1 = value }
                        let page = cast.send(email, &form.action, &fields, form.file.as_deref());
                        let after = counting.now(db);
                        let start: String = value.chars().take(12).collect();
                        let at = format!("POST {} as {email}, {:?}={start:?}", door.path, fields.get(place).map(|one| one.0));
                        if page.status >= 500 {
                            wrong.push(format!("{at}: {}", page.status));
                        }
                        tried += 1;
                        if page.status >= 400 {
                            refused += 1;
                            if after != before {
                                wrong.push(format!("{at}: refused by {}, and yet stored: {before} / {after}", page.status));
                            }
                            let found = shown.contains_key(&(door.path, email));
                            if page.status == 422 && found && page.read().contains("That did not work") {
                                bare.push(at);
                            }
                        }
                        before = after;
                    }
                }
            }
        }
        assert!(tried > 1000 && refused > 500, "{tried} tried, {refused} refused");
        assert!(wrong.is_empty(), "{} of {tried} tried: {wrong:#?}", wrong.len());
        bare.sort();
        bare.dedup();
        assert!(bare.is_empty(), "refused for what was typed, on a page that has nothing of it: {bare:#?}");
        assert_eq!(tympan::store::journal::check(db).unwrap(), [], "the journal's chain holds");
    }

    fn things_of_another_class_are_not_there_under_ones_own(studio) {
        let own = things(studio);
        let (world, theirs) = elsewhere(studio);
        let pairs = pairs(studio, &own, &world, &theirs);
        let mut cast = Cast::of(studio);
        let shown = cast.forms(&own);
        let db = &mut studio.connection();
        let counting = Counting::of(db);
        let (mut by_path, mut by_field, mut wrong) = (0, 0, Vec::new());
        for door in doors() {
            let Some(named) = door.who.seats() else { continue };
            if !named.contains(&Seat::Instructor) {
                continue;
            }
            let (path, _) = path(door, studio, &own);
            let form = shown.get(&(door.path, INSTRUCTOR)).cloned();
            let address = form.as_ref().map_or(path, |form| form.action.clone());
            let (fields, file) = form.map(|form| (form.fields, form.file)).unwrap_or_default();
            for (mine, other) in &pairs {
                let at = format!("{} {} with {other} for {mine}", door.method, door.path);
                let as_typed: Vec<(&str, &str)> =
                    fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
                if address.contains(mine.as_str()) {
                    let foreign = address.replace(mine.as_str(), other);
                    let before = counting.now(db);
                    let page = match door.method == Method::GET {
                        true => cast.visitors[INSTRUCTOR].get(&foreign),
                        false => cast.send(INSTRUCTOR, &foreign, &as_typed, file.as_deref()),
                    };
                    // A form that no page shows now is refused for what is missing in it.
                    let blank = page.status == 422 && fields.is_empty() && door.method == Method::POST;
                    if (page.status != 404 && !blank) || counting.now(db) != before {
                        wrong.push(format!("{at}: {} {}", page.status, page.location()));
                    }
                    by_path += 1;
                } else if door.method == Method::POST && fields.iter().any(|(_, value)| value.contains(mine.as_str())) {
                    // What was seen of a row that nothing is changed of is not looked at.
                    let changed: Vec<(String, String)> =
                        fields.iter().map(|(name, value)| (name.clone(), value.replace(mine.as_str(), other))).collect();
                    if fields.iter().any(|(name, value)| name.starts_with("seen") && value.contains(mine.as_str())) {
                        continue;
                    }
                    let changed: Vec<(&str, &str)> =
                        changed.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
                    let before = counting.now(db);
                    let page = cast.send(INSTRUCTOR, &address, &changed, file.as_deref());
                    if !(400..500).contains(&page.status) || counting.now(db) != before {
                        wrong.push(format!("{at} in a field: {} {}", page.status, page.location()));
                    }
                    by_field += 1;
                }
            }
        }
        assert!(wrong.is_empty(), "{wrong:#?}");
        assert!(by_path > 40 && by_field > 3, "{by_path} by path, {by_field} by field");
    }
}

/// No route is hung beside the table: the one place where routes are made is fed by `doors()` alone.
#[test]
fn no_route_hangs_outside_the_table() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = vec![folder];
    let mut found = Vec::new();
    while let Some(at) = files.pop() {
        if at.is_dir() {
            files.extend(std::fs::read_dir(&at).unwrap().map(|entry| entry.unwrap().path()));
            continue;
        }
        let text = std::fs::read_to_string(&at).unwrap();
        let hangs = [
            "web::resource(",
            "web::route()",
            "web::scope(",
            ".route(",
            "web::get()",
            "web::post()",
            ".service(",
        ];
        for word in hangs {
            let count = text
                .lines()
                .filter(|line| !line.trim_start().starts_with("//") && line.contains(word))
                .count();
            if count > 0 {
                found.push((
                    at.strip_prefix(env!("CARGO_MANIFEST_DIR")).unwrap().display().to_string(),
                    word,
                    count,
                ));
            }
        }
    }
    found.sort();
    let known = [
        // The macro that makes the route of a door.
        ("src/pages/doors.rs".to_owned(), "web::route()", 1),
        // Hanging the doors, room by room, and what no door answers.
        ("src/pages/server.rs".to_owned(), ".route(", 2),
        ("src/pages/server.rs".to_owned(), ".service(", 2),
        ("src/pages/server.rs".to_owned(), "web::route()", 2),
        ("src/pages/server.rs".to_owned(), "web::scope(", 1),
    ];
    assert_eq!(found, known);
    let mut all: Vec<String> = doors().map(|door| format!("{} {}", door.method, door.path)).collect();
    let count = all.len();
    all.sort();
    all.dedup();
    assert_eq!(all.len(), count, "no door hangs twice");
}
