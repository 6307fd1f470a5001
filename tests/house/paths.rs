//! The paths a Rust text names (`crate::store::Db`, `use diesel::{prelude::*, sql_query}`), found without a compiler:
//! comments, strings and lifetimes set aside, groups written out. Macros that build paths are not followed.

use std::iter::Peekable;
use std::str::CharIndices;

/// One path as written, groups written out; `*` stands for a glob. `line` counts from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Named {
    pub(super) line: usize,
    pub(super) segments: Vec<String>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Token {
    Word(String),
    Colons,
    Sign(char),
}

/// Every path of two or more segments, and the single names in `use`, `extern crate` and attributes.
pub(super) fn paths(text: &str) -> Vec<Named> {
    let tokens = tokens(text);
    let mut found = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        if begins_path(&tokens, at) {
            let line = tokens[at].1;
            let (all, after) = write_out(&tokens, at, &[]);
            found.extend(all.into_iter().map(|segments| Named { line, segments }));
            at = after.max(at + 1);
        } else {
            at += 1;
        }
    }
    found
}

fn begins_path(tokens: &[(Token, usize)], at: usize) -> bool {
    let Token::Word(_) = tokens[at].0 else { return false };
    let token = |index: Option<usize>| index.and_then(|index| tokens.get(index)).map(|(token, _)| token);
    let is_word = |token: Option<&Token>, words: &[&str]| matches!(token, Some(Token::Word(word)) if words.contains(&word.as_str()));
    let before = token(at.checked_sub(1));
    // `::name` goes on with a path, unless the colons themselves begin one: after a sign, an arrow, or `use`.
    let leading = match (token(at.checked_sub(3)), token(at.checked_sub(2))) {
        (_, Some(Token::Word(word))) => word == "use",
        (Some(Token::Sign('-' | '=')), Some(Token::Sign('>'))) => true,
        (_, Some(Token::Sign('>'))) => false,
        _ => true,
    };
    match before {
        Some(Token::Colons) if !leading => false,
        Some(Token::Sign('.')) => false,
        _ => {
            let attribute = matches!(before, Some(Token::Sign('[')))
                && matches!(token(at.checked_sub(2)), Some(Token::Sign('#' | '!')));
            let alone = attribute
                || is_word(before, &["use"])
                || (is_word(before, &["crate"]) && is_word(token(at.checked_sub(2)), &["extern"]));
            alone || matches!(token(Some(at + 1)), Some(Token::Colons))
        }
    }
}

/// Writes out the path that begins at `at` behind `before`; gives the paths and the place after them.
fn write_out(tokens: &[(Token, usize)], mut at: usize, before: &[String]) -> (Vec<Vec<String>>, usize) {
    let mut path = before.to_vec();
    loop {
        match tokens.get(at).map(|(token, _)| token) {
            Some(Token::Word(word)) => path.push(word.clone()),
            Some(Token::Sign('*')) => {
                path.push("*".to_owned());
                return (vec![path], at + 1);
            }
            Some(Token::Sign('{')) => return write_out_group(tokens, at + 1, &path),
            _ => return (vec![path], at),
        }
        at += 1;
        if !matches!(tokens.get(at), Some((Token::Colons, _))) {
            return (vec![path], at);
        }
        at += 1;
    }
}

fn write_out_group(tokens: &[(Token, usize)], mut at: usize, before: &[String]) -> (Vec<Vec<String>>, usize) {
    let mut found = Vec::new();
    loop {
        match tokens.get(at).map(|(token, _)| token) {
            None => return (found, at),
            Some(Token::Sign('}')) => return (found, at + 1),
            Some(Token::Sign(',')) => at += 1,
            Some(Token::Word(word)) if word == "as" => at += 2, // the new name is no path
            Some(Token::Word(_) | Token::Sign('*' | '{')) => {
                let (members, after) = write_out(tokens, at, before);
                found.extend(members);
                at = after;
            }
            Some(_) => at += 1,
        }
    }
}

fn tokens(text: &str) -> Vec<(Token, usize)> {
    let mut found = Vec::new();
    let mut line = 1;
    let mut rest = text.char_indices().peekable();
    while let Some((at, letter)) = rest.next() {
        let begun = line;
        let token = match letter {
            '\n' => {
                line += 1;
                continue;
            }
            '/' if text[at..].starts_with("//") => {
                while rest.next_if(|(_, next)| *next != '\n').is_some() {}
                continue;
            }
            '/' if text[at..].starts_with("/*") => {
                line += skip_to(&mut rest, at + block_comment_length(&text[at..]), text, at);
                continue;
            }
            '"' => {
                line += skip_to(&mut rest, at + string_length(&text[at..]), text, at);
                continue;
            }
            '\'' => {
                line += skip_to(&mut rest, at + quote_length(&text[at..]), text, at);
                continue;
            }
            ':' if text[at..].starts_with("::") => {
                rest.next();
                Token::Colons
            }
            _ if letter.is_alphanumeric() || letter == '_' => {
                let length = raw_string_length(&text[at..]);
                if length > 0 {
                    line += skip_to(&mut rest, at + length, text, at);
                    continue;
                }
                while rest.next_if(|(_, next)| next.is_alphanumeric() || *next == '_').is_some() {}
                let end = rest.peek().map_or(text.len(), |(end, _)| *end);
                if &text[at..end] == "r" && text[end..].starts_with('#') {
                    rest.next(); // a raw identifier is the identifier
                    continue;
                }
                Token::Word(text[at..end].to_owned())
            }
            _ if letter.is_whitespace() => continue,
            _ => Token::Sign(letter),
        };
        found.push((token, begun));
    }
    found
}

/// Moves on to byte `end`; gives how many lines were passed.
fn skip_to(rest: &mut Peekable<CharIndices<'_>>, end: usize, text: &str, from: usize) -> usize {
    while rest.next_if(|(at, _)| *at < end).is_some() {}
    text[from..end.min(text.len())].matches('\n').count()
}

/// Bytes of the block comment that the text begins with; such comments nest.
fn block_comment_length(text: &str) -> usize {
    let (mut depth, mut at) = (0_usize, 0);
    while at < text.len() {
        let here = &text.as_bytes()[at..];
        if here.starts_with(b"/*") {
            depth += 1;
            at += 2;
        } else if here.starts_with(b"*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += 1;
        }
    }
    text.len()
}

/// Bytes of the quoted string that the text begins with.
fn string_length(text: &str) -> usize {
    let mut escaped = false;
    for (at, letter) in text.char_indices().skip(1) {
        match letter {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return at + 1,
            _ => {}
        }
    }
    text.len()
}

/// Bytes of the raw string (`r"`, `br#"`) that the text begins with; 0 where it begins with a word.
fn raw_string_length(text: &str) -> usize {
    let Some(after) = ["br", "cr", "r"].iter().find_map(|prefix| text.strip_prefix(prefix)) else { return 0 };
    let hashes = after.len() - after.trim_start_matches('#').len();
    if !after[hashes..].starts_with('"') {
        return 0;
    }
    let begin = text.len() - after.len() + hashes + 1;
    let end = format!("\"{}", "#".repeat(hashes));
    text[begin..].find(&end).map_or(text.len(), |at| begin + at + end.len())
}

/// Bytes of the character that the text begins with, or of the mark alone where it begins a lifetime.
fn quote_length(text: &str) -> usize {
    let mut letters = text.char_indices().skip(1);
    match (letters.next(), letters.next()) {
        (Some((_, '\\')), Some((escaped, _))) => {
            text[escaped + 1..].find('\'').map_or(1, |at| escaped + 1 + at + 1)
        }
        (Some(_), Some((end, '\''))) => end + 1,
        _ => 1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(text: &str) -> Vec<String> {
        paths(text).into_iter().map(|named| named.segments.join("::")).collect()
    }

    #[test]
    fn groups_are_written_out() {
        assert_eq!(
            written("use crate::{store::{Db, etches as log}, trade::etch::*, self};"),
            ["crate::store::Db", "crate::store::etches", "crate::trade::etch::*", "crate::self"]
        );
        assert_eq!(written("use {diesel::dsl, ::tokio::time};"), ["diesel::dsl", "tokio::time"]);
    }

    #[test]
    fn a_path_in_the_middle_of_a_line_is_found() {
        assert_eq!(
            written("let x: Vec<image::Rgb> = crate::photos::read::<lettre::Message>(a.b::<C>());"),
            ["image::Rgb", "crate::photos::read", "lettre::Message"]
        );
        assert_eq!(
            written("#[tokio::test] #[diesel(sql_type = Text)] #![handlebars]"),
            ["tokio::test", "diesel", "handlebars"]
        );
        assert_eq!(
            written("extern crate rusqlite; use diesel; <T as diesel::Table>::all()"),
            ["rusqlite", "diesel", "diesel::Table"]
        );
        assert_eq!(
            written("fn f() -> ::diesel::QueryResult<()> { super::super::store::now() }"),
            ["diesel::QueryResult", "super::super::store::now"]
        );
    }

    #[test]
    fn comments_and_quoted_text_name_nothing() {
        let text = "// crate::pages\n/* crate::pages /* nested */ crate::pages */ \"crate::pages \\\" diesel::x\"\n\
            r#\"crate::pages\" diesel::y\"# br\"tokio::z\" 'a' '\\'' b'\"' '\\u{41}' fn f<'a>(x: &'a str) {}\nuse r#crate::clock;";
        assert_eq!(paths(text), [Named { line: 4, segments: vec!["crate".into(), "clock".into()] }]);
    }
}
