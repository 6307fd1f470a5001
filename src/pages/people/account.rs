//! A person's own account: password, open sessions, units and the daily letter; and forgotten passwords.

use actix_web::web;
use serde_json::json;

use crate::ids::{PersonId, SessionId};
use crate::pages::acts::said;
use crate::pages::answer::{Reply, done, see_other};
use crate::pages::dates;
use crate::pages::entry::{Ask, SignedIn};
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::limits::address_of;
use crate::pages::people::entrance::is_local;
use crate::pages::people::language;
use crate::pages::people::links::{read_email, read_new_password};
use crate::pages::plans;
use crate::passwords::rule;
use crate::store::Scope;
use crate::store::once;
use crate::store::people::links::{self, Purpose};
use crate::store::people::{accounts, feeds, persons, sessions};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::{Complaint, Trouble};

/// The account page.
pub async fn account(ask: Ask) -> Reply {
    page(&ask, Form::new("people-password"), None, false).await
}

async fn page(ask: &Ask, form: Form, refused: Option<Form>, again: bool) -> Reply {
    let person = ask.person()?.clone();
    let now = ask.now();
    let (sessions, preferences, feed) = ask
        .house
        .db
        .read(move |db| {
            let feed = feeds::feed_of(db, person.id)?;
            Ok((sessions::of_person(db, person.id, now)?, accounts::preferences(db, person.id)?, feed))
        })
        .await?;
    let person = ask.person()?;
    let sessions: Vec<_> = sessions
        .into_iter()
        .map(|one| {
            json!({
                "id": one.id, "agent": one.agent, "since": one.created_at.rfc3339(),
                "seen": one.seen_at.rfc3339(), "here": one.id == person.session,
            })
        })
        .collect();
    let chosen = Form::new("people-preferences")
        .with("volume_unit", preferences.volume_unit)
        .tick("daily_letter", preferences.daily_letter)
        .tick("urgent_letter", preferences.urgent_letter)
        .tick("week_letter", preferences.week_letter)
        .tick("handed_back_letter", preferences.handed_back_letter)
        .tick("due_moved_letter", preferences.due_moved_letter)
        .tick("second_look_asked_letter", preferences.second_look_asked_letter)
        .tick("second_look_answered_letter", preferences.second_look_answered_letter)
        .tick("grade_submitted_letter", preferences.grade_submitted_letter)
        .with("letter_hour", preferences.letter_hour.to_string())
        .with_maybe("language", preferences.language.map(|language| language.0.word()));
    let chosen = refused.unwrap_or(chosen);
    let hours: Vec<Choice> =
        (0..24).map(|hour| Choice::new(hour.to_string(), format!("{hour:02}:00"))).collect();
    let calendar = feed.map(|feed| plans::feed::address(&ask.house, feed));
    let units = json!([
        { "value": "us_fl_oz", "label": ask.house.speech.plain("people-unit-us-fl-oz") },
        { "value": "ml", "label": ask.house.speech.plain("people-unit-ml") },
    ]);
    let view = json!({
        "form": form, "sessions": sessions, "preferences": chosen, "units": units, "email": preferences.email,
        "least": rule::LEAST,
        "hours": hours, "calendar": calendar, "languages": language::choices(&ask.house.speech),
    });
    if again {
        ask.show_again("people/account", "people-account", &view)
    } else {
        ask.show("people/account", "people-account", &view)
    }
}

/// Changes the password; the other sessions end.
pub async fn change_password(ask: Ask, filled: Filled) -> Reply {
    match try_change(&ask, &filled).await {
        Err(trouble) => {
            let form = Form::after("people-password", &filled, trouble, &ask.house.speech)?;
            page(&ask, form, None, true).await
        }
        fine => fine,
    }
}

async fn try_change(ask: &Ask, filled: &Filled) -> Reply {
    let person = ask.person()?.clone();
    let (key, by) = (filled.guarded_key(&ask.house)?, person.id);
    let asked = key.clone();
    // The second of two clicks is no try with a wrong password: by then the present one is another.
    if let Some(location) = ask.house.db.read(move |db| once::sent(db, Some(by), &asked)).await? {
        return Ok(see_other(location));
    }
    check_own(ask, &person, filled, "current").await?;
    let id = person.id;
    let email = ask.house.db.read(move |db| accounts::preferences(db, id)).await?.email;
    let own = [person.given_name.as_str(), &person.family_name, email.as_deref().unwrap_or_default()];
    let hash = read_new_password(ask, filled, &own, Some(id)).await?;
    let session = person.session;
    let location = ask
        .house
        .db
        .write(Scope::School, Some(id), ask.now(), move |tx| {
            tx.once(&key, |tx| {
                tx.set_password(id, &hash, Some(session))?;
                tx.tell_password_changed(id)?;
                Ok(said("/account", "done-password-changed"))
            })
        })
        .await?;
    ask.house.listeners.look_again(id);
    Ok(see_other(location))
}

/// Asks for the present password in a field.
async fn check_own(ask: &Ask, person: &SignedIn, filled: &Filled, name: &str) -> Result<(), Trouble> {
    let (id, now) = (person.id, ask.now());
    let (stored, failures) = ask
        .house
        .db
        .read(move |db| Ok((accounts::password_hash(db, id)?, accounts::failures(db, id)?)))
        .await?;
    if failures.wait_ms(now) > 0 {
        let seconds = u64::try_from(failures.wait_ms(now) / 1000).unwrap_or(0) + 1;
        return Err(Trouble::TooMany { seconds });
    }
    let typed = rule::normal(filled.get(name).unwrap_or_default());
    if ask.house.passwords.verify(typed, stored).await? {
        return Ok(());
    }
    ask.house.db.note(move |db| accounts::count_failure(db, id, now)).await?;
    Err(Trouble::about(name, Remark::new("people-password-wrong")))
}

/// Ends one of one's own sessions.
pub async fn end_session(ask: Ask, id: web::Path<SessionId>, _filled: Filled) -> Reply {
    let person = ask.person()?.id;
    let id = id.into_inner();
    ask.house
        .db
        .write(Scope::School, Some(person), ask.now(), move |tx| tx.end_own_session(person, id))
        .await?;
    ask.house.listeners.look_again(person);
    Ok(done("/account", "done-session-ended"))
}

/// Keeps the language, the unit of volumes, which letters come by themselves, and when.
pub async fn preferences(ask: Ask, filled: Filled) -> Reply {
    let mut sheet = Sheet::new(&filled);
    let chosen = accounts::Chosen {
        volume_unit: sheet.choice("volume_unit", accounts::VolumeUnit::UsFlOz),
        daily_letter: sheet.tick("daily_letter"),
        urgent_letter: sheet.tick("urgent_letter"),
        week_letter: sheet.tick("week_letter"),
        handed_back_letter: sheet.tick("handed_back_letter"),
        due_moved_letter: sheet.tick("due_moved_letter"),
        second_look_asked_letter: sheet.tick("second_look_asked_letter"),
        second_look_answered_letter: sheet.tick("second_look_answered_letter"),
        grade_submitted_letter: sheet.tick("grade_submitted_letter"),
        letter_hour: sheet
            .maybe_whole("letter_hour", 0..=23)
            .and_then(|hour| i32::try_from(hour).ok())
            .unwrap_or(7),
        language: sheet.maybe_choice("language"),
    };
    if let Err(trouble) = sheet.done() {
        let form = Form::after("people-preferences", &filled, trouble, &ask.house.speech)?;
        return page(&ask, Form::new("people-password"), Some(form), true).await;
    }
    let person = ask.person()?.id;
    ask.house
        .db
        .write(Scope::School, Some(person), ask.now(), move |tx| tx.set_preferences(person, &chosen))
        .await?;
    Ok(done("/account", "done-preferences"))
}

/// The page that asks for the password once more before something weighty.
pub async fn confirm_form(ask: Ask) -> Reply {
    let next = ask.query("next").filter(|next| is_local(next)).unwrap_or_default();
    let form = Form::new("people-confirm").with("next", next);
    ask.show("people/confirm", "people-confirm", &json!({ "form": form }))
}

/// Takes the password typed once more.
pub async fn confirm(ask: Ask, filled: Filled) -> Reply {
    let person = ask.person()?.clone();
    if let Err(trouble) = check_own(&ask, &person, &filled, "current").await {
        let form = Form::after("people-confirm", &filled, trouble, &ask.house.speech)?;
        return ask.show_again("people/confirm", "people-confirm", &json!({ "form": form }));
    }
    ask.house
        .db
        .write(Scope::School, Some(person.id), ask.now(), move |tx| tx.confirm_session(person.session))
        .await?;
    Ok(see_other(filled.get("next").filter(|next| is_local(next)).unwrap_or("/")))
}

/// The page for a forgotten password.
pub async fn forgotten_form(ask: Ask) -> Reply {
    ask.show(
        "people/forgotten",
        "people-forgotten",
        &json!({ "form": Form::new("people-forgotten"), "sent": false }),
    )
}

/// Sends a link, and says the same whether there is such an account or not.
pub async fn forgotten(ask: Ask, filled: Filled) -> Reply {
    let mut sheet = Sheet::new(&filled);
    let email = read_email(&mut sheet, "email");
    if let Err(trouble) =
        sheet.done().and_then(|()| ask.house.limits.sign_in(address_of(&ask.request, &ask.house.settings)))
    {
        let form = Form::after("people-forgotten", &filled, trouble, &ask.house.speech)?;
        return ask.show_again(
            "people/forgotten",
            "people-forgotten",
            &json!({ "form": form, "sent": false }),
        );
    }
    let key = accounts::email_key(&email);
    let (house, once) = (ask.house.clone(), filled.once_key()?);
    ask.house
        .db
        .write(Scope::School, None, ask.now(), move |tx| {
            tx.once(&once, |tx| {
                match accounts::by_email(tx.connection, &key)? {
                    None => {}
                    Some(account) if account.password_hash.is_none() => {
                        tx.invite(&house.key, account.id, None)?;
                    }
                    Some(account) => tx.send_reset(&house.key, account.id)?,
                }
                Ok("/forgotten".to_owned())
            })
        })
        .await?;
    ask.show(
        "people/forgotten",
        "people-forgotten",
        &json!({ "form": Form::new("people-forgotten"), "sent": true }),
    )
}

/// The people of the school, for keepers.
pub async fn people(ask: Ask) -> Reply {
    people_page(&ask, Form::new("people-add"), Form::new("people-act"), false).await
}

async fn people_page(ask: &Ask, form: Form, refused: Form, again: bool) -> Reply {
    let now = ask.now();
    let (people, invited) =
        ask.house.db.read(move |db| Ok((persons::persons(db, None)?, links::invited(db, now)?))).await?;
    let people: Vec<_> = people
        .iter()
        .map(|person| json!({ "is": person, "invited": invited.contains(&person.id) }))
        .collect();
    let rights: Vec<_> = persons::Right::ALL
        .iter()
        .map(|right| {
            let word = right.word();
            json!({ "value": word, "label": ask.house.speech.plain(&format!("people-right-{word}")) })
        })
        .collect();
    let view = json!({ "form": form, "refused": refused, "people": people, "rights": rights });
    if again {
        ask.show_again("people/people", "people-people", &view)
    } else {
        ask.show("people/people", "people-people", &view)
    }
}

/// Adds a person and invites them.
pub async fn add(ask: Ask, filled: Filled) -> Reply {
    match try_add(&ask, &filled).await {
        Err(trouble) => {
            let form = Form::after("people-add", &filled, trouble, &ask.house.speech)?;
            people_page(&ask, form, Form::new("people-act"), true).await
        }
        fine => fine,
    }
}

async fn try_add(ask: &Ask, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let new = persons::NewPerson {
        given_name: sheet.text("given_name", 80),
        family_name: sheet.text("family_name", 80),
        email: Some(read_email(&mut sheet, "email")),
        student_number: None,
    };
    let right: Option<persons::Right> = sheet.maybe_choice("right");
    sheet.done()?;
    let key = filled.once_key()?;
    let house = ask.house.clone();
    let by = ask.person()?.id;
    let location = ask
        .house
        .db
        .write(Scope::School, Some(by), ask.now(), move |tx| {
            tx.once(&key, |tx| {
                let id = tx.add_person(&new)?;
                if let Some(right) = right {
                    tx.set_right(id, right, true)?;
                }
                tx.invite(&house.key, id, None)?;
                Ok("/school/people?done=done-person-added".to_owned())
            })
        })
        .await
        .map_err(|trouble| match trouble {
            Trouble::Taken => Trouble::about("email", Remark::new("people-email-taken")),
            other => other,
        })?;
    Ok(see_other(location))
}

/// One act on a person from the keeper's list: a right granted or withdrawn, or an invitation sent again.
pub async fn act(ask: Ask, id: web::Path<PersonId>, filled: Filled) -> Reply {
    ask.confirmed()?;
    match try_act(&ask, id.into_inner(), &filled).await {
        Err(trouble) => {
            let form = Form::after("people-act", &filled, trouble, &ask.house.speech)?;
            people_page(&ask, Form::new("people-add"), form, true).await
        }
        fine => fine,
    }
}

async fn try_act(ask: &Ask, id: PersonId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let right: Option<persons::Right> = sheet.maybe_choice("right");
    let held = sheet.tick("held");
    let invite = sheet.tick("invite");
    if right.is_none() && !invite {
        sheet.complain("right", Remark::new("people-act-nothing"));
    }
    // The buttons stand in rows: what is wrong is said above them.
    if let Err(Trouble::Complaints(complaints)) = sheet.done() {
        let all = complaints.into_iter().map(|complaint| Complaint::new("", complaint.remark));
        return Err(Trouble::Complaints(all.collect()));
    }
    let house = ask.house.clone();
    let next = said("/school/people", if invite { "done-invited" } else { "done-right-set" });
    ask.act(Scope::School, filled, next, move |tx| {
        if let Some(right) = right {
            tx.set_right(id, right, held)?;
        }
        if invite {
            persons::persons(tx.connection, Some(id))?.pop().ok_or(Trouble::NotFound)?;
            tx.invite(&house.key, id, None)?;
        }
        Ok(())
    })
    .await
}

/// A printable slip with the link of an invitation, for somebody without e-mail.
pub async fn slip(ask: Ask, id: web::Path<PersonId>) -> Reply {
    slip_page(&ask, id.into_inner()).await
}

/// The slip of a person's open invitation; others use it for their own doors once the right is looked at.
///
/// # Errors
/// There is no open invitation.
pub async fn slip_page(ask: &Ask, id: PersonId) -> Reply {
    let now = ask.now();
    let (person, link) = ask
        .house
        .db
        .read(move |db| {
            let person = persons::persons(db, Some(id))?.pop().ok_or(Trouble::NotFound)?;
            Ok((person, links::invitation_of(db, id, now)?))
        })
        .await?;
    let (link, expires_at) = link.ok_or_else(|| Trouble::Refused(Remark::new("people-slip-none")))?;
    let secret = ask.house.key.link_secret(Purpose::Invitation.word(), link.as_str());
    let view = json!({
        "name": format!("{} {}", person.given_name, person.family_name),
        "address": format!("{}/links/{secret}", ask.house.settings.public_url),
        "until": dates::day_in_full(expires_at.utc().date_naive()),
    });
    ask.show("people/slip", "people-slip", &view)
}
