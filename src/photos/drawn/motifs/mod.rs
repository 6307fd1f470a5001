//! The motifs: what is drawn. Lengths are in widths of the image, places run from the upper left; every motif takes
//! its variations from the seed.

mod bowl;
mod hands;
mod harbour;
mod hillside;
mod stairs;
mod trees;

use crate::spelled;
use tympan_raster::canvas::{Canvas, Laying, Shade, curve};
use tympan_raster::random::Random;
use tympan_raster::shape::{Point, Shape};

spelled!(
    /// What is drawn on the plate.
    Motif {
        Harbour = "harbour",
        Bowl = "bowl",
        Hands = "hands",
        Hillside = "hillside",
        Stairs = "stairs",
        Trees = "trees",
    }
);

impl Motif {
    /// Height of the image in widths.
    pub(super) fn tall(self) -> f32 {
        match self {
            Self::Harbour => 0.72,
            Self::Bowl => 0.8,
            Self::Hillside => 0.68,
            Self::Hands => 1.22,
            Self::Stairs => 1.34,
            Self::Trees => 1.26,
        }
    }

    pub(super) fn draw(self, canvas: &mut Canvas, random: &mut Random) {
        match self {
            Self::Harbour => harbour::draw(canvas, random),
            Self::Bowl => bowl::draw(canvas, random),
            Self::Hands => hands::draw(canvas, random),
            Self::Hillside => hillside::draw(canvas, random),
            Self::Stairs => stairs::draw(canvas, random),
            Self::Trees => trees::draw(canvas, random),
        }
    }
}

/// A ground line of hills: heights at even steps from the left to the right border, around `level`.
fn ridge(level: f32, swing: f32, random: &mut Random) -> Vec<f32> {
    const STEPS: usize = 65;
    let mut heights = vec![level; STEPS];
    let (mut step, mut swing) = (32, swing);
    while step > 0 {
        let lifts: Vec<f32> = (0..=STEPS / step + 1).map(|_| random.between(-swing, swing)).collect();
        for (at, height) in heights.iter_mut().enumerate() {
            let way = (at % step) as f32 / step as f32;
            let way = way * way * (3.0 - 2.0 * way);
            let (here, next) = (lifts.get(at / step), lifts.get(at / step + 1));
            if let (Some(here), Some(next)) = (here, next) {
                *height += here + (next - here) * way;
            }
        }
        step /= 2;
        swing *= 0.42;
    }
    heights
}

/// Height of a ground line at a place across.
fn height_at(heights: &[f32], x: f32) -> f32 {
    let at = x.clamp(0.0, 1.0) * (heights.len().saturating_sub(1)) as f32;
    heights
        .iter()
        .enumerate()
        .min_by(|a, b| (a.0 as f32 - at).abs().total_cmp(&(b.0 as f32 - at).abs()))
        .map_or(0.0, |(_, height)| *height)
}

/// An area with its outline.
fn body(canvas: &mut Canvas, shape: &Shape, shade: Shade, line: f32) {
    canvas.area(shape, shade, Laying::Over);
    canvas.outline(shape, 0.0035, line);
}

/// Short strokes scattered over a region, thicker towards its lower border.
struct Scatter {
    from: Point,
    to: Point,
    count: u32,
    length: f32,
    /// Rise of the stroke over its length: 0 lies flat.
    rise: f32,
    dark: f32,
}

impl Scatter {
    fn draw(&self, canvas: &mut Canvas, random: &mut Random) {
        for _ in 0..self.count {
            let down = random.unit();
            let x = random.between(self.from.0, self.to.0);
            let y = self.from.1 + (self.to.1 - self.from.1) * down;
            let length = self.length * random.between(0.4, 1.3) * (0.35 + 0.9 * down);
            let end =
                (x + length * random.between(0.6, 1.0), y - self.rise * length * random.between(0.5, 1.2));
            let points = curve((x, y), end, random.around(0.12), 4);
            let thick = 0.0022 * (0.5 + down);
            canvas.stroke(&points, thick, thick * 0.4, self.dark * random.between(0.5, 1.0));
        }
    }
}
