//! Which passwords are taken: long ones that are not made of the words everybody tries. No rule asks for digits or
//! signs. Length and blocklist follow NIST SP 800-63B revision 4: 15 characters where the password is the only factor.

use std::collections::HashSet;
use std::sync::OnceLock;

use unicode_normalization::UnicodeNormalization;

use crate::secrets::sha256_hex;
use crate::trade::remark::Remark;

/// Fewest characters.
pub const LEAST: usize = 15;
/// Most characters; longer ones are refused, never cut.
pub const MOST: usize = 256;

/// What guessers try first, and what this house is called (from memory of published lists of leaked passwords).
const WEAK: &[&str] = &[
    "password",
    "passwort",
    "contraseña",
    "motdepasse",
    "passw0rd",
    "letmein",
    "welcome",
    "iloveyou",
    "qwerty",
    "qwertz",
    "azerty",
    "asdfgh",
    "zxcvbn",
    "qazwsx",
    "admin",
    "administrator",
    "monkey",
    "dragon",
    "sunshine",
    "princess",
    "football",
    "baseball",
    "superman",
    "batman",
    "master",
    "shadow",
    "michael",
    "jennifer",
    "charlie",
    "trustno",
    "starwars",
    "pokemon",
    "whatever",
    "hello",
    "freedom",
    "secret",
    "login",
    "changeme",
    "default",
    "guest",
    "root",
    "test",
    "user",
    "abcdef",
    "abc",
    "tympan",
    "lithography",
    "printmaking",
    "etching",
    "college",
    "university",
    "student",
    "instructor",
    "studio",
    "summer",
    "winter",
    "spring",
    "autumn",
    "january",
    "monday",
];

/// The passwords most often found in leaks, the first 3,000 of four characters or more and the longest of the others, as
/// the beginnings of their SHA-256: so none of those words stands in the program. From the list of the Django project
/// (common-passwords, BSD-3-Clause; © Django Software Foundation and individual contributors).
const COMMON: &str = include_str!("../../seed/common-passwords.txt");

fn is_common(piece: &str) -> bool {
    static ALL: OnceLock<HashSet<&'static str>> = OnceLock::new();
    let all = ALL.get_or_init(|| COMMON.lines().collect());
    sha256_hex(piece.as_bytes()).get(..16).is_some_and(|beginning| all.contains(beginning))
}

/// Keys that lie beside each other, as fingers run over them: rows and the slanting columns.
const ROWS: [&str; 9] = [
    "1234567890",
    "qwertyuiop",
    "qwertzuiop",
    "azertyuiop",
    "asdfghjkl",
    "zxcvbnm",
    "yxcvbnm",
    "1qaz2wsx3edc4rfv",
    "q1w2e3r4t5z6u7i8o9p0",
];

/// Puts a password into the one form that is hashed: NFKC.
#[must_use]
pub fn normal(typed: &str) -> String {
    typed.nfkc().collect()
}

/// Why a new password is not taken, if so. `own` are the person's names and address, the school's name and the codes of
/// their classes, which do not count.
#[must_use]
pub fn refuse(password: &str, own: &[&str]) -> Option<Remark> {
    let length = password.chars().count();
    let count = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
    if length < LEAST {
        return Some(
            Remark::new("people-password-short").with("length", count(length)).with("least", count(LEAST)),
        );
    }
    if length > MOST {
        return Some(
            Remark::new("people-password-long").with("length", count(length)).with("most", count(MOST)),
        );
    }
    let lower = password.to_lowercase();
    let pieces = own.iter().flat_map(|name| name.split(['@', ' ', '.', '-']));
    let own = own.iter().copied().chain(pieces).map(str::to_lowercase);
    let mut rest = lower.clone();
    for word in own.filter(|word| word.chars().count() > 2).chain(WEAK.iter().map(|word| (*word).to_owned()))
    {
        rest = rest.replace(&word, "");
    }
    let rest = without_runs(&rest);
    let distinct = {
        let mut all: Vec<char> = lower.chars().collect();
        all.sort_unstable();
        all.dedup();
        all.len()
    };
    (rest < 8 || distinct < 6 || is_repeated(&lower) || without_common(&lower) < 5)
        .then(|| Remark::new("people-password-common"))
}

/// Counts characters that do not merely go on from the one before: “123456” and “aaaa” count one.
fn without_runs(text: &str) -> usize {
    let all: Vec<char> = text.chars().filter(|c| !c.is_whitespace()).collect();
    let beside = |a: char, b: char| {
        ROWS.iter()
            .any(|row| row.chars().zip(row.chars().skip(1)).any(|pair| pair == (a, b) || pair == (b, a)))
    };
    let goes_on = |pair: &[char]| match pair {
        [a, b] => u32::from(*a).abs_diff(u32::from(*b)) <= 1 || beside(*a, *b),
        _ => false,
    };
    all.len() - all.windows(2).filter(|pair| goes_on(pair)).count()
}

/// How many characters are left when at most two of the passwords that everybody tries are taken out, wherever that
/// leaves fewest: a sentence of several words has more words than that.
fn without_common(text: &str) -> usize {
    let all: Vec<char> = text.chars().filter(|c| !c.is_whitespace()).collect();
    // Fewest characters left of so much of the text, by how many were taken out of it.
    let mut fewest = vec![[0_usize; 3]];
    for end in 1..=all.len() {
        let Some(mut here) = fewest.last().map(|before| before.map(|left| left + 1)) else { continue };
        for start in end.saturating_sub(24)..end.saturating_sub(3) {
            let piece: String = all.get(start..end).unwrap_or_default().iter().collect();
            let Some([none, one, _]) = fewest.get(start).copied() else { continue };
            if is_common(&piece) {
                here = [here[0], here[1].min(none), here[2].min(one)];
            }
        }
        fewest.push(here);
    }
    fewest.last().map_or(0, |left| left[2])
}

/// Whether the text is one short piece said again and again.
fn is_repeated(text: &str) -> bool {
    let all: Vec<char> = text.chars().collect();
    (1..=all.len() / 2).any(|size| {
        let mut pieces = all.chunks(size);
        let first = pieces.next();
        pieces.all(|piece| first.is_some_and(|first| first.starts_with(piece)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_everybody_tries_is_refused_and_a_plain_sentence_is_taken() {
        for weak in [
            "short",
            "passwordpassword",
            "Password12345678",
            "123456789012345678",
            "aaaaaaaaaaaaaaaaaa",
            "gumgumgumgumgumgum",
            "letmeinletmein2026",
            "qwertyuiopasdfgh1",
            "tympan-lithography",
            // Rows and columns of the keyboard.
            "1qaz2wsx3edc4rfv",
            "poiuytrewqlkjhgfdsa",
            "q1w2e3r4t5z6u7i8",
            // Two of the list with a year or a mark behind them.
            "chocolate-liverpool",
            "basketball.metallica!",
            "NewOrleans12345",
        ] {
            assert!(refuse(weak, &[]).is_some(), "{weak}");
        }
        assert!(refuse("avaramirez2026!", &["Ava", "Ramirez", "ava@college.example"]).is_some());
        let school = ["Ava", "Alder Hill College", "LIT-B"];
        assert!(refuse("alderhillcollege2026", &school).is_some());
        assert!(refuse("lit-b lit-b 2026 alder", &school).is_some());
        for fine in ["gum over the whole plate", "correct horse battery staple", "zwölf Steine im Regal"] {
            assert_eq!(refuse(fine, &["Ava"]), None, "{fine}");
        }
        assert!(refuse(&"ab cd ".repeat(50), &[]).is_some(), "too long");
        let long: String = (0..128).map(|n| char::from(b'!' + (n * 7 % 90) as u8)).collect();
        assert_eq!(refuse(&long, &[]), None, "128 characters are fine");
    }
}
