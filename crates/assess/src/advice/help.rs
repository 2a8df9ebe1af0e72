//! What would help if no move is enough.

use super::belief::Belief;
use super::decide::list;
use super::influence::Outermost;
use super::learn::evenly;
use super::rows::{Goal, Target};
use super::search::Task;
use super::{influence, steps, targets};
use crate::history::Fold;
use crate::view::Assessment;
use quantity::{Kind, Millimetres};
use record::plan::{Adjust, Clockwise, Direction, Plan, Support, Travel};

/// Unlimited travel: how far, in mm.
const ANY_MM: f64 = 100.0;
const STEPS: i32 = 1000;
/// The most places at which another support is tried.
const PLACES: usize = 24;
/// Deviations within this of the largest also limit the result.
const BINDS: f64 = 0.02;

/// Sentences that say what limits the moves and what would help, easiest first.
pub fn help(plan: &Plan, fold: &Fold<'_>, assessment: &Assessment, task: Task<'_>) -> Vec<String> {
    // What could be reached if the influences were known: the builder gets there round by round.
    let belief = task.belief.certain();
    let known = |belief: &Belief| {
        let targets = assessment.twist.as_ref().map(|t| targets::targets(plan, t, belief));
        targets.unwrap_or_default().targets
    };
    let targets = known(&belief);
    let best = |amounts: &[Vec<f64>]| {
        let moves = (Task { belief: &belief, targets: &targets, amounts, made: task.made }).search()?;
        Some((targets::largest_after(&targets, &moves), moves))
    };
    let Some((reached, moves)) = best(task.amounts) else { return vec![] };
    let mut out = vec![binding(&targets, &moves, reached)];
    if reached <= 1.0 {
        out.push(format!(
            "a second round would be enough: once the wing's stiffness is known, moves bring the largest deviation to \
             {reached:.2} of its tolerance"
        ));
        return out;
    }
    let words = best(&as_far_as_one_likes(plan, &belief))
        .filter(|(reached, _)| *reached <= 1.0)
        .and_then(|(_, moves)| more_travel(plan, fold, &belief, &moves))
        .or_else(|| another_support(plan, assessment));
    out.push(words.unwrap_or_else(|| {
        "no further support under one spar would help either: the error is local; look at the ribs, the \
            fixture and the readings there"
            .to_owned()
    }));
    out
}

fn binding(targets: &[Target], moves: &[f64], reached: f64) -> String {
    let binds = |t: &&Target| t.goal == Goal::Aim && t.after(moves) > reached - BINDS;
    let mut names: Vec<String> = targets.iter().filter(binds).map(|t| t.what.clone()).collect();
    names.dedup();
    format!("what limits it: {}; the best moves leave {reached:.2} of tolerance there", list(&names))
}

fn more_travel(plan: &Plan, fold: &Fold<'_>, belief: &Belief, moves: &[f64]) -> Option<String> {
    let lack = |(s, m): (&usize, &f64)| {
        let support = &plan.supports[*s];
        let left = steps::travel_left(support.travel, steps::moved_mm(fold, &support.name));
        let over = if *m > left.plus.value() { m - left.plus.value() } else { -left.minus.value() - m };
        let way = if *m > 0.0 { "in" } else { "against" };
        (over > 0.01).then(|| {
            let over = plan.shown_in.scale(Kind::Length).fixed_with(over, 1);
            format!("{} needs {over} more {way} its direction", support.name)
        })
    };
    let lacks: Vec<String> = belief.field.supports.iter().zip(moves).filter_map(lack).collect();
    (!lacks.is_empty()).then(|| {
        format!(
            "more travel would help: {}; move the fitting it stands on, and enter the new travel in the plan",
            list(&lacks)
        )
    })
}

/// Unlimited travel of each support of the field, in steps of a fine screw.
fn as_far_as_one_likes(plan: &Plan, belief: &Belief) -> Vec<Vec<f64>> {
    let of = |s: &usize| match plan.supports[*s].adjust {
        Adjust::Fixed => vec![0.0],
        Adjust::Screw { .. } | Adjust::Shims { .. } => {
            (-STEPS..=STEPS).map(|k| f64::from(k) * ANY_MM / f64::from(STEPS)).collect()
        }
    };
    belief.field.supports.iter().map(of).collect()
}

/// The place under one spar where one more support would help most, if that were enough.
fn another_support(plan: &Plan, assessment: &Assessment) -> Option<String> {
    let Outermost { front, rear, .. } = influence::carrying(plan, plan.wing.root.value())?;
    let mut best: Option<(f64, String, String)> = None;
    for spar in [&front.name, &rear.name] {
        for i in evenly(plan.stations.len(), PLACES) {
            let station = &plan.stations[i];
            let taken =
                |s: &Support| s.spar == *spar && (s.span - station.span).abs() < Millimetres::new(1.0);
            if plan.supports.iter().any(taken) {
                continue;
            }
            let mut with = plan.clone();
            let any = Millimetres::new(ANY_MM);
            with.supports.push(Support {
                name: "another".to_owned(),
                span: station.span,
                spar: spar.clone(),
                direction: Direction::Up,
                travel: Travel { minus: any, plus: any },
                adjust: Adjust::Screw { per_turn: Millimetres::new(1.0), clockwise: Clockwise::Along },
            });
            let belief = Belief::prior(&with).certain();
            let targets = targets::targets(&with, assessment.twist.as_ref()?, &belief).targets;
            let amounts = as_far_as_one_likes(&with, &belief);
            let made = vec![0.0; amounts.len()];
            let task = Task { belief: &belief, targets: &targets, amounts: &amounts, made: &made };
            let Some(moves) = task.search() else { continue };
            let reached = targets::largest_after(&targets, &moves);
            if best.as_ref().is_none_or(|(b, _, _)| reached < b - 1e-6) {
                best = Some((reached, spar.clone(), station.name.clone()));
            }
        }
    }
    let (reached, spar, station) = best.filter(|(reached, _, _)| *reached <= 1.0)?;
    Some(format!(
        "another support under the {spar} spar near {station} would be enough (the largest deviation would \
            come to {reached:.2} of its tolerance)"
    ))
}
