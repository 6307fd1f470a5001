//! The printed sheet: where the plate lay on the paper, what it carried outside its image, and pencil notes.

use crate::field::{Field, byte, ease, whole};
use crate::random::Random;
use crate::shape::Shape;
use crate::tile;

/// A rectangle of pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    pub left: usize,
    pub top: usize,
    pub width: usize,
    pub height: usize,
}

/// Ink and pencil on the whole sheet.
#[derive(Debug)]
pub struct Sheet {
    pub width: usize,
    pub height: usize,
    /// 0 bare paper, 255 the full film of ink.
    pub ink: Vec<u8>,
}

impl Sheet {
    #[must_use]
    pub fn blank(width: usize, height: usize) -> Self {
        Self { width, height, ink: vec![0; width * height] }
    }

    /// Lays the image where it belongs. What would fall off the sheet is left out.
    pub fn print(&mut self, image: &[u8], place: Place) {
        for (row, line) in image.chunks_exact(place.width.max(1)).take(place.height).enumerate() {
            let start = (place.top + row) * self.width + place.left;
            let fits = place.width.min(self.width.saturating_sub(place.left));
            if let Some(target) = self.ink.get_mut(start..start + fits) {
                target.copy_from_slice(&line[..fits]);
            }
        }
    }

    /// An even grey over the whole plate, a little denser in clouds and towards the edges. `strength` 0 to 1.
    pub fn veil(&mut self, plate: Place, strength: f32, random: &mut Random) {
        let clouds = plate_clouds(plate, 5.0, random);
        self.each(plate, &clouds, |x, y, cloud| {
            let fog = 0.17 + cloud * 0.10 + 0.05 * ease(60.0, 0.0, edge_distance(plate, x, y));
            let fine = f32::from(tile::grain().at(x, y)) / 255.0;
            strength * (fog * 0.75 + fog * 0.5 * (fine - 0.25))
        });
    }

    /// Ink that the bare metal took: specks in clumps, roller streaks, a dirty rim, thickest near the plate's edges
    /// and thin over the image. `strength` 0 to 1.
    pub fn border_dirt(&mut self, plate: Place, image: Place, strength: f32, random: &mut Random) {
        let clouds = plate_clouds(plate, 3.5, random);
        let (grain, streaks, net) = (tile::grain(), tile::strokes(0), tile::reticulation());
        let upright = random.below(2) == 0;
        self.each(plate, &clouds, |x, y, cloud| {
            let across = (image.left..image.left + image.width).contains(&(x + plate.left));
            let share = match across && (image.top..image.top + image.height).contains(&(y + plate.top)) {
                // A plate kept clean shows nothing over its image.
                true if strength < 0.2 => return 0.0,
                true => 0.22,
                false => 1.0,
            };
            let edge = edge_distance(plate, x, y);
            // One side of the plate dried before the others.
            let clump = ease(-0.22, 0.34, cloud) * (0.35 + 0.75 * ease(60.0, 0.0, edge));
            let (u, v) = if upright { (x / 2, y) } else { (y / 2, x) };
            let streak = f32::from(streaks.at(u, v)) / 255.0;
            let speck = (f32::from(grain.at(x, y)) * 0.4 + f32::from(net.at(x, y)) * 0.6) / 255.0;
            let wet = strength * clump * (0.3 + 0.9 * streak) * share;
            let rim = strength * ease(4.0, 0.5, edge) * ease(0.3, 0.8, streak + cloud);
            let dots = ease(speck - 0.08, speck + 0.08, wet * 0.95) * 0.85;
            let smear = wet * wet * 0.35;
            dots.max(smear).max(rim * 0.8)
        });
    }

    /// A line of pencil on the paper.
    pub fn pencil(&mut self, points: &[(f32, f32)], dark: f32) {
        for pair in points.windows(2) {
            let shape = Shape::Bone(pair[0], 0.9, pair[1], 0.9);
            let (left, top, right, bottom) = shape.bounds();
            let rows = whole(top.max(0.0))..(whole(bottom.max(0.0)) + 2).min(self.height);
            for y in rows {
                for x in whole(left.max(0.0))..(whole(right.max(0.0)) + 2).min(self.width) {
                    let near = (0.6 - shape.distance((x as f32, y as f32))).clamp(0.0, 1.0);
                    let grain = f32::from(tile::grain().at(x, y)) / 255.0;
                    let ink = &mut self.ink[y * self.width + x];
                    *ink = (*ink).max(byte(near * dark * (0.55 + 0.45 * grain)));
                }
            }
        }
    }

    /// Lays a second film over every pixel of the plate; `cover` has its place on the plate and its cloud.
    fn each(&mut self, plate: Place, clouds: &Field, cover: impl Fn(usize, usize, f32) -> f32) {
        let right = (plate.left + plate.width).min(self.width);
        let mut cloud = vec![0.0; plate.width];
        for y in 0..plate.height.min(self.height.saturating_sub(plate.top)) {
            clouds.read_enlarged(4, y, &mut cloud);
            let line = (y + plate.top) * self.width;
            for (x, ink) in self.ink[line + plate.left.min(right)..line + right].iter_mut().enumerate() {
                let cover = cover(x, y, cloud[x]);
                if cover > 0.0 {
                    *ink = filmed(*ink, cover);
                }
            }
        }
    }
}

fn plate_clouds(plate: Place, across: f32, random: &mut Random) -> Field {
    Field::clouds(plate.width / 4 + 2, plate.height / 4 + 2, plate.width as f32 / 4.0 / across, 4, random)
}

fn edge_distance(plate: Place, x: usize, y: usize) -> f32 {
    x.min(y).min(plate.width - 1 - x.min(plate.width - 1)).min(plate.height - 1 - y.min(plate.height - 1))
        as f32
}

/// Two films over each other: what the first leaves bare, the second covers by its share.
fn filmed(ink: u8, cover: f32) -> u8 {
    let ink = f32::from(ink) / 255.0;
    byte((ink + (1.0 - ink) * cover.clamp(0.0, 1.0)).min(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLATE: Place = Place { left: 20, top: 30, width: 200, height: 140 };
    const IMAGE: Place = Place { left: 50, top: 55, width: 140, height: 90 };

    /// Mean ink of a rectangle, 0 to 1.
    fn mean(sheet: &Sheet, place: Place) -> f32 {
        let rows = (place.top..place.top + place.height).flat_map(|y| {
            sheet.ink[y * sheet.width + place.left..y * sheet.width + place.left + place.width].iter()
        });
        let (count, sum) = rows.fold((0.0, 0.0), |(count, sum), &ink| (count + 1.0, sum + f32::from(ink)));
        sum / count / 255.0
    }

    #[test]
    fn a_veil_is_even_and_ends_with_the_plate() {
        let mut sheet = Sheet::blank(240, 200);
        sheet.veil(PLATE, 1.0, &mut Random::new(1));
        assert!((0.08..0.3).contains(&mean(&sheet, IMAGE)), "{}", mean(&sheet, IMAGE));
        assert!(sheet.ink.iter().all(|&ink| ink < 110));
        assert_eq!(mean(&sheet, Place { left: 0, top: 0, width: 20, height: 200 }), 0.0);
    }

    #[test]
    fn dirt_lies_on_the_border_more_than_on_the_image() {
        let (mut border, mut image) = (0.0, 0.0);
        for seed in 0..6 {
            let mut sheet = Sheet::blank(240, 200);
            sheet.border_dirt(PLATE, IMAGE, 1.0, &mut Random::new(seed));
            border += mean(&sheet, Place { left: 20, top: 30, width: 200, height: 20 });
            image += mean(&sheet, IMAGE);
            assert_eq!(mean(&sheet, Place { left: 0, top: 0, width: 240, height: 30 }), 0.0);
        }
        assert!(border > 0.3 && border > image * 3.0, "{border} {image}");
    }

    #[test]
    fn what_does_not_fit_is_left_out() {
        let mut sheet = Sheet::blank(10, 10);
        sheet.print(&[255; 64], Place { left: 6, top: 6, width: 8, height: 8 });
        assert_eq!(sheet.ink.iter().filter(|&&ink| ink == 255).count(), 16);
        sheet.veil(Place { left: 4, top: 4, width: 40, height: 40 }, 1.0, &mut Random::new(1));
        sheet.pencil(&[(-5.0, -5.0), (30.0, 30.0)], 0.5);
        assert!(sheet.ink[5 * 10 + 5] > 40);
    }
}
