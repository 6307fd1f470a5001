//! A bowl on a table with fruit in and beside it.

use tympan_raster::canvas::{Canvas, Laying, Shade, curve};
use tympan_raster::random::Random;
use tympan_raster::shape::{Point, Shape, sine_cosine};

use super::{Scatter, body};

pub(super) fn draw(canvas: &mut Canvas, random: &mut Random) {
    let tall = canvas.tall();
    let wall = Shape::rectangle((-0.1, -0.1), (1.1, tall + 0.1));
    canvas.area(
        &wall,
        Shade::run(((0.0, 0.2), 0.52), ((1.0, 0.35), 0.16)).uneven(0.14).along(2),
        Laying::Over,
    );
    let edge = tall * random.between(0.5, 0.56);
    let table = Shape::Below(vec![edge + random.around(0.008), edge + random.around(0.008)]);
    canvas.area(&table, Shade::run(((0.1, edge), 0.10), ((0.7, tall), 0.34)).along(0), Laying::Over);
    canvas.outline(&table, 0.003, 0.8);
    let middle = (random.between(0.4, 0.5), tall * random.between(0.5, 0.54));
    let across = random.between(0.23, 0.27);
    let down = across * random.between(0.26, 0.32);
    let deep = across * random.between(0.85, 1.0);
    let shadow =
        Shape::Ellipse((middle.0 + across * 0.62, middle.1 + deep * 0.93), across * 1.05, down * 0.75);
    canvas.area(&shadow, Shade::even(0.5).soft(0.035), Laying::Shadow);
    vessel(canvas, middle, (across, down, deep));
    for fruit in 0..4 {
        let way = fruit as f32 / 3.0 - 0.5;
        let radius = across * random.between(0.3, 0.37);
        let at = (
            middle.0 + way * across * 1.0,
            middle.1 - down * (0.35 + 0.7 * (0.25 - way * way)) - radius * 0.25,
        );
        round_fruit(canvas, at, radius, random);
    }
    front_wall(canvas, middle, (across, down, deep));
    for beside in 0..2 + random.below(2) {
        let radius = across * random.between(0.26, 0.36);
        let x = if beside == 0 {
            middle.0 + across * 1.42
        } else {
            middle.0 - across * (0.6 + 0.75 * beside as f32)
        };
        let at = (x, middle.1 + deep * random.between(0.8, 1.02) - radius * 0.2);
        let fallen = Shape::Ellipse((at.0 + radius * 0.8, at.1 + radius * 0.8), radius * 1.1, radius * 0.32);
        canvas.area(&fallen, Shade::even(0.45).soft(0.02), Laying::Shadow);
        round_fruit(canvas, at, radius, random);
    }
    let wood =
        Scatter { from: (0.0, edge + 0.03), to: (1.0, tall), count: 60, length: 0.16, rise: 0.02, dark: 0.4 };
    wood.draw(canvas, random);
}

/// The outline of the vessel below its rim, from the right end of the rim to the left.
fn profile(middle: Point, (across, deep): (f32, f32)) -> Vec<Point> {
    (0..=20)
        .map(|at| {
            let (sine, cosine) = sine_cosine(at as f32 / 40.0);
            (middle.0 + cosine * across, middle.1 + sine * deep * 0.9)
        })
        .collect()
}

fn vessel(canvas: &mut Canvas, middle: Point, (across, down, deep): (f32, f32, f32)) {
    let (foot, base) = (across * 0.4, middle.1 + deep);
    let ring = Shape::Polygon(vec![
        (middle.0 - foot, base - deep * 0.18),
        (middle.0 + foot, base - deep * 0.18),
        (middle.0 + foot * 0.9, base),
        (middle.0 - foot * 0.9, base),
    ]);
    let shade = Shade::run(((middle.0 - foot, base), 0.3), ((middle.0 + foot, base), 0.9));
    body(canvas, &ring, shade.along(4), 0.95);
    let outside = Shape::Polygon(profile(middle, (across, deep)));
    let shade =
        Shade::run(((middle.0 - across, middle.1), 0.14), ((middle.0 + across, middle.1 + deep * 0.4), 0.78));
    body(canvas, &outside, shade.rounded(across * 0.3, 0.22).along(4), 0.9);
    let rim = Shape::Ellipse(middle, across, down);
    body(canvas, &rim, Shade::even(0.08), 0.9);
    let inside = Shape::Ellipse((middle.0, middle.1 + down * 0.04), across * 0.94, down * 0.88);
    let shade = Shade::run(((middle.0 - across, middle.1), 0.86), ((middle.0 + across, middle.1), 0.24));
    body(canvas, &inside, shade.along(2), 0.7);
}

/// What of the vessel stands before the fruit, once more.
fn front_wall(canvas: &mut Canvas, middle: Point, (across, down, deep): (f32, f32, f32)) {
    let mut points = profile(middle, (across, deep));
    points.extend((0..=20).map(|at| {
        let (sine, cosine) = sine_cosine(0.5 - at as f32 / 40.0);
        (middle.0 + cosine * across, middle.1 + sine * down)
    }));
    let front = Shape::Polygon(points);
    let shade = Shade::run(
        ((middle.0 - across * 0.7, middle.1), 0.10),
        ((middle.0 + across, middle.1 + deep * 0.4), 0.8),
    );
    canvas.area(&front, shade.rounded(across * 0.4, 0.26).along(4), Laying::Over);
    canvas.outline(&front, 0.004, 0.95);
    let lip = curve(
        (middle.0 - across * 0.93, middle.1 + down * 0.3),
        (middle.0 + across * 0.93, middle.1 + down * 0.3),
        0.16,
        12,
    );
    canvas.stroke(&lip, 0.002, 0.004, 0.7);
    let gleam = Shape::Ellipse((middle.0 - across * 0.5, middle.1 + deep * 0.5), across * 0.07, deep * 0.18);
    canvas.area(&gleam, Shade::even(0.3).soft(0.02), Laying::Lift);
}

fn round_fruit(canvas: &mut Canvas, at: Point, radius: f32, random: &mut Random) {
    let fruit = Shape::Joined(
        vec![
            Shape::Ellipse(at, radius, radius * random.between(0.86, 0.96)),
            Shape::Ellipse(
                (at.0 + random.around(radius * 0.1), at.1 - radius * 0.4),
                radius * 0.7,
                radius * 0.6,
            ),
        ],
        radius * 0.4,
    );
    let tone = random.between(0.2, 0.5);
    let shade = Shade::run(
        ((at.0 - radius, at.1 - radius), tone * 0.5),
        ((at.0 + radius, at.1 + radius), tone + 0.25),
    );
    body(canvas, &fruit, shade.rounded(radius * 0.85, 0.34).uneven(0.1).along(5), 0.95);
    let gleam = Shape::Ellipse((at.0 - radius * 0.35, at.1 - radius * 0.4), radius * 0.16, radius * 0.12);
    canvas.area(&gleam, Shade::even(0.4).soft(0.012), Laying::Lift);
    let stem = curve(
        (at.0, at.1 - radius * 0.82),
        (at.0 + radius * 0.25, at.1 - radius * 1.25),
        random.around(0.3),
        5,
    );
    canvas.stroke(&stem, 0.004, 0.0025, 1.0);
}
