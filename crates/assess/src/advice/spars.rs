//! Spars that are judged straight or not, and what moves of their supports do to that.
//!
//! A minimum zone is as wide as the largest distance of a point from the line through two others, one on each side of it: it touches at
//! three points. So a limit of the zone is a limit of every such distance, and each is a line over the moves.

use super::belief::{Belief, Way};
use super::decide::again_at;
use super::influence;
use super::learn::evenly;
use super::rows::{Goal, Side, Target};
use super::search::Task;
use super::steps::{self, Grain};
use crate::history::Fold;
use crate::view::{Assessment, SparView, StraightnessMethod, Verdict};
use numerics::dot;
use numerics::mixture::Mixture;
use numerics::straight::minimum_zone;
use record::Limits;
use record::plan::{Acceptance, Adjust, Direction, Plan};
use record::point::Judgement;

/// Stations of a spar that are looked at three by three, evenly along it.
const STATIONS: usize = 9;
/// Most supports that are moved for the sake of spars; of more, evenly along the list.
const MOST_SUPPORTS: usize = 48;
/// Fewest supports by which a spar can be bent.
const BENDS: usize = 3;
/// All of what geometry says of the twist arrives at most; of that, so much is believed on the whole before anything was moved.
const AT_MOST: f64 = 1.0 / 0.75;
/// Least gain in width that is worth a move, in parts of the width.
const WORTH: f64 = 0.25;

/// A spar with a limit, as measured.
#[derive(Clone, Debug)]
pub(super) struct Shape {
    pub(super) spar: String,
    pub(super) direction: Direction,
    spans: Vec<f64>,
    offsets: Vec<f64>,
    /// What a mm at each support of the plan does at each station.
    rows: Vec<Vec<f64>>,
    /// Widest zone that is proven within.
    proven: f64,
    outside: bool,
    /// Whether moves are sought for it: it is outside, or stayed undecided after it was measured again.
    sought: bool,
}

impl Shape {
    /// Every spar that is judged by its offsets and that moves can bend.
    pub(super) fn all(plan: &Plan, fold: &Fold<'_>, assessment: &Assessment) -> Vec<Self> {
        let Some(limit) = plan.tolerances.straightness.map(|l| l.value()) else { return vec![] };
        let again = |view: &SparView| measured_again(fold, assessment, view);
        assessment.spars.iter().filter_map(|view| Self::of(plan, view, limit, again)).collect()
    }

    fn of(plan: &Plan, view: &SparView, limit: f64, again: impl FnOnce(&SparView) -> bool) -> Option<Self> {
        let direction = direction(plan, &view.spar, view.method);
        if influence::under(plan, &view.spar, direction).len() < BENDS {
            return None;
        }
        let spans: Vec<f64> = view.offsets.iter().map(|o| o.span_mm).collect();
        let all: Vec<usize> = (0..plan.supports.len()).collect();
        let open = match plan.rule.acceptance {
            Acceptance::Guarded => {
                Mixture::normal(view.minimum_zone.u).half_width(2.0 * plan.rule.level - 1.0)
            }
            Acceptance::Simple => 0.0,
        };
        Some(Self {
            spar: view.spar.clone(),
            direction,
            offsets: view.offsets.iter().map(|o| o.offset_mm).collect(),
            rows: influence::on_spar(plan, &view.spar, direction, &all, &spans),
            spans,
            proven: (limit - open).max(limit / 2.0),
            outside: view.minimum_zone.verdict == Some(Verdict::Outside),
            sought: match view.minimum_zone.verdict {
                Some(Verdict::Outside) => true,
                // Only where a straighter spar would be proven within.
                Some(Verdict::Undecided) => open <= limit / 2.0 && again(view),
                _ => false,
            },
        })
    }

    /// Its offsets after moves, one for each support of the plan.
    fn moved(&self, moves: &[f64]) -> Vec<f64> {
        self.offsets.iter().zip(&self.rows).map(|(z, row)| z + dot(row, moves)).collect()
    }

    /// Width of its zone after moves.
    pub(super) fn width(&self, moves: &[f64]) -> f64 {
        minimum_zone(&self.spans, &self.moved(moves)).map_or(f64::INFINITY, |zone| zone.straightness)
    }

    /// True where moves leave it no worse than it may be: proven within, or as narrow as now.
    pub(super) fn bears(&self, now: &[f64], moves: &[f64]) -> bool {
        self.width(moves) <= self.proven.max(self.width(now)) + 1e-9
    }

    /// Three of its stations at a time, after moves already made: the distance of the middle one from the line through the others.
    /// `supports` are the places in the plan's list that the moves to come are given for.
    fn threes(&self, supports: &[usize], made: &[f64], most: f64, goal: Goal) -> Vec<Target> {
        let z = self.moved(made);
        let chosen = evenly(self.spans.len(), STATIONS);
        let mut out = Vec::new();
        for (a, i) in chosen.iter().enumerate() {
            for (b, k) in chosen.iter().enumerate().skip(a + 2) {
                for j in &chosen[a + 1..b] {
                    let share = (self.spans[*j] - self.spans[*i]) / (self.spans[*k] - self.spans[*i]);
                    let off = |at: &dyn Fn(usize) -> f64| at(*j) - (1.0 - share) * at(*i) - share * at(*k);
                    let way = supports.iter().map(|s| off(&|at| self.rows[at][*s])).collect();
                    let limits = Limits::plus_minus(most);
                    let what = format!("straightness of {}", self.spar);
                    out.push(Target::new(&what, off(&|at| z[at]), 0.0, limits, goal, Way::certain(way)));
                }
            }
        }
        out
    }
}

/// Whether everything that a spar's straightness rests on was read again.
pub(super) fn measured_again(fold: &Fold<'_>, assessment: &Assessment, view: &SparView) -> bool {
    again_at(fold, assessment, |p| {
        let feeds = p.point.kind().row().judgement == Judgement::Straightness;
        feeds && p.point.spar() == Some(view.spar.as_str())
    })
}

/// The direction in which a spar's offsets were measured.
pub(super) fn direction(plan: &Plan, spar: &str, method: StraightnessMethod) -> Direction {
    let line = plan.lines.iter().find(|l| l.spar == spar);
    match (method, line) {
        (StraightnessMethod::Line, Some(line)) => line.direction,
        _ => Direction::Up,
    }
}

/// What moves for the sake of the twist may not do to spars.
pub(super) fn guards(shapes: &[Shape], belief: &Belief) -> Vec<Target> {
    let bends = shapes.iter().filter(|s| s.direction == Direction::Up);
    bends
        .flat_map(|s| {
            let now = s.width(&[]);
            s.threes(&belief.field.supports, &[], s.proven.max(now) + 1e-9, Goal::Guard)
        })
        .collect()
}

/// What is advised of bowed spars.
#[derive(Clone, Debug, Default)]
pub(super) struct SparMoves {
    /// mm for each support of the plan, beside the moves for the twist.
    pub(super) moves: Vec<f64>,
    /// What should be left of each spar that was looked at.
    pub(super) left: Vec<Left>,
}

/// A bowed spar after the moves.
#[derive(Clone, Debug)]
pub(super) struct Left {
    pub(super) spar: String,
    /// Width of the zone, in mm.
    pub(super) width_mm: f64,
    /// True where that is proven within.
    pub(super) proven: bool,
    /// True where moves alone would do, and what they do to the twist forbids them.
    pub(super) forbidden: bool,
}

/// What moves are sought with.
#[derive(Clone, Copy)]
pub(super) struct Work<'a> {
    pub(super) plan: &'a Plan,
    pub(super) fold: &'a Fold<'a>,
    pub(super) belief: &'a Belief,
    /// What is judged of the twist.
    pub(super) twist: &'a [Target],
    /// Moves for the twist, one for each support of the plan.
    pub(super) made: &'a [f64],
}

/// The moves that bring bowed spars within, all together, and put nothing outside.
pub(super) fn seek(work: Work<'_>, shapes: &[Shape]) -> SparMoves {
    let mut out = SparMoves { moves: vec![0.0; work.plan.supports.len()], left: vec![] };
    for direction in [Direction::Up, Direction::Aft] {
        let bowed: Vec<&Shape> = shapes.iter().filter(|s| s.sought && s.direction == direction).collect();
        if bowed.is_empty() {
            continue;
        }
        let found = work.moves(shapes, &bowed, direction, Guarded::Yes);
        let free = || work.moves(shapes, &bowed, direction, Guarded::No);
        let total = |moves: &[f64]| -> Vec<f64> { work.made.iter().zip(moves).map(|(a, b)| a + b).collect() };
        let worth = |moves: &[f64]| {
            bowed.iter().any(|s| {
                let (now, then) = (s.width(work.made), s.width(&total(moves)));
                then <= s.proven || (s.outside && now - then > WORTH * now)
            })
        };
        let found = found.filter(|moves| worth(moves)).unwrap_or_else(|| vec![0.0; out.moves.len()]);
        let after = total(&found);
        let done = |s: &Shape| s.width(&after) <= s.proven + 1e-9;
        let unguarded = if bowed.iter().all(|s| done(s)) { None } else { free() };
        out.left.extend(bowed.iter().map(|s| Left {
            spar: s.spar.clone(),
            width_mm: s.width(&after),
            proven: done(s),
            forbidden: !done(s) && unguarded.as_ref().is_some_and(|m| s.width(&total(m)) <= s.proven),
        }));
        out.moves.iter_mut().zip(found).for_each(|(all, more)| *all += more);
    }
    out
}

/// Whether what is judged beside the spars is kept from going outside.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Guarded {
    Yes,
    No,
}

impl Work<'_> {
    fn moves(
        self,
        shapes: &[Shape],
        bowed: &[&Shape],
        direction: Direction,
        guarded: Guarded,
    ) -> Option<Vec<f64>> {
        let acts = |i: &usize| {
            let s = &self.plan.supports[*i];
            let ours = bowed.iter().any(|shape| shape.spar == s.spar) && s.direction == direction;
            ours && !matches!(s.adjust, Adjust::Fixed) && self.made[*i] == 0.0
        };
        let all: Vec<usize> = (0..self.plan.supports.len()).filter(acts).collect();
        let supports: Vec<usize> = evenly(all.len(), MOST_SUPPORTS).into_iter().map(|k| all[k]).collect();
        let amounts: Vec<Vec<f64>> = supports
            .iter()
            .map(|i| {
                let support = &self.plan.supports[*i];
                let left = steps::travel_left(support.travel, steps::moved_mm(self.fold, &support.name));
                steps::real_amounts(&support.adjust, left, Grain::Eighths)
            })
            .collect();
        let mut targets: Vec<Target> =
            bowed.iter().flat_map(|s| s.threes(&supports, self.made, s.proven, Goal::Aim)).collect();
        if guarded == Guarded::Yes {
            let others = shapes.iter().filter(|s| !s.outside && s.direction == direction);
            targets.extend(others.flat_map(|s| {
                s.threes(&supports, self.made, s.proven.max(s.width(self.made)) + 1e-9, Goal::Guard)
            }));
            targets.extend(self.twist.iter().map(|t| self.kept(t, &supports)));
        }
        let belief = Belief::certain_of(supports.clone());
        let still = vec![0.0; supports.len()];
        let found =
            (Task { belief: &belief, targets: &targets, amounts: &amounts, made: &still }).search()?;
        let mut moves = vec![0.0; self.plan.supports.len()];
        supports.iter().zip(found).for_each(|(i, x)| moves[*i] = x);
        Some(moves)
    }

    /// A value of the twist that may go no further out than measurement leaves open, after the moves for the twist.
    fn kept(self, target: &Target, supports: &[usize]) -> Target {
        let field = &self.belief.field.supports;
        let at = |i: &usize| field.iter().position(|f| f == i);
        let per_mm = |i: &usize| at(i).map_or(0.0, |k| AT_MOST * target.way.per_mm[k]);
        let made: Vec<f64> = field.iter().map(|i| self.made[*i]).collect();
        let open = Mixture::normal(target.u).half_width(2.0 * self.plan.rule.level - 1.0);
        let side = |s: &Side| Side {
            now: (s.now + s.slope * target.change(&made) + s.slope.abs() * open).min(1.0),
            slope: s.slope,
        };
        let (none, way) =
            (Limits { lower: None, upper: None }, Way::certain(supports.iter().map(per_mm).collect()));
        let mut kept = Target::new(&target.what, target.value, target.u, none, Goal::Guard, way);
        kept.sides = target.sides.iter().map(side).collect();
        kept
    }
}
