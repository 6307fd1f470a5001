//! Plane shapes and how far a point lies from their edge. Lengths are in widths of the picture.

/// A point: across and down.
pub type Point = (f32, f32);

/// What can be drawn as an area.
#[derive(Debug, Clone)]
pub enum Shape {
    /// Middle, half width, half height.
    Ellipse(Point, f32, f32),
    /// A bone: from a point with one radius to another with its own.
    Bone(Point, f32, Point, f32),
    /// Corners in order.
    Polygon(Vec<Point>),
    /// Several shapes grown together; the number is the width of the weld.
    Joined(Vec<Shape>, f32),
    /// Everything below a line that runs from the left border to the right, given at even steps.
    Below(Vec<f32>),
}

impl Shape {
    /// An upright rectangle from its upper left to its lower right corner.
    #[must_use]
    pub fn rectangle((left, top): Point, (right, bottom): Point) -> Self {
        Self::Polygon(vec![(left, top), (right, top), (right, bottom), (left, bottom)])
    }

    /// Signed distance to the edge, negative inside. Exact for bones and polygons, close near the edge otherwise.
    #[must_use]
    pub fn distance(&self, at: Point) -> f32 {
        match self {
            Self::Ellipse(middle, across, down) => ellipse(at, *middle, *across, *down),
            Self::Bone(from, from_radius, to, to_radius) => bone(at, *from, *from_radius, *to, *to_radius),
            Self::Polygon(corners) => polygon(at, corners),
            Self::Joined(parts, weld) => joined(at, parts, *weld),
            Self::Below(heights) => below(at, heights),
        }
    }

    /// The upright rectangle around the shape: left, top, right, bottom.
    #[must_use]
    pub fn bounds(&self) -> (f32, f32, f32, f32) {
        let around = |points: &[(Point, f32)]| {
            points.iter().fold((f32::MAX, f32::MAX, f32::MIN, f32::MIN), |all, &((x, y), reach)| {
                (all.0.min(x - reach), all.1.min(y - reach), all.2.max(x + reach), all.3.max(y + reach))
            })
        };
        match self {
            Self::Ellipse((x, y), across, down) => (x - across, y - down, x + across, y + down),
            Self::Bone(from, from_radius, to, to_radius) => {
                around(&[(*from, *from_radius), (*to, *to_radius)])
            }
            Self::Polygon(corners) => {
                around(&corners.iter().map(|&corner| (corner, 0.0)).collect::<Vec<_>>())
            }
            Self::Joined(parts, _) => {
                parts.iter().map(Self::bounds).fold((f32::MAX, f32::MAX, f32::MIN, f32::MIN), |all, part| {
                    (all.0.min(part.0), all.1.min(part.1), all.2.max(part.2), all.3.max(part.3))
                })
            }
            Self::Below(heights) => {
                (f32::MIN, heights.iter().copied().fold(f32::MAX, f32::min), f32::MAX, f32::MAX)
            }
        }
    }
}

fn ellipse((x, y): Point, middle: Point, across: f32, down: f32) -> f32 {
    let (x, y) = (x - middle.0, y - middle.1);
    let (inner_x, inner_y) = (x / across, y / down);
    let radius = (inner_x * inner_x + inner_y * inner_y).sqrt();
    let (slope_x, slope_y) = (inner_x / across, inner_y / down);
    let slope = (slope_x * slope_x + slope_y * slope_y).sqrt();
    if slope < 1e-6 { -across.min(down) } else { radius * (radius - 1.0) / slope }
}

fn bone((x, y): Point, from: Point, from_radius: f32, to: Point, to_radius: f32) -> f32 {
    let (along_x, along_y) = (to.0 - from.0, to.1 - from.1);
    let (x, y) = (x - from.0, y - from.1);
    let length = along_x * along_x + along_y * along_y;
    let way = if length > 0.0 { ((x * along_x + y * along_y) / length).clamp(0.0, 1.0) } else { 0.0 };
    let (far_x, far_y) = (x - along_x * way, y - along_y * way);
    (far_x * far_x + far_y * far_y).sqrt() - (from_radius + (to_radius - from_radius) * way)
}

fn polygon((x, y): Point, corners: &[Point]) -> f32 {
    let Some(&last) = corners.last() else { return f32::MAX };
    let (mut nearest, mut inside, mut previous) = (f32::MAX, false, last);
    for &corner in corners {
        let (edge_x, edge_y) = (previous.0 - corner.0, previous.1 - corner.1);
        let (from_x, from_y) = (x - corner.0, y - corner.1);
        let length = edge_x * edge_x + edge_y * edge_y;
        let way =
            if length > 0.0 { ((from_x * edge_x + from_y * edge_y) / length).clamp(0.0, 1.0) } else { 0.0 };
        let (far_x, far_y) = (from_x - edge_x * way, from_y - edge_y * way);
        nearest = nearest.min(far_x * far_x + far_y * far_y);
        if (corner.1 > y) != (previous.1 > y) && x < edge_x * from_y / edge_y + corner.0 {
            inside = !inside;
        }
        previous = corner;
    }
    let distance = nearest.sqrt();
    if inside { -distance } else { distance }
}

/// A smooth minimum: near the seam both parts give way by a quarter of the weld at most.
fn joined(at: Point, parts: &[Shape], weld: f32) -> f32 {
    parts.iter().map(|part| part.distance(at)).fold(f32::MAX, |one, other| {
        let near = (1.0 - (one - other).abs() / weld.max(1e-6)).max(0.0);
        one.min(other) - near * near * weld * 0.25
    })
}

fn below((x, y): Point, heights: &[f32]) -> f32 {
    let Some(last) = heights.len().checked_sub(1).filter(|&last| last > 0) else { return f32::MAX };
    let at = x.clamp(0.0, 1.0) * last as f32;
    let step = crate::field::whole(at).min(last - 1);
    let (here, next) = (heights[step], heights[step + 1]);
    let height = here + (next - here) * (at - step as f32);
    let slope = (next - here) * last as f32;
    (height - y) / (1.0 + slope * slope).sqrt()
}

/// Sine and cosine of an angle in turns, by a polynomial of our own: the same on every machine, wrong by less than
/// one part in a thousand.
#[must_use]
#[inline]
pub fn sine_cosine(turns: f32) -> (f32, f32) {
    (sine(turns), sine(turns + 0.25))
}

#[expect(clippy::cast_possible_truncation, reason = "a float to integer cast saturates")]
#[inline]
fn sine(turns: f32) -> f32 {
    let turn = turns - (turns as i32) as f32;
    let turn = if turn < 0.0 { turn + 1.0 } else { turn };
    // A parabola through each half wave, bent once more towards the sine.
    let half = if turn < 0.5 { turn } else { turn - 0.5 };
    let wave = 16.0 * half * (0.5 - half);
    let bent = 0.224 * (wave * wave - wave) + wave;
    if turn < 0.5 { bent } else { -bent }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_have_the_right_sign_and_size() {
        let square = Shape::rectangle((0.2, 0.2), (0.6, 0.6));
        assert!((square.distance((0.4, 0.3)) + 0.1).abs() < 1e-5);
        assert!((square.distance((0.9, 1.0)) - 0.5).abs() < 1e-5);
        let bone = Shape::Bone((0.0, 0.0), 0.1, (1.0, 0.0), 0.3);
        assert!((bone.distance((0.5, 0.5)) - 0.3).abs() < 1e-5);
        let ellipse = Shape::Ellipse((0.5, 0.5), 0.3, 0.1);
        assert!(ellipse.distance((0.8, 0.5)).abs() < 1e-5 && ellipse.distance((0.5, 0.5)) < 0.0);
        let ground = Shape::Below(vec![0.4, 0.6]);
        assert!(ground.distance((0.5, 0.49)) > 0.0 && ground.distance((0.5, 0.51)) < 0.0);
        assert!(Shape::Polygon(Vec::new()).distance((0.0, 0.0)) > 1.0);
        assert!(Shape::Below(Vec::new()).distance((0.0, 0.0)) > 1.0);
    }

    #[test]
    fn the_own_sine_is_close_to_the_real_one() {
        for step in -100..300 {
            let turns = step as f32 / 100.0;
            let (sine, cosine) = sine_cosine(turns);
            let radians = f64::from(turns) * std::f64::consts::TAU;
            assert!((f64::from(sine) - radians.sin()).abs() < 2e-3, "{turns}");
            assert!((f64::from(cosine) - radians.cos()).abs() < 2e-3, "{turns}");
        }
    }
}
