//! Everything put together into one [`Advice`].

use super::decide::{self, Ruling};
use super::learn::Learned;
use super::rows::Row;
use super::search::{Found, Task};
use super::view::{Advice, AdviceState, Expected, ExpectedStation, Step};
use super::{help, influence, observations, order, rows, steps, words};
use crate::history::Fold;
use crate::view::{Assessment, Twist};
use record::Entry;
use record::plan::Plan;

/// Version of the advice's form.
const FORMAT: u32 = 1;
/// Largest ratios that differ by less than this are alike; then fewer supports and shorter moves win.
const SLACK: f64 = 0.05;
/// A gain below this, in parts of the tolerance, is not worth a move.
const WORTH: f64 = 0.05;
/// Two-sided 95 % of the normal distribution.
const K95: f64 = 1.959_963_984_540_054;

/// What to move, from the plan, everything in the log, and its assessment.
#[must_use]
pub fn advise(plan: &Plan, entries: &[Entry], assessment: &Assessment) -> Advice {
    let fold = Fold::of(plan, entries);
    let learned = Learned::from_events(plan, &observations::events(plan, entries, &fold));
    let rows = rows::rows(plan, assessment, &learned);
    let still = vec![0.0; plan.supports.len()];
    let mut advice = Advice {
        format: FORMAT,
        state: AdviceState::Leave,
        words: String::new(),
        steps: vec![],
        setting: None,
        profile: vec![],
        worst_now: None,
        worst_at: None,
        worst_expected: None,
        learned: words::learned(plan, &learned),
        cautions: vec![],
        reasons: learned.doubted.clone(),
    };
    if let Some(worst) = worst_row(&rows) {
        advice.worst_now = Some(worst.now);
        advice.worst_at = Some(worst.what.clone());
        advice.worst_expected = Some(worst.now);
    }
    let mut moves = still;
    match decide::ruling(plan, &fold, assessment) {
        Ruling::Leave => {
            advice.words = "Everything is within: leave it alone.".to_owned();
        }
        Ruling::Measure(reasons) => {
            advice.state = AdviceState::Measure;
            advice.words = "Measure before moving anything.".to_owned();
            advice.reasons.extend(reasons);
        }
        Ruling::Cannot(reasons) => {
            advice.state = AdviceState::Cannot;
            advice.words = "No move can be advised.".to_owned();
            advice.reasons.extend(reasons);
        }
        Ruling::Seek(reasons) => {
            advice.reasons.extend(reasons);
            moves = seek(plan, &fold, assessment, &rows, &mut advice);
        }
    }
    if let Some(twist) = &assessment.twist {
        expect(plan, twist, &learned, &moves, &mut advice);
    }
    advice
}

/// The amounts in mm by which each support of the plan can still be moved, after the moves in the log; zero alone for one
/// that does nothing to the incidence.
#[must_use]
pub fn real_amounts(plan: &Plan, fold: &Fold<'_>) -> Vec<Vec<f64>> {
    let mut useful = vec![false; plan.supports.len()];
    for station in &plan.stations {
        let row = influence::on_incidence(plan, station.span.value(), station.incidence.value());
        useful.iter_mut().zip(row).for_each(|(u, g)| *u |= g != 0.0);
    }
    let amounts = |(support, useful): (&record::plan::Support, bool)| {
        let moved =
            fold.moves.iter().filter(|m| m.3.support == support.name).map(|m| m.3.amount.value()).sum();
        let (minus, plus) = steps::travel_left(support.travel, moved);
        if useful {
            steps::real_amounts(&support.adjust, minus, plus, steps::Grain::Eighths)
        } else {
            vec![0.0]
        }
    };
    plan.supports.iter().zip(useful).map(amounts).collect()
}

fn worst_row(rows: &[Row]) -> Option<&Row> {
    rows.iter().max_by(|a, b| a.now.total_cmp(&b.now))
}

/// Looks for moves and writes them into the advice; the moves to make.
fn seek(
    plan: &Plan,
    fold: &Fold<'_>,
    assessment: &Assessment,
    rows: &[Row],
    advice: &mut Advice,
) -> Vec<f64> {
    let still = vec![0.0; plan.supports.len()];
    let amounts = real_amounts(plan, fold);
    let task = Task { rows, amounts: &amounts };
    let (Some(worst), Ok(found)) = (worst_row(rows), task.search(SLACK)) else {
        advice.state = AdviceState::Measure;
        advice.words = "Measure before moving anything.".to_owned();
        advice.reasons.push("the readings and the plan give no numbers to work with".to_owned());
        return still;
    };
    let expected = rows.iter().map(|r| r.after(&found.moves)).fold(f64::NEG_INFINITY, f64::max);
    let seen = worst.now - expected > WORTH.max(worst.u);
    if expected > 1.0 || !seen {
        advice.state = AdviceState::Cannot;
        if expected > 1.0 {
            advice.words = "No move brings everything inside its tolerance.".to_owned();
            advice.reasons.extend(help::help(plan, assessment, task));
        } else {
            advice.words = "No move gains more than the measurement can tell.".to_owned();
            advice.reasons.push(format!(
                "{} is at {:.2} of its tolerance and could come to {expected:.2}, with {:.2} uncertain: a better \
                 measurement comes first",
                worst.what, worst.now, worst.u
            ));
        }
        if !seen {
            return still;
        }
        advice.reasons.push("the moves shown come nearest".to_owned());
    } else {
        advice.state = AdviceState::Move;
        let count = found.moves.iter().filter(|m| **m != 0.0).count();
        let noun = if count == 1 { "1 move brings" } else { &format!("{count} moves bring") };
        advice.words = format!(
            "{noun} the largest deviation from {:.1} of its tolerance ({}) to {expected:.1}.",
            worst.now, worst.what
        );
    }
    advice.worst_expected = Some(expected);
    write_steps(plan, &task, &found, advice);
    found.moves
}

fn write_steps(plan: &Plan, task: &Task<'_>, found: &Found, advice: &mut Advice) {
    let spans: Vec<f64> = plan.supports.iter().map(|s| s.span.value()).collect();
    for i in order::order(task, &spans, &found.moves) {
        let (support, amount) = (&plan.supports[i], found.moves[i]);
        let does = words::effect(plan.wing.attitude, support.direction, amount);
        advice.steps.push(Step {
            support: support.name.clone(),
            spar: support.spar.clone(),
            amount_mm: amount,
            turns: steps::turns(&support.adjust, amount),
            shims_mm: steps::shims(&support.adjust, amount),
            words: steps::words(&support.name, &support.adjust, does, amount),
        });
    }
    advice.cautions = words::cautions(plan, &found.moves);
}

/// The profile and the setting after the moves.
fn expect(plan: &Plan, twist: &Twist, learned: &Learned, moves: &[f64], advice: &mut Advice) {
    let root_mm = plan.wing.root.value();
    let root = learned.on_incidence(plan, root_mm);
    let gain = |row: &[f64]| -> f64 { row.iter().zip(moves).map(|(g, m)| g * m).sum() };
    let expected = |now: f64, u: f64, change: f64, u_change: f64| {
        let (after, half) = (now + change, K95 * libm::hypot(u, u_change));
        Expected { now_deg: now, expected_deg: after, lower_deg: after - half, upper_deg: after + half }
    };
    let (value, u) = (twist.setting.value, twist.setting.u);
    let u_moves = learned.u_of_moves(plan, root_mm, None, moves);
    advice.setting = Some(expected(value, u, gain(&root), u_moves));
    for station in &twist.stations {
        let (Some(now), Some(u)) = (station.twist_error_deg, station.u_deg) else { continue };
        let change = gain(&learned.difference(plan, root_mm, station.span_mm));
        let u_moves = learned.u_of_moves(plan, station.span_mm, Some(root_mm), moves);
        advice.profile.push(ExpectedStation {
            name: station.name.clone(),
            span_mm: station.span_mm,
            twist_error: expected(now, u, change, u_moves),
        });
    }
}
