//! From tones to ink: what grained metal, crayon, tusche or a pen make of a drawing. A lithograph has no grey ink;
//! every tone is black in small enough pieces, and here it is made so as well.

use crate::canvas::Canvas;
use crate::field::{Field, around, byte, whole};
use crate::random::Random;
use crate::shape::sine_cosine;
use crate::tile::{self, DIRECTIONS, SIDE};

/// The means a drawing is made with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Screen {
    /// Crayon on grained metal.
    Grain,
    /// Tusche thinned with water, dried to a winding net.
    Reticulation,
    /// Pen: lines, and hatching where it is dark.
    Hatching,
    /// Flat black shapes, spatter for the middle tone, lines scratched white through black.
    Flat,
}

/// What etching and printing did to the drawing; all from 0 (nothing) to 1.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Wear {
    /// Light tones lost, in patches.
    pub lost: f32,
    /// Darks closed up.
    pub closed: f32,
}

/// Ink on the image area, 0 to 255, `size` pixels, rows from the top.
#[must_use]
pub fn lay(
    canvas: &Canvas,
    screen: Screen,
    wear: Wear,
    size: (usize, usize),
    random: &mut Random,
) -> Vec<u8> {
    let (width, height) = size;
    let patches = Field::clouds(width / 4 + 1, height / 4 + 1, width as f32 / 20.0, 4, random);
    let mut ink = vec![0; width * height];
    let reading = Reading::new(random);
    let mut tones = Rows::new(canvas, width, height);
    let mut patch_row = vec![0.0; width];
    for (y, row) in ink.chunks_exact_mut(width.max(1)).enumerate() {
        tones.read(y);
        patches.read_enlarged(4, y, &mut patch_row);
        let textures = reading.line(y);
        for (x, place) in row.iter_mut().enumerate() {
            let patch = patch_row[x];
            let worn = worn(tones.tone[x], tones.line[x], patch, wear);
            let direction = usize::from(tones.direction[x]) % DIRECTIONS;
            let spot = Spot { x, y, direction, patch, textures: &textures };
            let cover = match screen {
                Screen::Grain => grain(worn, &spot),
                Screen::Reticulation => reticulation(worn, &spot),
                Screen::Hatching => hatching(worn, &spot),
                Screen::Flat => flat(worn, &spot),
            };
            let closed = wear.closed * around(worn.tone - 0.61, 0.19) * (0.8 + patch * 0.5);
            // The film is thinner here and there, and paper shows through in single pits.
            let film = 0.93 + 0.08 * patch - 0.10 * around(spot.here(textures.pulp) - 0.93, 0.07);
            *place = byte(cover.max(closed).min(1.0) * film);
        }
    }
    ink
}

/// Tone and line at a place after wear.
#[derive(Debug, Clone, Copy)]
struct Worn {
    tone: f32,
    line: f32,
}

fn worn(tone: f32, line: f32, patch: f32, wear: Wear) -> Worn {
    let eaten = wear.lost * (0.16 + 0.34 * around(patch - 0.125, 0.225));
    let grown = wear.closed * around(tone - 0.42, 0.2) * (0.34 + 0.3 * patch);
    Worn {
        tone: tone.clamp(0.0, 1.0) * (1.0 - 0.25 * wear.lost) - eaten + grown,
        line: line * (1.0 - eaten * 1.4) * (1.0 + 0.4 * wear.closed),
    }
}

/// Where this print begins to read the tiles: two unrelated places.
struct Reading {
    places: [(usize, usize); 2],
    angles: [[(f32, f32); 3]; DIRECTIONS],
}

/// One line of every tile.
struct Textures {
    /// Columns at which the two readings begin.
    begin: [usize; 2],
    grain: &'static [u8; SIDE],
    pulp: &'static [u8; SIDE],
    /// The net, and another part of it.
    net: [&'static [u8; SIDE]; 2],
    strokes: [[&'static [u8; SIDE]; DIRECTIONS]; 2],
    angles: [[(f32, f32); 3]; DIRECTIONS],
}

impl Reading {
    fn new(random: &mut Random) -> Self {
        let side = u32::try_from(SIDE).unwrap_or(1);
        let mut place = || (random.below(side) as usize, random.below(side) as usize);
        Self { places: [place(), place()], angles: angles() }
    }

    fn line(&self, y: usize) -> Textures {
        let [here, other] = self.places.map(|(_, down)| y + down);
        let strokes = |y| std::array::from_fn(|direction| tile::strokes(direction).row(y));
        Textures {
            begin: self.places.map(|(across, _)| across),
            grain: tile::grain().row(here),
            pulp: tile::pulp().row(here),
            net: [here, other].map(|y| tile::reticulation().row(y)),
            strokes: [strokes(here), strokes(other)],
            angles: self.angles,
        }
    }
}

struct Spot<'a> {
    x: usize,
    y: usize,
    direction: usize,
    patch: f32,
    textures: &'a Textures,
}

impl Spot<'_> {
    /// A texture at this place, 0 to 1.
    #[inline]
    fn here(&self, line: &[u8; SIDE]) -> f32 {
        f32::from(line[(self.x + self.textures.begin[0]) % SIDE]) * (1.0 / 255.0)
    }

    /// The same at an unrelated place.
    #[inline]
    fn other(&self, line: &[u8; SIDE]) -> f32 {
        f32::from(line[(self.x + self.textures.begin[1]) % SIDE]) * (1.0 / 255.0)
    }

    fn grain(&self) -> f32 {
        self.here(self.textures.grain)
    }
}

fn grain(worn: Worn, spot: &Spot<'_>) -> f32 {
    let stroke = spot.here(spot.textures.strokes[0][spot.direction]);
    let again = spot.other(spot.textures.strokes[1][(spot.direction + 1) % DIRECTIONS]);
    let tone = worn.tone;
    // Strokes show most in the middle tones; pressed hard, crayon fills them.
    let show = (1.15 - tone).clamp(0.15, 1.0);
    let hand = (stroke - 0.5) * 1.3 + (again - 0.5) * 0.5;
    let pressure = (tone * (1.0 + hand * show)).max(worn.line * (0.62 + 0.6 * stroke));
    around(pressure * 1.16 - 0.06 - spot.grain(), 0.24)
}

fn reticulation(worn: Worn, spot: &Spot<'_>) -> f32 {
    let net = spot.here(spot.textures.net[0]);
    // Wetter in some places: there the net opens, elsewhere it stays fine and even.
    let wet = (0.5 + spot.patch * 1.2).clamp(0.15, 0.85);
    let threshold = net * wet + spot.grain() * (1.0 - wet);
    let tone = worn.tone.max(worn.line * 0.8).clamp(0.0, 1.0);
    let net = around(tone * 1.3 - 0.15 - threshold, 0.4);
    let film = tone * (0.9 + spot.patch * 0.35);
    net * 0.62 + film * 0.38
}

/// Turn of the hatching against the strokes and the tone at which it begins, for three layers over each other.
const LAYERS: [(f32, f32); 3] = [(0.0, 0.06), (0.19, 0.34), (0.11, 0.62)];

/// Sine and cosine of each layer in each direction.
fn angles() -> [[(f32, f32); 3]; DIRECTIONS] {
    std::array::from_fn(|direction| {
        let lean = direction as f32 / (2 * DIRECTIONS) as f32;
        LAYERS.map(|(turn, _)| sine_cosine(lean + turn))
    })
}

fn hatching(worn: Worn, spot: &Spot<'_>) -> f32 {
    let Spot { x, y, .. } = *spot;
    let grain = spot.grain();
    let ragged = (grain - 0.5) * 0.22;
    let mut cover = around(worn.line + ragged - 0.47, 0.11);
    for ((_, begins), (sine, cosine)) in LAYERS.into_iter().zip(spot.textures.angles[spot.direction]) {
        if worn.tone < begins {
            break;
        }
        let across = y as f32 * cosine - x as f32 * sine + spot.patch * 11.0;
        let lines = across * (1.0 / 5.6);
        let off = (lines - whole(lines + 4096.0) as f32 + 4095.5).abs() * 2.0;
        // The pen lifts now and then.
        let lifted = spot.other(spot.textures.strokes[1][spot.direction]);
        let width = ((worn.tone - begins) * 1.15 + 0.14).min(0.8) * (0.75 + 0.4 * lifted);
        cover = cover.max(around(width - off + ragged, 0.16));
    }
    cover.max(around(worn.tone - 0.9, 0.05))
}

fn flat(worn: Worn, spot: &Spot<'_>) -> f32 {
    let grain = spot.grain();
    let edge = worn.tone + (grain - 0.5) * 0.05;
    let solid = around(edge - 0.525, 0.025);
    let line = around(worn.line + grain * 0.2 - 0.6, 0.1);
    // Spatter: round drops, larger where the brush was fuller.
    let drops = spot.other(spot.textures.net[1]) * 0.75 + grain * 0.25;
    let spatter = around((edge - 0.2) * 1.25 - drops, 0.08);
    let pinhole = around(0.008 - grain * grain - 0.4 * (1.0 - spot.here(spot.textures.pulp)), 0.004);
    let black = solid.max(spatter) * (1.0 - pinhole);
    black + line * (1.0 - 2.0 * black)
}

/// Lines of the canvas at the resolution of the print.
struct Rows<'a> {
    canvas: &'a Canvas,
    height: usize,
    tone: Vec<f32>,
    line: Vec<f32>,
    direction: Vec<u8>,
    /// For each column of the print: column of the canvas and way to the next.
    across: Vec<(usize, f32)>,
}

impl<'a> Rows<'a> {
    fn new(canvas: &'a Canvas, width: usize, height: usize) -> Self {
        let scale = (canvas.tone.width - 1) as f32 / width.max(2) as f32;
        let across = (0..width)
            .map(|x| {
                let at = x as f32 * scale;
                (whole(at), at - at.floor())
            })
            .collect();
        Self {
            canvas,
            height,
            tone: vec![0.0; width],
            line: vec![0.0; width],
            direction: vec![0; width],
            across,
        }
    }

    fn read(&mut self, y: usize) {
        let (width, height) = (self.canvas.tone.width, self.canvas.tone.height);
        let at = y as f32 * (height - 1) as f32 / self.height.max(2) as f32;
        let row = whole(at);
        let down = at - row as f32;
        let row = row.min(height - 2);
        let upper = row * width;
        let blend = |values: &[f32], column: usize, right: f32| {
            let (a, b) = (values[upper + column], values[upper + column + 1]);
            let (c, d) = (values[upper + width + column], values[upper + width + column + 1]);
            let (top, bottom) = (a + (b - a) * right, c + (d - c) * right);
            top + (bottom - top) * down
        };
        for (x, &(column, right)) in self.across.iter().enumerate() {
            self.tone[x] = blend(&self.canvas.tone.values, column, right);
            self.line[x] = blend(&self.canvas.line.values, column, right);
            self.direction[x] = self.canvas.direction[upper + column];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ink on an even tone, as a share of all.
    fn coverage(screen: Screen, tone: f32, wear: Wear) -> f32 {
        let mut canvas = Canvas::new(102, 102, 0.0, &mut Random::new(1));
        canvas.tone.values.fill(tone);
        let ink = lay(&canvas, screen, wear, (200, 200), &mut Random::new(2));
        ink.iter().map(|&ink| f32::from(ink)).sum::<f32>() / (200.0 * 200.0 * 255.0)
    }

    const SCREENS: [Screen; 4] = [Screen::Grain, Screen::Reticulation, Screen::Hatching, Screen::Flat];

    #[test]
    fn darker_tones_carry_more_ink() {
        for screen in SCREENS {
            let shares = [0.0, 0.25, 0.5, 0.75, 1.0].map(|tone| coverage(screen, tone, Wear::default()));
            assert!(shares.windows(2).all(|pair| pair[0] < pair[1] + 0.01), "{screen:?} {shares:?}");
            assert!(shares[0] < 0.02 && shares[4] > 0.85, "{screen:?} {shares:?}");
        }
        assert!((coverage(Screen::Grain, 0.5, Wear::default()) - 0.5).abs() < 0.08);
    }

    #[test]
    fn lost_tones_are_light_ones_and_closed_tones_dark_ones() {
        for screen in SCREENS {
            let (lost, closed) = (Wear { lost: 0.8, closed: 0.0 }, Wear { lost: 0.0, closed: 0.8 });
            let clean = coverage(screen, 0.3, Wear::default());
            assert!(coverage(screen, 0.3, lost) <= clean * 0.5, "{screen:?}");
            let clean = coverage(screen, 0.65, Wear::default());
            assert!(coverage(screen, 0.65, closed) > clean, "{screen:?}");
        }
        assert!(coverage(Screen::Grain, 0.65, Wear { lost: 0.0, closed: 0.8 }) > 0.84);
    }

    #[test]
    fn lines_are_black_on_paper_and_white_on_a_flat() {
        let mut canvas = Canvas::new(102, 102, 0.0, &mut Random::new(1));
        canvas.line.values.fill(1.0);
        let middle = |canvas: &Canvas, screen| {
            let ink = lay(canvas, screen, Wear::default(), (200, 200), &mut Random::new(2));
            ink.iter().map(|&ink| f32::from(ink)).sum::<f32>() / (200.0 * 200.0 * 255.0)
        };
        assert!(middle(&canvas, Screen::Hatching) > 0.85 && middle(&canvas, Screen::Flat) > 0.85);
        canvas.tone.values.fill(1.0);
        assert!(middle(&canvas, Screen::Flat) < 0.1);
    }
}
