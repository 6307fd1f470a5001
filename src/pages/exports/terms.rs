//! What records staff take of a whole term: which classes there are, for how many a grade was submitted, and one package
//! of every table they may take.

use actix_web::web;
use serde::Serialize;
use serde_json::Value;

use crate::exchange::archive::writing::{self, Source};
use crate::exchange::tables::Table;
use crate::ids::{ClassId, TermId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::dates;
use crate::pages::entry::{Ask, Seat};
use crate::pages::exports::may_take;
use crate::pages::exports::purpose;
use crate::pages::exports::sending::{deliver, known_already, taking};
use crate::store::classes::making::{self, ClassLine};
use crate::store::classes::terms;
use crate::store::exports::disclosures;
use crate::store::exports::{Submissions, file_name, submissions};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

#[derive(Serialize)]
struct View {
    terms: Vec<TermView>,
    purpose: Value,
}

#[derive(Serialize)]
struct TermView {
    id: TermId,
    name: String,
    /// Where its package is.
    package: String,
    starts: String,
    ends: String,
    classes: Vec<ClassView>,
}

#[derive(Serialize)]
struct ClassView {
    id: ClassId,
    code: String,
    title: String,
    students: i64,
    submitted: i64,
    whole: bool,
}

/// The terms, the newest first.
pub async fn page(ask: Ask) -> Reply {
    ask.confirmed()?;
    let (terms, classes, known) =
        ask.house.db.read(|db| Ok((terms::terms(db)?, making::classes(db)?, submissions(db)?))).await?;
    let class = |line: &ClassLine| {
        let Submissions { students, submitted } = known.get(&line.id).copied().unwrap_or_default();
        ClassView {
            id: line.id,
            code: line.code.clone(),
            title: line.title.clone(),
            students,
            submitted,
            whole: submitted >= students && students > 0,
        }
    };
    let chosen = purpose::purpose(&ask);
    let view = View {
        purpose: purpose::form(&ask, &chosen),
        terms: terms
            .into_iter()
            .map(|term| TermView {
                id: term.id,
                package: purpose::carried(&format!("/records/{}.zip", term.id), &chosen),
                starts: dates::day_in_full(term.starts),
                ends: dates::day_in_full(term.ends),
                classes: classes.iter().filter(|line| line.term == term.id).map(class).collect(),
                name: term.name,
            })
            .collect(),
    };
    ask.show("exports/terms", "records-title", &view)
}

/// Sends every table of every class of a term that records staff may take, in one zip file with its digests.
pub async fn send(ask: Ask, term: web::Path<TermId>) -> Reply {
    if ask.confirmed().is_err() {
        return Ok(see_other("/account/confirm?next=/records"));
    }
    let (house, now, by, term) = (&ask.house, ask.now(), ask.person()?.id, term.into_inner());
    let (name, classes) = house
        .db
        .read(move |db| {
            let name = terms::term(db, term)?.name;
            let all = making::classes(db)?.into_iter().filter(|line| line.term == term);
            Ok((name, all.map(|line| line.id).collect::<Vec<ClassId>>()))
        })
        .await?;
    if classes.is_empty() {
        return Err(Trouble::NotFound);
    }
    let tables: Vec<Table> =
        Table::ALL.iter().copied().filter(|table| may_take(Seat::Records, *table)).collect();
    let (speech, shelf, papers, of) =
        (house.speech.clone(), house.darkroom.shelf(), house.papers(), classes.clone());
    let spooled = house
        .spool
        .fill(&house.db, move |db, nameless| {
            let source = Source { speech: &speech, shelf: &*shelf, papers: &papers };
            writing::write_tables(db, source, (&of, &tables), now, nameless.file()?)
        })
        .await?;
    if let Some(known) = known_already(&ask.request, &spooled) {
        return Ok(known);
    }
    let taking = taking(&ask, "term", &spooled);
    house
        .db
        .note(move |db| {
            for class in classes {
                disclosures::keep(db, now, Some(by), class, &taking)?;
            }
            Ok(())
        })
        .await?;
    Ok(deliver(
        spooled,
        &file_name(&format!("{name} {}.zip", now.utc().format("%Y-%m-%d"))),
        "application/zip",
    ))
}
