//! What a template and a style sheet may not hold, because the content policy would block it, because it would let
//! somebody's words through unescaped, or because it would be a sentence outside the word catalogue.

use super::{Leaf, leaves, uphold};

/// A template with its comments blanked out, so that places stay what they are.
fn without_comments(text: &str) -> String {
    let mut left = text.to_owned();
    for (begin, end) in [("{{!--", "--}}"), ("<!--", "-->"), ("{{!", "}}"), ("/*", "*/")] {
        let mut from = 0;
        while let Some(at) = left[from..].find(begin).map(|at| from + at) {
            let past = left[at..].find(end).map_or(left.len(), |length| at + length + end.len());
            let blank: String =
                left[at..past].chars().map(|letter| if letter == '\n' { '\n' } else { ' ' }).collect();
            left.replace_range(at..past, &blank);
            from = at + blank.len();
        }
    }
    left
}

fn place(leaf: &Leaf, text: &str, at: usize) -> String {
    let line = text[..at].matches('\n').count() + 1;
    let words = text[at..].lines().next().unwrap_or_default().trim();
    format!("{}:{line}: {}", leaf.path, words.chars().take(60).collect::<String>())
}

/// Places where `what` stands in a template's markup, whatever its case.
fn places_of(what: &str, leaf: &Leaf) -> Vec<String> {
    let text = without_comments(&leaf.text);
    let lower = text.to_ascii_lowercase();
    lower.match_indices(what).map(|(at, _)| place(leaf, &text, at)).collect()
}

/// Attributes (a name behind a space, before `=`) whose name `is` what one looks for.
fn attributes(leaf: &Leaf, is: impl Fn(&str) -> bool) -> Vec<String> {
    let text = without_comments(&leaf.text);
    let lower = text.to_ascii_lowercase();
    let found = lower.match_indices('=').filter_map(|(equals, _)| {
        let before = lower[..equals].trim_end();
        let name = before
            .rsplit(|letter: char| !(letter.is_alphanumeric() || letter == '-' || letter == ':'))
            .next()?;
        let begin = before.len() - name.len();
        // Inside `{{ }}` a name before `=` is a parameter of ours.
        let ours = lower[..begin].rfind("{{") > lower[..begin].rfind("}}");
        let behind_space = lower[..begin]
            .ends_with(|letter: char| letter.is_whitespace() || letter == '"' || letter == '\'');
        (is(name) && behind_space && !ours).then(|| place(leaf, &text, begin))
    });
    found.collect()
}

fn styles(leaf: &Leaf) -> Vec<String> {
    let mut found = attributes(leaf, |name| name == "style");
    found.extend(places_of("<style", leaf));
    found
}

fn unescaped(leaf: &Leaf) -> Vec<String> {
    let mut found = places_of("{{{", leaf);
    found.extend(places_of("{{&", leaf));
    found.extend(places_of("{{~{", leaf));
    found
}

/// Scripts with something between their tags, handlers in attributes, and addresses that are scripts.
fn inline_scripts(leaf: &Leaf) -> Vec<String> {
    let mut found = attributes(leaf, |name| name.len() > 3 && name.starts_with("on") && !name.contains('-'));
    found.extend(places_of("javascript:", leaf));
    let text = without_comments(&leaf.text);
    let lower = text.to_ascii_lowercase();
    for (at, _) in lower.match_indices("<script") {
        let body = lower[at..].find('>').map(|begin| &lower[at + begin + 1..]).unwrap_or_default();
        let body = body.find("</script").map_or(body, |end| &body[..end]);
        if !body.trim().is_empty() {
            found.push(place(leaf, &text, at));
        }
    }
    found
}

/// Style sheets that say words: they belong in the catalogue and arrive by `attr()`.
fn words_in_styles(leaf: &Leaf) -> Vec<String> {
    let text = without_comments(&leaf.text);
    let found = text.match_indices("content:").filter(|(at, _)| {
        let value = text[*at..].split([';', '}']).next().unwrap_or_default();
        // An escape such as \2002 is a space or a sign, not a word.
        let quoted = value.split('"').skip(1).step_by(2);
        quoted
            .filter(|quoted| !quoted.starts_with('\\'))
            .any(|quoted| quoted.chars().any(char::is_alphabetic))
    });
    found.map(|(at, _)| place(leaf, &text, at)).collect()
}

/// Classes a template names in full that no style sheet knows: misspelt, or taken away. What is put together with
/// braces is not followed.
fn unstyled(leaf: &Leaf, sheets: &str) -> Vec<String> {
    let text = without_comments(&leaf.text);
    let mut found = Vec::new();
    for (at, opening) in text.match_indices("class=\"") {
        let mut value = text[at + opening.len()..].to_owned();
        while let Some(open) = value.find("{{").filter(|open| value.find('"').is_none_or(|end| *open < end)) {
            let past = value[open..].find("}}").map_or(value.len(), |length| open + length + 2);
            value.replace_range(open..past, "\u{1}");
        }
        let names = value.split('"').next().unwrap_or_default().split_whitespace();
        let unknown = names.filter(|name| !name.contains('\u{1}')).filter(|name| !knows_class(sheets, name));
        found.extend(unknown.map(|name| format!("{}: {name}", place(leaf, &text, at))));
    }
    found
}

fn knows_class(sheets: &str, name: &str) -> bool {
    sheets.match_indices(&format!(".{name}")).any(|(at, dotted)| {
        let next = sheets[at + dotted.len()..].chars().next();
        next.is_none_or(|letter| !(letter.is_alphanumeric() || letter == '-' || letter == '_'))
    })
}

fn templates() -> Vec<Leaf> {
    leaves("templates", &[".hbs", ".html"])
}

/// A letter's HTML is read by mail programs, which know no style sheet of ours.
fn is_letter(leaf: &Leaf) -> bool {
    leaf.path.starts_with("templates/letters/")
}

fn all(leaves: &[Leaf], rule: impl Fn(&Leaf) -> Vec<String>) -> Vec<String> {
    leaves.iter().flat_map(rule).collect()
}

#[test]
fn no_page_has_a_style_of_its_own() {
    let pages: Vec<Leaf> = templates().into_iter().filter(|leaf| !is_letter(leaf)).collect();
    uphold(
        "The content policy blocks styles in a page: give it a class of tympan.css.",
        &all(&pages, styles),
    );
}

#[test]
fn nothing_is_written_unescaped() {
    uphold(
        "Triple braces write somebody's words as markup: use two, or a helper that writes markup of ours.",
        &all(&templates(), unescaped),
    );
}

#[test]
fn no_script_stands_in_a_page() {
    uphold(
        "The content policy blocks scripts in a page: put them into templates/assets.",
        &all(&templates(), inline_scripts),
    );
}

#[test]
fn nothing_is_embedded_as_data() {
    let mut files = templates();
    files.extend(leaves("templates/assets", &[".css", ".js", ".svg"]));
    let found = all(&files, |leaf| {
        ["\"data:", "'data:", "(data:"].iter().flat_map(|what| places_of(what, leaf)).collect()
    });
    uphold("The content policy blocks data: addresses: make it a file of templates/assets.", &found);
}

#[test]
fn every_class_has_a_style() {
    let sheets: String = leaves("templates/assets", &[".css"]).into_iter().map(|leaf| leaf.text).collect();
    let pages: Vec<Leaf> = templates().into_iter().filter(|leaf| !is_letter(leaf)).collect();
    uphold(
        "A class that no style sheet knows is misspelt or does nothing: see templates/assets/look.md.",
        &all(&pages, |leaf| unstyled(leaf, &sheets)),
    );
}

#[test]
fn style_sheets_hold_no_words() {
    uphold(
        "A word in a style sheet cannot be translated: bring it by attr().",
        &all(&leaves("templates", &[".css"]), words_in_styles),
    );
}

mod on_broken_files {
    use super::*;

    fn of(text: &str) -> Leaf {
        Leaf::new("templates/etches/plate.hbs", text)
    }

    #[test]
    fn a_style_is_found() {
        for text in [
            "<p style=\"x\">",
            "<p class=\"a\"\n STYLE = 'x'>",
            "<p class='a'style='x'>",
            "<style>p{}</style>",
        ] {
            assert_eq!(styles(&of(text)).len(), 1, "{text}");
        }
        for text in [
            "{{!-- style=x --}}",
            "<p data-style=\"x\">",
            "{{square style=\"done\"}}",
            "<!-- <p style=a> -->",
            "in the style of the time",
        ] {
            assert_eq!(styles(&of(text)), [""; 0], "{text}");
        }
        assert_eq!(styles(&of("<p>\n\n<b style=x>")), ["templates/etches/plate.hbs:3: style=x>"]);
    }

    #[test]
    fn unescaped_writing_is_found() {
        for text in ["{{{name}}}", "{{& name}}", "{{~{name}~}}"] {
            assert_eq!(unescaped(&of(text)).len(), 1, "{text}");
        }
        assert_eq!(unescaped(&of("{{name}} {{!-- {{{name}}} --}}")), [""; 0]);
    }

    #[test]
    fn a_script_in_a_page_is_found() {
        for text in [
            "<script>go()</script>",
            "<SCRIPT type=module>\ngo()\n</SCRIPT>",
            "<p onclick=\"go()\">",
            "<p ONMOUSEOVER = go>",
            "<a href=\"javascript:go()\">",
            "<script>never ends",
        ] {
            assert_eq!(inline_scripts(&of(text)).len(), 1, "{text}");
        }
        for text in [
            "<script src=\"/assets/bench.js\" defer></script>",
            "{{say \"x\" one=1 once=2}}",
            "<p data-once=\"1\">",
            "<input name=\"one\">",
        ] {
            assert_eq!(inline_scripts(&of(text)), [""; 0], "{text}");
        }
    }

    #[test]
    fn a_class_without_a_style_is_found() {
        let sheets = ".act, .act-quiet:hover { color: red } .square-done{}";
        assert_eq!(unstyled(&of("<p class=\"act actt\"><p class=\"quiet\">"), sheets).len(), 2);
        for text in [
            "<p class=\"act act-quiet\">",
            "<p class=\"act square-{{state}} {{#if a}}x{{/if}}\" title=\"y\">",
            "<p class=\"{{say \"x\"}} act\">",
        ] {
            assert_eq!(unstyled(&of(text), sheets), [""; 0], "{text}");
        }
        assert!(!knows_class(sheets, "square"), "a longer name is not this one");
    }

    #[test]
    fn a_word_in_a_style_sheet_is_found() {
        assert_eq!(words_in_styles(&of(".by::before { content: \"start by \"; }")).len(), 1);
        for text in [
            "a::before { content: attr(data-label) \" \"; }",
            "a { content: counter(step) \"\\2002\"; }",
            "/* content: \"words\" */",
        ] {
            assert_eq!(words_in_styles(&of(text)), [""; 0], "{text}");
        }
    }
}
