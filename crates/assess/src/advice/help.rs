//! Where no move is enough: what would be.

use super::decide::list;
use super::influence;
use super::learn::Learned;
use super::rows::{self, Row};
use super::search::Task;
use crate::view::Assessment;
use quantity::Millimetres;
use record::plan::{Adjust, Direction, Plan, Support, Travel};

/// Travel that stands for as much as one likes, in mm.
const ANY_MM: f64 = 1000.0;
/// A deviation this much over another is the one that binds.
const BINDS: f64 = 0.02;

/// Sentences that say what binds and what would help, nearest at hand first.
#[must_use]
pub fn help(plan: &Plan, assessment: &Assessment, task: Task<'_>) -> Vec<String> {
    // What could be had if the influences were known: that is where a builder comes to, round by round.
    let known: Vec<Row> =
        task.rows.iter().map(|r| Row { unsure: vec![0.0; r.unsure.len()], ..r.clone() }).collect();
    let task = Task { rows: &known, amounts: task.amounts };
    let Ok((moves, reached)) = task.without_steps() else {
        return vec!["the readings and the plan give no numbers to work with".to_owned()];
    };
    let mut out = vec![binding(task, &moves, reached)];
    out.push(if reached <= 1.0 {
        format!("finer steps or a second round would do it: amounts of any size bring the largest deviation to {reached:.2} of its tolerance")
    } else if let Some(words) = more_travel(plan, task) {
        words
    } else if let Some(words) = another_support(plan, assessment) {
        words
    } else {
        "no further support under one spar would do it either: the error is local; look at the ribs, the fixture and the \
         readings there"
            .to_owned()
    });
    out
}

fn binding(task: Task<'_>, moves: &[f64], reached: f64) -> String {
    let binds = task.rows.iter().filter(|r| r.after(moves) > reached - BINDS);
    let mut names: Vec<String> = binds.map(|r| r.what.clone()).collect();
    names.dedup();
    format!("what binds: {}; the best amounts leave {reached:.2} of tolerance there", list(&names))
}

fn more_travel(plan: &Plan, task: Task<'_>) -> Option<String> {
    let ends: Vec<(f64, f64)> = task.amounts.iter().map(|a| (a[0], a[a.len() - 1])).collect();
    let free: Vec<Vec<f64>> = plan.supports.iter().map(|s| as_far_as_one_likes(&s.adjust)).collect();
    let task = Task { rows: task.rows, amounts: &free };
    let (_, reached) = task.without_steps().ok()?;
    if reached > 1.0 {
        return None;
    }
    let moves = task.shortest_of_any_size(1.0_f64.min(reached + 0.2)).ok()?;
    let lacks: Vec<String> = plan
        .supports
        .iter()
        .zip(&moves)
        .zip(ends)
        .filter_map(|((support, m), (low, high))| {
            let over = if *m > high { m - high } else { (low - m).max(0.0) };
            let way = if *m > 0.0 { "in" } else { "against" };
            (over > 0.01).then(|| format!("{} needs {over:.1} mm more {way} its direction", support.name))
        })
        .collect();
    Some(format!(
        "more travel would do it: {}; move the fitting it stands on, and enter the new travel in the plan",
        list(&lacks)
    ))
}

fn as_far_as_one_likes(adjust: &Adjust) -> Vec<f64> {
    match adjust {
        Adjust::Fixed => vec![0.0],
        Adjust::Screw { .. } | Adjust::Shims { .. } => vec![-ANY_MM, 0.0, ANY_MM],
    }
}

/// The place under one spar where one more support would help most, if it would be enough.
fn another_support(plan: &Plan, assessment: &Assessment) -> Option<String> {
    let (front, rear, _) = influence::carrying(plan, plan.wing.root.value())?;
    let mut best: Option<(f64, String, String)> = None;
    for spar in [&front.name, &rear.name] {
        for station in &plan.stations {
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
                adjust: Adjust::Screw { per_turn: Millimetres::new(1.0), clockwise_raises: true },
            });
            let rows = rows::rows(&with, assessment, &Learned::prior(&with));
            let rows: Vec<Row> =
                rows.into_iter().map(|r| Row { unsure: vec![0.0; r.unsure.len()], ..r }).collect();
            let amounts: Vec<Vec<f64>> =
                with.supports.iter().map(|s| as_far_as_one_likes(&s.adjust)).collect();
            let Ok((_, reached)) = (Task { rows: &rows, amounts: &amounts }).without_steps() else {
                continue;
            };
            if best.as_ref().is_none_or(|(b, _, _)| reached < b - 1e-6) {
                best = Some((reached, spar.clone(), station.name.clone()));
            }
        }
    }
    let (reached, spar, station) = best.filter(|(reached, _, _)| *reached <= 1.0)?;
    Some(format!(
        "another support under the {spar} spar near {station} would do it (the largest deviation would come to \
         {reached:.2} of its tolerance)"
    ))
}
