//! The plane through the feet of a post: how moves tilt it, and which slopes the feet can give.

use super::super::steps;
use record::plan::{Adjust, Foot, Travel};

/// Feet closer together than this in a direction cannot tilt the post in it, in mm.
const APART_MM: f64 = 1.0;

/// A tilt of a post.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tilt {
    /// Along the span, in degrees, positive outboard end up.
    pub along_deg: f64,
    /// Fore and aft, in degrees, positive leading edge up.
    pub across_deg: f64,
}

pub(super) fn place(foot: &Foot) -> [f64; 2] {
    [foot.aft.value(), foot.out.value()]
}

pub(super) fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// Principal directions of the feet about their middle, with the sum of squares along each.
fn directions(feet: &[Foot]) -> [([f64; 2], f64); 2] {
    let count = feet.len().max(1) as f64;
    let mean = [0, 1].map(|k| feet.iter().map(|f| place(f)[k]).sum::<f64>() / count);
    let sum = |i: usize, k: usize| {
        feet.iter().map(|f| (place(f)[i] - mean[i]) * (place(f)[k] - mean[k])).sum::<f64>()
    };
    let (aa, ao, oo) = (sum(0, 0), sum(0, 1), sum(1, 1));
    let angle = 0.5 * libm::atan2(2.0 * ao, aa - oo);
    let first = [libm::cos(angle), libm::sin(angle)];
    let second = [-first[1], first[0]];
    let along = |d: [f64; 2]| d[0] * d[0] * aa + 2.0 * d[0] * d[1] * ao + d[1] * d[1] * oo;
    [(first, along(first)), (second, along(second))]
}

/// Slope of the least-squares plane through the feet's heights, aft and out; zero in directions that the feet do not
/// determine.
pub(super) fn plane(feet: &[Foot], heights: &[f64]) -> [f64; 2] {
    let count = feet.len().max(1) as f64;
    let mean = heights.iter().sum::<f64>() / count;
    let mut slope = [0.0, 0.0];
    for (direction, square) in directions(feet) {
        if square < APART_MM * APART_MM {
            continue;
        }
        let along: f64 = feet.iter().zip(heights).map(|(f, h)| dot(place(f), direction) * (h - mean)).sum();
        slope = [slope[0] + direction[0] * along / square, slope[1] + direction[1] * along / square];
    }
    slope
}

/// Slope, aft and out, from 1 mm at one foot.
pub(super) fn per_mm(feet: &[Foot], foot: usize) -> [f64; 2] {
    let mut heights = vec![0.0; feet.len()];
    heights[foot] = 1.0;
    plane(feet, &heights)
}

/// The part of a slope that these feet can give: in directions in which they are apart, with fixed feet left where
/// they are.
pub(super) fn within_freedom(feet: &[Foot], wanted: [f64; 2]) -> [f64; 2] {
    let mut slope = [0.0, 0.0];
    for (direction, square) in directions(feet) {
        if square >= APART_MM * APART_MM {
            let along = dot(wanted, direction);
            slope = [slope[0] + along * direction[0], slope[1] + along * direction[1]];
        }
    }
    let fixed: Vec<&Foot> = feet.iter().filter(|f| matches!(f.adjust, Adjust::Fixed)).collect();
    for pair in fixed.windows(2) {
        let between = [place(pair[1])[0] - place(pair[0])[0], place(pair[1])[1] - place(pair[0])[1]];
        let square = dot(between, between);
        if square >= APART_MM * APART_MM {
            let along = dot(slope, between) / square;
            slope = [slope[0] - along * between[0], slope[1] - along * between[1]];
        }
    }
    slope
}

/// The largest share of a slope, 0 to 1, for which some common height keeps every foot within its travel.
pub(super) fn within_travel(feet: &[Foot], slope: [f64; 2]) -> f64 {
    let mut share: f64 = 1.0;
    for a in feet {
        for b in feet {
            let apart = dot(slope, place(b)) - dot(slope, place(a));
            let room = (reach(b).plus + reach(a).minus).value();
            if apart > room {
                share = share.min(room / apart);
            }
        }
    }
    share.max(0.0)
}

pub(super) fn reach(foot: &Foot) -> Travel {
    match foot.adjust {
        Adjust::Fixed => Travel::NONE,
        _ => steps::travel_left(foot.travel, 0.0),
    }
}

/// Tilt of the post after the moves.
pub(super) fn tilt_left(feet: &[Foot], moves: &[f64], wanted: [f64; 2]) -> Tilt {
    let slope = plane(feet, moves);
    Tilt {
        along_deg: libm::atan(slope[1] - wanted[1]).to_degrees(),
        across_deg: libm::atan(wanted[0] - slope[0]).to_degrees(),
    }
}
