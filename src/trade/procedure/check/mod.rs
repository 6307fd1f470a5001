//! What is wrong with a procedure an instructor typed. Each remark names the step, the value and the remedy.
//!
//! The limits of size are the house's: generous for a studio's procedure, small enough that a slip of the
//! finger (4500 minutes for 45) is asked about.

mod rests;
mod ways;

use super::step::{Hazard, Minutes, Place, Records, Step, spelled_minutes};
use super::{GUMMED, Procedure};
use crate::trade::remark::Remark;

/// Most steps a procedure may have, on the way and any-time together.
pub const MOST_STEPS: usize = 60;
/// Longest name, title, station or topic, in characters.
pub const LONGEST_NAME: usize = 80;
/// Longest sentence of an instruction, a caption or a reason, in characters.
pub const LONGEST_SENTENCE: usize = 600;
/// Longest hands-on time of a step that is done in one go: a day.
pub const LONGEST_STEP: i64 = 24 * 60;
/// Longest hands-on time of a step that may be split: a fortnight of full days.
pub const LONGEST_SPLIT: i64 = 14 * 24 * 60;
/// Longest hands-on time for one sheet.
pub const LONGEST_SHEET: i64 = 4 * 60;
/// Longest rest or limit: two years.
pub const LONGEST_REST: i64 = 2 * 366 * 24 * 60;
/// The last minute a recording can be started at.
pub const LAST_MINUTE: i64 = 24 * 60;

/// Everything to be mended before a class can use the procedure; none means it is sound. `topics` are the
/// keys of the sign-off topics there are.
#[must_use]
pub fn check(procedure: &Procedure, topics: &[&str]) -> Vec<Remark> {
    let mut remarks = Vec::new();
    whole(procedure, &mut remarks);
    for (place, step) in procedure.all().enumerate() {
        let on = On { name: name_of(step, place), step, remarks: &mut remarks };
        check_step(on, topics);
    }
    ways::check(procedure, &mut remarks);
    rests::check(procedure, &mut remarks);
    remarks
}

/// The name a remark gives a step: its title, else its key, else its number.
fn name_of(step: &Step, place: usize) -> String {
    match (step.title.trim(), step.key.as_str()) {
        ("", "") => format!("{}", place + 1),
        ("", key) => key.to_owned(),
        (title, _) => title.to_owned(),
    }
}

/// A step being checked and where complaints go.
struct On<'a> {
    name: String,
    step: &'a Step,
    remarks: &'a mut Vec<Remark>,
}

impl On<'_> {
    fn complain(&mut self, remark: Remark) {
        self.remarks.push(remark.with("step", self.name.as_str()));
    }

    /// Complains of a text that is empty or too long for what it is.
    fn text(&mut self, field: &'static str, text: &str, longest: usize) {
        let long = text.chars().count();
        if text.trim().is_empty() {
            self.complain(Remark::new("procedure-check-empty").with("field", field));
        } else if long > longest {
            self.complain(
                Remark::new("procedure-check-too-long")
                    .with("field", field)
                    .with("value", excerpt(text))
                    .with("long", count(long))
                    .with("longest", count(longest)),
            );
        }
    }

    fn minutes(&mut self, field: &'static str, minutes: i64, longest: i64) {
        if !(0..=longest).contains(&minutes) {
            self.complain(
                Remark::new("procedure-check-minutes")
                    .with("field", field)
                    .with("value", minutes.to_string())
                    .with("longest", longest.to_string())
                    .with("said", spelled_minutes(longest)),
            );
        }
    }
}

fn whole(procedure: &Procedure, remarks: &mut Vec<Remark>) {
    if procedure.name.trim().is_empty() || procedure.name.chars().count() > LONGEST_NAME {
        let value = excerpt(&procedure.name);
        let remark = Remark::new("procedure-check-name").with("value", value);
        remarks.push(remark.with("longest", count(LONGEST_NAME)));
    }
    let steps = procedure.all().count();
    if procedure.steps.is_empty() {
        remarks.push(Remark::new("procedure-check-no-steps"));
    } else if steps > MOST_STEPS {
        let remark = Remark::new("procedure-check-many-steps").with("value", count(steps));
        remarks.push(remark.with("most", count(MOST_STEPS)));
    }
    if let Some(limit) = procedure.gum_limit_minutes.filter(|limit| !(1..=LONGEST_REST).contains(limit)) {
        let remark = Remark::new("procedure-check-gum-limit").with("value", limit.to_string());
        remarks.push(remark.with("longest", LONGEST_REST.to_string()));
    }
    for extra in procedure.all().filter(|step| step.numbers_edition).skip(1) {
        remarks.push(Remark::new("procedure-check-numbers-twice").with("step", extra.title.as_str()));
    }
}

fn check_step(mut on: On<'_>, topics: &[&str]) {
    let step = on.step;
    on.text("title", &step.title, LONGEST_NAME);
    if !is_key(&step.key) {
        on.complain(Remark::new("procedure-check-key").with("value", excerpt(&step.key)));
    }
    check_minutes(&mut on, step.minutes);
    check_words(&mut on);
    if let Place::Station(station) = &step.place {
        on.text("station", station, LONGEST_NAME);
    }
    for (place, need) in step.sign_offs.iter().enumerate() {
        if !topics.contains(&need.topic.as_str()) {
            let remark = Remark::new("procedure-check-topic").with("value", excerpt(&need.topic));
            on.complain(remark.with("known", topics.join(", ")));
        }
        if step.sign_offs.iter().take(place).any(|other| other.topic == need.topic) {
            on.complain(Remark::new("procedure-check-topic-twice").with("value", excerpt(&need.topic)));
        }
    }
    let corrosive = step.hazards.iter().any(|hazard| matches!(hazard, Hazard::Acid | Hazard::Nitric));
    if step.records == Records::Etch && !corrosive {
        on.complain(Remark::new("procedure-check-etch-hazard"));
    }
}

fn check_minutes(on: &mut On<'_>, minutes: Minutes) {
    let longest = if on.step.may_split { LONGEST_SPLIT } else { LONGEST_STEP };
    on.minutes("minutes", minutes.fixed, longest);
    on.minutes("minutes-per-sheet", minutes.per_sheet, LONGEST_SHEET);
}

/// Sentences, pictures, the recording.
fn check_words(on: &mut On<'_>) {
    let step = on.step;
    let said = &step.instructions;
    for (field, sentences) in [("before", &said.before), ("during", &said.during), ("after", &said.after)] {
        for sentence in sentences {
            on.text(field, sentence, LONGEST_SENTENCE);
        }
    }
    for picture in &step.pictures {
        on.text("picture", &picture.name, LONGEST_NAME);
        on.text("caption", &picture.caption, LONGEST_SENTENCE);
    }
    if let Some(recording) = &step.recording {
        let link = recording.link.as_str();
        let host = link.strip_prefix("https://").or_else(|| link.strip_prefix("http://"));
        let whole = host.is_some_and(|host| !host.is_empty() && !host.starts_with('/'));
        if !whole || link.chars().any(char::is_whitespace) {
            on.complain(Remark::new("procedure-check-link").with("value", excerpt(link)));
        }
        on.minutes("recording-minute", recording.minute, LAST_MINUTE);
    }
    for need in step.needs.iter().filter(|need| !need.because().is_empty()) {
        on.text("because", need.because(), LONGEST_SENTENCE);
    }
}

/// Whether a text can be the key of a step or a word in rules.
fn is_key(text: &str) -> bool {
    let ends = |byte: Option<u8>| byte.is_some_and(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit());
    text.len() <= 40
        && text != GUMMED
        && ends(text.bytes().next())
        && ends(text.bytes().last())
        && text.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-')
}

/// A value short enough for a sentence.
fn excerpt(text: &str) -> String {
    let mut short: String = text.chars().take(40).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    short
}

fn count(number: usize) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests;
