//! Text as people look for it: without capitals and accents, so that “sorby” finds “Sørby”. It is done here and not by
//! a database, because each of them folds letters in its own way.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// From how many letters on a piece is also found in the middle of a word.
const WITHIN_A_WORD: usize = 3;

/// The text in small letters without accents; what is neither letter nor digit becomes one space.
#[must_use]
pub fn folded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.nfkd().filter(|letter| !is_combining_mark(*letter)) {
        match letter {
            // O’Brien is looked for as “obrien”.
            '\'' | '’' | 'ʼ' => {}
            'ø' | 'Ø' => out.push('o'),
            'ł' | 'Ł' => out.push('l'),
            'đ' | 'Đ' | 'ð' | 'Ð' => out.push('d'),
            'ħ' | 'Ħ' => out.push('h'),
            'ı' => out.push('i'),
            'ß' | 'ẞ' => out.push_str("ss"),
            'æ' | 'Æ' => out.push_str("ae"),
            'œ' | 'Œ' => out.push_str("oe"),
            'þ' | 'Þ' => out.push_str("th"),
            letter if letter.is_alphanumeric() => out.extend(letter.to_lowercase()),
            _ if out.ends_with(' ') || out.is_empty() => {}
            _ => out.push(' '),
        }
    }
    out.truncate(out.trim_end().len());
    out
}

/// What somebody typed to find something: each piece must be found, in any order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sought {
    pieces: Vec<String>,
}

impl Sought {
    #[must_use]
    pub fn of(typed: &str) -> Self {
        Self {
            pieces: folded(typed).split(' ').filter(|piece| !piece.is_empty()).map(str::to_owned).collect(),
        }
    }

    /// Whether a text has all of it: one or two letters at the beginning of a word, more of them anywhere in it.
    #[must_use]
    pub fn finds(&self, text: &str) -> bool {
        let text = folded(text);
        let has = |piece: &String| {
            let within = piece.chars().count() >= WITHIN_A_WORD || !piece.is_ascii();
            text.split(' ')
                .any(|word| word.starts_with(piece.as_str()) || (within && word.contains(piece.as_str())))
        };
        !self.pieces.is_empty() && self.pieces.iter().all(has)
    }

    /// The number that was typed, alone (“12”, “#12”) or behind one of these words (“plate 12”).
    #[must_use]
    pub fn number(&self, behind: &str) -> Option<i32> {
        let number = match self.pieces.as_slice() {
            [number] => number,
            [word, number] if *word == folded(behind) => number,
            _ => return None,
        };
        number.bytes().all(|byte| byte.is_ascii_digit()).then(|| number.parse().ok()).flatten()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn capitals_and_accents_make_no_difference() {
        for (typed, same) in [
            ("José", "jose"),
            ("Jose\u{301}", "jose"),
            ("SØRBY", "sorby"),
            ("Trần", "tran"),
            ("Łukasz Żak", "lukasz zak"),
            ("Straße", "strasse"),
            ("O’Brien", "obrien"),
            ("Ægir, Þór", "aegir thor"),
            ("İzmir", "izmir"),
            ("  a -- b  ", "a b"),
            ("№ 7", "no 7"),
            ("Ωμέγα", "ωμεγα"),
            ("", ""),
        ] {
            assert_eq!(folded(typed), same, "{typed}");
            assert_eq!(folded(&folded(typed)), folded(typed), "folding again changes nothing: {typed}");
        }
    }

    #[test]
    fn few_letters_begin_a_word_and_more_stand_anywhere() {
        let finds = |typed: &str, text: &str| Sought::of(typed).finds(text);
        assert!(finds("s", "Wanda Sørby") && finds("so wa", "Wanda Sørby") && finds("ørb", "Wanda Sørby"));
        assert!(!finds("rb", "Wanda Sørby"), "two letters in the middle of a word say too little");
        assert!(!finds("wanda x", "Wanda Sørby"), "each piece is wanted");
        assert!(!finds("", "Wanda") && !finds("?!", "Wanda"), "nothing finds nothing");
        assert!(finds("山", "青山"), "where a word has few letters one is enough");
    }

    #[test]
    fn a_number_is_one_alone_or_behind_its_word() {
        let number = |typed: &str| Sought::of(typed).number("Plate");
        assert_eq!((number("12"), number(" #12 "), number("plate 12")), (Some(12), Some(12), Some(12)));
        assert_eq!(
            (number("12a"), number("1 2"), number("-"), number("99999999999")),
            (None, None, None, None)
        );
    }
}
