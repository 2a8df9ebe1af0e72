//! The feet of a post: what to turn so that it stands level.
//!
//! A post stands on its feet as a stiff plate: raising feet tilts the plane through them. Tilt along the span is
//! positive outboard end up, fore and aft positive leading edge up (x aft, y outboard, z up).

use super::steps;
use record::plan::{Foot, Post};
use serde::Serialize;

/// Feet nearer together than this in a direction cannot tilt the post that way, in mm.
const APART_MM: f64 = 1.0;
/// Tilts left that differ by less than this are the same to any level used in a shop, in degrees.
const SAME_DEG: f64 = 0.003;

/// A move of a foot.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FootMove {
    /// The foot.
    pub foot: String,
    /// How far, positive up, in mm.
    pub mm: f64,
    /// Turns of its screw, clockwise positive; none for shims.
    pub turns: Option<f64>,
    /// The sentence for a hand (`inboard forward foot: 3/8 turn clockwise, raises 0.47 mm`).
    pub words: String,
}

impl FootMove {
    /// Signed turns where there is a screw, else mm.
    #[must_use]
    pub fn signed(&self) -> f64 {
        self.turns.unwrap_or(self.mm)
    }
}

/// What to do at the feet of a post, and what will be left.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FootAdvice {
    /// The moves, in the order to make them: what goes up first, so that the post is always carried.
    pub moves: Vec<FootMove>,
    /// Tilt along the span that should be left, in degrees.
    pub level_left_deg: f64,
    /// Tilt fore and aft that should be left, in degrees.
    pub cross_left_deg: f64,
    /// Why a tilt cannot be taken out, and what would do it; empty where it can.
    pub reasons: Vec<String>,
}

/// The moves that take out the tilts of a post, in real steps inside its feet's travel; empty where nothing helps.
///
/// `level_deg` is the tilt along the span, `cross_deg` fore and aft; give 0 for one that was not measured. Travel is
/// taken as it stands in `post`: take earlier moves off it first with [`steps::travel_left`].
#[must_use]
pub fn foot_moves(post: &Post, level_deg: f64, cross_deg: f64) -> Vec<FootMove> {
    foot_advice(post, level_deg, cross_deg).moves
}

/// The same with what will be left and with the reasons where a tilt cannot be taken out.
#[must_use]
pub fn foot_advice(post: &Post, level_deg: f64, cross_deg: f64) -> FootAdvice {
    let mut reasons = Vec::new();
    let stays =
        FootAdvice { moves: vec![], level_left_deg: level_deg, cross_left_deg: cross_deg, reasons: vec![] };
    if !(level_deg.is_finite() && cross_deg.is_finite() && level_deg.abs() < 80.0 && cross_deg.abs() < 80.0) {
        reasons.push(format!("{}: the tilt cannot be read; measure it again", post.name));
        return FootAdvice { reasons, ..stays };
    }
    // What the plane through the feet must gain, in mm per mm: aft and out.
    let wanted = [libm::tan(cross_deg.to_radians()), -libm::tan(level_deg.to_radians())];
    let possible = within_freedom(&post.feet, wanted);
    explain_freedom(post, wanted, possible, &mut reasons);
    let share = within_travel(&post.feet, possible);
    if share < 1.0 {
        reasons.push(format!(
            "{}: the travel of its feet takes out only {:.0} % of the tilt; move the post itself, or put packing under a \
             foot, and begin again",
            post.name,
            share * 100.0
        ));
    }
    let gain = possible.map(|g| g * share);
    let best = choose(&post.feet, gain);
    let left = tilt_left(&post.feet, &best, wanted);
    let mut order: Vec<usize> = (0..best.len()).filter(|i| best[*i] != 0.0).collect();
    order.sort_by(|a, b| best[*b].total_cmp(&best[*a]).then(a.cmp(b)));
    let moves = order.into_iter().map(|i| foot_move(&post.feet[i], best[i])).collect();
    FootAdvice { moves, level_left_deg: left.1, cross_left_deg: left.0, reasons }
}

/// Tilt of a post, level and cross in degrees, that moves of its feet (mm, in the plan's order) bring about: the plane
/// through the feet by least squares. Feet in one line tilt it along that line only.
#[must_use]
pub fn tilt_from_feet(feet: &[Foot], moves_mm: &[f64]) -> (f64, f64) {
    let [aft, out] = plane(feet, moves_mm);
    (libm::atan(out).to_degrees(), -libm::atan(aft).to_degrees())
}

fn foot_move(foot: &Foot, mm: f64) -> FootMove {
    FootMove {
        foot: foot.name.clone(),
        mm,
        turns: steps::turns(&foot.adjust, mm),
        words: steps::words(&foot.name, &foot.adjust, if mm < 0.0 { "lowers" } else { "raises" }, mm),
    }
}

fn place(foot: &Foot) -> [f64; 2] {
    [foot.aft.value(), foot.out.value()]
}

fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// Principal directions of the feet about their middle, with the sum of squares along each.
fn directions(feet: &[Foot]) -> [([f64; 2], f64); 2] {
    #[expect(clippy::cast_precision_loss, reason = "a handful of feet")]
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

/// Slope of the least-squares plane through the feet's heights, aft and out; zero where the feet leave it open.
fn plane(feet: &[Foot], heights: &[f64]) -> [f64; 2] {
    #[expect(clippy::cast_precision_loss, reason = "a handful of feet")]
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

/// The part of a slope that these feet can give: along directions in which they are apart, and leaving feet that do
/// not move where they are.
fn within_freedom(feet: &[Foot], wanted: [f64; 2]) -> [f64; 2] {
    let mut slope = [0.0, 0.0];
    for (direction, square) in directions(feet) {
        if square >= APART_MM * APART_MM {
            let along = dot(wanted, direction);
            slope = [slope[0] + along * direction[0], slope[1] + along * direction[1]];
        }
    }
    let fixed: Vec<&Foot> = feet.iter().filter(|f| matches!(f.adjust, record::plan::Adjust::Fixed)).collect();
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

fn explain_freedom(post: &Post, wanted: [f64; 2], possible: [f64; 2], reasons: &mut Vec<String>) {
    for (k, which, along) in
        [(1, "tilt along the span", "along the span"), (0, "tilt fore and aft", "fore and aft")]
    {
        let lacking = libm::atan((wanted[k] - possible[k]).abs()).to_degrees();
        if lacking > SAME_DEG {
            reasons.push(format!(
                "{}: {lacking:.2}° of the {which} cannot be taken out at its feet; it needs feet that move and stand \
                 apart {along}",
                post.name
            ));
        }
    }
}

/// The largest share of a slope, 0 to 1, for which some common height keeps every foot inside its travel.
fn within_travel(feet: &[Foot], slope: [f64; 2]) -> f64 {
    let mut share: f64 = 1.0;
    for a in feet {
        for b in feet {
            let apart = dot(slope, place(b)) - dot(slope, place(a));
            let room = reach(b).1 + reach(a).0;
            if apart > room {
                share = share.min(room / apart);
            }
        }
    }
    share.max(0.0)
}

fn reach(foot: &Foot) -> (f64, f64) {
    match foot.adjust {
        record::plan::Adjust::Fixed => (0.0, 0.0),
        _ => steps::travel_left(foot.travel, 0.0),
    }
}

/// Tilt left at the post after the moves, cross and level in degrees.
fn tilt_left(feet: &[Foot], moves: &[f64], wanted: [f64; 2]) -> (f64, f64) {
    let slope = plane(feet, moves);
    (libm::atan(wanted[0] - slope[0]).to_degrees(), libm::atan(slope[1] - wanted[1]).to_degrees())
}

/// The real moves nearest the plane of slope `gain`: for every foot that could be left alone (and every height at
/// which one comes to the end of its travel) each foot goes to the real step below or above. Nearest to the plane, then
/// fewest feet, then least rocking, then shortest moves.
fn choose(feet: &[Foot], gain: [f64; 2]) -> Vec<f64> {
    let still = vec![0.0; feet.len()];
    let amounts: Vec<Vec<f64>> = feet
        .iter()
        .map(|f| {
            let (minus, plus) = reach(f);
            steps::real_amounts(&f.adjust, minus, plus)
        })
        .collect();
    let mut heights = Vec::new();
    for foot in feet {
        let (minus, plus) = reach(foot);
        let at = dot(gain, place(foot));
        heights.extend([-at, plus - at, -minus - at]);
    }
    let mut candidates = vec![still.clone()];
    for height in heights {
        let ideal: Vec<f64> = feet.iter().map(|f| height + dot(gain, place(f))).collect();
        let inside = |(f, v): (&Foot, &f64)| *v >= -reach(f).0 - 1e-6 && *v <= reach(f).1 + 1e-6;
        if feet.iter().zip(&ideal).all(inside) {
            let near: Vec<Vec<f64>> = amounts.iter().zip(&ideal).map(|(a, v)| neighbours(a, *v)).collect();
            combine(&near, &mut candidates);
        }
    }
    let scored: Vec<Score> = candidates.iter().map(|c| Score::of(feet, c, gain)).collect();
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

/// The real amounts next to an ideal one.
fn neighbours(amounts: &[f64], ideal: f64) -> Vec<f64> {
    let above = amounts.partition_point(|a| *a < ideal - 1e-9);
    let mut near: Vec<f64> = amounts.get(above).copied().into_iter().collect();
    if above > 0 && near.first().is_none_or(|a| (a - ideal).abs() > 1e-9) {
        near.push(amounts[above - 1]);
    }
    near
}

fn combine(near: &[Vec<f64>], out: &mut Vec<Vec<f64>>) {
    let mut all: Vec<Vec<f64>> = vec![vec![]];
    for choices in near {
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
    fn of(feet: &[Foot], moves: &[f64], gain: [f64; 2]) -> Self {
        let (cross, level) = tilt_left(feet, moves, gain);
        let slope = plane(feet, moves);
        let off: Vec<f64> = feet.iter().zip(moves).map(|(f, m)| m - dot(slope, place(f))).collect();
        let most = off.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let least = off.iter().copied().fold(f64::INFINITY, f64::min);
        Self {
            tilt: level.abs().max(cross.abs()),
            feet: moves.iter().filter(|m| **m != 0.0).count(),
            rocking: if feet.is_empty() { 0.0 } else { most - least },
            length: moves.iter().map(|m| m.abs()).sum(),
        }
    }

    /// Fewest feet, then least rocking (to a hundredth of a millimetre), then shortest.
    fn before(&self, other: &Self) -> bool {
        let hundredths = |mm: f64| (mm * 100.0).round();
        self.feet
            .cmp(&other.feet)
            .then(hundredths(self.rocking).total_cmp(&hundredths(other.rocking)))
            .then(self.length.total_cmp(&other.length))
            .is_lt()
    }
}
