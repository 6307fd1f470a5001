//! What the school is called and whom to ask about safety: changed by a keeper.

use serde_json::json;

use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::Ask;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::store::Scope;
use crate::store::people::school::{self, School};
use crate::trouble::Trouble;

const FORM: &str = "school-about";

/// The page.
pub async fn edit(ask: Ask) -> Reply {
    let stands = find(&ask).await?;
    page(&ask, fresh(&stands), false)
}

async fn find(ask: &Ask) -> Result<School, Trouble> {
    ask.house.db.read(|db| school::school(db)?.ok_or(Trouble::NotFound)).await
}

fn fresh(stands: &School) -> Form {
    Form::new(FORM)
        .with("school", &stands.name)
        .with("safety_office", &stands.safety_office)
        .with("version", stands.version.to_string())
}

fn page(ask: &Ask, form: Form, again: bool) -> Reply {
    let view = json!({ "form": form });
    if again { ask.show_again("classes/about", FORM, &view) } else { ask.show("classes/about", FORM, &view) }
}

/// Keeps them.
pub async fn change(ask: Ask, filled: Filled) -> Reply {
    match try_change(&ask, &filled).await {
        Err(trouble) => {
            let stands = find(&ask).await?;
            page(&ask, Form::after_save(&filled, trouble, &fresh(&stands), &ask.house.speech)?, true)
        }
        fine => fine,
    }
}

async fn try_change(ask: &Ask, filled: &Filled) -> Reply {
    let mut sheet = Sheet::new(filled);
    let (name, safety_office) = (sheet.text("school", 120), sheet.text("safety_office", 200));
    let version = sheet.whole("version", 1..=i64::MAX);
    sheet.done()?;
    let next = said("/school", "done-school-kept");
    ask.act(Scope::School, filled, next, move |tx| tx.change_school(version, &name, &safety_office)).await
}
