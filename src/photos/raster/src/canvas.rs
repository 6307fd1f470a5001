//! Where a drawing is made before any texture: how dark each place is to be, which lines stand there, and in which
//! direction the hand moved. Every edge wavers a little, as drawn edges do. Lengths are in widths of the picture.

use crate::field::{Field, ease, whole};
use crate::random::Random;
use crate::shape::{Point, Shape, sine_cosine};
use crate::tile::DIRECTIONS;

/// A drawing under way.
#[derive(Debug)]
pub struct Canvas {
    /// 0 is paper, 1 the darkest tone; screens clamp what lies outside.
    pub tone: Field,
    /// 0 no line, 1 the middle of a line at full pressure.
    pub line: Field,
    /// Index of the direction of strokes, below `tile::DIRECTIONS`.
    pub direction: Vec<u8>,
    waver: [Field; 2],
    /// The farthest a place wavers.
    slack: f32,
    /// Soft clouds for uneven tone.
    clouds: Field,
}

/// How an area is toned.
#[derive(Debug, Clone, Copy)]
pub struct Shade {
    /// A place and its tone; between `from` and `to` the tone runs evenly, beyond them it stays.
    pub from: (Point, f32),
    pub to: (Point, f32),
    /// How far in from the edge the form turns away from us; 0 for flat things.
    pub round: f32,
    /// Tone added on the side turned away from the light and taken from the other.
    pub relief: f32,
    /// Unevenness of the tone.
    pub uneven: f32,
    /// Width of the edge's transition.
    pub soft: f32,
    /// Direction of the strokes.
    pub direction: u8,
}

/// What an area does to what is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Laying {
    /// Covers it, lines too.
    Over,
    /// Darkens it.
    Shadow,
    /// Lightens it, as a scraper does.
    Lift,
}

impl Shade {
    /// One tone all over.
    #[must_use]
    pub fn even(tone: f32) -> Self {
        Self::run(((0.0, 0.0), tone), ((0.0, 1.0), tone))
    }

    /// A tone that runs from one place to another.
    #[must_use]
    pub fn run(from: (Point, f32), to: (Point, f32)) -> Self {
        Self { from, to, round: 0.0, relief: 0.0, uneven: 0.06, soft: 0.004, direction: 1 }
    }

    #[must_use]
    pub fn rounded(self, round: f32, relief: f32) -> Self {
        Self { round, relief, ..self }
    }

    #[must_use]
    pub fn uneven(self, uneven: f32) -> Self {
        Self { uneven, ..self }
    }

    #[must_use]
    pub fn soft(self, soft: f32) -> Self {
        Self { soft, ..self }
    }

    #[must_use]
    pub fn along(self, direction: u8) -> Self {
        Self { direction, ..self }
    }

    fn at(&self, (x, y): Point) -> f32 {
        let (along_x, along_y) = (self.to.0.0 - self.from.0.0, self.to.0.1 - self.from.0.1);
        let length = along_x * along_x + along_y * along_y;
        let way = ((x - self.from.0.0) * along_x + (y - self.from.0.1) * along_y) / length.max(1e-6);
        self.from.1 + (self.to.1 - self.from.1) * way.clamp(0.0, 1.0)
    }
}

/// From where the light comes: the upper left.
const AWAY_FROM_LIGHT: Point = (0.64, 0.77);

impl Canvas {
    /// An empty canvas of so many pixels; edges waver by `waver` widths.
    #[must_use]
    pub fn new(width: usize, height: usize, waver: f32, random: &mut Random) -> Self {
        let cell = width as f32;
        let mut wavering = || {
            let mut field = Field::clouds(width, height, cell / 7.0, 4, random);
            field.values.iter_mut().for_each(|value| *value *= waver);
            field
        };
        let wavering = [wavering(), wavering()];
        Self {
            tone: Field::even(width, height, 0.0),
            line: Field::even(width, height, 0.0),
            direction: vec![1; width * height],
            waver: wavering,
            slack: waver,
            clouds: Field::clouds(width, height, cell / 9.0, 4, random),
        }
    }

    /// Height in widths.
    #[must_use]
    pub fn tall(&self) -> f32 {
        self.tone.height as f32 / self.tone.width as f32
    }

    /// Tones an area.
    pub fn area(&mut self, shape: &Shape, shade: Shade, laying: Laying) {
        let slip = 1.5 / self.tone.width as f32;
        let direction = shade.direction % u8::try_from(DIRECTIONS).unwrap_or(1);
        let span = Span { outside: shade.soft, inside: shade.soft.max(shade.round), depths: true };
        self.each(shape, span, |canvas, at, place, distance| {
            let cover = 1.0 - ease(-shade.soft, shade.soft, distance);
            if cover <= 0.0 {
                return;
            }
            let mut tone = shade.at(place) + shade.uneven * canvas.clouds.values[at] * 2.0;
            if shade.round > 0.0 {
                let rim = 1.0 - (-distance / shade.round).clamp(0.0, 1.0);
                if rim > 0.0 {
                    let across = shape.distance((place.0 + slip, place.1)) - distance;
                    let down = shape.distance((place.0, place.1 + slip)) - distance;
                    let facing = (across * AWAY_FROM_LIGHT.0 + down * AWAY_FROM_LIGHT.1) / slip;
                    // The last bit of the rim catches light from behind.
                    tone += shade.relief * facing.clamp(-1.0, 1.0) * rim.min(1.9 - rim);
                }
            }
            let here = &mut canvas.tone.values[at];
            match laying {
                Laying::Over => {
                    *here += (tone - *here) * cover;
                    canvas.line.values[at] *= 1.0 - cover;
                }
                Laying::Shadow => *here += tone * cover,
                Laying::Lift => *here -= tone * cover,
            }
            if cover > 0.5 && laying != Laying::Lift {
                canvas.direction[at] = direction;
            }
        });
    }

    /// Draws the edge of a shape as a line of pressure `dark`, pressed now more, now less.
    pub fn outline(&mut self, shape: &Shape, half_width: f32, dark: f32) {
        let span = Span { outside: half_width * 1.1, inside: half_width * 1.1, depths: false };
        self.each(shape, span, |canvas, at, _, distance| {
            let pressure = (0.75 + canvas.clouds.values[at] * 1.4).clamp(0.15, 1.2);
            let near = 1.0 - distance.abs() / (half_width * (0.5 + 0.5 * pressure));
            canvas.press(at, near, dark * pressure);
        });
    }

    /// A single stroke through some points, from one half width to another.
    pub fn stroke(&mut self, points: &[Point], from: f32, to: f32, dark: f32) {
        let parts = points.len().saturating_sub(1).max(1) as f32;
        for (part, pair) in points.windows(2).enumerate() {
            let width = |at: f32| from + (to - from) * at / parts;
            let (start, end) = (width(part as f32), width(part as f32 + 1.0));
            let bone = Shape::Bone(pair[0], start, pair[1], end);
            let middle = (start + end) * 0.5;
            let span = Span { outside: 0.0, inside: middle, depths: true };
            self.each(&bone, span, |canvas, at, _, distance| {
                canvas.press(at, -distance / middle.max(1e-5), dark);
            });
        }
    }

    /// Leaves a border around the drawing: `inset` wide, ragged, fading over `soft`; `rim` darkens just inside, as a
    /// wash dries.
    pub fn border(&mut self, inset: f32, soft: f32, rim: f32) {
        let tall = self.tall();
        let inside = Shape::rectangle((inset, inset), (1.0 - inset, tall - inset));
        let (width, clouds) = (self.tone.width as f32, self.clouds.clone());
        for (at, tone) in self.tone.values.iter_mut().enumerate() {
            let place = ((at % self.tone.width) as f32 / width, (at / self.tone.width) as f32 / width);
            let near = place.0.min(place.1).min(1.0 - place.0).min(tall - place.1);
            if near > inset + soft * 3.0 + 0.03 {
                continue;
            }
            let distance = inside.distance(place) + clouds.values[at] * (0.012 + soft);
            let keep = 1.0 - ease(-soft, soft, distance);
            let pooled = rim * (1.0 - (distance + soft).abs() / 0.012).max(0.0);
            *tone = (*tone + pooled * ease(0.08, 0.3, *tone)) * keep;
            self.line.values[at] *= keep;
        }
    }

    /// Lines press down; crossing lines do not add up.
    fn press(&mut self, at: usize, near: f32, dark: f32) {
        if near > 0.0 {
            let line = &mut self.line.values[at];
            *line = line.max((near * 1.6).min(1.0) * dark);
        }
    }

    /// Calls `paint` with every pixel of the span around the edge, its wavering place and distance. Blocks of pixels
    /// far from the edge are passed over, or painted with one distance for all when the span has `depths`.
    fn each(&mut self, shape: &Shape, span: Span, mut paint: impl FnMut(&mut Self, usize, Point, f32)) {
        let (width, height) = (self.tone.width, self.tone.height);
        let scale = width as f32;
        let bounds = shape.bounds();
        let reach = span.outside + self.slack;
        let pixel = |at: f32, most: usize| whole((at * scale).clamp(0.0, most as f32)).min(most);
        let (left, right) = (pixel(bounds.0 - reach, width), pixel(bounds.2 + reach, width));
        let (top, bottom) = (pixel(bounds.1 - reach, height), pixel(bounds.3 + reach, height));
        // From the middle of a block to its corner, with half as much again where distances are only close.
        let corner = BLOCK as f32 * 0.75 * 1.5 / scale;
        for (block_y, block_x) in (top..bottom)
            .step_by(BLOCK)
            .flat_map(|block_y| (left..right).step_by(BLOCK).map(move |block_x| (block_y, block_x)))
        {
            let middle = (block_x + BLOCK / 2).min(width - 1) + (block_y + BLOCK / 2).min(height - 1) * width;
            let far = shape.distance(self.wavering(middle));
            let deep = far < -(span.inside + corner);
            if far > reach + corner || (deep && !span.depths) {
                continue;
            }
            for y in block_y..(block_y + BLOCK).min(bottom) {
                for at in y * width + block_x..y * width + (block_x + BLOCK).min(right) {
                    let place = self.wavering(at);
                    let distance = if deep { far } else { shape.distance(place) };
                    if distance < reach {
                        paint(self, at, place, distance);
                    }
                }
            }
        }
    }

    /// Where a pixel lies once the hand has wavered.
    #[inline]
    fn wavering(&self, at: usize) -> Point {
        let (width, scale) = (self.tone.width, 1.0 / self.tone.width as f32);
        (
            (at % width) as f32 * scale + self.waver[0].values[at],
            (at / width) as f32 * scale + self.waver[1].values[at],
        )
    }
}

/// Pixels judged together.
const BLOCK: usize = 8;

/// The band around an edge that matters.
struct Span {
    /// How far out from the edge, and how far in.
    outside: f32,
    inside: f32,
    /// Whether what lies deeper than `inside` is painted too.
    depths: bool,
}

/// Points along a curve that bends from one end to the other by `sag` of its length, to the right of its way.
#[must_use]
pub fn curve(from: Point, to: Point, sag: f32, points: usize) -> Vec<Point> {
    let points = points.max(2);
    let (along_x, along_y) = (to.0 - from.0, to.1 - from.1);
    (0..points)
        .map(|at| {
            let way = at as f32 / (points - 1) as f32;
            let bow = sine_cosine(way * 0.5).0 * sag;
            (from.0 + along_x * way - along_y * bow, from.1 + along_y * way + along_x * bow)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn canvas() -> Canvas {
        Canvas::new(100, 80, 0.0, &mut Random::new(1))
    }

    fn tone(canvas: &Canvas, x: usize, y: usize) -> f32 {
        canvas.tone.values[y * 100 + x]
    }

    #[test]
    fn an_area_covers_shades_and_lifts() {
        let mut canvas = canvas();
        let square = Shape::rectangle((0.2, 0.2), (0.6, 0.6));
        canvas.stroke(&[(0.0, 0.4), (1.0, 0.4)], 0.02, 0.02, 1.0);
        canvas.area(&square, Shade::run(((0.2, 0.0), 0.2), ((0.6, 0.0), 0.6)).uneven(0.0), Laying::Over);
        assert!((tone(&canvas, 40, 30) - 0.4).abs() < 0.01);
        assert_eq!(tone(&canvas, 70, 30), 0.0);
        assert!(canvas.line.values[40 * 100 + 40] == 0.0 && canvas.line.values[40 * 100 + 80] > 0.9);
        canvas.area(&square, Shade::even(0.3).uneven(0.0), Laying::Shadow);
        canvas.area(&square, Shade::even(0.1).uneven(0.0), Laying::Lift);
        assert!((tone(&canvas, 40, 30) - 0.6).abs() < 0.01);
    }

    #[test]
    fn a_round_thing_is_darker_away_from_the_light() {
        let mut canvas = canvas();
        let ball = Shape::Ellipse((0.5, 0.4), 0.3, 0.3);
        canvas.area(&ball, Shade::even(0.4).uneven(0.0).rounded(0.3, 0.3), Laying::Over);
        assert!(
            tone(&canvas, 66, 56) > tone(&canvas, 50, 40) && tone(&canvas, 50, 40) > tone(&canvas, 34, 24)
        );
    }

    #[test]
    fn the_border_leaves_paper_and_shapes_beyond_it_do_no_harm() {
        let mut canvas = canvas();
        let all = Shape::rectangle((-9.0, -9.0), (9.0, 9.0));
        canvas.area(&all, Shade::even(0.5), Laying::Over);
        canvas.stroke(&[(-3.0, -3.0), (4.0, 4.0)], 0.1, 0.0, 1.0);
        canvas.stroke(&[], 0.1, 0.1, 1.0);
        canvas.border(0.1, 0.01, 0.0);
        assert_eq!(tone(&canvas, 1, 1), 0.0);
        assert!(tone(&canvas, 50, 40) > 0.2);
    }
}
