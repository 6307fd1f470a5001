//! One person of the class: the seat and what became of it, an invitation, a slip. Nobody is ever deleted.

use actix_web::web;
use serde_json::json;

use crate::exchange::roster::Listing;
use crate::ids::{ClassId, ListingId, PersonId};
use crate::pages::answer::{Reply, see_other};
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::people::account::slip_page;
use crate::pages::reasons;
use crate::pages::roster::Choice;
use crate::pages::roster::{import, listing_choices, role_choices, role_key, state_key, whole_name};
use crate::store::people::roster::{self as record, Known, Seat, SeatChange};
use crate::store::people::seats::NewSeat;
use crate::store::people::sessions::{EnrolmentState, Role};
use crate::store::{Scope, Tx};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

/// What the page about one person needs.
struct About {
    known: Known,
    seat: Seat,
    changes: Vec<SeatChange>,
    listings: Vec<Listing<ListingId>>,
}

async fn about(here: &InClass, id: PersonId) -> Result<About, Trouble> {
    let class = here.class();
    here.house
        .db
        .read(move |db| {
            let known = record::member(db, class, id)?;
            let seat = known.seat.ok_or(Trouble::NotFound)?;
            let changes = record::seat_changes(db, seat.enrolment)?;
            Ok(About { known, seat, changes, listings: import::listings(db, class)? })
        })
        .await
}

/// The forms of the page: the seat's and the state's.
struct Forms {
    seat: Form,
    state: Form,
    /// The one that came back, for the summary at the head.
    refused: Option<Form>,
}

impl Forms {
    fn of(about: &About, today: chrono::NaiveDate) -> Self {
        let version = about.seat.version.to_string();
        Self {
            seat: Form::new("roster-seat")
                .with("role", about.seat.role.word())
                .with_maybe("listing", about.seat.listing.map(|id| id.to_string()))
                .with("version", version.as_str()),
            state: Form::new("roster-state")
                .with("state", about.seat.state.word())
                .with("since", today.format("%Y-%m-%d").to_string())
                .with("version", version.as_str()),
            refused: None,
        }
    }
}

/// The page about one person.
pub async fn page(here: InClass, path: web::Path<(ClassId, PersonId)>) -> Reply {
    let about = about(&here, path.into_inner().1).await?;
    let forms = Forms::of(&about, today(&here));
    person_page(&here, about, forms)
}

fn today(here: &InClass) -> chrono::NaiveDate {
    here.now().local_date(here.membership.zone)
}

fn person_page(here: &InClass, about: About, forms: Forms) -> Reply {
    let About { known, seat, changes, listings } = about;
    let name = whole_name(&known.given_name, &known.family_name);
    let listing = listings.iter().find(|one| Some(one.id) == seat.listing).map(Listing::label);
    let changes: Vec<_> = changes
        .iter()
        .map(|change| {
            json!({
                "listing": change.listing, "role": role_key(change.role), "state": state_key(change.state),
                "since": dates::day_with_year(change.since), "reason": change.reason, "by": change.by,
                "at": dates::moment(change.at, here.membership.zone),
            })
        })
        .collect();
    let in_force = matches!(seat.state, EnrolmentState::Enrolled | EnrolmentState::Incomplete);
    let view = json!({
        "class_path": here.path(""), "id": known.id, "name": name, "email": known.email,
        "number": known.student_number, "active": known.active, "listing": listing,
        "role": role_key(seat.role), "state": state_key(seat.state), "since": dates::day_with_year(seat.since),
        "changes": changes, "seat_form": forms.seat, "state_form": forms.state,
        "may_invite": here.is_instructor() && !known.active && in_force,
        "may_print": may_print(&known).is_ok(),
        "may_change": here.is_instructor() && seat.role != Role::Instructor,
        "listings": listing_choices(&listings), "roles": role_choices(here), "states": state_choices(here),
        "form": forms.refused,
    });
    if forms.refused.is_some() {
        here.show_again("roster/person", &name, &view)
    } else {
        here.show("roster/person", &name, &view)
    }
}

/// An incomplete is agreed on with its grade, not here.
fn state_choices(here: &InClass) -> Vec<Choice> {
    [EnrolmentState::Enrolled, EnrolmentState::Dropped, EnrolmentState::Withdrawn]
        .map(|state| Choice {
            value: state.word().to_owned(),
            label: here.house.speech.plain(state_key(state)),
        })
        .into()
}

/// A slip opens the account for whoever holds it. It is for the class to print only where the account opens nothing but
/// a seat in this class; else a keeper prints it.
fn may_print(known: &Known) -> Result<(), Trouble> {
    if known.active {
        return Err(Trouble::Refused(Remark::new("roster-slip-open")));
    }
    let teaches = known.seat.is_some_and(|seat| seat.role == Role::Instructor);
    if known.has_right || known.in_another_class || teaches {
        return Err(Trouble::Refused(Remark::new("roster-slip-keeper")));
    }
    Ok(())
}

/// A printable slip with the link of the open invitation.
pub async fn slip(here: InClass, path: web::Path<(ClassId, PersonId)>) -> Reply {
    let (class, id) = (here.class(), path.into_inner().1);
    let known = here.house.db.read(move |db| record::member(db, class, id)).await?;
    may_print(&known)?;
    slip_page(&here.ask, id).await
}

/// Invites, or invites again: the link before stops working.
pub async fn invite(here: InClass, path: web::Path<(ClassId, PersonId)>, filled: Filled) -> Reply {
    let (class, id, key) = (here.class(), path.into_inner().1, here.house.key.clone());
    act(&here, id, &filled, "done-roster-invited", move |tx| {
        let known = record::member(tx.connection, class, id)?;
        if known.active {
            return Err(Trouble::Refused(Remark::new("roster-slip-open")));
        }
        tx.invite(&key, id, Some(class)).map(|_| ())
    })
    .await
}

/// Changes role and listing.
pub async fn seat(here: InClass, path: web::Path<(ClassId, PersonId)>, filled: Filled) -> Reply {
    let id = path.into_inner().1;
    let outcome = try_seat(&here, id, &filled).await;
    again(&here, id, outcome, &filled, "roster-seat").await
}

async fn try_seat(here: &InClass, id: PersonId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let version = sheet.whole("version", 1..=i64::MAX);
    let role = sheet.choice("role", Role::Student);
    let listing: Option<ListingId> = sheet.maybe_id("listing");
    let reason = sheet.maybe_text("reason", 200);
    if role == Role::Instructor {
        sheet.complain("role", Remark::new("form-no-choice").with("value", "instructor"));
    }
    sheet.done()?;
    let reason = reason.unwrap_or_else(|| here.house.speech.plain("roster-reason-hand"));
    let (class, today) = (here.class(), today(here));
    act(here, id, filled, "done-roster-kept", move |tx| {
        let old = old_seat(tx, class, id, version)?;
        let listings = import::listings(tx.connection, class)?;
        match listing {
            Some(told) if listings.iter().all(|listing| listing.id != told) => {
                return Err(Trouble::about(
                    "listing",
                    Remark::new("form-no-choice").with("value", told.as_str()),
                ));
            }
            None if role == Role::Student && !listings.is_empty() => {
                return Err(Trouble::about("listing", Remark::new("form-empty")));
            }
            _ => {}
        }
        tx.change_seat(&old, NewSeat { listing, role, state: old.state, since: today }, &reason)
    })
    .await
}

/// Changes the state: dropped, withdrawn, back again; with its date and a reason.
pub async fn state(here: InClass, path: web::Path<(ClassId, PersonId)>, filled: Filled) -> Reply {
    let id = path.into_inner().1;
    let outcome = try_state(&here, id, &filled).await;
    again(&here, id, outcome, &filled, "roster-state").await
}

async fn try_state(here: &InClass, id: PersonId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let version = sheet.whole("version", 1..=i64::MAX);
    let state = sheet.choice("state", EnrolmentState::Enrolled);
    let since = sheet.date("since");
    let reason = reasons::STATE.read(&mut sheet, &here.house.speech);
    if state == EnrolmentState::Incomplete {
        sheet.complain("state", Remark::new("form-no-choice").with("value", state.word()));
    }
    if since > today(here) {
        sheet.complain("since", Remark::new("roster-since-ahead").with("day", dates::day_with_year(since)));
    }
    sheet.done()?;
    let class = here.class();
    act(here, id, filled, "done-roster-kept", move |tx| {
        let old = old_seat(tx, class, id, version)?;
        if old.state == EnrolmentState::Incomplete && state == EnrolmentState::Enrolled {
            return Err(Trouble::about("state", Remark::new("roster-incomplete-by-grade")));
        }
        if since < old.since {
            let remark = Remark::new("roster-since-before")
                .with("day", dates::day_with_year(since))
                .with("before", dates::day_with_year(old.since));
            return Err(Trouble::about("since", remark));
        }
        let new = NewSeat { listing: old.listing, role: old.role, state, since };
        tx.change_seat(&old, new, &reason)
    })
    .await
}

/// The seat as it stands, if it is still the one the page showed.
fn old_seat(tx: &mut Tx<'_>, class: ClassId, id: PersonId, version: i64) -> Result<Seat, Trouble> {
    let seat = record::member(tx.connection, class, id)?.seat.ok_or(Trouble::NotFound)?;
    if seat.version == version { Ok(seat) } else { Err(Trouble::Stale(Remark::new("roster-seat-stale"))) }
}

async fn act<F>(here: &InClass, id: PersonId, filled: &Filled, said: &'static str, act: F) -> Reply
where
    F: Fn(&mut Tx<'_>) -> Result<(), Trouble> + Send + 'static,
{
    let key = filled.once_key()?;
    let next = here.path(&format!("/people/{id}?done={said}"));
    let location = here
        .house
        .db
        .write(Scope::Class(here.class()), Some(here.person.id), here.now(), move |tx| {
            tx.once(&key, |tx| act(tx).map(|()| next.clone()))
        })
        .await?;
    Ok(see_other(location))
}

/// The page once more with what was typed, if the act was refused because of it. After a stale save the page shows the
/// seat as it is now, so sending again is a decision about that.
async fn again(here: &InClass, id: PersonId, outcome: Reply, filled: &Filled, name: &'static str) -> Reply {
    let trouble = match outcome {
        Err(trouble) => trouble,
        fine => return fine,
    };
    let stale = matches!(trouble, Trouble::Stale(_));
    let mut form = Form::after(name, filled, trouble, &here.house.speech)?;
    let about = about(here, id).await?;
    if stale {
        form = form.with("version", about.seat.version.to_string());
    }
    let mut forms = Forms::of(&about, today(here));
    forms.refused = Some(form.clone());
    if name == "roster-seat" {
        forms.seat = form
    } else {
        forms.state = form
    }
    person_page(here, about, forms)
}
