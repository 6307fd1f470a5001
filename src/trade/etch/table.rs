//! A class's table of etches: how many drops for which drawing. What is proposed here is a beginning for an
//! instructor, no measurement: drops by drawing are common practice, no published source, and from memory.

use std::collections::BTreeSet;

use crate::spelled;
use crate::trade::exact::{Exact, Rounding};
use crate::trade::measure::{Unit, Volume};
use crate::trade::procedure::Surface;

spelled!(
    /// How much grease the drawing carries.
    Weight { Light = "light", Medium = "medium", Heavy = "heavy" }
);

/// A row to begin with. Drops are the middle of what is told, for a US fluid ounce of gum: of 85 % phosphoric acid on
/// a plate, of concentrated nitric acid on a stone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Proposal {
    /// Names the row in the word catalogue.
    pub key: &'static str,
    pub surface: Surface,
    pub weight: Weight,
    /// Lowest and highest that is told.
    pub told: (i32, i32),
    pub drops_hundredths: i32,
    pub applications: i32,
    pub seconds: i32,
}

const fn row(
    key: &'static str,
    surface: Surface,
    weight: Weight,
    told: (i32, i32),
    applications: i32,
) -> Proposal {
    let drops_hundredths = (told.0 + told.1) * 50;
    // "In up to three applications of about two minutes, kept moving": common practice, no published source.
    Proposal { key, surface, weight, told, drops_hundredths, applications, seconds: 120 }
}

use Surface::{Plate, Stone};
use Weight::{Heavy, Light, Medium};

/// The rows to begin with, for plates and for stones; from memory, no published source.
pub const PROPOSALS: [Proposal; 10] = [
    row("pencil", Plate, Light, (0, 0), 1),
    row("light", Plate, Light, (2, 4), 1),
    row("medium", Plate, Medium, (5, 8), 2),
    row("strong", Plate, Heavy, (8, 12), 2),
    row("solid", Plate, Heavy, (12, 15), 3),
    row("pencil", Stone, Light, (0, 3), 1),
    row("light", Stone, Light, (3, 6), 1),
    row("medium", Stone, Medium, (8, 12), 2),
    row("strong", Stone, Heavy, (12, 18), 2),
    row("solid", Stone, Heavy, (18, 25), 3),
];

/// Whole drops for a volume of gum at so many hundredths of a drop to the US fluid ounce, to the nearest drop.
#[must_use]
pub fn drops(gum: &Volume, drops_hundredths: i32) -> u32 {
    let exact = &gum.amount(Unit::UsFluidOunce) * &Exact::hundredths(drops_hundredths.into());
    let whole = exact.rounded(Rounding::half_up(0)).to_i64();
    whole.and_then(|drops| u32::try_from(drops).ok()).unwrap_or(u32::MAX)
}

/// How many words of a drawing the words of a row name: `crayon 1, much` and `crayon 1 to 2` share two. Numbers joined by
/// one short word or a dash are everything between.
#[must_use]
pub fn shared_words(row: &str, drawing: &str) -> usize {
    let named = words(row);
    let mut shared = words(drawing);
    shared.retain(|word| named.contains(word));
    shared.len()
}

/// The words of a drawing, each once; words of a letter or two join others and name nothing.
fn words(text: &str) -> BTreeSet<String> {
    let lower = text.to_lowercase();
    let all: Vec<&str> =
        lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let number = |word: &str| word.parse::<u8>().ok();
    let mut found: BTreeSet<String> = all
        .iter()
        .filter(|word| word.chars().count() > 2 || number(word).is_some())
        .map(|word| (*word).to_owned())
        .collect();
    let numbers: Vec<(usize, u8)> =
        all.iter().enumerate().filter_map(|(place, word)| Some((place, number(word)?))).collect();
    for pair in numbers.windows(2) {
        if let [(place, from), (next, to)] = pair
            && next - place <= 2
        {
            found.extend((*from..=*to).map(|between| between.to_string()));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_is_known_by_the_words_of_the_drawing() {
        for (row, drawing, shared) in [
            ("crayon 1 to 2", "crayon 1, much of it", 2),
            ("crayon 3 – 5", "Crayon 4", 2),
            ("lápiz, barra 3 a 5", "barra 4", 2),
            ("pencil, crayon 5", "crayon 1", 1),
            ("pencil, crayon 5", "pen and tusche", 0),
            ("tusche solids", "rubbed tusche", 1),
            ("crayon 1 to 2", "", 0),
            ("crayon 1 to 2", "1 to 2 to 3 of a, at, to", 2),
        ] {
            assert_eq!(shared_words(row, drawing), shared, "{row}: {drawing}");
        }
    }

    #[test]
    fn proposals_stand_in_the_middle_of_what_is_told() {
        for one in PROPOSALS {
            let (low, high) = one.told;
            assert!((low * 100..=high * 100).contains(&one.drops_hundredths), "{}", one.key);
        }
        // 5 to 8 drops for a medium drawing on aluminium: common practice, no published source.
        let medium = PROPOSALS.iter().find(|one| one.key == "medium" && one.surface == Plate).unwrap();
        assert_eq!(medium.drops_hundredths, 650);
    }

    #[test]
    fn drops_go_with_the_gum() {
        let ounces =
            |hundredths| Volume::told("gum", &Exact::hundredths(hundredths), Unit::UsFluidOunce).unwrap();
        assert_eq!(drops(&ounces(100), 400), 4);
        assert_eq!(drops(&ounces(200), 650), 13);
        assert_eq!(drops(&ounces(100), 650), 7, "half a drop is one");
        assert_eq!(drops(&ounces(50), 0), 0);
        // 30 mL are 1.44 % more than an ounce, and still five drops.
        let thirty = Volume::from_microlitres("gum", 30_000).unwrap();
        assert_eq!(drops(&thirty, 500), 5);
    }
}
