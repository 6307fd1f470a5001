//! Who is in a class: the people page, one person added by hand, one person's seat, and class lists.

pub mod ids;
pub mod import;
pub mod list;
pub mod person;
mod preview;
pub mod told;

use serde::Serialize;
use serde_json::json;

use crate::exchange::roster::{self as exchange, Details, Listing, Roster, Row};
use crate::ids::{ListingId, PersonId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::people::links::read_maybe_email;
use crate::pages::roster::import::{Looked, Orders};
use crate::store::Scope;
use crate::store::people::members::{self, Member};
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// The catalogue key of a role's name.
#[must_use]
pub fn role_key(role: Role) -> &'static str {
    match role {
        Role::Student => "roster-role-student",
        Role::Assistant => "roster-role-assistant",
        Role::Instructor => "roster-role-instructor",
    }
}

/// The catalogue key of a state's name.
#[must_use]
pub fn state_key(state: EnrolmentState) -> &'static str {
    match state {
        EnrolmentState::Enrolled => "roster-state-enrolled",
        EnrolmentState::Dropped => "roster-state-dropped",
        EnrolmentState::Withdrawn => "roster-state-withdrawn",
        EnrolmentState::Incomplete => "roster-state-incomplete",
    }
}

/// Given and family name; people who go by one name have one.
#[must_use]
pub fn whole_name(given: &str, family: &str) -> String {
    format!("{given} {family}").trim().to_owned()
}

#[derive(Debug, Serialize)]
struct Line {
    id: PersonId,
    name: String,
    email: Option<String>,
    number: Option<String>,
    role: &'static str,
    state: &'static str,
    since: String,
    listing: Option<String>,
    active: bool,
}

fn line(member: Member) -> Line {
    Line {
        id: member.person,
        name: whole_name(&member.given_name, &member.family_name),
        email: member.email,
        number: member.student_number,
        role: role_key(member.role.0),
        state: state_key(member.state.0),
        since: dates::day_with_year(member.since),
        listing: member.listing,
        active: member.active,
    }
}

/// A choice of a form.
#[derive(Debug, Serialize)]
struct Choice {
    value: String,
    label: String,
}

fn listing_choices(listings: &[Listing<ListingId>]) -> Vec<Choice> {
    listings.iter().map(|one| Choice { value: one.id.to_string(), label: one.label() }).collect()
}

fn role_choices(here: &InClass) -> Vec<Choice> {
    let choice =
        |role: Role| Choice { value: role.word().to_owned(), label: here.house.speech.plain(role_key(role)) };
    vec![choice(Role::Student), choice(Role::Assistant)]
}

/// The people of the class.
pub async fn page(here: InClass) -> Reply {
    people_page(&here, Form::new("roster-add").with("role", Role::Student.word()), false).await
}

async fn people_page(here: &InClass, form: Form, again: bool) -> Reply {
    let class = here.class();
    let (all, listings) = here
        .house
        .db
        .read(move |db| Ok((members::everybody(db, class)?, import::listings(db, class)?)))
        .await?;
    let in_force =
        |member: &Member| matches!(member.state.0, EnrolmentState::Enrolled | EnrolmentState::Incomplete);
    let (here_now, gone): (Vec<Member>, Vec<Member>) = all.into_iter().partition(in_force);
    let students = here_now.iter().any(|member| member.role.0 == Role::Student);
    let rows = |members: Vec<Member>| members.into_iter().map(line).collect::<Vec<_>>();
    let view = json!({
        "form": form, "class_path": here.path(""), "may_change": here.is_instructor(),
        "students": students, "people": rows(here_now), "gone": rows(gone),
        "listings": listing_choices(&listings), "roles": role_choices(here),
    });
    if again {
        here.show_again("roster/people", "roster-people", &view)
    } else {
        here.show("roster/people", "roster-people", &view)
    }
}

/// Adds one person by hand, by the rules of a list.
pub async fn add(here: InClass, filled: Filled) -> Reply {
    match try_add(&here, &filled).await {
        Err(trouble) => {
            let form = Form::after("roster-add", &filled, trouble, &here.house.speech)?;
            people_page(&here, form, true).await
        }
        fine => fine,
    }
}

async fn try_add(here: &InClass, filled: &Filled) -> Reply {
    let row = read_row(filled)?;
    let (class, key) = (here.class(), filled.once_key()?);
    let orders = Orders {
        reason: here.house.speech.plain("roster-reason-hand"),
        ..here.orders(Vec::new(), Sheet::new(filled).tick("invite"))
    };
    let next = here.path("/people?done=done-roster-added");
    let location = here
        .house
        .db
        .write(Scope::Class(class), Some(here.person.id), here.now(), move |tx| {
            tx.once(&key, |tx| {
                let listings = import::listings(tx.connection, class)?;
                let roster = Roster {
                    rows: vec![row.clone()],
                    bad: Vec::new(),
                    notes: Vec::new(),
                    ignored: Vec::new(),
                };
                let looked = import::look_at(tx.connection, class, roster, listings)?;
                only_added(&looked)?;
                import::carry_out(tx, class, &looked, &orders)?;
                Ok(next.clone())
            })
        })
        .await?;
    Ok(see_other(location))
}

fn read_row(filled: &Filled) -> Result<Row<ListingId>, Trouble> {
    let mut sheet = Sheet::new(filled);
    let details = Details {
        given_name: sheet.maybe_text("given_name", 100).unwrap_or_default(),
        family_name: sheet.maybe_text("family_name", 100).unwrap_or_default(),
        email: read_maybe_email(&mut sheet, "email"),
        student_number: sheet.maybe_text("student_number", 64),
        external_id: None,
    };
    if details.given_name.is_empty() && details.family_name.is_empty() {
        sheet.complain("given_name", Remark::new("form-empty"));
    }
    let listing = sheet.maybe_id("listing");
    let role = match sheet.choice("role", Role::Student) {
        Role::Student => exchange::Role::Student,
        Role::Assistant => exchange::Role::Assistant,
        Role::Instructor => {
            sheet.complain("role", Remark::new("form-no-choice").with("value", "instructor"));
            exchange::Role::Student
        }
    };
    sheet.done()?;
    Ok(Row { line: 1, details, listing, role: Some(role) })
}

/// By hand somebody may be added, and nobody changed who is there already.
fn only_added(looked: &Looked) -> Result<(), Trouble> {
    let told = looked.roster.rows.first().and_then(|row| row.listing);
    if told.is_some_and(|told| looked.listings.iter().all(|listing| listing.id != told)) {
        return Err(Trouble::about("listing", Remark::new("form-no-choice").with("value", "?")));
    }
    let complaint = looked.plan.bad.first().and_then(|row| row.complaints.first());
    if let Some(complaint) = complaint {
        return Err(match complaint.remark.key {
            "roster-listing-untold" => Trouble::about("listing", Remark::new("form-empty")),
            "roster-keys-disagree" => Trouble::about("email", Remark::new("roster-add-keys-disagree")),
            _ => Trouble::about("given_name", Remark::new("roster-add-namesake")),
        });
    }
    match looked.plan.known.first() {
        Some(known) if known.joins.is_none() && known.by.is_none() => {
            Err(Trouble::about("given_name", Remark::new("roster-add-namesake")))
        }
        Some(known) if known.joins.is_none() => Err(Trouble::about("", Remark::new("roster-add-there"))),
        _ => Ok(()),
    }
}
