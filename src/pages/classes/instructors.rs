//! Who is to teach: chosen among the people known, or typed as somebody new; and adding an instructor to a class.

use actix_web::web;
use serde::Serialize;

use crate::ids::ClassId;
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::classes::full_name;
use crate::pages::entry::Ask;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::people::links::read_maybe_email;
use crate::store::classes::making::{self, Candidate, Teacher};
use crate::store::classes::{Class, facts};
use crate::store::people::accounts::email_key;
use crate::store::people::persons::NewPerson;
use crate::store::{AnyConnection, Scope};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "classes-instructor";

/// Reads the teacher: one chosen, or all three fields of somebody new.
pub(super) fn read_teacher(sheet: &mut Sheet<'_>) -> Option<Teacher> {
    let known = sheet.maybe_id("instructor");
    let given_name = sheet.maybe_text("given_name", 80);
    let family_name = sheet.maybe_text("family_name", 80);
    let email = read_maybe_email(sheet, "email");
    let typed = [&given_name, &family_name, &email].into_iter().any(Option::is_some);
    match (known, typed) {
        (Some(id), false) => Some(Teacher::Known(id)),
        (Some(_), true) => {
            sheet.complain("instructor", Remark::new("classes-teacher-twice"));
            None
        }
        (None, false) => {
            sheet.complain("instructor", Remark::new("classes-teacher-missing"));
            None
        }
        (None, true) => {
            let empty = [("given_name", &given_name), ("family_name", &family_name), ("email", &email)];
            for (field, _) in empty.into_iter().filter(|(_, value)| value.is_none()) {
                sheet.complain(field, Remark::new("form-empty"));
            }
            Some(Teacher::New(NewPerson {
                given_name: given_name?,
                family_name: family_name?,
                email,
                student_number: None,
            }))
        }
    }
}

/// Whom one may choose; somebody whose e-mail was just typed among them.
pub(super) fn teacher_choices(
    db: &mut AnyConnection,
    filled: Option<&Filled>,
) -> Result<Vec<Choice>, Trouble> {
    let sought = |key: &String| !key.is_empty() && !key.chars().any(char::is_control);
    let typed = filled.and_then(|filled| filled.get("email")).map(email_key).filter(sought);
    let choice = |person: Candidate| {
        let name = full_name(&person.given_name, &person.family_name);
        let called = person.email.map(|email| format!("{name}, {email}")).unwrap_or(name);
        Choice::new(person.id.to_string(), called)
    };
    Ok(making::candidates(db, typed.as_deref())?.into_iter().map(choice).collect())
}

#[derive(Serialize)]
struct View {
    form: Form,
    id: ClassId,
    class: String,
    people: Vec<Choice>,
}

async fn page(ask: &Ask, id: ClassId, form: Form, filled: Option<Filled>) -> Reply {
    let again = filled.is_some();
    let (class, people): (Class, _) = ask
        .house
        .db
        .read(move |db| Ok((facts::class(db, id)?, teacher_choices(db, filled.as_ref())?)))
        .await?;
    let view = View { form, id, class: format!("{}, {}", class.rules.title, class.term.name), people };
    if again {
        ask.show_again("classes/instructor", "classes-instructor-add", &view)
    } else {
        ask.show("classes/instructor", "classes-instructor-add", &view)
    }
}

/// Gives somebody the instructor's place in a class: they read its grades, so the password is asked first.
pub async fn new(ask: Ask, id: web::Path<ClassId>) -> Reply {
    ask.confirmed()?;
    page(&ask, id.into_inner(), Form::new(FORM), None).await
}

pub async fn add(ask: Ask, id: web::Path<ClassId>, filled: Filled) -> Reply {
    ask.confirmed()?;
    let id = id.into_inner();
    match try_add(&ask, id, &filled).await {
        Err(trouble) => {
            let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
            page(&ask, id, form, Some(filled)).await
        }
        fine => fine,
    }
}

async fn try_add(ask: &Ask, id: ClassId, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let teacher = read_teacher(&mut sheet);
    sheet.done()?;
    let teacher = teacher.ok_or(Trouble::NotFound)?;
    let house = ask.house.clone();
    let next = said(format!("/school/classes/{id}"), "done-instructor-added");
    ask.act(Scope::School, filled, next, move |tx| {
        if let Some(newcomer) = tx.add_instructor(id, &teacher)? {
            tx.invite(&house.key, newcomer, Some(id))?;
        }
        Ok(())
    })
    .await
}
