//! Acid or solvent on skin or in an eye: water first, and this screen is for whoever helps. The page works without signal,
//! so it also exists without a studio; the safety data sheet, local rules and the school's safety office come first.

use serde::Serialize;

use crate::ids::StudioId;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::{Ask, InClass};
use crate::pages::mixing::sheet::signal_words;
use crate::speech::Speech;
use crate::store::AnyConnection;
use crate::store::studio::rooms::{self, Room};
use crate::store::studio::sheets::{self, DataSheet};
use crate::trouble::Trouble;

/// Digits that make a number somebody can call.
const LEAST_DIGITS: usize = 3;

/// Where help is in a room, and what its data sheets say in short. A phone takes it along.
#[derive(Debug, Clone, Serialize)]
pub struct Help {
    pub room: String,
    pub address: String,
    pub eyewash: String,
    pub calls: Vec<Piece>,
    pub sheets: Vec<Short>,
}

/// A piece of what is told about whom to call: words, or a number that can be tapped.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Piece {
    pub words: String,
    pub call: Option<String>,
}

/// A data sheet in short, as staff entered it.
#[derive(Debug, Clone, Serialize)]
pub struct Short {
    pub product: String,
    pub supplier: String,
    pub revised: String,
    pub signal: Option<String>,
    pub hazards: Vec<String>,
}

#[derive(Serialize)]
struct View {
    help: Option<Help>,
}

/// What the record has for a room.
#[derive(Debug)]
pub struct Found {
    room: Room,
    sheets: Vec<DataSheet>,
}

/// Reads it.
///
/// # Errors
/// The database cannot be read.
pub fn find(db: &mut AnyConnection, studio: StudioId) -> Result<Found, Trouble> {
    Ok(Found { room: rooms::room(db, studio)?, sheets: sheets::sheets(db, studio)? })
}

/// In words.
#[must_use]
pub fn help(speech: &Speech, found: &Found) -> Help {
    let Found { room, sheets } = found;
    Help {
        room: room.name.clone(),
        address: room.room_address.clone(),
        eyewash: room.eyewash.clone(),
        calls: pieces(&room.emergency_numbers),
        sheets: sheets.iter().map(|sheet| short(speech, sheet)).collect(),
    }
}

fn short(speech: &Speech, sheet: &DataSheet) -> Short {
    Short {
        product: sheet.product.clone(),
        supplier: sheet.supplier.clone(),
        revised: dates::day_with_year(sheet.revised),
        signal: signal_words(sheet.signal.0, speech),
        hazards: sheet.hazards().into_iter().map(str::to_owned).collect(),
    }
}

/// The page a phone keeps; the script fills in the studio it knows.
pub async fn shell(ask: Ask) -> Reply {
    ask.show("sittings/splash", "splash-title", &View { help: None })
}

/// The page of a class's studio.
pub async fn page(ask: InClass) -> Reply {
    let studio = ask.membership.studio;
    let found = ask.house.db.read(move |db| find(db, studio)).await?;
    ask.show("sittings/splash", "splash-title", &View { help: Some(help(&ask.house.speech, &found)) })
}

/// What is told about whom to call, cut where a number begins and ends: “Campus safety 555-0142, else 911”.
#[must_use]
pub fn pieces(told: &str) -> Vec<Piece> {
    let mut found: Vec<Piece> = Vec::new();
    let mut words = String::new();
    let mut rest = told;
    while let Some(first) = rest.chars().next() {
        let number = number_at(rest, words.chars().next_back());
        if number.is_empty() {
            words.push(first);
            rest = rest.get(first.len_utf8()..).unwrap_or_default();
            continue;
        }
        if !words.is_empty() {
            found.push(Piece { words: std::mem::take(&mut words), call: None });
        }
        let digits: String = number.chars().filter(|c| c.is_ascii_digit() || *c == '+').collect();
        found.push(Piece { words: number.to_owned(), call: Some(format!("tel:{digits}")) });
        // A number ends where no digit follows.
        rest = rest.get(number.len()..).unwrap_or_default();
    }
    if !words.is_empty() {
        found.push(Piece { words, call: None });
    }
    found
}

/// The number a text begins with; empty where it begins with none, or in the middle of a word.
fn number_at(text: &str, before: Option<char>) -> &str {
    let begins = text.starts_with(|c: char| c.is_ascii_digit() || c == '+' || c == '(');
    if !begins || before.is_some_and(char::is_alphanumeric) {
        return "";
    }
    let of_number = |c: char| c.is_ascii_digit() || matches!(c, '+' | '(' | ')' | '-' | '.' | ' ' | '\u{a0}');
    let end = text.find(|c| !of_number(c)).unwrap_or(text.len());
    let number = text.get(..end).unwrap_or_default();
    let number = number.trim_end_matches(|c: char| !c.is_ascii_digit());
    let digits = number.chars().filter(char::is_ascii_digit).count();
    if digits >= LEAST_DIGITS { number } else { "" }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> Vec<(String, Option<String>)> {
        pieces(text).into_iter().map(|piece| (piece.words, piece.call)).collect()
    }

    #[test]
    fn numbers_can_be_tapped_and_words_stay_words() {
        let number = |words: &str, call: &str| (words.to_owned(), Some(call.to_owned()));
        let words = |words: &str| (words.to_owned(), None);
        assert_eq!(
            told("Campus safety (555) 010-0142, else 911."),
            [
                words("Campus safety "),
                number("(555) 010-0142", "tel:5550100142"),
                words(", else "),
                number("911", "tel:911"),
                words("."),
            ]
        );
        assert_eq!(told("+49 30 12345 (day)"), [number("+49 30 12345", "tel:+493012345"), words(" (day)")]);
        assert_eq!(told("Room 12, H2O"), [words("Room 12, H2O")]);
        assert_eq!(told(""), []);
    }
}
