//! Chooses which feet move, in real steps.

use super::super::steps::{self, Grain};
use super::plane::{dot, place, plane, reach, tilt_left};
use record::plan::{Foot, Travel};

/// Remaining tilts that differ by less than this are equal to any level used in a shop, in degrees.
pub(super) const SAME_DEG: f64 = 0.003;
/// Up to this many feet, every combination of steps is tried.
const COMBINED: usize = 8;

/// What the feet should achieve.
pub(super) struct Goal {
    /// Slope that the plane through them should gain, aft and out.
    pub gain: [f64; 2],
    /// Tilt about each slope that does not matter, in degrees.
    pub slack: [f64; 2],
    /// The parts of a turn in which each foot is set.
    pub grains: Vec<Grain>,
}

/// The real moves nearest to the plane of slope `gain`. For every foot that could be left alone (and every height at
/// which one reaches the end of its travel), each foot goes to the real step below or above. The best is nearest to
/// the plane, then moves the fewest feet, then rocks least, then has the shortest moves.
pub(super) fn choose(feet: &[Foot], goal: &Goal) -> Vec<f64> {
    let still = vec![0.0; feet.len()];
    let gain = goal.gain;
    let amounts: Vec<Vec<f64>> = feet
        .iter()
        .zip(&goal.grains)
        .map(|(f, grain)| steps::real_amounts(&f.adjust, reach(f), *grain))
        .collect();
    let mut heights = Vec::new();
    for foot in feet {
        let Travel { minus, plus } = reach(foot);
        let at = dot(gain, place(foot));
        heights.extend([-at, plus.value() - at, -minus.value() - at]);
    }
    let mut candidates = vec![still.clone()];
    for height in heights {
        let ideal: Vec<f64> = feet.iter().map(|f| height + dot(gain, place(f))).collect();
        let inside = |(f, v): (&Foot, &f64)| {
            let Travel { minus, plus } = reach(f);
            *v >= -minus.value() - 1e-6 && *v <= plus.value() + 1e-6
        };
        if feet.iter().zip(&ideal).all(inside) {
            let near: Vec<Vec<f64>> = amounts.iter().zip(&ideal).map(|(a, v)| neighbours(a, *v)).collect();
            combine(&near, &mut candidates);
        }
    }
    let scored: Vec<Score> = candidates.iter().map(|c| Score::of(feet, c, goal)).collect();
    let least = scored.iter().map(|s| s.tilt).fold(f64::INFINITY, f64::min);
    let mut best: Option<(Score, Vec<f64>)> = None;
    for (score, candidate) in scored.into_iter().zip(candidates) {
        let better = best.as_ref().is_none_or(|(b, _)| score.before(b));
        if score.tilt <= least + SAME_DEG && better {
            best = Some((score, candidate));
        }
    }
    best.map_or(still, |(_, moves)| moves)
}

/// The real amounts on both sides of an ideal one.
fn neighbours(amounts: &[f64], ideal: f64) -> Vec<f64> {
    let above = amounts.partition_point(|a| *a < ideal - 1e-9);
    let mut near: Vec<f64> = amounts.get(above).copied().into_iter().collect();
    if above > 0 && near.first().is_none_or(|a| (a - ideal).abs() > 1e-9) {
        near.push(amounts[above - 1]);
    }
    near
}

/// Every combination of the steps below and above; with many feet, only the nearest step of each.
fn combine(near: &[Vec<f64>], out: &mut Vec<Vec<f64>>) {
    let mut all: Vec<Vec<f64>> = vec![vec![]];
    for choices in near {
        let choices = if near.len() > COMBINED { &choices[..choices.len().min(1)] } else { choices };
        all = all
            .iter()
            .flat_map(|head| choices.iter().map(move |c| [head.as_slice(), &[*c]].concat()))
            .collect();
    }
    out.extend(all);
}

struct Score {
    tilt: f64,
    feet: usize,
    rocking: f64,
    length: f64,
}

impl Score {
    fn of(feet: &[Foot], moves: &[f64], goal: &Goal) -> Self {
        let left = tilt_left(feet, moves, goal.gain);
        let past = |left: f64, slack: f64| (left.abs() - slack).max(0.0);
        let slope = plane(feet, moves);
        let off: Vec<f64> = feet.iter().zip(moves).map(|(f, m)| m - dot(slope, place(f))).collect();
        let most = off.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let least = off.iter().copied().fold(f64::INFINITY, f64::min);
        Self {
            tilt: past(left.across_deg, goal.slack[0]).max(past(left.along_deg, goal.slack[1])),
            feet: moves.iter().filter(|m| **m != 0.0).count(),
            rocking: if feet.is_empty() { 0.0 } else { most - least },
            length: moves.iter().map(|m| m.abs()).sum(),
        }
    }

    /// Fewest feet, then least rocking (to a hundredth of a millimetre), then shortest moves.
    fn before(&self, other: &Self) -> bool {
        let hundredths = |mm: f64| (mm * 100.0).round();
        self.feet
            .cmp(&other.feet)
            .then(hundredths(self.rocking).total_cmp(&hundredths(other.rocking)))
            .then(self.length.total_cmp(&other.length))
            .is_lt()
    }
}
