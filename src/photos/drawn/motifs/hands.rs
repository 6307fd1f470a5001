//! A study of two hands.

use tympan_raster::canvas::{Canvas, Laying, Shade, curve};
use tympan_raster::random::Random;
use tympan_raster::shape::{Point, Shape, sine_cosine};

pub(super) fn draw(canvas: &mut Canvas, random: &mut Random) {
    let tall = canvas.tall();
    let all = Shape::rectangle((-0.1, -0.1), (1.1, tall + 0.1));
    canvas.area(&all, Shade::run(((0.1, 0.0), 0.10), ((0.9, tall), 0.4)).uneven(0.22).along(2), Laying::Over);
    let dark = Shape::Ellipse((0.62, tall * 0.56), 0.42, 0.5);
    canvas.area(&dark, Shade::even(0.26).soft(0.16).uneven(0.12), Laying::Shadow);
    let far = Pose {
        wrist: (0.75 + random.around(0.02), tall * 0.77),
        turn: -0.045 + random.around(0.01),
        size: 0.88,
        mirrored: true,
    };
    let near = Pose {
        wrist: (0.29 + random.around(0.02), tall * 0.84),
        turn: 0.035 + random.around(0.012),
        size: 1.0,
        mirrored: false,
    };
    for pose in [far, near] {
        sleeve(canvas, &pose);
        hand(canvas, &pose, random);
    }
}

/// Where a hand is and how it is held.
struct Pose {
    wrist: Point,
    /// In turns; 0 points up.
    turn: f32,
    size: f32,
    mirrored: bool,
}

impl Pose {
    /// From a hand that points up from the origin, a unit long, to the picture.
    fn place(&self, (x, y): Point) -> Point {
        let x = if self.mirrored { -x } else { x };
        let (sine, cosine) = sine_cosine(self.turn);
        let size = self.size * 0.57;
        (self.wrist.0 + (x * cosine - y * sine) * size, self.wrist.1 + (x * sine + y * cosine) * size)
    }

    fn bone(&self, from: Point, from_radius: f32, to: Point, to_radius: f32) -> Shape {
        let size = self.size * 0.57;
        Shape::Bone(self.place(from), from_radius * size, self.place(to), to_radius * size)
    }

    fn shade(&self, tone: f32, round: f32, relief: f32) -> Shade {
        let (light, dark) = (self.place((-0.3, -0.8)), self.place((0.35, 0.0)));
        Shade::run((light, tone), (dark, tone + 0.22))
            .rounded(round * self.size * 0.57, relief)
            .uneven(0.05)
            .along(5)
    }
}

/// Root of a finger, its length and the lean of its parts.
const FINGERS: [(Point, f32, f32, f32); 4] = [
    ((0.175, -0.44), 0.31, 0.045, 0.052),
    ((0.065, -0.50), 0.40, 0.02, 0.057),
    ((-0.055, -0.51), 0.43, -0.012, 0.060),
    ((-0.165, -0.47), 0.38, -0.045, 0.060),
];

fn hand(canvas: &mut Canvas, pose: &Pose, random: &mut Random) {
    for (root, length, lean, radius) in FINGERS {
        finger(canvas, pose, (root, length, lean + random.around(0.008), radius), random);
    }
    let palm = Shape::Joined(
        vec![
            pose.bone((0.0, 0.12), 0.125, (0.0, -0.06), 0.14),
            pose.bone((-0.1, -0.36), 0.105, (-0.05, -0.1), 0.14),
            pose.bone((0.10, -0.34), 0.10, (0.06, -0.08), 0.12),
            pose.bone((0.165, -0.40), 0.06, (0.12, -0.2), 0.09),
            pose.bone((-0.165, -0.42), 0.068, (-0.13, -0.2), 0.09),
        ],
        0.07,
    );
    canvas.area(&palm, pose.shade(0.12, 0.17, 0.34), Laying::Over);
    // The fingers grow out of the palm: no line there.
    canvas.outline(&palm, 0.0028, 0.5);
    for (root, _, lean, radius) in FINGERS {
        let (sine, cosine) = sine_cosine(lean);
        let up = (root.0 + sine * 0.1, root.1 - cosine * 0.1);
        canvas.area(
            &pose.bone(root, radius * 1.12, up, radius * 1.02),
            pose.shade(0.14, 0.06, 0.3).soft(0.012),
            Laying::Over,
        );
    }
    thumb(canvas, pose);
    creases(canvas, pose);
}

fn finger(
    canvas: &mut Canvas,
    pose: &Pose,
    (root, length, lean, radius): (Point, f32, f32, f32),
    random: &mut Random,
) {
    let mut parts = Vec::new();
    let (mut at, mut lean) = (root, lean);
    for (share, thick) in [(0.44, 1.06), (0.31, 0.97), (0.25, 0.84)] {
        let (sine, cosine) = sine_cosine(lean);
        let next = (at.0 + sine * length * share, at.1 - cosine * length * share);
        parts.push(pose.bone(at, radius * (thick + 0.06), next, radius * thick));
        at = next;
        lean += random.around(0.014) - lean * 0.3;
    }
    let tip = at;
    let whole = Shape::Joined(parts, 0.012);
    canvas.area(&whole, pose.shade(0.12, radius * 1.15, 0.36), Laying::Over);
    canvas.outline(&whole, 0.0036, 0.95);
    for share in [0.4, 0.72] {
        let middle = (root.0 + (tip.0 - root.0) * share, root.1 + (tip.1 - root.1) * share);
        let (left, right) =
            ((middle.0 - radius * 0.8, middle.1), (middle.0 + radius * 0.75, middle.1 + 0.004));
        canvas.stroke(&curve(pose.place(left), pose.place(right), 0.1, 5), 0.0022, 0.001, 0.6);
    }
}

fn thumb(canvas: &mut Canvas, pose: &Pose) {
    let fallen = pose.bone((-0.1, -0.05), 0.12, (-0.2, -0.26), 0.1);
    canvas.area(&fallen, Shade::even(0.18).soft(0.03), Laying::Shadow);
    let thumb = Shape::Joined(
        vec![
            pose.bone((-0.06, 0.02), 0.12, (-0.2, -0.16), 0.088),
            pose.bone((-0.2, -0.16), 0.082, (-0.3, -0.32), 0.068),
            pose.bone((-0.3, -0.32), 0.068, (-0.33, -0.44), 0.05),
        ],
        0.04,
    );
    canvas.area(&thumb, pose.shade(0.10, 0.11, 0.36), Laying::Over);
    let edge = [
        (-0.235, -0.05),
        (-0.32, -0.24),
        (-0.37, -0.36),
        (-0.375, -0.45),
        (-0.335, -0.495),
        (-0.285, -0.45),
        (-0.235, -0.3),
        (-0.14, -0.2),
    ];
    let edge: Vec<Point> = edge.iter().map(|&point| pose.place(point)).collect();
    canvas.stroke(&edge, 0.0042, 0.003, 0.9);
}

fn creases(canvas: &mut Canvas, pose: &Pose) {
    let lines = [
        ((-0.2, -0.28), (0.16, -0.2), -0.16, 0.8),
        ((-0.13, -0.38), (0.2, -0.31), 0.14, 0.75),
        ((-0.17, -0.25), (-0.02, 0.1), -0.24, 0.9),
        ((-0.11, 0.13), (0.11, 0.14), 0.06, 0.7),
        ((-0.1, 0.16), (0.1, 0.165), 0.05, 0.45),
    ];
    for (from, to, sag, dark) in lines {
        let sag = if pose.mirrored { -sag } else { sag };
        canvas.stroke(&curve(pose.place(from), pose.place(to), sag, 9), 0.003, 0.0014, dark);
    }
}

fn sleeve(canvas: &mut Canvas, pose: &Pose) {
    let arm = pose.bone((0.0, 0.0), 0.13, (0.02, 0.9), 0.17);
    canvas.area(&arm, pose.shade(0.16, 0.14, 0.32), Laying::Over);
    canvas.outline(&arm, 0.0034, 0.85);
    let cuff = pose.bone((0.0, 0.34), 0.19, (0.03, 1.0), 0.23);
    canvas.area(&cuff, pose.shade(0.58, 0.16, 0.3).along(3), Laying::Over);
    canvas.outline(&cuff, 0.004, 1.0);
    for fold in 0..5 {
        let down = 0.3 + fold as f32 * 0.09;
        let (from, to) = (pose.place((-0.16, down)), pose.place((0.12, down + 0.05)));
        canvas.stroke(&curve(from, to, 0.12, 7), 0.004, 0.001, 0.9);
    }
}
