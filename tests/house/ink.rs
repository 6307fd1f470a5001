//! The inks can be read: contrast of the tokens, light and dark, and no name used that is not mixed.
//!
//! Source: WCAG 2.2, definitions of relative luminance and contrast ratio; success criteria 1.4.3 (words 4.5:1) and
//! 1.4.11 (edges of controls 3:1). Black on white is 21:1 by that definition.

use std::collections::{BTreeMap, BTreeSet};

use super::{Leaf, leaves, uphold};

/// (ink, ground, least contrast)
const READ: [(&str, &str, f64); 14] = [
    ("ink", "paper", 7.0),
    ("ink", "card", 7.0),
    ("ink", "wash", 7.0),
    ("ink-soft", "paper", 4.5),
    ("ink-soft", "card", 4.5),
    ("ink-soft", "wash", 4.5),
    ("asphaltum", "paper", 4.5),
    ("asphaltum", "card", 4.5),
    ("asphaltum", "wash", 4.5),
    ("on-asphaltum", "asphaltum", 4.5),
    ("card", "ink", 7.0),
    ("edge", "paper", 3.0),
    ("edge", "card", 3.0),
    ("edge", "wash", 3.0),
];

/// The colours of the first `:root` block (old browsers) and the two of each `light-dark()`.
fn inks(css: &str) -> [BTreeMap<String, String>; 3] {
    let mut sets = [const { BTreeMap::new() }; 3];
    for line in css.lines() {
        let Some((name, value)) = line.trim().strip_prefix("--").and_then(|rest| rest.split_once(':')) else {
            continue;
        };
        let colours: Vec<String> =
            value.match_indices('#').map(|(at, _)| value[at..].chars().take(7).collect()).collect();
        match colours.as_slice() {
            [light, dark] if value.contains("light-dark(") => {
                sets[1].insert(name.to_owned(), light.clone());
                sets[2].insert(name.to_owned(), dark.clone());
            }
            [one] if value.trim_start().starts_with('#') => {
                sets[0].entry(name.to_owned()).or_insert_with(|| one.clone());
            }
            _ => {}
        }
    }
    sets
}

fn luminance(colour: &str) -> f64 {
    let part = |at: usize| {
        let byte = colour.get(at..at + 2).and_then(|digits| u8::from_str_radix(digits, 16).ok());
        let share = f64::from(byte.unwrap_or_else(|| panic!("{colour} is not #rrggbb"))) / 255.0;
        if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
}

fn contrast(one: &str, other: &str) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

fn too_faint(inks: &BTreeMap<String, String>) -> Vec<String> {
    let mut found = Vec::new();
    for (ink, ground, least) in READ {
        match (inks.get(ink), inks.get(ground)) {
            (Some(one), Some(other)) if contrast(one, other) >= least => {}
            (Some(one), Some(other)) => {
                found.push(format!("{ink} on {ground}: {:.1} of {least}", contrast(one, other)))
            }
            _ => found.push(format!("{ink} or {ground} is not mixed")),
        }
    }
    found
}

/// Names read by `var(--name)` that no line sets.
fn unmixed(sheets: &[Leaf]) -> Vec<String> {
    let text: String = sheets.iter().map(|leaf| leaf.text.as_str()).collect();
    let name_at = |at: usize| {
        text[at..].chars().take_while(|letter| letter.is_alphanumeric() || *letter == '-').collect::<String>()
    };
    let used: BTreeSet<String> = text.match_indices("var(").map(|(at, _)| name_at(at + 4)).collect();
    let missing = used.into_iter().filter(|name| !text.contains(&format!("{name}:")));
    missing.map(|name| format!("{name} is used and never set")).collect()
}

fn tokens() -> String {
    leaves("templates/assets", &["tokens.css"]).remove(0).text
}

#[test]
fn every_ink_can_be_read_on_every_ground() {
    let found: Vec<String> = inks(&tokens()).iter().flat_map(too_faint).collect();
    uphold(
        "Words need 4.5:1, body text here 7:1, edges of controls 3:1 (old browsers, light, dark).",
        &found,
    );
}

#[test]
fn old_browsers_see_the_light_scheme() {
    let [old, light, _] = inks(&tokens());
    assert_eq!(old, light, "the first block of tokens.css and the light values have to be the same");
}

#[test]
fn every_token_used_is_set() {
    uphold(
        "A style sheet reads a token that tokens.css does not set.",
        &unmixed(&leaves("templates/assets", &[".css"])),
    );
}

mod on_broken_files {
    use super::*;

    #[test]
    fn black_on_white_is_21_to_1() {
        assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
        // WCAG 2 technique G18's neighbour pair, well known: #767676 is the lightest grey that passes on white.
        assert!(contrast("#767676", "#ffffff") >= 4.5 && contrast("#777777", "#ffffff") < 4.5);
    }

    #[test]
    fn a_faint_ink_and_an_unset_token_are_found() {
        let mut faint = inks(&tokens())[1].clone();
        faint.insert("ink-soft".to_owned(), "#b0a090".to_owned());
        assert_eq!(too_faint(&faint).len(), 3);
        faint.remove("edge");
        assert_eq!(too_faint(&faint).len(), 6);
        assert_eq!(
            unmixed(&[Leaf::new(
                "a.css",
                ":root { --ink: #000 } p { color: var(--ink); margin: var(--pica) }"
            )]),
            ["--pica is used and never set"]
        );
    }
}
