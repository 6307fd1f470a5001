//! The text part as people read it: lines of at most 72 characters, an entry's words in a column beside its label, one
//! empty line between paragraphs. Templates write one paragraph a line; a tab stands between a label and its words.

/// The longest line that can be broken. RFC 5322, 2.1.1 asks for 78 at the most.
pub const WIDTH: usize = 72;
/// Where an entry's words begin.
const COLUMN: usize = 12;

/// Sets text whose paragraphs are one line each.
#[must_use]
pub fn set(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 64);
    let mut empty = true;
    for line in text.lines() {
        let line = line.trim();
        if line.is_empty() {
            if !empty {
                out.push('\n');
            }
            empty = true;
            continue;
        }
        empty = false;
        match line.split_once('\t') {
            Some((label, words)) => entry(&mut out, label.trim(), words.trim()),
            None => fill(&mut out, line, 0, 0),
        }
    }
    while out.ends_with("\n\n") {
        out.pop();
    }
    out
}

/// A label with its words beside it, or below it where the label is long.
fn entry(out: &mut String, label: &str, words: &str) {
    let length = label.chars().count();
    out.push_str(label);
    if length + 1 > COLUMN {
        out.push('\n');
        out.push_str(&" ".repeat(COLUMN));
    } else {
        out.push_str(&" ".repeat(COLUMN - length));
    }
    fill(out, words, COLUMN, COLUMN);
}

/// Words one after the other; `used` characters of the first line are taken, later lines begin with `indent` spaces. A
/// word that fits no line, such as an address, stands alone and whole.
fn fill(out: &mut String, words: &str, used: usize, indent: usize) {
    let mut at = used;
    let mut first = true;
    for word in words.split(' ').filter(|word| !word.is_empty()) {
        let length = word.chars().count();
        if !first && at + 1 + length > WIDTH {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            at = indent;
        } else if !first {
            out.push(' ');
            at += 1;
        }
        // A space that does not break keeps a date together while lines are set; in plain text it is a space.
        out.push_str(&word.replace('\u{a0}', " "));
        at += length;
        first = false;
    }
    out.push('\n');
}

/// Text as one line, for a header.
#[must_use]
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paragraphs_are_filled_and_entries_hang() {
        let words = "word ".repeat(30);
        let text =
            format!("\n\nHello\u{a0}you.\n\n\n{words}\nAlso open\t{words}\nA label too long\twords\n\n");
        let set = set(&text);
        assert!(set.lines().all(|line| line.chars().count() <= WIDTH), "{set}");
        let lines: Vec<&str> = set.lines().collect();
        assert_eq!(lines[..3], ["Hello you.", "", lines[2]]);
        assert!(lines[2].starts_with("word word") && lines[2].len() > WIDTH - 6);
        let entry = lines.iter().position(|line| line.starts_with("Also open   word")).unwrap();
        assert!(lines[entry + 1].starts_with("            word"));
        assert_eq!(lines[lines.len() - 2..], ["A label too long", "            words"]);
    }

    #[test]
    fn an_address_stays_whole_and_a_date_together() {
        let address = format!("https://tympan.example/{}", "a".repeat(80));
        assert!(set(&format!("Open {address} once")).lines().any(|line| line == address));
        let date = format!("{} Thu\u{a0}12\u{a0}Nov, 11:50", "x".repeat(64));
        assert_eq!(set(&date).lines().last(), Some("Thu 12 Nov, 11:50"));
    }

    #[test]
    fn a_header_is_one_line() {
        assert_eq!(one_line(" Next:\r\n\tdraw \u{a0} plate 1\n"), "Next: draw plate 1");
    }
}
