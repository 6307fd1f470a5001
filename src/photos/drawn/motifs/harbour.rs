//! A harbour: houses along the quay, boats, water.

use tympan_raster::canvas::{Canvas, Laying, Shade, curve};
use tympan_raster::random::Random;
use tympan_raster::shape::{Point, Shape};

use super::{Scatter, body, ridge};

pub(super) fn draw(canvas: &mut Canvas, random: &mut Random) {
    let tall = canvas.tall();
    let water = tall * random.between(0.5, 0.56);
    let sky = Shape::rectangle((-0.1, -0.1), (1.1, tall + 0.1));
    canvas.area(
        &sky,
        Shade::run(((0.0, 0.0), 0.36), ((0.05, water), 0.03)).uneven(0.2).along(1),
        Laying::Over,
    );
    let hills = Shape::Below(ridge(water - 0.09, 0.045, random));
    canvas.area(&hills, Shade::run(((0.0, water - 0.12), 0.34), ((0.0, water), 0.12)).along(2), Laying::Over);
    houses(canvas, water, random);
    let sea = Shape::Below(vec![water, water]);
    canvas.area(
        &sea,
        Shade::run(((0.0, water), 0.16), ((0.0, tall), 0.52)).uneven(0.16).along(0),
        Laying::Over,
    );
    for _ in 0..9 {
        let (x, wide) = (random.unit(), random.between(0.03, 0.1));
        let glint = Shape::Ellipse((x, random.between(water + 0.02, tall)), wide, 0.008);
        canvas.area(&glint, Shade::even(0.22).soft(0.012), Laying::Lift);
    }
    let ripples = Scatter {
        from: (0.0, water + 0.01),
        to: (1.0, tall),
        count: 230,
        length: 0.07,
        rise: 0.0,
        dark: 0.75,
    };
    ripples.draw(canvas, random);
    for (x, size) in [(0.72, 0.5), (0.2, 0.62), (0.5, 1.0)] {
        let at = (x + random.around(0.03), water + 0.06 * size + (size - 0.5) * 0.2);
        boat(canvas, at, size, random);
    }
    quay(canvas, tall, random);
}

fn houses(canvas: &mut Canvas, water: f32, random: &mut Random) {
    let mut x = random.between(-0.03, 0.02);
    while x < 1.0 {
        let (wide, high) = (random.between(0.06, 0.12), random.between(0.07, 0.17));
        let top = water - high;
        let tone = random.between(0.1, 0.42);
        let front = Shape::rectangle((x, top), (x + wide, water));
        body(canvas, &front, Shade::run(((x, top), tone), ((x + wide, water), tone + 0.2)).along(5), 0.8);
        let peak = top - random.between(0.02, 0.055);
        let roof = Shape::Polygon(vec![(x - 0.006, top), (x + wide * 0.5, peak), (x + wide + 0.006, top)]);
        body(canvas, &roof, Shade::run(((x, top), 0.55), ((x + wide, top), 0.85)).along(3), 0.9);
        let columns = 2 + random.below(2);
        for (row, column) in (0..3).flat_map(|row| (0..columns).map(move |column| (row, column))) {
            let left = x + wide * (column as f32 + 0.3) / columns as f32;
            let over = top + 0.014 + row as f32 * 0.036;
            if over + 0.02 < water {
                let pane = Shape::rectangle((left, over), (left + wide * 0.13, over + 0.018));
                canvas.area(&pane, Shade::even(random.between(0.6, 0.95)).soft(0.002), Laying::Over);
            }
        }
        let mirrored = Shape::rectangle((x, water), (x + wide, water + high * 0.8));
        canvas.area(&mirrored, Shade::even(0.05), Laying::Shadow);
        x += wide + if random.below(5) == 0 { random.between(0.03, 0.08) } else { 0.002 };
    }
}

fn boat(canvas: &mut Canvas, at: Point, size: f32, random: &mut Random) {
    let (long, high) = (0.17 * size, 0.055 * size);
    let mirrored = Shape::Ellipse((at.0, at.1 + high * 1.3), long * 0.95, high * 1.1);
    canvas.area(&mirrored, Shade::even(0.42).soft(0.02 * size), Laying::Shadow);
    let mast = (at.0 - long * 0.1, at.1 - 0.34 * size);
    rigging(canvas, at, mast, size, random);
    let mut hull = curve((at.0 - long, at.1 - high * 1.05), (at.0 + long, at.1 - high * 1.35), 0.07, 10);
    hull.extend(curve(
        (at.0 + long * 0.84, at.1 + high * 0.5),
        (at.0 - long * 0.8, at.1 + high * 0.5),
        -0.03,
        8,
    ));
    let hull = Shape::Polygon(hull);
    let shade = Shade::run(((at.0 - long, at.1), 0.5), ((at.0 + long, at.1 + high), 0.95));
    body(canvas, &hull, shade.along(1), 1.0);
    let gunwale =
        curve((at.0 - long * 0.98, at.1 - high * 0.86), (at.0 + long * 0.96, at.1 - high * 1.12), 0.07, 10);
    for points in gunwale.windows(2) {
        if let [from, to] = points {
            canvas.area(
                &Shape::Bone(*from, 0.005 * size, *to, 0.005 * size),
                Shade::even(0.55).soft(0.002),
                Laying::Lift,
            );
        }
    }
    let cabin =
        Shape::rectangle((at.0 + long * 0.12, at.1 - high * 2.1), (at.0 + long * 0.56, at.1 - high * 0.9));
    body(canvas, &cabin, Shade::run(((at.0, at.1), 0.12), ((at.0 + long * 0.5, at.1), 0.5)), 0.9);
    let pane =
        Shape::rectangle((at.0 + long * 0.2, at.1 - high * 1.9), (at.0 + long * 0.36, at.1 - high * 1.4));
    canvas.area(&pane, Shade::even(0.9).soft(0.002), Laying::Over);
}

fn rigging(canvas: &mut Canvas, at: Point, mast: Point, size: f32, random: &mut Random) {
    let long = 0.17 * size;
    if random.below(3) > 0 {
        let boom = (at.0 + long * 0.85, at.1 - 0.09 * size);
        let mut sail = curve((mast.0 + 0.004, mast.1 + 0.02), boom, -0.1, 8);
        sail.push((mast.0 + 0.004, at.1 - 0.08 * size));
        let shade = Shade::run(((mast.0, mast.1), 0.04), ((boom.0, boom.1), 0.34));
        body(canvas, &Shape::Polygon(sail), shade.along(4), 0.7);
    }
    canvas.stroke(&[(mast.0, at.1), mast], 0.005 * size, 0.0025 * size, 1.0);
    canvas.stroke(&curve(mast, (at.0 - long, at.1 - 0.05 * size), 0.02, 6), 0.0012, 0.0012, 0.8);
    canvas.stroke(&curve(mast, (at.0 + long, at.1 - 0.07 * size), -0.02, 6), 0.0012, 0.0012, 0.8);
    let mirrored =
        curve((mast.0, at.1 + 0.05 * size), (mast.0 + random.around(0.01), at.1 + 0.16 * size), 0.05, 5);
    canvas.stroke(&mirrored, 0.004 * size, 0.002, 0.5);
}

fn quay(canvas: &mut Canvas, tall: f32, random: &mut Random) {
    let top = tall * random.between(0.85, 0.89);
    let wall = Shape::Polygon(vec![(-0.1, top), (0.36, top + 0.015), (0.3, tall + 0.1), (-0.1, tall + 0.1)]);
    body(canvas, &wall, Shade::run(((0.0, top), 0.42), ((0.3, tall), 0.88)).along(2), 1.0);
    let deck = Shape::Polygon(vec![
        (-0.1, top - 0.035),
        (0.33, top - 0.018),
        (0.365, top + 0.016),
        (-0.1, top + 0.006),
    ]);
    body(canvas, &deck, Shade::run(((0.0, top), 0.06), ((0.36, top), 0.26)).along(0), 0.9);
    let post = Shape::Bone((0.2, top - 0.07), 0.016, (0.2, top - 0.01), 0.02);
    body(canvas, &post, Shade::even(0.6).rounded(0.018, 0.35), 1.0);
    let rope = curve((0.2, top - 0.05), (0.42, top - 0.09), 0.2, 10);
    canvas.stroke(&rope, 0.003, 0.002, 1.0);
}
