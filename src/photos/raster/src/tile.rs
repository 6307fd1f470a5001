//! Tiles of texture, 512 x 512 bytes, that continue across their borders. They are made once for the whole program
//! and always the same; a picture differs by where it begins to read them.

use std::sync::OnceLock;

use crate::field::{byte, whole};
use crate::random::Random;

/// Pixels along a side.
pub const SIDE: usize = 512;

/// Directions of hand strokes there is a tile for.
pub const DIRECTIONS: usize = 6;

/// A square of texture; every value from 0 to 255 is about equally common, except in `strokes`.
#[derive(Debug)]
pub struct Tile(Vec<[u8; SIDE]>);

impl Tile {
    /// The value at any place; the tile repeats.
    #[must_use]
    #[inline]
    pub fn at(&self, x: usize, y: usize) -> u8 {
        self.0[y % SIDE][x % SIDE]
    }

    /// One line of the tile.
    #[must_use]
    #[inline]
    pub fn row(&self, y: usize) -> &[u8; SIDE] {
        &self.0[y % SIDE]
    }
}

/// The grain of the plate: dots of one or two pixels.
pub fn grain() -> &'static Tile {
    static TILE: OnceLock<Tile> = OnceLock::new();
    TILE.get_or_init(|| {
        let (fine, coarse) = (noise(11, 0, 0), noise(12, 1, 1));
        levelled(&mixed(&fine, &coarse, 0.9))
    })
}

/// What drying tusche leaves: winding ridges between cells of some four pixels.
pub fn reticulation() -> &'static Tile {
    static TILE: OnceLock<Tile> = OnceLock::new();
    TILE.get_or_init(|| {
        let (small, large) = (noise(21, 1, 2), noise(21, 3, 3));
        let (wide_small, wide_large) = (noise(22, 2, 3), noise(22, 5, 3));
        let fine = mixed(&small, &large, -1.0);
        let coarse = mixed(&wide_small, &wide_large, -1.0);
        levelled(&mixed(&fine, &coarse, 1.1))
    })
}

/// Paper: soft clouds of pulp with single fibres.
pub fn pulp() -> &'static Tile {
    static TILE: OnceLock<Tile> = OnceLock::new();
    TILE.get_or_init(|| {
        let mut sheet = mixed(&noise(31, 1, 2), &noise(32, 4, 3), 1.4);
        let mut random = Random::new(33);
        for _ in 0..700 {
            let weight = random.between(-0.9, 0.7);
            let length = random.between(6.0, 26.0);
            let angle = random.between(0.0, 1.0);
            drag(&mut sheet, &mut random, Drag { angle, length, radius: 0.6, weight, bend: 0.02 });
        }
        levelled(&sheet)
    })
}

/// Sensor noise: single pixels, each for itself.
pub fn speckle() -> &'static Tile {
    static TILE: OnceLock<Tile> = OnceLock::new();
    TILE.get_or_init(|| levelled(&noise(41, 0, 0)))
}

/// Strokes of a crayon laid side by side in one of `DIRECTIONS` directions, spread over half a turn.
pub fn strokes(direction: usize) -> &'static Tile {
    static TILES: [OnceLock<Tile>; DIRECTIONS] = [const { OnceLock::new() }; DIRECTIONS];
    let direction = direction % DIRECTIONS;
    TILES[direction].get_or_init(|| {
        let mut sheet = vec![0.0; SIDE * SIDE];
        let mut random = Random::new(51 + direction as u64);
        for _ in 0..1500 {
            let angle = direction as f32 / (2 * DIRECTIONS) as f32 + random.around(0.008);
            let (length, radius) = (random.between(34.0, 110.0), random.between(1.2, 2.8));
            let weight = random.between(0.25, 1.0);
            drag(&mut sheet, &mut random, Drag { angle, length, radius, weight, bend: 0.0006 });
        }
        levelled(&sheet)
    })
}

/// White noise, blurred `times` by a box of `reach` pixels each way, scaled to a variance of 1.
fn noise(seed: u64, reach: usize, times: usize) -> Vec<f32> {
    let mut random = Random::new(seed);
    let mut values: Vec<f32> = (0..SIDE * SIDE).map(|_| random.between(-1.0, 1.0)).collect();
    for _ in 0..times {
        values = turned(&blurred_rows(&values, reach));
        values = turned(&blurred_rows(&values, reach));
    }
    let variance = values.iter().map(|value| value * value).sum::<f32>() / values.len() as f32;
    let scale = 1.0 / variance.sqrt().max(1e-6);
    values.iter_mut().for_each(|value| *value *= scale);
    values
}

fn blurred_rows(values: &[f32], reach: usize) -> Vec<f32> {
    let mut blurred = Vec::with_capacity(values.len());
    for row in values.chunks_exact(SIDE) {
        let mut sum: f32 = (0..=2 * reach).map(|at| row[(at + SIDE - reach) % SIDE]).sum();
        for x in 0..SIDE {
            blurred.push(sum);
            sum += row[(x + reach + 1) % SIDE] - row[(x + SIDE - reach) % SIDE];
        }
    }
    blurred
}

fn turned(values: &[f32]) -> Vec<f32> {
    let mut turned = vec![0.0; values.len()];
    for (y, row) in values.chunks_exact(SIDE).enumerate() {
        for (x, value) in row.iter().enumerate() {
            turned[x * SIDE + y] = *value;
        }
    }
    turned
}

fn mixed(one: &[f32], other: &[f32], share: f32) -> Vec<f32> {
    one.iter().zip(other).map(|(one, other)| one + other * share).collect()
}

/// One drawn stroke.
struct Drag {
    /// In turns, clockwise from the right.
    angle: f32,
    length: f32,
    radius: f32,
    weight: f32,
    /// Most turns the direction changes a pixel.
    bend: f32,
}

/// Draws a stroke somewhere on the tile, running over its borders.
fn drag(sheet: &mut [f32], random: &mut Random, stroke: Drag) {
    let side = SIDE as f32;
    let (mut x, mut y) = (random.between(side, 2.0 * side), random.between(side, 2.0 * side));
    let (mut angle, bend) = (stroke.angle, random.around(stroke.bend));
    let reach = whole(stroke.radius) + 1;
    for step in 0..whole(stroke.length) {
        let way = step as f32 / stroke.length;
        // Pressure rises at the start and fades to the end.
        let pressure = stroke.weight * (way * 6.0).min(1.0) * (1.0 - way).min(0.4) * 2.5;
        for row in whole(y) - reach..=whole(y) + reach {
            for column in whole(x) - reach..=whole(x) + reach {
                let (far_x, far_y) = (column as f32 - x, row as f32 - y);
                let near = 1.0 - (far_x * far_x + far_y * far_y) / (stroke.radius * stroke.radius);
                if near > 0.0 {
                    let place = &mut sheet[row % SIDE * SIDE + column % SIDE];
                    // A second pass over the same place adds less than the first.
                    *place += near * pressure * 0.5 / (1.0 + place.abs());
                }
            }
        }
        let (sine, cosine) = crate::shape::sine_cosine(angle);
        x += cosine;
        y += sine;
        angle += bend;
    }
}

/// Bytes in the order of the values, every byte about equally common: then a threshold of `t` leaves `t` of 256.
fn levelled(values: &[f32]) -> Tile {
    const BINS: usize = 4096;
    let low = values.iter().copied().fold(f32::INFINITY, f32::min);
    let high = values.iter().copied().fold(f32::NEG_INFINITY, f32::max);
    let scale = (BINS - 1) as f32 / (high - low).max(1e-6);
    let bin = |value: f32| whole((value - low) * scale).min(BINS - 1);
    let mut counts = vec![0_usize; BINS];
    values.iter().for_each(|&value| counts[bin(value)] += 1);
    let mut before = 0;
    let ranks: Vec<u8> = counts
        .iter()
        .map(|&count| {
            let middle = before + count / 2;
            before += count;
            byte(middle as f32 / values.len() as f32)
        })
        .collect();
    let rows = values.chunks_exact(SIDE);
    Tile(rows.map(|row| std::array::from_fn(|x| ranks[bin(row[x])])).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_are_even_so_that_a_threshold_is_a_coverage() {
        for tile in [grain(), reticulation(), pulp(), speckle()] {
            for threshold in [32_u8, 128, 224] {
                let below = tile.0.as_flattened().iter().filter(|&&value| value < threshold).count();
                let share = below as f32 / (SIDE * SIDE) as f32;
                assert!((share - f32::from(threshold) / 255.0).abs() < 0.02, "{share} below {threshold}");
            }
        }
    }

    #[test]
    fn tiles_continue_across_their_borders() {
        let tile = reticulation();
        let step = |a: u8, b: u8| u32::from(a.abs_diff(b));
        let inside: u32 = (0..SIDE).map(|y| step(tile.at(255, y), tile.at(256, y))).sum();
        let across: u32 = (0..SIDE).map(|y| step(tile.at(511, y), tile.at(512, y))).sum();
        assert!(across < inside * 3 / 2, "{across} across, {inside} inside");
    }
}
