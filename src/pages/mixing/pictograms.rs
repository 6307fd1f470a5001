//! The hazard pictograms as the program draws them: a red square on its point with a black symbol in it, of our own
//! drawing after what the Globally Harmonized System says each one shows (UN GHS, annex 1; 29 CFR 1910.1200 appendix C).
//! The name stands beside the drawing: words and pictures tell it together (29 CFR 1910.1200 (f)(6)(ii)). What the data
//! sheet and the label of the supplier show comes first.

use serde::Serialize;

use crate::speech::Speech;
use crate::store::studio::sheets::{DataSheet, Pictogram};
use crate::trade::spelled::Spelled;

/// A pictogram for the template `mixing/pictogram`.
#[derive(Debug, Serialize)]
pub(super) struct Drawn {
    name: String,
    /// Outlines of the symbol, in a square of 100 by 100, as the `d` of SVG paths.
    black: &'static str,
    /// What is left white in it.
    white: &'static str,
}

/// The pictograms of a sheet.
pub(super) fn drawn(sheet: &DataSheet, speech: &Speech) -> Vec<Drawn> {
    let draw = |one: Pictogram| {
        let (black, white) = symbol(one);
        Drawn { name: speech.plain(&format!("mixing-pictogram-{}", one.word())), black, white }
    };
    sheet.pictograms().into_iter().map(draw).collect()
}

/// The symbol's black and white outlines.
const fn symbol(one: Pictogram) -> (&'static str, &'static str) {
    match one {
        Pictogram::ExplodingBomb => (EXPLODING_BOMB, ""),
        Pictogram::Flame => (FLAME, ""),
        Pictogram::FlameOverCircle => (FLAME_OVER_CIRCLE, FLAME_OVER_CIRCLE_WHITE),
        Pictogram::GasCylinder => (GAS_CYLINDER, ""),
        Pictogram::Corrosion => (CORROSION, ""),
        Pictogram::SkullAndCrossbones => (SKULL_AND_CROSSBONES, SKULL_AND_CROSSBONES_WHITE),
        Pictogram::ExclamationMark => (EXCLAMATION_MARK, ""),
        Pictogram::HealthHazard => (HEALTH_HAZARD, HEALTH_HAZARD_WHITE),
        Pictogram::Environment => (ENVIRONMENT, ENVIRONMENT_WHITE),
    }
}

const EXPLODING_BOMB: &str = "M39 58a11 11 0 1 0 22 0a11 11 0 1 0 -22 0ZM37.1 52.5L30.3 54.5L36 58.7ZM42.4 46.3L32 40.6L38 50.8Z \
    M50.2 44L45.8 38.4L44.1 45.3ZM58 46.5L59.4 34.8L52.2 44.2ZM63.1 53L66.6 46.8L59.5 47.8Z \
    M63.6 61.1L75 58L63.6 54.9ZM62.9 65.9L68.3 68.4L69.8 65.3L64.3 62.8Z \
    M55.5 72L58.4 77.3L61.4 75.7L58.5 70.4ZM41.5 70.4L38.6 75.7L41.6 77.3L44.5 72Z \
    M35.7 62.8L30.2 65.3L31.7 68.4L37.1 65.9ZM44 27L49 23L49 30ZM57 30L62 26L62 33Z";
const FLAME: &str = "M51 20C53 30 66 38 66 54C66 65 59 71 50 71C41 71 34 65 34 55C34 46 40 42 41 33C46 38 47 43 46 50C51 44 53 33 51 20Z \
    M33 75H67V79H33Z";
const FLAME_OVER_CIRCLE: &str = "M51 18C53 26 63 31 63 43L59 49C57 46 53 44 50 44C46 44 43 46 41 49L37 44C37 36 42 34 42 27C46 31 48 34 47 39C51 34 53 27 51 18Z \
    M38 59a12 12 0 1 0 24 0a12 12 0 1 0 -24 0ZM35 75H65V79H35Z";
const FLAME_OVER_CIRCLE_WHITE: &str = "M42.5 59a7.5 7.5 0 1 0 15 0a7.5 7.5 0 1 0 -15 0Z";
const GAS_CYLINDER: &str = "M25 56L59 36L65 46L31 66ZM25 56A6 6 0 0 0 31 66ZM59 36Q68 33 69 38Q70 43 65 46Z \
    M69.3 41.2L75.3 37.7L72.7 33.3L66.7 36.8ZM70.7 31.7L74.7 38.7L77.3 37.3L73.3 30.3Z";
const CORROSION: &str = "M25.1 30.6L41 42.6L45 37.4L28.9 25.4ZM71 25.4L55 37.4L59 42.6L75 30.6Z \
    M42.8 45a1.7 1.7 0 1 0 3.4 0a1.7 1.7 0 1 0 -3.4 0ZM40.8 51a1.7 1.7 0 1 0 3.4 0a1.7 1.7 0 1 0 -3.4 0Z \
    M42.8 57a1.7 1.7 0 1 0 3.4 0a1.7 1.7 0 1 0 -3.4 0ZM55.3 45a1.7 1.7 0 1 0 3.4 0a1.7 1.7 0 1 0 -3.4 0Z \
    M58.3 51a1.7 1.7 0 1 0 3.4 0a1.7 1.7 0 1 0 -3.4 0ZM55.8 57a1.7 1.7 0 1 0 3.4 0a1.7 1.7 0 1 0 -3.4 0Z \
    M26 64H40Q43 71 47 64H50V72H26Z \
    M51 66C56 66 57 62 60 63C62 67 64 61 66 63L77 65C78 68 74 70 70 70L60 71L54 74L51 73Z \
    M38.8 57.7L36.8 52.7L35.2 53.3L37.2 58.3ZM49.8 58.3L51.8 53.3L50.2 52.7L48.2 57.7Z";
const SKULL_AND_CROSSBONES: &str = "M50 21C61 21 67 28 67 37C67 43 64 46 61 48V55H57V51H55V56H52V52H48V56H45V51H43V55H39V48C36 46 33 43 33 37C33 28 39 21 50 21Z \
    M29.1 62L69.1 79L70.9 75L30.9 58ZM69.1 58L29.1 75L30.9 79L70.9 62Z \
    M25.8 58.5a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0 -6.4 0Z \
    M24.8 62a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0 -6.4 0Z \
    M67.8 58.5a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0 -6.4 0Z \
    M68.8 62a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0 -6.4 0Z \
    M25.8 78.5a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0 -6.4 0Z \
    M24.8 75a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0 -6.4 0Z \
    M67.8 78.5a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0 -6.4 0Z \
    M68.8 75a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0 -6.4 0Z";
const SKULL_AND_CROSSBONES_WHITE: &str = "M38.5 37a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0 -9 0ZM52.5 37a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0 -9 0Z \
    M50 41L52.5 47L47.5 47Z";
const EXCLAMATION_MARK: &str = "M43 24H57L53.5 58H46.5ZM44 68a6 6 0 1 0 12 0a6 6 0 1 0 -12 0Z";
const HEALTH_HAZARD: &str = "M42 27a8 8 0 1 0 16 0a8 8 0 1 0 -16 0Z \
    M44 37H56C66 39 69 46 70 55L66 67H62L61 60L60 78H40L39 60L38 67H34L30 55C31 46 34 39 44 37Z";
const HEALTH_HAZARD_WHITE: &str =
    "M51 42L53 49.5L60.5 47.5L55 53L60.5 58.5L53 56.5L51 64L49 56.5L41.5 58.5L47 53L41.5 47.5L49 49.5Z";
const ENVIRONMENT: &str = "M30.5 30.1L32.5 68.1L37.5 67.9L35.5 29.9ZM34.9 44.1L25.9 35.1L24.1 36.9L33.1 45.9Z \
    M35 40.9L44 30.9L42 29.1L33 39.1ZM36 54.9L45 44.9L43 43.1L34 53.1ZM30 39.9L29 32.9L27 33.1L28 40.1Z \
    M40 34.5L40 28L38 28L38 34.5ZM22 68H48L45 71H24Z \
    M50 63C55 56 66 55 72 61L79 57V70L72 65C66 71 56 70 50 63Z";
const ENVIRONMENT_WHITE: &str = "M53.5 61L57 64.5L58 63.5L54.5 60ZM57 60L53.5 63.5L54.5 64.5L58 61Z";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_has_its_own_symbol_inside_the_square() {
        let mut seen = std::collections::HashSet::new();
        for one in Pictogram::ALL {
            let (black, white) = symbol(*one);
            assert!(seen.insert(black), "{one:?}");
            for path in [black, white].iter().filter(|path| !path.is_empty()) {
                assert!(path.starts_with('M') && path.ends_with('Z'), "{one:?}: {path}");
                assert!(
                    path.chars().all(|c| c.is_ascii_digit() || " .-MLCQAaHVvZ".contains(c)),
                    "{one:?}: {path}"
                );
            }
        }
    }
}
