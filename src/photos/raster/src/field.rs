//! A field: one number a pixel. Smooth noise, blurring, and the tiles of texture a print is made of.

use crate::random::Random;

/// Numbers on a grid, rows from the top.
#[derive(Debug, Clone)]
pub struct Field {
    pub width: usize,
    pub height: usize,
    pub values: Vec<f32>,
}

impl Field {
    #[must_use]
    pub fn even(width: usize, height: usize, value: f32) -> Self {
        Self { width, height, values: vec![value; width * height] }
    }

    /// Cloudy noise from -1 to 1, mostly within half of that: `octaves` grids of random numbers, the first with
    /// cells of `cell` pixels, each next half as wide and half as strong.
    #[must_use]
    pub fn clouds(width: usize, height: usize, cell: f32, octaves: u32, random: &mut Random) -> Self {
        let mut field = Self::even(width, height, 0.0);
        let (mut cell, mut strength) = (cell.max(1.0), 0.5);
        for _ in 0..octaves {
            field.add_grid(cell, strength, random);
            cell = (cell * 0.5).max(1.0);
            strength *= 0.5;
        }
        field
    }

    fn add_grid(&mut self, cell: f32, strength: f32, random: &mut Random) {
        let columns = whole(self.width as f32 / cell) + 2;
        let rows = whole(self.height as f32 / cell) + 2;
        let grid: Vec<f32> = (0..columns * rows).map(|_| random.between(-strength, strength)).collect();
        let across: Vec<(usize, f32)> = (0..self.width).map(|x| split(x as f32 / cell)).collect();
        for (y, line) in self.values.chunks_exact_mut(self.width).enumerate() {
            let (row, down) = split(y as f32 / cell);
            let upper = &grid[row * columns..(row + 1) * columns];
            let lower = &grid[(row + 1) * columns..(row + 2) * columns];
            for (value, &(column, right)) in line.iter_mut().zip(&across) {
                let top = upper[column] + (upper[column + 1] - upper[column]) * right;
                let bottom = lower[column] + (lower[column + 1] - lower[column]) * right;
                *value += top + (bottom - top) * down;
            }
        }
    }

    /// One line of this field seen `times` as large, at line `y` of the large picture, as long as `line`.
    pub fn read_enlarged(&self, times: usize, y: usize, line: &mut [f32]) {
        let share = 1.0 / times as f32;
        let row = (y / times).min(self.height - 1);
        let next = (row + 1).min(self.height - 1);
        let down = (y % times) as f32 * share;
        let upper = &self.values[row * self.width..(row + 1) * self.width];
        let lower = &self.values[next * self.width..(next + 1) * self.width];
        let between = |column: usize| {
            let column = column.min(self.width - 1);
            upper[column] + (lower[column] - upper[column]) * down
        };
        let mut here = between(0);
        for (column, run) in line.chunks_mut(times).enumerate() {
            let beside = between(column + 1);
            for (x, value) in run.iter_mut().enumerate() {
                *value = here + (beside - here) * (x as f32 * share);
            }
            here = beside;
        }
    }
}

/// Whole part of a number that is not negative.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a float to integer cast saturates"
)]
#[must_use]
#[inline]
pub(crate) fn whole(value: f32) -> usize {
    value as usize
}

/// 0 to 255 from 0 to 1.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a float to integer cast saturates"
)]
#[must_use]
#[inline]
pub(crate) fn byte(value: f32) -> u8 {
    (value * 255.0 + 0.5) as u8
}

/// Cell and eased way across it.
fn split(at: f32) -> (usize, f32) {
    let cell = whole(at);
    let way = at - cell as f32;
    (cell, way * way * (3.0 - 2.0 * way))
}

/// 0 where `over` is `half` below zero, 1 where it is `half` above, eased between.
#[must_use]
#[inline]
pub fn around(over: f32, half: f32) -> f32 {
    let way = (over * (0.5 / half) + 0.5).clamp(0.0, 1.0);
    way * way * (3.0 - 2.0 * way)
}

/// 0 up to `low`, 1 from `high` on, eased between.
#[must_use]
#[inline]
pub fn ease(low: f32, high: f32, value: f32) -> f32 {
    let way = ((value - low) / (high - low)).clamp(0.0, 1.0);
    way * way * (3.0 - 2.0 * way)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn enlarging_meets_the_values_and_runs_evenly_between() {
        let field = Field { width: 3, height: 2, values: vec![0.0, 4.0, 8.0, 8.0, 12.0, 16.0] };
        let mut line = vec![0.0; 9];
        field.read_enlarged(4, 0, &mut line);
        assert_eq!(line, [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0]);
        field.read_enlarged(4, 2, &mut line);
        assert_eq!(line[..3], [4.0, 5.0, 6.0]);
        field.read_enlarged(4, 90, &mut line);
        assert_eq!(line[0], 8.0, "beyond the field its border goes on");
    }

    #[test]
    fn clouds_are_smooth_centred_and_follow_the_seed() {
        let clouds = |seed| Field::clouds(200, 100, 25.0, 3, &mut Random::new(seed)).values;
        let values = clouds(3);
        assert_eq!(values, clouds(3));
        assert_ne!(values, clouds(4));
        assert!(values.iter().all(|value| value.abs() < 1.0));
        assert!((values.iter().sum::<f32>() / 20_000.0).abs() < 0.15);
        assert!(values.windows(2).filter(|pair| (pair[0] - pair[1]).abs() > 0.25).count() < 100);
    }

    #[test]
    fn eased_steps_meet_in_the_middle() {
        assert_eq!((ease(1.0, 3.0, 0.0), ease(1.0, 3.0, 2.0), ease(1.0, 3.0, 9.0)), (0.0, 0.5, 1.0));
        assert_eq!((around(-2.0, 1.0), around(0.0, 1.0), around(1.0, 1.0)), (0.0, 0.5, 1.0));
    }
}
