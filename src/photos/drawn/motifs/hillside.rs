//! A hillside: ridge behind ridge, trees along the near ones, a path.

use tympan_raster::canvas::{Canvas, Laying, Shade, curve};
use tympan_raster::random::Random;
use tympan_raster::shape::Shape;

use super::{Scatter, height_at, ridge};

pub(super) fn draw(canvas: &mut Canvas, random: &mut Random) {
    let tall = canvas.tall();
    let sky = Shape::rectangle((-0.1, -0.1), (1.1, tall + 0.1));
    canvas.area(
        &sky,
        Shade::run(((0.0, 0.0), 0.42), ((0.1, tall * 0.5), 0.04)).uneven(0.16).along(0),
        Laying::Over,
    );
    clouds(canvas, random);
    let layers = 4 + random.below(2);
    for layer in 0..layers {
        let near = layer as f32 / (layers - 1) as f32;
        let level = tall * (0.36 + 0.42 * near * near + 0.06 * near);
        let heights = ridge(level, 0.035 + 0.05 * (1.0 - near) + 0.02 * near, random);
        let ground = Shape::Below(heights.clone());
        let shade =
            Shade::run(((0.0, level - 0.06), 0.28 + 0.5 * near), ((0.12, level + 0.22), 0.10 + 0.28 * near));
        let direction = u8::try_from(layer + 1).unwrap_or(1);
        canvas.area(&ground, shade.uneven(0.05 + 0.12 * near).along(direction), Laying::Over);
        canvas.outline(&ground, 0.002 + 0.002 * near, 0.5 + 0.4 * near);
        if layer > 0 {
            let count = 14 - 6 * layer / (layers - 1);
            trees(canvas, &heights, (near, count), random);
        }
    }
    path(canvas, tall, random);
    let grass = Scatter {
        from: (0.0, tall * 0.84),
        to: (1.0, tall),
        count: 190,
        length: 0.03,
        rise: 1.6,
        dark: 0.95,
    };
    grass.draw(canvas, random);
}

fn clouds(canvas: &mut Canvas, random: &mut Random) {
    let tall = canvas.tall();
    for _ in 0..5 {
        let (x, y) = (random.between(0.0, 1.0), random.between(0.05, 0.28) * tall);
        let puffs = (0..5).map(|puff| {
            let middle = (x + puff as f32 * 0.05 + random.around(0.01), y + random.around(0.012));
            Shape::Ellipse(middle, random.between(0.03, 0.07), random.between(0.014, 0.032))
        });
        let cloud = Shape::Joined(puffs.collect(), 0.02);
        canvas.area(&cloud, Shade::even(random.between(0.12, 0.3)).soft(0.02), Laying::Lift);
    }
}

fn trees(canvas: &mut Canvas, heights: &[f32], (near, count): (f32, u32), random: &mut Random) {
    let size = 0.014 + 0.05 * near * near;
    for _ in 0..count {
        let x = random.unit();
        let foot = height_at(heights, x) + size * 0.2;
        let trunk =
            curve((x, foot + size * 0.35), (x + random.around(0.004), foot - size), random.around(0.1), 4);
        canvas.stroke(&trunk, size * 0.1, size * 0.05, 1.0);
        let crown = (0..6).map(|_| {
            let middle = (x + random.around(size * 0.5), foot - size * (0.45 + random.unit() * 1.1));
            Shape::Ellipse(middle, size * random.between(0.35, 0.6), size * random.between(0.3, 0.5))
        });
        let crown = Shape::Joined(crown.collect(), size * 0.3);
        let shade =
            Shade::even(0.42 + 0.18 * near).rounded(size * 0.7, 0.34).uneven(0.2).soft(0.005 + size * 0.1);
        canvas.area(&crown, shade.along(3), Laying::Over);
        let fallen = Shape::Ellipse((x + size * 0.6, foot + size * 0.36), size * 1.0, size * 0.17);
        canvas.area(&fallen, Shade::even(0.3).soft(size * 0.2), Laying::Shadow);
    }
}

/// A way that narrows towards the hills.
fn path(canvas: &mut Canvas, tall: f32, random: &mut Random) {
    let foot = random.between(0.3, 0.6);
    let head = (random.between(0.45, 0.7), tall * 0.72);
    let way = curve((foot, tall + 0.03), head, random.around(0.16), 8);
    for (at, pair) in way.windows(2).enumerate() {
        if let [from, to] = pair {
            let width = |at: usize| {
                let near = 1.0 - at as f32 / 8.4;
                0.05 * near * near + 0.003
            };
            let stretch = Shape::Bone(*from, width(at), *to, width(at + 1));
            canvas.area(&stretch, Shade::even(0.4).soft(0.008), Laying::Lift);
        }
    }
}
