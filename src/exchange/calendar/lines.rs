//! Content lines of RFC 5545, section 3.1: folded at 75 octets, never inside a character.

/// A line is at most so many octets long, its end not counted.
const MOST: usize = 75;

/// Lines as they are written.
#[derive(Debug, Default)]
pub(super) struct Lines {
    out: String,
}

impl Lines {
    /// A property whose value is no free text: numbers, times, words of the standard, addresses.
    pub(super) fn plain(&mut self, name: &str, value: &str) {
        let value: String = value.chars().filter(|c| !c.is_control()).collect();
        self.fold(&format!("{name}:{value}"));
    }

    /// A property of type TEXT (section 3.3.11).
    pub(super) fn text(&mut self, name: &str, value: &str) {
        let mut escaped = String::with_capacity(value.len());
        for c in value.replace("\r\n", "\n").chars() {
            match c {
                '\\' | ';' | ',' => escaped.extend(['\\', c]),
                '\n' | '\r' => escaped.push_str("\\n"),
                c if c.is_control() => {}
                c => escaped.push(c),
            }
        }
        self.fold(&format!("{name}:{escaped}"));
    }

    fn fold(&mut self, line: &str) {
        let mut length = 0;
        for c in line.chars() {
            if length + c.len_utf8() > MOST {
                self.out.push_str("\r\n ");
                length = 1;
            }
            self.out.push(c);
            length += c.len_utf8();
        }
        self.out.push_str("\r\n");
    }

    pub(super) fn done(self) -> String {
        self.out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folding_counts_octets_and_never_cuts_a_character() {
        for word in ["a", "ß", "–", "𝄞"] {
            let text = word.repeat(200);
            let mut lines = Lines::default();
            lines.text("SUMMARY", &text);
            let out = lines.done();
            assert!(out.split("\r\n").all(|line| line.len() <= MOST), "{out}");
            assert!(out.split("\r\n").any(|line| line.len() > MOST - 4), "lines are filled");
            assert_eq!(out.replace("\r\n ", "").trim_end(), format!("SUMMARY:{text}"));
        }
    }
}
