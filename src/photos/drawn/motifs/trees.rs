//! Pale trunks in a wood.

use tympan_raster::canvas::{Canvas, Laying, Shade, curve};
use tympan_raster::random::Random;
use tympan_raster::shape::Shape;

use super::{Scatter, ridge};

pub(super) fn draw(canvas: &mut Canvas, random: &mut Random) {
    let tall = canvas.tall();
    let all = Shape::rectangle((-0.1, -0.1), (1.1, tall + 0.1));
    canvas.area(
        &all,
        Shade::run(((0.3, 0.0), 0.66), ((0.5, tall * 0.7), 0.18)).uneven(0.2).along(3),
        Laying::Over,
    );
    let heights = ridge(tall * 0.68, 0.02, random);
    let ground = Shape::Below(heights);
    canvas.area(
        &ground,
        Shade::run(((0.5, tall * 0.68), 0.22), ((0.4, tall), 0.66)).uneven(0.16).along(1),
        Laying::Over,
    );
    for _ in 0..14 {
        let x = random.unit();
        far_trunk(canvas, x, tall, random);
    }
    let count = 4 + random.below(2);
    for trunk in 0..count {
        let x = (trunk as f32 + random.between(0.2, 0.8)) / count as f32;
        let near = random.between(0.35, 1.0);
        near_trunk(canvas, x, near, tall, random);
    }
    let grass =
        Scatter { from: (0.0, tall * 0.74), to: (1.0, tall), count: 260, length: 0.05, rise: 1.8, dark: 0.9 };
    grass.draw(canvas, random);
    let leaves =
        Scatter { from: (0.0, 0.0), to: (1.0, tall * 0.22), count: 240, length: 0.03, rise: -0.6, dark: 0.7 };
    leaves.draw(canvas, random);
}

fn far_trunk(canvas: &mut Canvas, x: f32, tall: f32, random: &mut Random) {
    let width = random.between(0.004, 0.011);
    let points = curve(
        (x, tall * random.between(0.69, 0.76)),
        (x + random.around(0.02), -0.05),
        random.around(0.01),
        6,
    );
    canvas.stroke(&points, width, width * 0.6, random.between(0.35, 0.7));
}

fn near_trunk(canvas: &mut Canvas, x: f32, near: f32, tall: f32, random: &mut Random) {
    let width = 0.022 + 0.034 * near;
    let foot = tall * (0.72 + 0.2 * near);
    let lean = random.around(0.03);
    let trunk = Shape::Joined(
        vec![
            Shape::Bone((x, foot - 0.05), width, (x + lean, -0.1), width * 0.62),
            Shape::Bone((x, foot - 0.06), width, (x - width * 1.1, foot), width * 0.2),
            Shape::Bone((x, foot - 0.06), width, (x + width * 1.2, foot + 0.005), width * 0.2),
        ],
        width * 0.5,
    );
    let fallen = Shape::Polygon(vec![
        (x - width, foot),
        (x + width, foot),
        (x + 0.5, foot + 0.1),
        (x + 0.42, foot + 0.13),
    ]);
    canvas.area(&fallen, Shade::even(0.3).soft(0.02), Laying::Shadow);
    canvas.area(
        &trunk,
        Shade::run(((x - width, 0.0), 0.02), ((x + width, 0.0), 0.34)).rounded(width, 0.26).along(0),
        Laying::Over,
    );
    canvas.outline(&trunk, 0.003, 0.8);
    for _ in 0..20 {
        bark(canvas, (x, width, lean, foot), random);
    }
    for _ in 0..3 {
        let height = random.between(0.05, 0.5) * tall;
        let side = if random.below(2) == 0 { 1.0 } else { -1.0 };
        let from = (x + lean * (1.0 - height / foot) + side * width * 0.7, height);
        let to = (from.0 + side * random.between(0.08, 0.24), height - random.between(0.05, 0.2));
        canvas.stroke(&curve(from, to, side * 0.14, 7), width * 0.2, 0.0012, 0.95);
    }
}

/// A dark scar across the bark.
fn bark(canvas: &mut Canvas, (x, width, lean, foot): (f32, f32, f32, f32), random: &mut Random) {
    let y = random.between(0.0, foot - 0.03);
    let middle = x + lean * (1.0 - y / foot);
    let from = middle + random.between(-0.9, 0.3) * width * 0.85;
    let to = from + random.between(0.15, 0.7) * width;
    let points = curve((from, y), (to, y + random.around(0.003)), random.around(0.15), 4);
    canvas.stroke(&points, random.between(0.002, 0.006), 0.001, random.between(0.7, 1.0));
}
