//! A stairwell: steps towards a lit door, a rail, light falling across the wall.

use tympan_raster::canvas::{Canvas, Laying, Shade, curve};
use tympan_raster::random::Random;
use tympan_raster::shape::{Point, Shape};

use super::body;

const STEPS: u32 = 13;

pub(super) fn draw(canvas: &mut Canvas, random: &mut Random) {
    let tall = canvas.tall();
    let all = Shape::rectangle((-0.1, -0.1), (1.1, tall + 0.1));
    canvas.area(
        &all,
        Shade::run(((0.0, 0.1), 0.62), ((0.6, tall * 0.7), 0.30)).uneven(0.12).along(3),
        Laying::Over,
    );
    let vanishing = (random.between(0.52, 0.62), tall * random.between(0.3, 0.36));
    let right = Shape::Polygon(vec![
        (vanishing.0 + 0.13, -0.1),
        (1.2, -0.1),
        (1.2, tall + 0.1),
        (0.98, tall + 0.1),
        (vanishing.0 + 0.13, vanishing.1 + 0.1),
    ]);
    canvas.area(&right, Shade::run(((0.7, 0.3), 0.86), ((1.0, 0.9), 0.55)).along(2), Laying::Over);
    door(canvas, vanishing, random);
    let ceiling = Shape::Polygon(vec![
        (-0.1, -0.1),
        (vanishing.0 + 0.13, -0.1),
        (vanishing.0 + 0.13, 0.06),
        (vanishing.0 - 0.13, 0.09),
        (-0.1, -0.02),
    ]);
    canvas.area(&ceiling, Shade::even(0.8).along(0), Laying::Over);
    canvas.outline(&ceiling, 0.003, 0.8);
    for step in (0..STEPS).rev() {
        tread(canvas, vanishing, tall, step, random);
    }
    light(canvas, vanishing, tall);
    rail(canvas, vanishing, tall);
}

/// Left end, right end and height of a step's front edge: 0 is nearest.
fn edge(vanishing: Point, tall: f32, step: f32) -> (f32, f32, f32) {
    let far = 1.0 - 1.0 / (1.0 + step * 0.17);
    let way = far / (1.0 - 1.0 / (1.0 + STEPS as f32 * 0.17));
    let left = 0.05 + (vanishing.0 - 0.12 - 0.05) * way;
    let right = 0.98 + (vanishing.0 + 0.13 - 0.98) * way;
    (left, right, tall * 0.97 + (vanishing.1 + 0.11 - tall * 0.97) * way)
}

fn tread(canvas: &mut Canvas, vanishing: Point, tall: f32, step: u32, random: &mut Random) {
    let here = edge(vanishing, tall, step as f32);
    let next = edge(vanishing, tall, step as f32 + 1.0);
    let back = here.2 - (here.2 - next.2) * 0.36;
    let inset = (next.0 - here.0) * 0.4;
    let top = Shape::Polygon(vec![
        (here.0, here.2),
        (here.0 + inset, back),
        (here.1 - (here.1 - next.1) * 0.4, back),
        (here.1, here.2),
    ]);
    let glow = 1.0 - step as f32 / STEPS as f32;
    body(
        canvas,
        &top,
        Shade::run(((here.0, here.2), 0.04 + 0.14 * glow), ((here.1, here.2), 0.3 + 0.16 * glow)).along(0),
        0.75,
    );
    let nose = (here.2 - next.2) * 0.72;
    let riser = Shape::Polygon(vec![
        (here.0, here.2),
        (here.1, here.2),
        (here.1, here.2 + nose),
        (here.0, here.2 + nose),
    ]);
    let dark = 0.46 + 0.3 * glow + random.around(0.03);
    body(
        canvas,
        &riser,
        Shade::run(((here.0, here.2), dark - 0.12), ((here.1, here.2), dark + 0.16)).along(4),
        0.85,
    );
    // Worn hollow in the middle.
    let worn = Shape::Ellipse(
        ((here.0 + here.1) * 0.48, here.2 - (here.2 - back) * 0.4),
        (here.1 - here.0) * 0.17,
        (here.2 - back) * 0.5,
    );
    canvas.area(&worn, Shade::even(0.12).soft(0.012), Laying::Lift);
}

fn door(canvas: &mut Canvas, at: Point, random: &mut Random) {
    let frame = Shape::rectangle((at.0 - 0.1, at.1 - 0.19), (at.0 + 0.1, at.1 + 0.13));
    body(canvas, &frame, Shade::even(0.85), 1.0);
    let opening = Shape::rectangle((at.0 - 0.08, at.1 - 0.17), (at.0 + 0.08, at.1 + 0.13));
    canvas.area(
        &opening,
        Shade::run(((at.0, at.1 - 0.17), 0.10), ((at.0, at.1), 0.0)).uneven(0.02),
        Laying::Over,
    );
    if random.below(2) == 0 {
        // Somebody stands there.
        let figure = Shape::Joined(
            vec![
                Shape::Ellipse((at.0 + 0.015, at.1 - 0.075), 0.015, 0.019),
                Shape::Bone((at.0 + 0.015, at.1 - 0.035), 0.021, (at.0 + 0.012, at.1 + 0.04), 0.024),
                Shape::Bone((at.0 + 0.006, at.1 + 0.05), 0.011, (at.0, at.1 + 0.13), 0.008),
                Shape::Bone((at.0 + 0.02, at.1 + 0.05), 0.011, (at.0 + 0.026, at.1 + 0.13), 0.008),
            ],
            0.01,
        );
        canvas.area(&figure, Shade::even(0.85).soft(0.003), Laying::Over);
    }
}

fn light(canvas: &mut Canvas, at: Point, tall: f32) {
    let beam = Shape::Polygon(vec![
        (at.0 - 0.08, at.1 - 0.1),
        (at.0 - 0.1, at.1 + 0.1),
        (-0.05, tall * 0.78),
        (-0.05, tall * 0.5),
    ]);
    canvas.area(&beam, Shade::run(((at.0, at.1), 0.4), ((0.0, tall * 0.7), 0.14)).soft(0.02), Laying::Lift);
    let corner = Shape::Ellipse((0.02, tall * 0.99), 0.4, 0.16);
    canvas.area(&corner, Shade::even(0.35).soft(0.12), Laying::Shadow);
}

fn rail(canvas: &mut Canvas, at: Point, tall: f32) {
    let foot = |step: f32| {
        let (_, right, height) = edge(at, tall, step);
        let size = (right - at.0) / (0.98 - at.0);
        ((right - 0.05 * size, height), size)
    };
    let head = |step: f32| {
        let ((x, y), size) = foot(step);
        (x, y - 0.36 * size)
    };
    for step in 0..STEPS {
        let step = step as f32 + 0.1;
        let (low, size) = foot(step);
        canvas.stroke(&curve(low, head(step), 0.0, 3), 0.006 * size, 0.005 * size, 1.0);
    }
    let points: Vec<Point> = (0..=16).map(|at| head(at as f32 / 16.0 * (STEPS as f32 - 1.0) - 0.4)).collect();
    canvas.stroke(&points, 0.015, 0.003, 1.0);
}
