//! What people typed: `Filled` is a form as it arrived, sealed and with its once-key; `Sheet` reads it field by field,
//! collecting one complaint per field, so a page can show all of them at once with everything typed still there.

use std::ops::RangeInclusive;
use std::pin::Pin;

use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpRequest, web};
use chrono::{NaiveDate, NaiveDateTime, NaiveTime, Timelike};
use unicode_normalization::UnicodeNormalization;

use crate::ids::Id;
use crate::pages::entry::Ask;
use crate::pages::house::House;
use crate::secrets::{hex, sha256_hex};
use crate::store::once::OnceKey;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::{Complaint, Trouble};

/// Larger forms are refused: 2 MiB, enough for a pasted class list.
pub const FORM_LIMIT: usize = 2 * 1024 * 1024;

/// A form as it arrived: names and values in order, its seal already looked at.
#[derive(Debug, Clone, Default)]
pub struct Filled {
    pub pairs: Vec<(String, String)>,
    /// The key that makes a second sending the same one.
    pub once: Option<OnceKey>,
}

impl Filled {
    /// The first value of a field.
    #[must_use]
    pub fn get(&self, field: &str) -> Option<&str> {
        self.pairs.iter().find(|(name, _)| name == field).map(|(_, value)| value.as_str())
    }

    /// All values of a field, as ticked boxes send them.
    pub fn all<'a>(&'a self, field: &'a str) -> impl Iterator<Item = &'a str> {
        self.pairs.iter().filter(move |(name, _)| name == field).map(|(_, value)| value.as_str())
    }

    /// The once-key; every page of ours sends one.
    ///
    /// # Errors
    /// The form has none.
    pub fn once_key(&self) -> Result<OnceKey, Trouble> {
        self.once.clone().ok_or(Trouble::Unsealed)
    }

    /// The once-key of a form in which a password is typed: its digest is bound to the server's key, so that nothing
    /// stored lets a password be guessed.
    ///
    /// # Errors
    /// The form has none.
    pub fn guarded_key(&self, house: &House) -> Result<OnceKey, Trouble> {
        let key = self.once_key()?;
        let body_sha256 = hex(&house.key.derive("once", &[key.body_sha256.as_bytes()]));
        Ok(OnceKey { body_sha256, ..key })
    }

    /// What a form of method GET asks by the query part of the address: no seal, because it changes nothing.
    #[must_use]
    pub fn asked(ask: &Ask) -> Self {
        Self { pairs: serde_pairs(ask.request.query_string().as_bytes()).unwrap_or_default(), once: None }
    }

    /// Builds the form from pairs: for multipart bodies and for pages that show a form anew.
    ///
    /// # Errors
    /// The seal is missing or not this visitor's.
    pub fn sealed(ask: &Ask, pairs: Vec<(String, String)>) -> Result<Self, Trouble> {
        let mut filled = Self { pairs, once: None };
        let seal = filled.get("seal").unwrap_or_default();
        if !ask.house.key.seal_holds(&ask.found.visitor, seal) {
            return Err(Trouble::Unsealed);
        }
        if let Some(key) = filled.get("once").filter(|key| (16..=64).contains(&key.len()) && key.is_ascii()) {
            let key = key.to_owned();
            let sent: Vec<_> = filled.pairs.iter().filter(|(name, _)| name != "seal").collect();
            let path = ask.request.path();
            let body = serde_json::to_string(&sent).unwrap_or_default();
            filled.once = Some(OnceKey {
                key,
                door: ask.found.door.to_owned(),
                body_sha256: sha256_hex(format!("{path}\0{body}").as_bytes()),
            });
        }
        filled.pairs.retain(|(name, _)| name != "seal" && name != "once");
        Ok(filled)
    }
}

impl FromRequest for Filled {
    type Error = Trouble;
    type Future = Pin<Box<dyn Future<Output = Result<Self, Trouble>>>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let ask = Ask::from_request(request, &mut Payload::None);
        let too_large = request
            .headers()
            .get(actix_web::http::header::CONTENT_LENGTH)
            .and_then(|value| value.to_str().ok())
            .and_then(|value| value.parse::<usize>().ok())
            .is_some_and(|length| length > FORM_LIMIT);
        let body = web::Bytes::from_request(request, payload);
        Box::pin(async move {
            let ask = ask.await?;
            let refuse = || Trouble::TooLarge(Remark::new("form-too-large").with("limit", "2 MB"));
            if too_large {
                return Err(refuse());
            }
            let body = body.await.map_err(|_error| refuse())?;
            let pairs: Vec<(String, String)> = serde_pairs(&body)?;
            Self::sealed(&ask, pairs)
        })
    }
}

fn serde_pairs(body: &[u8]) -> Result<Vec<(String, String)>, Trouble> {
    let text =
        std::str::from_utf8(body).map_err(|_error| Trouble::about("", Remark::new("form-not-utf8")))?;
    web::Query::<Vec<(String, String)>>::from_query(text)
        .map(web::Query::into_inner)
        .map_err(|_error| Trouble::about("", Remark::new("form-not-utf8")))
}

/// Reads a form field by field. A field that cannot be used leaves a complaint and a harmless stand-in; `done` at the
/// end refuses the whole if there is any complaint, so a stand-in never goes further.
#[derive(Debug)]
pub struct Sheet<'f> {
    filled: &'f Filled,
    complaints: Vec<Complaint>,
}

impl<'f> Sheet<'f> {
    #[must_use]
    pub fn new(filled: &'f Filled) -> Self {
        Self { filled, complaints: Vec::new() }
    }

    /// Adds a complaint of the page's own.
    pub fn complain(&mut self, field: &str, remark: Remark) {
        if !self.complaints.iter().any(|known| known.field == field) {
            self.complaints.push(Complaint::new(field, remark));
        }
    }

    /// Refuses the form if anything was complained about.
    ///
    /// # Errors
    /// All complaints.
    pub fn done(self) -> Result<(), Trouble> {
        if self.complaints.is_empty() { Ok(()) } else { Err(Trouble::Complaints(self.complaints)) }
    }

    fn raw(&self, field: &str) -> &'f str {
        self.filled.get(field).unwrap_or_default()
    }

    /// One line, trimmed and composed (NFC); may be empty.
    pub fn maybe_text(&mut self, field: &str, most: usize) -> Option<String> {
        let text: String = self.raw(field).trim().nfc().collect();
        if text.is_empty() {
            return None;
        }
        if text.chars().any(char::is_control) {
            self.complain(field, Remark::new("form-control-characters"));
            return None;
        }
        self.not_too_long(field, text, most)
    }

    /// One line that must be there.
    pub fn text(&mut self, field: &str, most: usize) -> String {
        let found = self.maybe_text(field, most);
        self.must(field, found)
    }

    /// Several lines; may be empty. Line ends become single line feeds.
    pub fn words(&mut self, field: &str, most: usize) -> String {
        let text: String = self.raw(field).replace("\r\n", "\n").trim().nfc().collect();
        if text.chars().any(|c| c.is_control() && c != '\n' && c != '\t') {
            self.complain(field, Remark::new("form-control-characters"));
            return String::new();
        }
        self.not_too_long(field, text, most).unwrap_or_default()
    }

    fn not_too_long(&mut self, field: &str, text: String, most: usize) -> Option<String> {
        let length = text.chars().count();
        if length <= most {
            return Some(text);
        }
        let remark = Remark::new("form-too-long")
            .with("length", i64::try_from(length).unwrap_or(i64::MAX))
            .with("most", i64::try_from(most).unwrap_or(i64::MAX));
        self.complain(field, remark);
        None
    }

    fn must<T: Default>(&mut self, field: &str, found: Option<T>) -> T {
        if found.is_none() {
            self.complain(field, Remark::new("form-empty"));
        }
        found.unwrap_or_default()
    }

    /// A whole number; may be empty.
    pub fn maybe_whole(&mut self, field: &str, range: RangeInclusive<i64>) -> Option<i64> {
        self.maybe_decimal(field, 0, range)
    }

    /// A whole number.
    pub fn whole(&mut self, field: &str, range: RangeInclusive<i64>) -> i64 {
        let found = self.maybe_whole(field, range);
        self.must(field, found)
    }

    /// A decimal as an exact integer of its last place: with `places` 2, “4.3” is 430. May be empty.
    pub fn maybe_decimal(&mut self, field: &str, places: u32, range: RangeInclusive<i64>) -> Option<i64> {
        let typed = self.raw(field).trim();
        if typed.is_empty() {
            return None;
        }
        match exact_decimal(typed, places) {
            Some(value) if range.contains(&value) => Some(value),
            Some(_) => {
                let remark = Remark::new("form-out-of-range")
                    .with("value", typed)
                    .with("least", decimal_text(*range.start(), places))
                    .with("most", decimal_text(*range.end(), places));
                self.complain(field, remark);
                None
            }
            None => {
                let remark = Remark::new("form-no-number")
                    .with("value", short(typed))
                    .with("places", i64::from(places));
                self.complain(field, remark);
                None
            }
        }
    }

    /// A decimal that must be there.
    pub fn decimal(&mut self, field: &str, places: u32, range: RangeInclusive<i64>) -> i64 {
        let found = self.maybe_decimal(field, places, range);
        self.must(field, found)
    }

    fn parsed<T>(&mut self, field: &str, key: &'static str, parse: impl Fn(&str) -> Option<T>) -> Option<T> {
        let typed = self.raw(field).trim();
        if typed.is_empty() {
            return None;
        }
        let found = parse(typed);
        if found.is_none() {
            self.complain(field, Remark::new(key).with("value", short(typed)));
        }
        found
    }

    /// A day as browsers send it, `2026-11-25`; may be empty. Years 1900 to 2200.
    pub fn maybe_date(&mut self, field: &str) -> Option<NaiveDate> {
        self.parsed(field, "form-no-date", |typed| {
            NaiveDate::parse_from_str(typed, "%Y-%m-%d").ok().filter(|day| sensible(*day))
        })
    }

    /// A day that must be there.
    pub fn date(&mut self, field: &str) -> NaiveDate {
        let found = self.maybe_date(field);
        self.must(field, found)
    }

    /// Local wall time as browsers send it, `2026-11-25T16:30`; may be empty.
    pub fn maybe_local_time(&mut self, field: &str) -> Option<NaiveDateTime> {
        self.parsed(field, "form-no-local-time", |typed| {
            NaiveDateTime::parse_from_str(typed, "%Y-%m-%dT%H:%M")
                .or_else(|_| NaiveDateTime::parse_from_str(typed, "%Y-%m-%dT%H:%M:%S"))
                .ok()
                .filter(|at| sensible(at.date()))
        })
    }

    /// Local wall time that must be there.
    pub fn local_time(&mut self, field: &str) -> NaiveDateTime {
        let found = self.maybe_local_time(field);
        self.must(field, found)
    }

    /// A time of day as minutes since midnight; “24:00” is the end of the day.
    pub fn minutes_of_day(&mut self, field: &str) -> i32 {
        let found = self.parsed(field, "form-no-time", |typed| {
            if typed == "24:00" {
                return Some(1440);
            }
            let time = NaiveTime::parse_from_str(typed, "%H:%M").ok()?;
            i32::try_from(time.hour() * 60 + time.minute()).ok()
        });
        self.must(field, found)
    }

    /// One of a closed set of words; may be empty.
    pub fn maybe_choice<T: Spelled>(&mut self, field: &str) -> Option<T> {
        self.parsed(field, "form-no-choice", T::from_word)
    }

    /// One of a few words of the form's own; may be empty.
    pub fn maybe_word(&mut self, field: &str, words: &[&'static str]) -> Option<&'static str> {
        self.parsed(field, "form-no-choice", |typed| words.iter().copied().find(|word| *word == typed))
    }

    /// One of a closed set of words.
    pub fn choice<T: Spelled>(&mut self, field: &str, otherwise: T) -> T {
        let found = self.maybe_choice(field);
        if found.is_none() {
            self.complain(field, Remark::new("form-empty"));
        }
        found.unwrap_or(otherwise)
    }

    /// The id of something chosen from a list; may be empty.
    pub fn maybe_id<K>(&mut self, field: &str) -> Option<Id<K>> {
        self.parsed(field, "form-no-choice", |typed| typed.parse().ok())
    }

    /// The id of something chosen from a list.
    pub fn id<K>(&mut self, field: &str) -> Id<K> {
        let found = self.maybe_id(field);
        if found.is_none() {
            self.complain(field, Remark::new("form-empty"));
        }
        found.unwrap_or_else(|| Id::from_uuid(uuid::Uuid::nil()))
    }

    /// All ids ticked under one name. One that is no id spoils the field.
    pub fn ids<K>(&mut self, field: &str) -> Vec<Id<K>> {
        let parsed: Vec<Option<Id<K>>> = self.filled.all(field).map(|typed| typed.parse().ok()).collect();
        if parsed.iter().any(Option::is_none) {
            self.complain(field, Remark::new("form-no-choice").with("value", short(self.raw(field))));
        }
        parsed.into_iter().flatten().collect()
    }

    /// Whether a box was ticked.
    #[must_use]
    pub fn tick(&self, field: &str) -> bool {
        self.filled.get(field).is_some_and(|value| !value.is_empty() && value != "no")
    }
}

fn sensible(day: NaiveDate) -> bool {
    use chrono::Datelike;
    (1900..=2200).contains(&day.year())
}

/// What was typed, cut so that it fits into a sentence.
fn short(typed: &str) -> String {
    let mut text: String = typed.chars().take(40).collect();
    if text.len() < typed.len() {
        text.push('…');
    }
    text
}

/// Reads “12”, “-3.5” or “3,5” exactly; None for anything else or more than `places` digits after the point.
#[must_use]
pub fn exact_decimal(typed: &str, places: u32) -> Option<i64> {
    let (negative, digits) = match typed.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest),
        None => (false, typed.strip_prefix('+').unwrap_or(typed)),
    };
    let (whole, part) = digits.split_once(['.', ',']).unwrap_or((digits, ""));
    let part = part.trim_end_matches('0');
    let all_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let part_length = u32::try_from(part.len()).ok()?;
    if (whole.is_empty() && part.is_empty())
        || !all_digits(whole)
        || !all_digits(part)
        || part_length > places
    {
        return None;
    }
    let whole: i64 = if whole.is_empty() { 0 } else { whole.parse().ok()? };
    let part: i64 = if part.is_empty() { 0 } else { part.parse().ok()? };
    let value = whole
        .checked_mul(10_i64.checked_pow(places)?)?
        .checked_add(part.checked_mul(10_i64.checked_pow(places - part_length)?)?)?;
    Some(if negative { -value } else { value })
}

/// Writes an integer of the last place as a decimal without needless zeros: 430 with two places is “4.3”.
#[must_use]
pub fn decimal_text(value: i64, places: u32) -> String {
    let scale = 10_i64.checked_pow(places).unwrap_or(1);
    let sign = if value < 0 { "-" } else { "" };
    let (whole, part) =
        (value.unsigned_abs() / scale.unsigned_abs(), value.unsigned_abs() % scale.unsigned_abs());
    if part == 0 {
        return format!("{sign}{whole}");
    }
    let width = usize::try_from(places).unwrap_or(0);
    let part = format!("{part:0width$}");
    format!("{sign}{whole}.{}", part.trim_end_matches('0'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_are_read_and_written_exactly() {
        for (typed, places, value) in
            [("4.3", 2, 430), ("4,30", 2, 430), ("-0.5", 1, -5), (".5", 1, 5), ("7", 3, 7000), ("+2", 0, 2)]
        {
            assert_eq!(exact_decimal(typed, places), Some(value), "{typed}");
        }
        for typed in ["", ".", "1.234", "1e3", "NaN", "1.2.3", "٣", "99999999999999999999", "--1"] {
            assert_eq!(exact_decimal(typed, 2), None, "{typed}");
        }
        assert_eq!(decimal_text(430, 2), "4.3");
        assert_eq!(decimal_text(-5, 2), "-0.05");
        assert_eq!(decimal_text(1200, 2), "12");
    }

    fn sheet_of(pairs: &[(&str, &str)]) -> Filled {
        Filled { pairs: pairs.iter().map(|(n, v)| ((*n).to_owned(), (*v).to_owned())).collect(), once: None }
    }

    #[test]
    fn each_bad_field_is_complained_about_once_and_the_whole_is_refused() {
        let filled = sheet_of(&[
            ("title", "a\u{7}b"),
            ("due", "tomorrow"),
            ("size", "900"),
            ("name", "  Cafe\u{301} "),
        ]);
        let mut sheet = Sheet::new(&filled);
        sheet.text("title", 20);
        sheet.local_time("due");
        sheet.whole("size", 1..=100);
        sheet.text("absent", 20);
        assert_eq!(sheet.text("name", 20), "Caf\u{e9}");
        let Err(Trouble::Complaints(complaints)) = sheet.done() else { panic!("refused") };
        let fields: Vec<_> = complaints.iter().map(|complaint| complaint.field.as_str()).collect();
        assert_eq!(fields, ["title", "due", "size", "absent"]);
    }
}
