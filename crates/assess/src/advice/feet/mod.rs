//! The feet of a post: what to turn to make it level.
//!
//! A post stands on its feet as a stiff plate: raising a foot tilts the plane through them. Tilt along the span is
//! positive outboard end up, fore and aft positive leading edge up (x aft, y outboard, z up).

mod choose;
mod lack;
mod plane;

pub use lack::Lack;
pub use plane::Tilt;

use super::Effect;
use super::steps::{self, Grain};
use choose::{Goal, choose};
use plane::{per_mm, tilt_left, within_freedom, within_travel};
use quantity::Units;
use quantity::shown::K95;
use record::plan::{Adjust, Foot, Post};
use serde::Serialize;

/// The most feet of a post for which moves are computed.
const MOST_FEET: usize = 64;
/// A post cannot stand at a tilt beyond this, in degrees.
const MOST_TILT_DEG: f64 = 80.0;

/// The two directions in which a post can lean.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Axis {
    /// Along the span, positive outboard end up.
    Along,
    /// Fore and aft, positive leading edge up.
    Across,
}

/// A tilt with its standard uncertainty, in degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TiltU {
    /// The tilt.
    pub deg: f64,
    /// Its standard uncertainty.
    pub u_deg: f64,
}

/// A foot that was moved, positive up.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    pub foot: String,
    /// How far, in mm.
    pub mm: f64,
}

/// How a post leans now, and what was moved since both tilts were last known.
///
/// A tilt that is `None` must not change: the effect of `made` on it is undone as well. Feet in `made` stay put if
/// the others can finish the job, and no more of them are needed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lean {
    /// Tilt along the span, after the moves in `made`.
    pub along: Option<TiltU>,
    /// Tilt fore and aft, after the moves in `made`.
    pub across: Option<TiltU>,
    /// Moves already made in this levelling.
    pub made: Vec<Made>,
}

impl Lean {
    /// A live tilt on one axis, with nothing moved yet.
    pub fn on(axis: Axis, tilt: TiltU) -> Self {
        match axis {
            Axis::Along => Self { along: Some(tilt), ..Self::default() },
            Axis::Across => Self { across: Some(tilt), ..Self::default() },
        }
    }
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FootMove {
    pub foot: String,
    /// How far, positive up, in mm.
    pub mm: f64,
    /// Half width of the 95 % interval of the amount needed, in mm.
    pub give_or_take_mm: f64,
    /// Turns of its screw, clockwise positive; `None` for shims.
    pub turns: Option<f64>,
    /// The instruction (`inboard forward foot: 3/8 turn clockwise, raises 0.47 mm`).
    pub words: String,
}

impl FootMove {
    /// Signed turns for a screw, else mm.
    pub fn signed(&self) -> f64 {
        self.turns.unwrap_or(self.mm)
    }
}

/// What to do at the feet of a post, and the tilt that will remain.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FootAdvice {
    /// The moves, in the order to make them: raising moves first, so that the post is always supported.
    pub moves: Vec<FootMove>,
    /// Remaining tilt along the span, in degrees; if the tilt is unknown now, its change since it was known.
    pub level_left_deg: f64,
    /// Remaining tilt fore and aft, in degrees; likewise.
    pub cross_left_deg: f64,
    /// What the feet cannot do.
    pub lacks: Vec<Lack>,
    /// The same as text, with what to do; empty if nothing is lacking.
    pub reasons: Vec<String>,
}

/// Which feet of a post to move, which way and how far, to make it level.
///
/// Turns are in eighths if the uncertainty of the tilt justifies them, else in quarters; shims are sums of those in
/// stock. Travel is as `post` states it: see [`standing`]. Equal leans always give equal moves.
pub fn level_feet(post: &Post, lean: &Lean, units: Units) -> FootAdvice {
    let tilts = [lean.across, lean.along];
    let [cross, level] = tilts.map(|t| t.map_or(0.0, |t| t.deg));
    let unreadable = |v: f64| !(v.is_finite() && v.abs() < MOST_TILT_DEG);
    let advice = |moves, left: Tilt, lacks: Vec<Lack>| FootAdvice {
        moves,
        level_left_deg: left.along_deg,
        cross_left_deg: left.across_deg,
        reasons: lacks.iter().map(|l| l.words(post)).collect(),
        lacks,
    };
    let now = Tilt { along_deg: level, across_deg: cross };
    if unreadable(level) || unreadable(cross) {
        return advice(vec![], now, vec![Lack::Unreadable]);
    }
    if post.feet.is_empty() || post.feet.len() > MOST_FEET {
        return advice(vec![], now, vec![Lack::Feet { count: post.feet.len() }]);
    }
    // What the plane through the feet must gain, in mm per mm: aft and out.
    let made: Vec<f64> = post.feet.iter().map(|f| made_mm(lean, f)).collect();
    let done = plane::plane(&post.feet, &made);
    let wanted = [
        lean.across.map_or(-done[0], |t| libm::tan(t.deg.to_radians())),
        lean.along.map_or(-done[1], |t| -libm::tan(t.deg.to_radians())),
    ];
    let loose = tilts.map(|t| t.is_none());
    let all = solve(post, wanted, loose, tilts);
    let held = held_feet(post, &made);
    let rest = held.map(|held| solve(&held, wanted, loose, tilts));
    let best = match rest {
        // What the feet cannot do is reported for all of them, since a foot that is left alone could be moved.
        Some(rest) if rest.score <= all.score + rest.step && rest.feet() <= all.feet() => {
            Solved { lacks: all.lacks, ..rest }
        }
        _ => all,
    };
    let left = tilt_left(&post.feet, &best.mm, wanted);
    let mut order: Vec<usize> = (0..best.mm.len()).filter(|i| best.mm[*i] != 0.0).collect();
    order.sort_by(|a, b| best.mm[*b].total_cmp(&best.mm[*a]).then(a.cmp(b)));
    let moves =
        order.into_iter().map(|i| foot_move(&post.feet[i], best.mm[i], best.u_mm[i], units)).collect();
    advice(moves, left, best.lacks)
}

/// Moves found for a post, and what they leave.
struct Solved {
    mm: Vec<f64>,
    u_mm: Vec<f64>,
    lacks: Vec<Lack>,
    /// Remaining tilt on the requested axes, in degrees.
    score: f64,
    /// Tilt made by one step, in degrees.
    step: f64,
}

impl Solved {
    /// How many feet move.
    fn feet(&self) -> usize {
        self.mm.iter().filter(|mm| **mm != 0.0).count()
    }
}

fn solve(post: &Post, wanted: [f64; 2], loose: [bool; 2], tilts: [Option<TiltU>; 2]) -> Solved {
    let feet = &post.feet;
    let possible = within_freedom(feet, wanted);
    let mut lacks = Vec::new();
    for (k, axis) in [(1, Axis::Along), (0, Axis::Across)] {
        let left_deg = libm::atan((wanted[k] - possible[k]).abs()).to_degrees();
        if left_deg > choose::SAME_DEG && !loose[k] {
            lacks.push(Lack::Freedom { axis, left_deg });
        }
    }
    let share = within_travel(feet, possible);
    if share < 1.0 {
        lacks.push(Lack::Travel { percent: share * 100.0 });
    }
    let u = tilts.map(|t| t.map_or(0.0, |t| t.u_deg.to_radians()));
    let per: Vec<[f64; 2]> = (0..feet.len()).map(|i| per_mm(feet, i)).collect();
    let u_mm: Vec<f64> = per
        .iter()
        .map(|p| {
            [0, 1].into_iter().filter(|k| p[*k].abs() > 1e-9).map(|k| u[k] / p[k].abs()).fold(0.0, f64::max)
        })
        .collect();
    let grains: Vec<Grain> = feet.iter().zip(&u_mm).map(|(f, u)| Grain::of(&f.adjust, K95 * u)).collect();
    let step = |k: usize| {
        let tilt = |(f, p): (&Foot, &[f64; 2])| libm::atan(steps::least(&f.adjust) * p[k].abs()).to_degrees();
        feet.iter().zip(&per).map(tilt).fold(0.0, f64::max)
    };
    let steps = [step(0), step(1)];
    let slack = [0, 1].map(|k| if loose[k] { steps[k] } else { 0.0 });
    let goal = Goal { gain: possible.map(|g| g * share), slack, grains };
    let mm = choose(feet, &goal);
    let left = tilt_left(feet, &mm, wanted);
    let left = [left.across_deg, left.along_deg];
    let score = [0, 1].into_iter().filter(|k| !loose[*k]).map(|k| left[k].abs()).fold(0.0, f64::max);
    Solved { mm, u_mm, lacks, score, step: steps[0].max(steps[1]) }
}

fn made_mm(lean: &Lean, foot: &Foot) -> f64 {
    lean.made.iter().filter(|m| m.foot == foot.name).map(|m| m.mm).sum()
}

/// The post with the already moved feet held in place; `None` if none or all were moved.
fn held_feet(post: &Post, made: &[f64]) -> Option<Post> {
    let count = made.iter().filter(|m| **m != 0.0).count();
    if count == 0 || count == made.len() {
        return None;
    }
    let mut held = post.clone();
    held.feet.iter_mut().zip(made).filter(|(_, m)| **m != 0.0).for_each(|(f, _)| f.adjust = Adjust::Fixed);
    Some(held)
}

/// The post with the travel its feet have left; `moved_mm` says how far a foot was moved so far.
pub fn standing(post: &Post, moved_mm: impl Fn(&str) -> f64) -> Post {
    let mut standing = post.clone();
    for foot in &mut standing.feet {
        foot.travel = steps::travel_left(foot.travel, moved_mm(&foot.name));
    }
    standing
}

/// The tilt that moves of a post's feet cause (mm, in plan order): the plane through the feet by least squares. Feet
/// in one line tilt the post only along that line.
pub fn tilt_from_feet(feet: &[Foot], moves_mm: &[f64]) -> Tilt {
    let [aft, out] = plane::plane(feet, moves_mm);
    Tilt { along_deg: libm::atan(out).to_degrees(), across_deg: -libm::atan(aft).to_degrees() }
}

fn foot_move(foot: &Foot, mm: f64, u_mm: f64, units: Units) -> FootMove {
    FootMove {
        foot: foot.name.clone(),
        mm,
        give_or_take_mm: K95 * u_mm,
        turns: steps::turns(&foot.adjust, mm),
        words: steps::words(&foot.name, &foot.adjust, Effect::at_foot(mm).does(), mm, units),
    }
}
