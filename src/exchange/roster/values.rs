//! Single values of a list: text cleaned of what cannot be seen, mailboxes, numbers a spreadsheet program has spoiled.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use crate::exchange::spreadsheet::begins_like_formula;

/// RFC 5321, 4.5.3.1: a path has 256 octets, its angle brackets included; a local part has 64.
pub(super) const MOST_EMAIL: usize = 254;
const MOST_LOCAL_PART: usize = 64;

/// Spaces and invisible marks around the text taken away, inner spaces single, in NFC; or the key of what is wrong.
/// Dashes and dots alone stand for an empty cell.
pub(super) fn plain(raw: &str) -> Result<String, &'static str> {
    let trimmed = raw.trim_matches(|letter: char| letter.is_whitespace() || is_hidden(letter));
    if trimmed.chars().any(is_hidden) {
        return Err("roster-control-characters");
    }
    if trimmed.contains('\u{FFFD}') {
        return Err("roster-letter-lost");
    }
    if trimmed.chars().all(|letter| matches!(letter, '-' | '–' | '—' | '.')) {
        return Ok(String::new());
    }
    if begins_like_formula(trimmed) {
        return Err("roster-formula");
    }
    let mut text = String::with_capacity(trimmed.len());
    for word in trimmed.split_whitespace() {
        if !text.is_empty() {
            text.push(' ');
        }
        text.extend(word.nfc());
    }
    Ok(text)
}

/// Control characters, line and paragraph ends, and marks that change how other letters are shown without being seen
/// themselves. The joiners of Persian and Indian scripts are part of names.
pub(super) fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{AD}' | '\u{61C}' | '\u{200B}' | '\u{200E}' | '\u{200F}' | '\u{2028}'..='\u{202E}'
            | '\u{2060}'..='\u{206F}' | '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}')
}

/// A mailbox as lists hold it: `local@domain` with a dot in the domain, no comments, no quoted local part
/// (RFC 5321, 4.1.2; letters beyond ASCII as RFC 6531 allows them).
pub(super) fn is_email(email: &str) -> bool {
    let Some((local, domain)) = email.rsplit_once('@') else { return false };
    let labels: Vec<&str> = domain.split('.').collect();
    email.len() <= MOST_EMAIL
        && local.len() <= MOST_LOCAL_PART
        && local.split('.').all(|atom| !atom.is_empty() && atom.chars().all(is_atom_letter))
        && labels.len() >= 2
        && labels.iter().all(|label| is_label(label))
        && labels.last().is_some_and(|top| !top.bytes().all(|byte| byte.is_ascii_digit()))
}

fn is_atom_letter(letter: char) -> bool {
    letter.is_ascii_alphanumeric()
        || "!#$%&'*+-/=?^_`{|}~".contains(letter)
        || (!letter.is_ascii() && !letter.is_whitespace())
}

/// A part of a domain name: 1 to 63 octets, letters, digits and inner hyphens (RFC 1035, 2.3.1; RFC 1123, 2.1).
fn is_label(label: &str) -> bool {
    (1..=63).contains(&label.len())
        && !label.starts_with('-')
        && !label.ends_with('-')
        // Combining marks are part of letters in the domain names of some scripts.
        && label.chars().all(|letter| letter == '-' || letter.is_alphanumeric() || is_combining_mark(letter))
}

/// `1.23457E+11`: a spreadsheet program has shortened a long number, its digits are lost.
pub(super) fn is_rounded(number: &str) -> bool {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let Some((mantissa, exponent)) = number.split_once(['E', 'e']) else { return false };
    let Some(exponent) = exponent.strip_prefix('+') else { return false };
    digits(exponent) && mantissa.split(['.', ',']).all(digits)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mailboxes_are_told_from_other_text() {
        for good in [
            "ana@student.example",
            "a.b+c@sub.student.example",
            "o'neil@student.example",
            "josé@école.example",
            "用户@例子.example",
        ] {
            assert!(is_email(good), "{good}");
        }
        let long_local = format!("{}@student.example", "a".repeat(65));
        let long_label = format!("a@{}.example", "a".repeat(64));
        for bad in [
            "",
            "ana",
            "ana@",
            "@student.example",
            "ana@student",
            "ana@@student.example",
            "a b@student.example",
            ".ana@student.example",
            "ana.@student.example",
            "a..b@student.example",
            "ana@-student.example",
            "ana@student-.example",
            "ana@student..example",
            "ana@10.0.0.1",
            "Ana <ana@student.example>",
            "\"ana\"@student.example",
            "ana@student.example,",
            "mailto:ana@student.example",
            &long_local,
            &long_label,
        ] {
            assert!(!is_email(bad), "{bad}");
        }
    }

    #[test]
    fn text_is_cleaned_but_never_mended() {
        for (raw, text) in [
            ("  Ana\u{A0}\u{A0}Lima ", Ok("Ana Lima")),
            ("Jose\u{301}", Ok("José")),
            ("\u{FEFF}\u{200E}Ana\u{200F}\r\n", Ok("Ana")),
            ("می\u{200C}رود", Ok("می\u{200C}رود")),
            ("’t Hooft", Ok("’t Hooft")),
            ("'t Hooft", Ok("'t Hooft")),
            ("A\u{7}na", Err("roster-control-characters")),
            ("A\nna", Err("roster-control-characters")),
            ("A\u{202E}na", Err("roster-control-characters")),
            ("Jos\u{FFFD}", Err("roster-letter-lost")),
            (" - ", Ok("")),
            (".", Ok("")),
            ("-Ana", Err("roster-formula")),
            ("=Ana", Err("roster-formula")),
            (" ＠Ana", Err("roster-formula")),
        ] {
            assert_eq!(plain(raw), text.map(str::to_owned), "{raw:?}");
        }
    }

    #[test]
    fn shortened_numbers_are_told() {
        for (number, rounded) in [
            ("1.23457E+11", true),
            ("1,2E+8", true),
            ("4e+09", true),
            ("E12345", false),
            ("12E4", false),
            ("1234", false),
        ] {
            assert_eq!(is_rounded(number), rounded, "{number}");
        }
    }
}
