//! Numbers as people write them in the language at hand: a decimal point in English, a decimal comma in Spanish.

use crate::speech::language::Language;

/// A text of numbers in the language at hand: “0.85 mL” is “0,85 mL” in Spanish. Only a point between two digits is
/// a decimal point.
#[must_use]
pub fn figures(text: String) -> String {
    match Language::at_hand() {
        Language::English => text,
        Language::Spanish => with_commas(&text),
    }
}

/// The text with commas for its decimal points.
pub(super) fn with_commas(text: &str) -> String {
    let digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
    let mut letters = text.chars().peekable();
    let mut before = None;
    let mut written = String::with_capacity(text.len());
    while let Some(letter) = letters.next() {
        let decimal = letter == '.' && digit(before) && digit(letters.peek().copied());
        written.push(if decimal { ',' } else { letter });
        before = Some(letter);
    }
    written
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A comma is one of the two decimal signs of ISO 80000-1, 7.2.2, and the one of Spain (Ortografía de la lengua
    /// española, 2010, which allows both; named from memory).
    #[test]
    fn numbers_get_the_decimal_sign_of_the_language() {
        let shown = |text: &str| Language::Spanish.during(|| figures(text.to_owned()));
        assert_eq!(shown("0.85"), "0,85");
        assert_eq!(shown("(9.5 + 8) ÷ 2 = 8.75"), "(9,5 + 8) ÷ 2 = 8,75");
        assert_eq!(shown("EE. UU. 3. fin."), "EE. UU. 3. fin.");
        assert_eq!(figures("0.85".to_owned()), "0.85");
    }
}
