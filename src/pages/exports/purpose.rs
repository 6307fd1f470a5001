//! What a table is taken for: said once on the page, carried by the address of every download, kept with what left.

use serde_json::{Value, json};

use crate::pages::answer::encode;
use crate::pages::entry::Ask;
use crate::pages::fields::{Choice, Form};
use crate::speech::Speech;
use crate::store::exports::disclosures::{Interest, Purpose, Taken};
use crate::trade::spelled::Spelled;

const FORM: &str = "taken";

/// What the address says; nothing said is the keeping of records.
pub fn purpose(ask: &Ask) -> Purpose {
    match ask.query("words").filter(|words| !words.trim().is_empty()) {
        Some(words) => Purpose::told(&words),
        None => Purpose::told(&ask.query("for").unwrap_or_default()),
    }
}

/// An address that says what for, where that was chosen.
pub fn carried(path: &str, purpose: &Purpose) -> String {
    if *purpose == Purpose::default() {
        return path.to_owned();
    }
    let joint = if path.contains('?') { '&' } else { '?' };
    match purpose.interest {
        Interest::Other => format!("{path}{joint}words={}", encode(&purpose.words)),
        interest => format!("{path}{joint}for={}", interest.word()),
    }
}

/// What for, as it is read.
pub fn sentence(speech: &Speech, purpose: &Purpose) -> String {
    match purpose.interest {
        Interest::Other => purpose.words.clone(),
        interest => speech.plain(&format!("taken-for-{}", interest.word())),
    }
}

/// The form that asks what for.
pub fn form(ask: &Ask, purpose: &Purpose) -> Value {
    let form = Form::new(FORM).with("for", purpose.interest.word()).with("words", purpose.words.as_str());
    json!({
        "form": form, "interests": Choice::of_words::<Interest>("taken-for", &ask.house.speech),
        "said": sentence(&ask.house.speech, purpose),
    })
}

/// Who took something: the console has no name.
pub fn who(one: &Taken) -> Option<String> {
    one.by.as_ref().map(|(given, family)| format!("{given} {family}").trim().to_owned())
}
