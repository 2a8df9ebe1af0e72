//! Directions spread evenly over a sphere.

use crate::rng::Rng;
use core::f64::consts::{PI, TAU};

// A multiple of the number of groups, so that all groups have equal weight.

const ON_CIRCLE: u32 = 320;
const ON_SPHERE: u32 = 1024;
const IN_FOUR: u32 = 2048;
const DRAWN: u32 = 8192;

/// Evenly spread directions, each standing for its opposite too, one after the other.
pub(super) fn spread(dimension: usize, rng: &mut Rng) -> Vec<f64> {
    match dimension {
        2 => each(ON_CIRCLE, |q| {
            let (sine, cosine) = libm::sincos(q * PI);
            [cosine, sine]
        }),
        // Half a sphere in equal steps of height, each turned by the golden angle from the last.
        3 => {
            let mut turn = 0.0;
            each(ON_SPHERE, |z| {
                turn = part(turn + 0.618_033_988_749_894_9);
                let radius = (1.0 - z * z).sqrt();
                let (sine, cosine) = libm::sincos(turn * TAU);
                [radius * cosine, radius * sine, z]
            })
        }
        // A circle in each of two planes; the square of the first plane's share is uniform. The two angles step by
        // powers of the inverse of the real root of t^3 = t + 1, which spreads two steps as evenly as possible.
        4 => {
            let (mut first, mut second) = (0.0, 0.0);
            each(IN_FOUR, |q| {
                first = part(first + 0.754_877_666_246_692_8);
                second = part(second + 0.569_840_290_998_053_2);
                let (a, b) = (q.sqrt(), (1.0 - q).sqrt());
                let ((sp, cp), (sr, cr)) = (libm::sincos(first * TAU), libm::sincos(second * TAU));
                [a * cp, a * sp, b * cr, b * sr]
            })
        }
        _ => drawn(dimension, rng),
    }
}

/// One direction for the middle of each of `count` equal steps from 0 to 1.
fn each<const N: usize>(count: u32, mut direction: impl FnMut(f64) -> [f64; N]) -> Vec<f64> {
    (0..count).flat_map(|i| direction((f64::from(i) + 0.5) / f64::from(count))).collect()
}

fn part(v: f64) -> f64 {
    if v >= 1.0 { v - 1.0 } else { v }
}

fn drawn(dimension: usize, rng: &mut Rng) -> Vec<f64> {
    let mut all = Vec::new();
    for _ in 0..DRAWN {
        let v: Vec<f64> = (0..dimension).map(|_| rng.normal()).collect();
        let length = v.iter().map(|x| x * x).sum::<f64>().sqrt();
        all.extend(v.iter().map(|x| x / length));
    }
    all
}
