//! Days on which no day late is charged, one a line; and work due before a student joined, excused with one tap.

use actix_web::web;
use chrono::NaiveDate;
use serde_json::json;

use crate::ids::{AssessmentId, ClassId, PersonId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::store::Scope;
use crate::store::grades::uncounted;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

const FORM: &str = "uncounted";
/// More lines than this are no list of holidays.
const MOST: usize = 200;

/// The form as things stand.
pub async fn page(ask: InClass) -> Reply {
    let class = ask.class();
    let days = ask.house.db.read(move |db| uncounted::uncounted_days(db, class)).await?;
    let lines: Vec<String> =
        days.iter().map(|(day, why)| format!("{day} {why}").trim_end().to_owned()).collect();
    show(&ask, Form::new(FORM).with("days", lines.join("\n")), false)
}

fn show(ask: &InClass, form: Form, again: bool) -> Reply {
    let view = json!({ "class_path": format!("/classes/{}", ask.class()), "form": form });
    if again {
        ask.show_again("grades/uncounted", "uncounted-title", &view)
    } else {
        ask.show("grades/uncounted", "uncounted-title", &view)
    }
}

/// Keeps them.
pub async fn keep(ask: InClass, filled: Filled) -> Reply {
    let class = ask.class();
    let outcome = async {
        let mut sheet = Sheet::new(&filled);
        let typed = sheet.words("days", 10_000);
        let days = match read(&typed) {
            Ok(days) => days,
            Err(remark) => {
                sheet.complain("days", remark);
                Vec::new()
            }
        };
        sheet.done()?;
        let next = said(format!("/classes/{class}/grades/uncounted"), "done-rules");
        ask.act(Scope::Class(class), &filled, next, move |tx| tx.keep_uncounted(class, &days)).await
    };
    match outcome.await {
        Err(trouble @ Trouble::Complaints(_)) => {
            show(&ask, Form::after(FORM, &filled, trouble, &ask.house.speech)?, true)
        }
        other => other,
    }
}

/// “2026-11-26 Thanksgiving”, one a line.
fn read(typed: &str) -> Result<Vec<(NaiveDate, String)>, Remark> {
    let mut days: Vec<(NaiveDate, String)> = Vec::new();
    for line in typed.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let (day, why) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
        let short: String = line.chars().take(40).collect();
        let day = NaiveDate::parse_from_str(day, "%Y-%m-%d")
            .map_err(|_error| Remark::new("uncounted-line").with("line", short))?;
        if days.iter().any(|(known, _)| *known == day) {
            return Err(Remark::new("uncounted-twice").with("day", day.to_string()));
        }
        days.push((day, why.trim().chars().take(120).collect()));
    }
    if days.len() > MOST {
        return Err(Remark::new("uncounted-many").with("most", i64::try_from(MOST).unwrap_or(i64::MAX)));
    }
    days.sort();
    Ok(days)
}

/// Accepts a proposal.
pub async fn excuse(
    ask: InClass,
    path: web::Path<(ClassId, AssessmentId, PersonId)>,
    filled: Filled,
) -> Reply {
    let (class, id, person) = path.into_inner();
    let (zone, words) = (ask.membership.zone, ask.house.speech.plain("late-add-words"));
    let next = said(format!("/classes/{class}/grades"), "done-late-add");
    let act = move |tx: &mut crate::store::Tx<'_>| tx.excuse_late_add(class, zone, id, person, &words);
    ask.act(Scope::Class(class), &filled, next, act).await
}
