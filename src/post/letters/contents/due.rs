//! What the letter about a due date says: that it was moved, or that somebody has one of their own. Why a person has a
//! date of their own stands in no letter.

use serde_json::{Value, json};

use crate::post::letters::Desk;
use crate::post::letters::brief::{self, Brief};
use crate::post::letters::contents::say;
use crate::speech::dates;
use crate::store::classes::due_read;
use crate::store::classes::dues::{DueLetter, Whose};
use crate::trade::remark::Param;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

pub(super) fn about(desk: &Desk, brief: &Brief) -> Result<Value, Trouble> {
    let class = brief.claim.class.ok_or_else(|| Trouble::broken("writing a letter", "no class"))?;
    let letter: DueLetter = brief::read(&brief.claim)?;
    let whose = Whose::from_word(&letter.whose)
        .ok_or_else(|| Trouble::broken("writing a letter about a due date", &letter.whose))?;
    let text = |text: &str| Param::Text(text.to_owned());
    let day = |local: &str| Ok::<_, Trouble>(Param::Text(dates::day_and_time(due_read(local)?)));
    let place = brief.to.class.as_ref().map_or(&brief.to.school, |class| &class.title);
    let zone = brief.to.class.as_ref().map(|class| class.zone.as_str()).unwrap_or("UTC");
    let lead = format!("letters-due-moved-{}", whose.word());
    let reason = match (whose, &letter.reason) {
        (Whose::Own, _) => Some(say(desk, "letters-due-moved-private", &[])?),
        (_, Some(reason)) => Some(say(desk, "letters-due-moved-reason", &[("reason", text(reason))])?),
        (_, None) => None,
    };
    Ok(json!({
        "title": letter.title,
        "lead": say(desk, &lead, &[("title", text(&letter.title)), ("place", text(place))])?,
        "now": say(desk, "letters-due-moved-now", &[("due", day(&letter.to)?), ("zone", text(zone))])?,
        "before": letter
            .from
            .map(|from| say(desk, "letters-due-moved-before", &[("due", day(&from)?)]))
            .transpose()?,
        "reason": reason,
        "address": format!("{}/classes/{class}/projects/{}", desk.public_url, letter.project),
    }))
}
