//! The school as its keeper sees it: terms with their classes and who teaches them, studios, and what to do first.

use std::collections::HashMap;

use serde::Serialize;

use crate::ids::{ClassId, StudioId, TermId};
use crate::pages::answer::Reply;
use crate::pages::classes::full_name;
use crate::pages::dates;
use crate::pages::entry::Ask;
use crate::store::classes::making::{self, Candidate, ClassLine};
use crate::store::classes::outside;
use crate::store::classes::terms::{self, Term};
use crate::store::studio::rooms::{self, Room};

#[derive(Serialize)]
struct View {
    terms: Vec<TermView>,
    studios: Vec<StudioView>,
    /// What an empty school needs next.
    first: Option<First>,
    may_start_again: bool,
    /// Whether another system gave anything here an id.
    outside_ids: bool,
}

#[derive(Serialize)]
struct First {
    lead: &'static str,
    button: &'static str,
    path: &'static str,
}

#[derive(Serialize)]
struct TermView {
    id: TermId,
    name: String,
    starts: String,
    ends: String,
    zone: String,
    classes: Vec<ClassView>,
}

#[derive(Serialize)]
struct ClassView {
    id: ClassId,
    code: String,
    title: String,
    studio: String,
    instructors: String,
}

#[derive(Serialize)]
struct StudioView {
    id: StudioId,
    name: String,
    room_address: String,
    eyewash: String,
}

/// The overview.
pub async fn overview(ask: Ask) -> Reply {
    let (terms, classes, teaching, rooms, outside) = ask
        .house
        .db
        .read(|db| {
            let (terms, classes) = (terms::terms(db)?, making::classes(db)?);
            Ok((terms, classes, making::instructors(db)?, rooms::rooms(db)?, outside::shared(db)?))
        })
        .await?;
    let first = first(rooms.is_empty(), terms.is_empty(), classes.is_empty());
    let may_start_again = !classes.is_empty();
    let view = View {
        terms: by_term(terms, classes, &teaching),
        studios: rooms.into_iter().map(studio_view).collect(),
        first,
        may_start_again,
        outside_ids: !outside.is_empty(),
    };
    ask.show("classes/school", "classes-school", &view)
}

fn first(no_studio: bool, no_term: bool, no_class: bool) -> Option<First> {
    let (lead, button, path) = match (no_studio, no_term, no_class) {
        (true, ..) => ("classes-first-studio", "classes-studio-add", "/school/studios"),
        (_, true, _) => ("classes-first-term", "classes-term-add", "/school/terms"),
        (_, _, true) => ("classes-first-class", "classes-class-add", "/school/classes"),
        _ => return None,
    };
    Some(First { lead, button, path })
}

fn by_term(terms: Vec<Term>, classes: Vec<ClassLine>, teaching: &[(ClassId, Candidate)]) -> Vec<TermView> {
    let mut of_term: HashMap<TermId, Vec<ClassView>> = HashMap::new();
    for class in classes {
        let names: Vec<String> = teaching
            .iter()
            .filter(|(id, _)| *id == class.id)
            .map(|(_, person)| full_name(&person.given_name, &person.family_name))
            .collect();
        of_term.entry(class.term).or_default().push(ClassView {
            id: class.id,
            code: class.code,
            title: class.title,
            studio: class.studio_name,
            instructors: names.join(", "),
        });
    }
    let view = |term: Term| TermView {
        starts: dates::day_in_full(term.starts),
        ends: dates::day_in_full(term.ends),
        classes: of_term.remove(&term.id).unwrap_or_default(),
        id: term.id,
        name: term.name,
        zone: term.zone,
    };
    terms.into_iter().map(view).collect()
}

fn studio_view(room: Room) -> StudioView {
    StudioView { id: room.id, name: room.name, room_address: room.room_address, eyewash: room.eyewash }
}
