//! From the bytes of a file to text: UTF-8, or UTF-16 by its byte order mark. Anything else is refused with what to do;
//! an encoding is never guessed, because a wrong guess spoils exactly the names that are easiest to get wrong.

use super::MOST_BYTES;
use crate::trade::remark::Remark;

/// What kinds of file people choose by mistake, told by their first bytes.
const OTHER_FILES: [(&[u8], &str); 5] = [
    (b"PK\x03\x04", "roster-file-spreadsheet"),
    (b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", "roster-file-spreadsheet"),
    (b"%PDF-", "roster-file-pdf"),
    (b"{\\rtf", "roster-file-document"),
    (b"\x1F\x8B", "roster-file-packed"),
];

/// The text of a file without its byte order mark.
///
/// # Errors
/// The file is empty, too large, of another kind, or in another encoding.
pub(super) fn text(bytes: &[u8]) -> Result<String, Remark> {
    if bytes.len() > MOST_BYTES {
        return Err(Remark::new("roster-file-too-large")
            .with("bytes", count(bytes.len()))
            .with("most", count(MOST_BYTES)));
    }
    if let Some((_, key)) = OTHER_FILES.iter().find(|(magic, _)| bytes.starts_with(magic)) {
        return Err(Remark::new(key));
    }
    let text = decode(bytes)?;
    if text.trim().is_empty() {
        return Err(Remark::new("roster-file-empty"));
    }
    if is_page(&text) {
        return Err(Remark::new("roster-file-page"));
    }
    // UTF-16 without its mark is valid UTF-8 with a NUL beside every letter.
    if let Some(at) = text.find('\0') {
        return Err(unreadable(text.as_bytes(), at));
    }
    Ok(text)
}

fn decode(bytes: &[u8]) -> Result<String, Remark> {
    match bytes {
        // The mark of UTF-32 begins with that of UTF-16.
        [0xFF, 0xFE, 0, 0, ..] | [0, 0, 0xFE, 0xFF, ..] => Err(unreadable(bytes, 0)),
        [0xFF, 0xFE, units @ ..] => utf_16(units, u16::from_le_bytes),
        [0xFE, 0xFF, units @ ..] => utf_16(units, u16::from_be_bytes),
        [0xEF, 0xBB, 0xBF, rest @ ..] => utf_8(rest),
        _ => utf_8(bytes),
    }
}

fn utf_8(bytes: &[u8]) -> Result<String, Remark> {
    std::str::from_utf8(bytes).map(str::to_owned).map_err(|error| unreadable(bytes, error.valid_up_to()))
}

fn utf_16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> Result<String, Remark> {
    let (pairs, cut_off) = bytes.as_chunks::<2>();
    let mut text = String::with_capacity(bytes.len());
    for letter in char::decode_utf16(pairs.iter().map(|pair| unit(*pair))) {
        match letter {
            Ok(letter) => text.push(letter),
            Err(_) => return Err(unreadable(text.as_bytes(), text.len())),
        }
    }
    if cut_off.is_empty() { Ok(text) } else { Err(unreadable(text.as_bytes(), text.len())) }
}

/// The refusal, with the line in which reading stopped.
fn unreadable(bytes: &[u8], at: usize) -> Remark {
    let before = bytes.get(..at).unwrap_or(bytes);
    let feeds = before.iter().filter(|byte| **byte == b'\n').count();
    let returns = before.iter().filter(|byte| **byte == b'\r').count();
    Remark::new("roster-file-encoding").with("line", count(feeds.max(returns) + 1))
}

/// Markup instead of a table: some programs save a web page under the name of a table.
fn is_page(text: &str) -> bool {
    let mut letters = text.trim_start().chars();
    letters.next() == Some('<')
        && letters.next().is_some_and(|next| next.is_ascii_alphabetic() || matches!(next, '!' | '?'))
}

/// A length as the number of a remark.
pub(super) fn count(length: usize) -> i64 {
    i64::try_from(length).unwrap_or(i64::MAX)
}
