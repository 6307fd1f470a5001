//! Proof photos drawn by the program itself: the pictures of the demo school and of tests. Each is an invented motif,
//! drawn by one of the hands a plate knows, etched and printed well or badly, and photographed on a table with a
//! phone. Everything follows from the seed by arithmetic that is the same on every machine.

mod motifs;
mod pull;

pub use motifs::Motif;

use crate::spelled;
use tympan_raster::Misfit;
use tympan_raster::canvas::Canvas;
use tympan_raster::jpeg::{self, Turn};
use tympan_raster::photograph;
use tympan_raster::random::Random;
use tympan_raster::screen::{self, Screen, Wear};

spelled!(
    /// What the drawing is made with.
    Hand { Crayon = "crayon", Wash = "wash", Line = "line", Solid = "solid" }
);

/// How the etch came up on the proof.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CameUp {
    Clean,
    /// Light tones eaten by the etch.
    Burned,
    /// Dark tones closed up.
    FilledIn,
    /// Ink on the bare border.
    BorderDirt,
    /// A grey film over the whole plate.
    BorderVeil,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Paper {
    White,
    Cream,
    Buff,
    Grey,
}

/// Everything a picture follows from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Drawing {
    /// The plate: the same seed is the same drawing, whatever became of it.
    pub plate: u64,
    /// Which pull of the plate: another pull lies otherwise on the paper and is photographed anew.
    pub pull: u32,
    pub motif: Motif,
    pub hand: Hand,
    pub came_up: CameUp,
    /// How far it went, in percent; a clean plate has only what every pull has.
    pub strength: u8,
    pub paper: Paper,
    /// Pixels of the long side, 200 to 1600.
    pub long_side: u16,
}

impl Drawing {
    /// A clean pull on cream paper at a size that is quick to make.
    #[must_use]
    pub fn new(plate: u64, motif: Motif, hand: Hand) -> Self {
        let (came_up, paper) = (CameUp::Clean, Paper::Cream);
        Self { plate, pull: 1, motif, hand, came_up, strength: 60, paper, long_side: 1000 }
    }
}

/// A photograph as RGB bytes, rows from the top.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    pub width: u32,
    pub height: u32,
    pub rgb: Vec<u8>,
}

impl Picture {
    /// The picture as a JPEG file, as a phone would send it.
    ///
    /// # Errors
    /// None for a picture made here; one built by hand may not fit its size.
    pub fn jpeg(&self) -> Result<Vec<u8>, Misfit> {
        jpeg::write(&self.rgb, (self.width, self.height), Turn::default(), 89)
    }
}

/// Parts of a picture that do not disturb one another.
const STREAM_MOTIF: u64 = 1;
const STREAM_ETCH: u64 = 2;
const STREAM_PULL: u64 = 3;
const STREAM_SIZES: u64 = 4;

/// Draws, etches, prints and photographs.
#[must_use]
pub fn draw(drawing: &Drawing) -> Picture {
    let mut pull = Random::part(drawing.plate.wrapping_add(u64::from(drawing.pull) << 40), STREAM_PULL);
    let layout = pull::Layout::new(drawing, &mut Random::part(drawing.plate, STREAM_SIZES), &mut pull);
    let mut etch = Random::part(drawing.plate, STREAM_ETCH);
    let mut canvas = sketch(drawing, &layout);
    let strength = f32::from(drawing.strength.min(100)) / 100.0;
    if drawing.came_up == CameUp::Burned {
        pull::pool_acid(&mut canvas, strength, &mut etch);
    }
    let (screen, size) = (screen_of(drawing.hand), (layout.image.width, layout.image.height));
    let image = screen::lay(&canvas, screen, wear(drawing.came_up, strength), size, &mut etch);
    let sheet = pull::print(drawing, &layout, &image, &mut etch, &mut pull);
    let view = pull::view(drawing, &layout, &mut pull);
    let rgb = photograph::take(&sheet, &view, &mut pull);
    let side = |pixels: usize| u32::try_from(pixels).unwrap_or(0);
    Picture { width: side(view.width), height: side(view.height), rgb }
}

/// The drawing on the plate at half the print's resolution: the screen puts in what is finer.
fn sketch(drawing: &Drawing, layout: &pull::Layout) -> Canvas {
    let mut random = Random::part(drawing.plate, STREAM_MOTIF);
    let waver = match drawing.hand {
        Hand::Crayon | Hand::Wash => 0.006,
        Hand::Line | Hand::Solid => 0.004,
    };
    let (width, height) = (layout.image.width / 2 + 2, layout.image.height / 2 + 2);
    let mut canvas = Canvas::new(width, height, waver, &mut random);
    drawing.motif.draw(&mut canvas, &mut random);
    match drawing.hand {
        Hand::Crayon => canvas.border(0.03, 0.014, 0.0),
        Hand::Wash => canvas.border(0.03, 0.004, 0.3),
        Hand::Line | Hand::Solid => canvas.border(0.02, 0.002, 0.0),
    }
    canvas
}

fn screen_of(hand: Hand) -> Screen {
    match hand {
        Hand::Crayon => Screen::Grain,
        Hand::Wash => Screen::Reticulation,
        Hand::Line => Screen::Hatching,
        Hand::Solid => Screen::Flat,
    }
}

/// A clean plate, too, loses and closes a little.
fn wear(came_up: CameUp, strength: f32) -> Wear {
    match came_up {
        CameUp::Burned => Wear { lost: strength, closed: 0.0 },
        CameUp::FilledIn => Wear { lost: 0.0, closed: strength },
        CameUp::Clean | CameUp::BorderDirt | CameUp::BorderVeil => Wear { lost: 0.06, closed: 0.05 },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photos::picture::prepare;
    use crate::trade::spelled::Spelled;
    use sha2::{Digest, Sha256};

    const HANDS: [Hand; 4] = [Hand::Crayon, Hand::Wash, Hand::Line, Hand::Solid];

    fn small(plate: u64, motif: Motif, hand: Hand) -> Drawing {
        Drawing { long_side: 480, ..Drawing::new(plate, motif, hand) }
    }

    /// Share of ink, roughly, in the image and on the plate's border around it: 0 is the paper's white.
    fn darkness(drawing: &Drawing) -> (f32, f32) {
        let mut pull = Random::part(drawing.plate.wrapping_add(u64::from(drawing.pull) << 40), STREAM_PULL);
        let layout = pull::Layout::new(drawing, &mut Random::part(drawing.plate, STREAM_SIZES), &mut pull);
        let (inner, outer) = layout.on_photograph();
        let picture = draw(drawing);
        let (mut image, mut border) = ((0.0, 0.0), (0.0, 0.0));
        for (at, pixel) in picture.rgb.chunks_exact(3).enumerate() {
            let at = u32::try_from(at).unwrap();
            let (x, y) = ((at % picture.width) as usize, (at / picture.width) as usize);
            let within = |place: &tympan_raster::sheet::Place, slack: usize| {
                (place.left + slack..place.left + place.width - slack).contains(&x)
                    && (place.top + slack..place.top + place.height - slack).contains(&y)
            };
            let beside = |place: &tympan_raster::sheet::Place, slack: usize| {
                !(place.left - slack..place.left + place.width + slack).contains(&x)
                    || !(place.top - slack..place.top + place.height + slack).contains(&y)
            };
            let dark = 1.0 - f32::from(pixel[1]) / 232.0;
            if within(&inner, 10) {
                image = (image.0 + dark, image.1 + 1.0);
            } else if within(&outer, 5) && beside(&inner, 5) {
                border = (border.0 + dark, border.1 + 1.0);
            }
        }
        (image.0 / image.1, border.0 / border.1)
    }

    #[test]
    fn every_motif_in_every_hand_is_a_picture() {
        for (motif, hand) in Motif::ALL.iter().flat_map(|motif| HANDS.map(|hand| (*motif, hand))) {
            let drawing = small(7, motif, hand);
            let (image, border) = darkness(&drawing);
            assert!((0.1..0.8).contains(&image), "{motif:?} {hand:?}: {image}");
            assert!(border < 0.2, "{motif:?} {hand:?}: {border}");
        }
    }

    #[test]
    fn what_the_etch_did_can_be_seen() {
        for (motif, hand) in
            [(Motif::Bowl, Hand::Crayon), (Motif::Stairs, Hand::Wash), (Motif::Trees, Hand::Line)]
        {
            let of = |came_up| darkness(&Drawing { came_up, strength: 90, ..small(3, motif, hand) });
            let clean = of(CameUp::Clean);
            assert!(of(CameUp::Burned).0 < clean.0 - 0.08, "{motif:?}");
            assert!(of(CameUp::FilledIn).0 > clean.0 + 0.06, "{motif:?}");
            let (dirt, veil) = (of(CameUp::BorderDirt), of(CameUp::BorderVeil));
            assert!(dirt.1 > clean.1 + 0.06, "{motif:?} {dirt:?} {clean:?}");
            assert!(veil.1 > clean.1 + 0.1 && veil.0 > clean.0, "{motif:?} {veil:?} {clean:?}");
        }
    }

    #[test]
    fn seed_and_pull_decide_everything() {
        let drawing = small(11, Motif::Harbour, Hand::Crayon);
        assert_eq!(draw(&drawing), draw(&drawing));
        assert_ne!(draw(&drawing), draw(&Drawing { pull: 2, ..drawing }));
        assert_ne!(draw(&drawing), draw(&Drawing { plate: 12, ..drawing }));
    }

    #[test]
    fn every_pull_of_a_plate_shows_the_same_drawing() {
        let sketched = |number: u64| {
            let drawing = Drawing { pull: 1, ..small(11, Motif::Trees, Hand::Crayon) };
            let (mut sizes, mut pull) = (Random::part(drawing.plate, STREAM_SIZES), Random::new(number));
            let layout = pull::Layout::new(&drawing, &mut sizes, &mut pull);
            let canvas = sketch(&drawing, &layout);
            (canvas.tone.values, canvas.line.values, canvas.direction)
        };
        let first = sketched(1);
        assert!((2..8).all(|number| sketched(number) == first));
    }

    /// The demo school's exports are compared byte by byte, on other machines and in other builds too.
    #[test]
    fn the_arithmetic_is_the_same_everywhere() {
        let picture = draw(&Drawing { long_side: 240, ..Drawing::new(1, Motif::Hands, Hand::Wash) });
        let digest = Sha256::digest(&picture.rgb);
        let words: String = digest.iter().take(8).map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(words, "89795140b921eec9");
    }

    #[test]
    fn sizes_are_kept_within_bounds() {
        let side = |long_side| draw(&Drawing { long_side, ..Drawing::new(1, Motif::Stairs, Hand::Line) });
        assert_eq!((side(0).width, side(0).height), (150, 200));
        assert_eq!((side(9000).width, side(9000).height), (1200, 1600));
        let lying = draw(&small(1, Motif::Bowl, Hand::Solid));
        assert_eq!((lying.width, lying.height), (480, 360));
        let prepared = prepare(&lying.jpeg().unwrap()).unwrap();
        assert_eq!((prepared.width, prepared.height), (480, 360));
    }
}
