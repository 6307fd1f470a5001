//! The letters a school gives for pass, no pass, audit and incomplete: the keeper's page.

use serde_json::json;

use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::Ask;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::store::Scope;
use crate::store::grades::submitted::{self, Letters};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "grade-letters";

/// The letters as they stand.
pub async fn page(ask: Ask) -> Reply {
    let letters = ask.house.db.read(submitted::letters).await?;
    show(&ask, fresh(&letters), false)
}

fn fresh(letters: &Letters) -> Form {
    Form::new(FORM)
        .with("pass", &letters.pass)
        .with("no_pass", &letters.no_pass)
        .with("pass_from", decimal_text(letters.pass_from_bp.into(), 2))
        .with("audit", &letters.audit)
        .with("incomplete", &letters.incomplete)
        .with("version", letters.version.to_string())
}

fn show(ask: &Ask, form: Form, again: bool) -> Reply {
    let view = json!({ "form": form });
    if again {
        ask.show_again("grades/letters", "grade-letters-title", &view)
    } else {
        ask.show("grades/letters", "grade-letters-title", &view)
    }
}

/// Keeps them.
pub async fn keep(ask: Ask, filled: Filled) -> Reply {
    let tried = match read(&filled) {
        Ok(letters) => {
            let next = said("/school/grade-letters", "done-grade-letters");
            ask.act(Scope::School, &filled, next, move |tx| tx.set_letters(&letters)).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let stands = ask.house.db.read(submitted::letters).await?;
            let form = Form::after_save(&filled, trouble, &fresh(&stands), &ask.house.speech)?;
            show(&ask, form, true)
        }
        fine => fine,
    }
}

fn read(filled: &Filled) -> Result<Letters, Trouble> {
    let mut sheet = Sheet::new(filled);
    let letters = Letters {
        pass: sheet.text("pass", 20),
        no_pass: sheet.text("no_pass", 20),
        audit: sheet.text("audit", 20),
        incomplete: sheet.text("incomplete", 20),
        pass_from_bp: i32::try_from(sheet.decimal("pass_from", 2, 0..=10_000)).unwrap_or(0),
        version: sheet.whole("version", 1..=i64::MAX),
    };
    let all = [
        ("pass", &letters.pass),
        ("no_pass", &letters.no_pass),
        ("audit", &letters.audit),
        ("incomplete", &letters.incomplete),
    ];
    for (place, (field, letter)) in all.iter().enumerate() {
        if !letter.is_empty() && all.iter().take(place).any(|(_, other)| other == letter) {
            sheet.complain(field, Remark::new("grade-letters-twice").with("letter", letter.as_str()));
        }
    }
    sheet.done()?;
    Ok(letters)
}
