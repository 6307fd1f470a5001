//! A photograph of a sheet on a table: taken by hand, a little askew, in the light of a room.

use crate::field::{Field, around};
use crate::random::Random;
use crate::sheet::Sheet;
use crate::tile;

/// Red, green and blue from 0 to 1.
pub type Colour = [f32; 3];

/// How the photograph is taken.
#[derive(Debug, Clone, Copy)]
pub struct View {
    /// Pixels of the photograph.
    pub width: usize,
    pub height: usize,
    /// How near the phone is: 1 shows a pixel of the sheet as a pixel.
    pub near: f32,
    /// Turn against the sheet, in turns.
    pub askew: f32,
    /// How much wider the sheet looks at the bottom than at the top, and right than left: shares of its size.
    pub lean: (f32, f32),
    /// Middle of the sheet, off the middle of the photograph, in pixels.
    pub off: (f32, f32),
    /// Change of light from the left to the right and from the top to the bottom border.
    pub slope: (f32, f32),
    /// Loss of light in the corners.
    pub corners: f32,
    /// Colour of the light.
    pub light: Colour,
    pub paper: Colour,
    pub table: Colour,
    pub ink: Colour,
    /// Sensor noise.
    pub noise: f32,
}

/// The photograph as RGB bytes.
#[must_use]
pub fn take(sheet: &Sheet, view: &View, random: &mut Random) -> Vec<u8> {
    let mut rgb = vec![0; view.width * view.height * 3];
    let clouds = Field::clouds(view.width / 8 + 2, view.height / 8 + 2, view.width as f32 / 18.0, 2, random);
    let torn = [torn_edge(sheet.height, random), torn_edge(sheet.width, random)];
    let starts: [usize; 4] = std::array::from_fn(|_| random.below(512) as usize);
    let lens = Lens::new(sheet, view);
    let paper = Paper { sheet, torn, table: view.table, paper: view.paper, ink: view.ink };
    let gain = view.light.map(|channel| channel * 255.0);
    let mut light = vec![0.0; view.width];
    for (y, row) in rgb.chunks_exact_mut(view.width.max(1) * 3).enumerate() {
        clouds.read_enlarged(8, y, &mut light);
        brighten(view, y, &mut light);
        let (pulp, speckle) = (tile::pulp().row(y + starts[0]), tile::speckle().row(y + starts[1]));
        let planks = tile::strokes(0).row(y / 2 + starts[2]);
        for (x, pixel) in row.chunks_exact_mut(3).enumerate() {
            let on = lens.onto_sheet(x, y);
            let pulp = texture(pulp, x + starts[1]);
            let straight = paper.straight_inset(on);
            let colour = if straight > FRAYED {
                paper.printed(on, 1.0 + pulp * 0.028)
            } else {
                paper.at_the_edge(on, straight, pulp, texture(planks, x / 3 + starts[0]))
            };
            let bright = light[x];
            let noise = texture(speckle, x + starts[3]) * view.noise * 255.0 + 0.5;
            for channel in 0..3 {
                pixel[channel] = cut_off(colour[channel] * bright * gain[channel] + noise);
            }
        }
    }
    rgb
}

/// A texture around 0, half a unit each way.
#[inline]
fn texture(line: &[u8; tile::SIDE], x: usize) -> f32 {
    f32::from(line[x % tile::SIDE]) * (1.0 / 255.0) - 0.5
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a float to integer cast saturates"
)]
#[inline]
fn cut_off(value: f32) -> u8 {
    value as u8
}

/// From places on the photograph to places on the sheet.
struct Lens {
    sine: f32,
    cosine: f32,
    middle: (f32, f32),
    half: (f32, f32),
    lean: (f32, f32),
}

impl Lens {
    fn new(sheet: &Sheet, view: &View) -> Self {
        let (sine, cosine) = crate::shape::sine_cosine(view.askew);
        let half = (sheet.width as f32 / 2.0, sheet.height as f32 / 2.0);
        let middle = (view.width as f32 / 2.0 + view.off.0, view.height as f32 / 2.0 + view.off.1);
        let (sine, cosine) = (sine / view.near, cosine / view.near);
        Self { sine, cosine, middle, half, lean: (view.lean.0 * 0.5 / half.0, view.lean.1 * 0.5 / half.1) }
    }

    #[inline]
    fn onto_sheet(&self, x: usize, y: usize) -> (f32, f32) {
        let (across, down) = (x as f32 - self.middle.0, y as f32 - self.middle.1);
        // Lines that meet far away: the far side of the sheet looks smaller.
        let depth = 1.0 - self.lean.1 * down - self.lean.0 * across;
        (
            (across * self.cosine + down * self.sine) * depth + self.half.0,
            (down * self.cosine - across * self.sine) * depth + self.half.1,
        )
    }
}

/// Turns the clouds of a line into the light on it.
fn brighten(view: &View, y: usize, light: &mut [f32]) {
    let down = y as f32 / view.height as f32 - 0.5;
    let even = 1.0 + down * view.slope.1 - view.corners * down * down;
    for (x, light) in light.iter_mut().enumerate() {
        let across = x as f32 / view.width as f32 - 0.5;
        *light = even + *light * 0.03 + across * (view.slope.0 - view.corners * across);
    }
}

/// The sheet on the table.
struct Paper<'a> {
    sheet: &'a Sheet,
    torn: [Vec<f32>; 2],
    table: Colour,
    paper: Colour,
    ink: Colour,
}

/// Pixels along the border of the sheet in which its tearing may show.
const FRAYED: f32 = 6.0;

impl Paper<'_> {
    /// How far inside the sheet a place lies, negative outside, were the sheet cut straight.
    #[inline]
    fn straight_inset(&self, (x, y): (f32, f32)) -> f32 {
        x.min(self.sheet.width as f32 - 1.0 - x).min(y).min(self.sheet.height as f32 - 1.0 - y)
    }

    /// The printed paper, `body` times as bright as it is.
    #[inline]
    fn printed(&self, on: (f32, f32), body: f32) -> Colour {
        let cover = sample(self.sheet, on);
        let bare = body * (1.0 - cover);
        std::array::from_fn(|channel| self.paper[channel] * bare + self.ink[channel] * cover)
    }

    /// The torn border of the sheet, its shadow, the table.
    fn at_the_edge(&self, on: (f32, f32), straight: f32, pulp: f32, plank: f32) -> Colour {
        let along = |edge: &[f32], at: f32| edge[crate::field::whole(at.max(0.0)).min(edge.len() - 1)];
        let frayed =
            if straight < -FRAYED { 0.0 } else { along(&self.torn[0], on.1) + along(&self.torn[1], on.0) };
        let inside = straight - frayed;
        let shadow = 1.0 - 0.42 / (1.0 + inside * inside * 0.008);
        let table = self.table.map(|channel| channel * shadow * (1.0 + plank * 0.12 + pulp * 0.05));
        if inside < -1.0 {
            return table;
        }
        // The edge of the sheet catches the light.
        let printed = self.printed(on, 1.0 + pulp * 0.028 + 0.02 * around(1.2 - inside, 1.3));
        let share = (inside * 0.5 + 0.5).min(1.0);
        std::array::from_fn(|channel| table[channel] + (printed[channel] - table[channel]) * share)
    }
}

fn torn_edge(length: usize, random: &mut Random) -> Vec<f32> {
    let mut edge = Field::clouds(length.max(1), 1, 60.0, 6, random).values;
    edge.iter_mut().for_each(|value| *value *= 1.5);
    edge
}

/// Ink between the pixels of the sheet.
#[inline]
fn sample(sheet: &Sheet, (x, y): (f32, f32)) -> f32 {
    let (column, row) = (steps(x, sheet.width), steps(y, sheet.height));
    let (right, down) = (x - column as f32, y - row as f32);
    let here = row * sheet.width + column;
    let (Some(&[a, b]), Some(&[c, d])) =
        (sheet.ink[here..].first_chunk::<2>(), sheet.ink[here + sheet.width..].first_chunk::<2>())
    else {
        return 0.0;
    };
    let [a, b, c, d] = [a, b, c, d].map(f32::from);
    let (top, bottom) = (a + (b - a) * right, c + (d - c) * right);
    ((top + (bottom - top) * down) * (1.0 / 255.0)).clamp(0.0, 1.0)
}

/// Whole pixels before a place, so that one more still lies on the sheet.
#[expect(clippy::cast_possible_truncation, reason = "a float to integer cast saturates")]
#[inline]
fn steps(at: f32, length: usize) -> usize {
    usize::try_from((at as i32).max(0)).unwrap_or(0).min(length.saturating_sub(2))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_lies_on_the_table_and_shows_its_ink() {
        let mut sheet = Sheet::blank(80, 60);
        sheet.ink[30 * 80 + 10..30 * 80 + 40].fill(255);
        let view = View {
            width: 100,
            height: 80,
            near: 1.0,
            askew: 0.0,
            lean: (0.0, 0.0),
            off: (0.0, 0.0),
            slope: (0.0, 0.0),
            corners: 0.0,
            light: [1.0; 3],
            paper: [0.9, 0.9, 0.8],
            table: [0.3, 0.2, 0.1],
            ink: [0.1; 3],
            noise: 0.0,
        };
        let rgb = take(&sheet, &view, &mut Random::new(5));
        let at = |x: usize, y: usize| [0, 1, 2].map(|channel| i32::from(rgb[(y * 100 + x) * 3 + channel]));
        let near = |found: [i32; 3], wanted: [i32; 3], within: i32| {
            assert!((0..3).all(|channel| (found[channel] - wanted[channel]).abs() <= within), "{found:?}");
        };
        near(at(80, 40), [230, 230, 204], 12);
        near(at(30, 40), [26, 26, 26], 8);
        let table = at(3, 3);
        assert!(table[0] < 85 && table[0] > table[1] && table[1] > table[2], "{table:?}");
        assert_eq!(rgb, take(&sheet, &view, &mut Random::new(5)));
    }
}
