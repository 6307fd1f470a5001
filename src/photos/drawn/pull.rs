//! One pull: where plate and image lie on the paper, what the plate carried along, and how the phone was held.

use tympan_raster::canvas::{Canvas, Laying, Shade};
use tympan_raster::photograph::{Colour, View};
use tympan_raster::random::Random;
use tympan_raster::shape::{Shape, sine_cosine};
use tympan_raster::sheet::{Place, Sheet};

use super::{CameUp, Drawing, Paper};

/// Sizes in pixels of the photograph, the sheet, the plate on it and the image on that.
#[derive(Debug, Clone, Copy)]
pub(super) struct Layout {
    photograph: (usize, usize),
    sheet: (usize, usize),
    plate: Place,
    pub(super) image: Place,
}

impl Layout {
    /// All sizes follow from the plate, so that every pull shows the same drawing to the pixel; where the plate lies
    /// on its paper follows from the pull.
    pub(super) fn new(drawing: &Drawing, plate: &mut Random, pull: &mut Random) -> Self {
        let long = usize::from(drawing.long_side.clamp(200, 1600));
        let short = long * 3 / 4;
        let tall = drawing.motif.tall();
        let upright = tall > 1.0;
        let photograph = if upright { (short, long) } else { (long, short) };
        let room = plate.between(0.91, 0.94);
        let sheet_tall = if upright { 1.32 } else { 0.757 };
        let sheet = fitted(sheet_tall, photograph, room);
        // The plate lies a little high, as the eye wants it.
        let plate_size = fitted((tall + sheet_tall) / 2.0, sheet, 0.9);
        let laid = placed(plate_size, sheet, pull.around(0.003), 0.44 + pull.around(0.006));
        let image_size = fitted(tall, plate_size, plate.between(0.89, 0.92));
        let inner = placed(image_size, plate_size, 0.0, 0.47);
        let image = Place { left: laid.left + inner.left, top: laid.top + inner.top, ..inner };
        Self { photograph, sheet, plate: laid, image }
    }
}

#[cfg(test)]
impl Layout {
    /// Image and plate as they would lie on a photograph taken straight.
    pub(super) fn on_photograph(&self) -> (Place, Place) {
        let (left, top) = ((self.photograph.0 - self.sheet.0) / 2, (self.photograph.1 - self.sheet.1) / 2);
        let moved = |place: Place| Place { left: place.left + left, top: place.top + top, ..place };
        (moved(self.image), moved(self.plate))
    }
}

/// The largest size of the proportion that takes at most `share` of both sides.
fn fitted(tall: f32, (width, height): (usize, usize), share: f32) -> (usize, usize) {
    let across = (width as f32 * share).min(height as f32 * share / tall);
    (pixels(across), pixels(across * tall))
}

fn placed(size: (usize, usize), within: (usize, usize), off: f32, high: f32) -> Place {
    let spare = |whole: usize, part: usize| whole.saturating_sub(part) as f32;
    Place {
        left: pixels(spare(within.0, size.0) * (0.5 + off)),
        top: pixels(spare(within.1, size.1) * high),
        width: size.0,
        height: size.1,
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a float to integer cast saturates"
)]
fn pixels(length: f32) -> usize {
    (length + 0.5) as usize
}

/// Where acid stood too long: pale pools with a harder edge, and a run.
pub(super) fn pool_acid(canvas: &mut Canvas, strength: f32, random: &mut Random) {
    let tall = canvas.tall();
    for _ in 0..5 {
        let middle = (random.between(0.1, 0.9), random.between(0.1, 0.9) * tall);
        let (across, down) = (random.between(0.02, 0.11), random.between(0.02, 0.08));
        let pool = Shape::Joined(
            vec![
                Shape::Ellipse(middle, across, down),
                Shape::Ellipse((middle.0 + across * 0.8, middle.1 + down * 0.5), across * 0.5, down * 0.7),
                Shape::Bone(
                    middle,
                    down * 0.4,
                    (middle.0 + random.around(0.02), middle.1 + down * 2.2),
                    0.006,
                ),
            ],
            0.03,
        );
        let eaten = strength * random.between(0.25, 0.6);
        canvas.area(&pool, Shade::even(eaten).soft(random.between(0.004, 0.02)).uneven(0.15), Laying::Lift);
    }
}

/// The printed sheet.
pub(super) fn print(
    drawing: &Drawing,
    layout: &Layout,
    image: &[u8],
    etch: &mut Random,
    pull: &mut Random,
) -> Sheet {
    let mut sheet = Sheet::blank(layout.sheet.0, layout.sheet.1);
    let strength = f32::from(drawing.strength.min(100)) / 100.0;
    sheet.print(image, layout.image);
    match drawing.came_up {
        CameUp::BorderDirt => sheet.border_dirt(layout.plate, layout.image, 0.5 + 0.7 * strength, etch),
        CameUp::BorderVeil => sheet.veil(layout.plate, 0.3 + 0.7 * strength, etch),
        // Even a well kept plate leaves a speck or two at its edge.
        CameUp::Clean | CameUp::Burned | CameUp::FilledIn => {
            sheet.border_dirt(layout.plate, layout.image, 0.08, etch);
        }
    }
    write_notes(&mut sheet, layout, pull);
    sheet
}

/// Pencil under the image: a few letters on the left, a name nobody can read on the right.
fn write_notes(sheet: &mut Sheet, layout: &Layout, random: &mut Random) {
    let unit = layout.sheet.0.max(layout.sheet.1) as f32 / 1000.0;
    let base = (layout.plate.top + layout.plate.height) as f32 + random.between(10.0, 18.0) * unit;
    let left = layout.image.left as f32 + random.between(0.0, 20.0) * unit;
    let right = (layout.image.left + layout.image.width) as f32 - random.between(130.0, 160.0) * unit;
    let letters = 4 + random.below(3);
    scribble(sheet, (left, base), unit * 6.0, letters, random);
    let letters = 9 + random.below(5);
    scribble(sheet, (right, base + random.around(2.0)), unit * 8.0, letters, random);
}

fn scribble(sheet: &mut Sheet, (mut x, y): (f32, f32), height: f32, letters: u32, random: &mut Random) {
    let slant = random.between(0.15, 0.45);
    let mut points = Vec::new();
    for letter in 0..letters {
        let tall = height * if letter == 0 || random.below(4) == 0 { 1.7 } else { random.between(0.5, 0.9) };
        let wide = height * random.between(0.7, 1.3);
        let loops = random.between(0.8, 1.3);
        for step in 0..10 {
            let way = step as f32 / 10.0;
            let (sine, cosine) = sine_cosine(0.25 + way * loops);
            let up = (1.0 - sine) * 0.5 * tall;
            points.push((x + wide * way + cosine * wide * 0.35 + up * slant, y + height - up));
        }
        x += wide;
    }
    sheet.pencil(&points, random.between(0.4, 0.55));
}

/// How the phone saw it.
pub(super) fn view(drawing: &Drawing, layout: &Layout, random: &mut Random) -> View {
    const TABLES: [Colour; 4] =
        [[0.25, 0.245, 0.24], [0.47, 0.39, 0.31], [0.62, 0.60, 0.56], [0.34, 0.36, 0.37]];
    const LIGHTS: [Colour; 4] =
        [[1.0, 1.0, 1.0], [1.01, 0.995, 0.955], [0.985, 1.0, 1.005], [1.0, 0.99, 0.97]];
    let pick = |from: [Colour; 4], random: &mut Random| {
        from.get(random.below(4) as usize).copied().unwrap_or([0.5; 3])
    };
    let (width, height) = layout.photograph;
    View {
        width,
        height,
        near: random.between(0.985, 1.02),
        askew: random.around(0.0022),
        lean: (random.around(0.012), random.around(0.022)),
        off: (random.around(0.006) * width as f32, random.around(0.006) * height as f32),
        slope: (random.around(0.07), random.around(0.07)),
        corners: random.between(0.05, 0.22),
        light: pick(LIGHTS, random),
        paper: match drawing.paper {
            Paper::White => [0.935, 0.932, 0.92],
            Paper::Cream => [0.93, 0.91, 0.855],
            Paper::Buff => [0.89, 0.845, 0.755],
            Paper::Grey => [0.82, 0.82, 0.81],
        },
        table: pick(TABLES, random),
        ink: [0.125, 0.118, 0.112],
        noise: random.between(0.014, 0.03),
    }
}
