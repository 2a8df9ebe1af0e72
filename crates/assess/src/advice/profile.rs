//! The profile: whether to move supports, which, how far, and the expected result.

use super::decide::{self, Ruling};
use super::learn::{Learned, evenly};
use super::live::{self, Held};
use super::rows::{Goal, Target};
use super::search::Task;
use super::spars::{self, Shape, SparMoves};
use super::steps::{self, Grain};
use super::targets;
use super::view::{Expected, ExpectedStation, Step};
use super::{Effect, help, order};
use crate::history::Fold;
use crate::view::{Assessment, StationView, Twist};
use quantity::shown::K95;
use record::Move;
use record::plan::Plan;

/// An improvement below this, as a share of the tolerance, is not worth a move.
const WORTH: f64 = 0.05;
/// The most stations considered for the one to watch, evenly along the span.
const MOST_WATCHED: usize = 256;

/// The advice about the supports.
#[derive(Clone, Debug)]
pub struct Profile {
    /// The ruling from the readings.
    pub ruling: Ruling,
    /// The moves.
    pub steps: Vec<Step>,
    /// Whether the moves are expected to bring everything aimed at within its limits.
    pub enough: bool,
    /// What would help if no move does, and further remarks.
    pub reasons: Vec<String>,
    /// The setting after the moves.
    pub setting: Option<Expected>,
    /// The washout error after the moves.
    pub washout: Option<Expected>,
    /// Every measured station after the moves.
    pub stations: Vec<ExpectedStation>,
    /// Largest ratio aimed at, now.
    pub worst_now: Option<f64>,
    /// The value with that ratio.
    pub worst_at: Option<String>,
    /// Largest ratio expected to remain.
    pub worst_expected: Option<f64>,
    /// Moves in mm, one for each support of the plan.
    pub moves: Vec<f64>,
    /// Stations that are odd by themselves and not within.
    pub odd: Vec<String>,
    /// What is advised of bowed spars, beside those moves.
    pub(super) spars: SparMoves,
}

/// Works it out.
pub fn profile(
    plan: &Plan,
    fold: &Fold<'_>,
    assessment: &Assessment,
    learned: &Learned,
    done: &[Move],
) -> Profile {
    let belief = &learned.belief;
    let aimed = assessment.twist.as_ref().map(|t| targets::targets(plan, t, belief));
    let aimed = aimed.unwrap_or_default();
    let ruling = decide::ruling(plan, fold, assessment, &aimed);
    let targets = aimed.targets;
    let still = vec![0.0; belief.field.supports.len()];
    let worst = targets::worst(&targets);
    let mut out = Profile {
        steps: vec![],
        enough: false,
        reasons: vec![],
        setting: None,
        washout: None,
        stations: vec![],
        worst_now: worst.map(Target::now),
        worst_at: worst.map(|w| w.what.clone()),
        worst_expected: worst.map(Target::now),
        moves: vec![0.0; plan.supports.len()],
        ruling,
        odd: aimed.odd,
        spars: SparMoves::default(),
    };
    let shapes = Shape::all(plan, fold, assessment);
    let guarded: Vec<Target> = targets.iter().cloned().chain(spars::guards(&shapes, belief)).collect();
    let mut moves = still;
    if let (Ruling::Seek(_), Some(worst)) = (&out.ruling, worst) {
        let held = live::held(plan, learned, done);
        let work = Work { plan, fold, assessment, learned, held: &held };
        moves = seek(work, &guarded, worst, &mut out);
    }
    for (i, x) in belief.field.supports.iter().zip(&moves) {
        out.moves[*i] = *x;
    }
    let bent = || shapes.iter().any(|spar| !spar.bears(&[], &out.moves));
    if !out.steps.is_empty() && done.is_empty() && bent() {
        // Between the stations looked at a spar can still be bent more than it may.
        out.reasons
            .push("the moves that would bring the twist within bend a spar beyond its limit".to_owned());
        out.steps.clear();
        out.moves.fill(0.0);
        moves.fill(0.0);
        out.enough = false;
        out.worst_expected = out.worst_now;
    }
    out.spars = spars::seek(spars::Work { plan, fold, belief, twist: &targets, made: &out.moves }, &shapes);
    if let Some(twist) = &assessment.twist {
        expect(plan, twist, learned, &moves, &mut out);
    }
    out
}

/// The inputs of the search for moves.
#[derive(Clone, Copy)]
struct Work<'a> {
    plan: &'a Plan,
    fold: &'a Fold<'a>,
    assessment: &'a Assessment,
    learned: &'a Learned,
    /// Supports of the field that were moved since the profile was measured, and how far.
    held: &'a [Option<Held>],
}

/// Searches for moves and fills in `out`; returns the moves, including those already made.
fn seek(work: Work<'_>, targets: &[Target], worst: &Target, out: &mut Profile) -> Vec<f64> {
    let Work { plan, learned, held, .. } = work;
    let belief = &learned.belief;
    let mut grains = vec![Grain::Eighths; belief.field.supports.len()];
    let mut amounts = work.amounts(&grains);
    let still: Vec<f64> = held.iter().map(|h| h.map_or(0.0, |h| h.mm)).collect();
    let made = still.as_slice();
    let Some(mut found) = (Task { belief, targets, amounts: &amounts, made }).search() else {
        out.reasons.push("nothing in the plan can be moved to mend it".to_owned());
        return still;
    };
    // If an eighth is finer than the uncertainty, turns are given in quarters.
    let vague = give_or_take(plan, learned, targets, &found);
    let adjusts = belief.field.supports.iter().map(|s| &plan.supports[*s].adjust);
    if adjusts.zip(&vague).any(|(adjust, v)| Grain::of(adjust, *v) == Grain::Quarters) {
        grains.fill(Grain::Quarters);
        amounts = work.amounts(&grains);
        found = (Task { belief, targets, amounts: &amounts, made }).search().unwrap_or(found);
    }
    let vague = give_or_take(plan, learned, targets, &found);
    let task = Task { belief, targets, amounts: &amounts, made };
    let expected = targets::largest_after(targets, &found);
    let seen = worst.now() - expected > WORTH.max(worst.u * worst.steepest());
    out.enough = expected <= 1.0;
    if !out.enough {
        out.reasons.extend(help::help(plan, work.fold, work.assessment, task));
    } else if !seen {
        out.reasons.push(format!(
            "{} is at {:.2} of its tolerance and could come to {expected:.2}, with an uncertainty of {:.2}: \
                measure better first",
            worst.what,
            worst.now(),
            worst.u * worst.steepest()
        ));
    }
    // A screw is turned further only for what the measurement can tell.
    let turned_on = held.iter().flatten().any(|held| held.goes_on);
    let gains = targets::largest_after(targets, &still) - expected;
    let vain = turned_on && gains <= WORTH.max(worst.u * worst.steepest());
    if (!seen && still.iter().all(|x| *x == 0.0)) || vain || found == still {
        out.enough = out.enough && held.iter().any(Option::is_some);
        return still;
    }
    out.worst_expected = Some(expected);
    write_steps(work, task, &found, &vague, out);
    found
}

impl Work<'_> {
    /// The amounts in mm by which each support of the field can still be moved, after the moves made.
    fn amounts(&self, grains: &[Grain]) -> Vec<Vec<f64>> {
        let of = |((i, grain), held): ((&usize, &Grain), &Option<Held>)| {
            if held.is_some_and(|held| !held.goes_on) {
                return vec![0.0];
            }
            let support = &self.plan.supports[*i];
            let made = held.map_or(0.0, |held| held.mm);
            let left = steps::travel_left(support.travel, steps::moved_mm(self.fold, &support.name) + made);
            steps::real_amounts(&support.adjust, left, *grain)
        };
        self.learned.belief.field.supports.iter().zip(grains).zip(self.held).map(of).collect()
    }
}

/// Half width of the 95 % interval of the amount needed at each support of the field, in mm: from the measurement and
/// the stiffness, at the target it moves most, and from setting by hand.
fn give_or_take(plan: &Plan, learned: &Learned, targets: &[Target], moves: &[f64]) -> Vec<f64> {
    let of = |(j, s): (usize, &usize)| {
        if moves[j] == 0.0 {
            return 0.0;
        }
        let reach = |t: &&Target| (t.way.per_mm[j] * t.steepest()).abs();
        let aimed = targets.iter().filter(|t| t.goal == Goal::Aim);
        let Some(most) = aimed.max_by(|a, b| reach(a).total_cmp(&reach(b))) else { return 0.0 };
        let a = most.way.per_mm[j].abs().max(1e-9);
        let stiffness = most.covariance(&learned.belief)[j][j].max(0.0).sqrt() * moves[j].abs();
        let hand = steps::hand_mm(&plan.supports[*s]);
        K95 * libm::hypot(libm::hypot(most.u, stiffness) / a, hand)
    };
    learned.belief.field.supports.iter().enumerate().map(of).collect()
}

fn write_steps(work: Work<'_>, task: Task<'_>, found: &[f64], vague: &[f64], out: &mut Profile) {
    let (plan, supports) = (work.plan, &task.belief.field.supports);
    let spans: Vec<f64> = supports.iter().map(|s| plan.supports[*s].span.value()).collect();
    let watched = watched(work, supports.len());
    for j in order::order(&task, &spans, found) {
        let (support, amount) = (&plan.supports[supports[j]], found[j] - task.made[j]);
        let does = Effect::of(plan.wing.attitude, support.direction, amount).does();
        out.steps.push(Step {
            support: support.name.clone(),
            spar: support.spar.clone(),
            amount_mm: amount,
            give_or_take_mm: vague[j],
            turns: steps::turns(&support.adjust, amount),
            give_or_take_turns: steps::per_turn(&support.adjust).map(|p| vague[j] / p),
            shims_mm: steps::shims(&support.adjust, amount),
            watch_at: watched[j].as_ref().map(|(station, _)| station.clone()),
            watch_deg: watched[j].as_ref().map(|(_, per_mm)| per_mm * amount),
            words: steps::words(&support.name, &support.adjust, does, amount, plan.shown_in),
        });
    }
}

/// For each support of the field, the measured station whose incidence it changes most per mm, and how much: a level
/// there shows the incidence itself, not the twist against the root.
fn watched(work: Work<'_>, supports: usize) -> Vec<Option<(String, f64)>> {
    let belief = &work.learned.belief;
    let measured: Vec<&StationView> = work.assessment.twist.iter().flat_map(Twist::valued).collect();
    let chosen = evenly(measured.len(), MOST_WATCHED);
    let spans: Vec<f64> = chosen.iter().map(|i| measured[*i].span_mm).collect();
    let ways: Vec<Vec<f64>> =
        belief.field.places(work.plan, &spans).iter().map(|place| belief.way(place).per_mm).collect();
    let of = |j: usize| {
        let most = ways.iter().zip(&chosen).max_by(|(a, _), (b, _)| a[j].abs().total_cmp(&b[j].abs()));
        most.map(|(way, i)| (measured[*i].name.clone(), way[j]))
    };
    (0..supports).map(of).collect()
}

/// The profile and its parts after the moves.
fn expect(plan: &Plan, twist: &Twist, learned: &Learned, moves: &[f64], out: &mut Profile) {
    let field = &learned.belief.field;
    let measured: Vec<&StationView> = twist.valued().collect();
    let spans: Vec<f64> = measured.iter().map(|s| s.span_mm).collect();
    let ends = field.places(plan, &[plan.wing.root.value(), plan.wing.tip.value()]);
    let [root, tip] = ends.as_slice() else { return };
    let spread = learned.belief.spread(moves);
    let expected = |now: f64, u: f64, place: &super::field::Place| {
        let way = learned.belief.way(place);
        let u_moves = libm::hypot(spread.u(&way), learned.hand_u(plan, &way, moves));
        let (after, half) = (now + numerics::dot(&way.per_mm, moves), K95 * libm::hypot(u, u_moves));
        Expected { now_deg: now, expected_deg: after, lower_deg: after - half, upper_deg: after + half }
    };
    out.setting = twist.setting.judged().map(|j| expected(j.value, j.u, root));
    out.washout = twist.washout_error.judged().map(|j| expected(j.value, j.u, &tip.less(root)));
    for (station, place) in measured.iter().zip(field.places(plan, &spans)) {
        let (Some(now), Some(u)) = (station.twist_error_deg, station.u_deg) else { continue };
        out.stations.push(ExpectedStation {
            name: station.name.clone(),
            span_mm: station.span_mm,
            twist_error: expected(now, u, &place.less(root)),
        });
    }
}
