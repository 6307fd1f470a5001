//! A second account of a run in words: what another phone told of what the record knew already.

use crate::clock::Instant;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::etches::shown::{applications, unit_of, volume_words};
use crate::pages::forms::decimal_text;
use crate::store::plates::folder::seconds_told;
use crate::store::sittings::accounts::Account;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;

/// One sentence for a second account.
#[must_use]
pub fn words(ask: &InClass, account: &Account) -> String {
    let speech = &ask.house.speech;
    let near = |at: Instant| dates::near(at, ask.now(), ask.membership.zone);
    let lead = Remark::new("table-account")
        .with("who", format!("{} {}", account.given_name, account.family_name))
        .with("began", near(account.began_at))
        .with("ended", near(account.ended_at));
    let mut told = vec![speech.remark(&lead)];
    if account.left_off {
        told.push(speech.plain("plates-rule-left-off"));
    }
    told.extend(mixture(ask, account));
    let seconds = seconds_told(&account.application_seconds);
    if !seconds.is_empty() {
        told.push(applications(&seconds));
    }
    if let Some(ph) = account.measured_ph_hundredths {
        let value = decimal_text(ph.into(), 2);
        told.push(speech.remark(&Remark::new("table-account-ph").with("value", value)));
    }
    if let Some(sheets) = account.sheets {
        let sheets = Remark::new("plates-note-sheets").with("sheets", i64::from(sheets));
        told.push(speech.remark(&sheets));
    }
    if !account.in_room.is_empty() {
        told.push(speech.remark(&Remark::new("table-in-room").with("who", account.in_room.as_str())));
    }
    let words = [&account.tool, &account.helper, &account.seen, &account.note];
    told.extend(words.into_iter().filter(|words| !words.is_empty()).cloned());
    if account.clock_doubtful {
        told.push(speech.plain("table-clock-doubtful"));
    }
    told.join("; ")
}

fn mixture(ask: &InClass, account: &Account) -> Vec<String> {
    let Some(recipe) = account.recipe else { return Vec::new() };
    let speech = &ask.house.speech;
    let volume = |amount: Option<i64>| amount.map(|amount| volume_words(speech, amount, unit_of(ask)));
    let drops = account
        .drops
        .map(|drops| speech.remark(&Remark::new("etches-drops").with("drops", i64::from(drops))));
    let of = |amount: Option<String>, mark: Option<&String>| match (amount, mark) {
        (Some(amount), Some(mark)) => Some(
            speech
                .remark(&Remark::new("etches-amount-of").with("amount", amount).with("mark", mark.as_str())),
        ),
        (amount, mark) => amount.or_else(|| mark.cloned()),
    };
    let mut told = vec![speech.plain(&format!("etches-recipe-{}", recipe.0.word()))];
    told.extend(of(volume(account.gum_microlitres), account.gum.as_ref()));
    told.extend(of(drops, account.acid.as_ref()));
    told.extend(of(volume(account.stock_microlitres), account.stock.as_ref()));
    told
}
