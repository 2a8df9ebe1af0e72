//! A bowed spar: by its supports if they can hold it straight, else by work on the spar.

use super::super::finding::{Finding, Remedy, SparMove};
use super::super::steps::moved_mm;
use super::super::steps::{self, Grain};
use super::super::{Effect, influence};
use super::{Sources, only_open, plain};
use crate::view::{Obligation, StraightnessMethod};
use numerics::straight::minimum_zone;
use quantity::Kind;
use record::PointKind;
use record::plan::{Adjust, Direction, Support};

/// The most supports of a spar that are tried.
const MOST_SUPPORTS: usize = 48;
/// Smallest improvement of the width that is worth a move, as a share of the width.
const WORTH: f64 = 0.25;

/// How to correct a spar.
pub(super) fn finding(from: Sources<'_>, out: &Obligation) -> Finding {
    let view = from.assessment.spars.iter().find(|s| s.spar == out.about);
    let (Some(view), false) = (view, only_open(out.state)) else {
        let points = from.assessment.points.iter().filter(|p| {
            matches!(p.point.kind(), PointKind::Offset | PointKind::Walk)
                && p.point.spar() == Some(out.about.as_str())
        });
        let points = points.filter(|p| !p.entries.is_empty()).map(|p| p.point.to_string()).collect();
        let words = "Measure its offsets again before you move or bend anything.";
        return plain(out, Remedy::Measure { points }, vec![words.to_owned()]);
    };
    let spans: Vec<f64> = view.offsets.iter().map(|o| o.span_mm).collect();
    let offsets: Vec<f64> = view.offsets.iter().map(|o| o.offset_mm).collect();
    let direction = direction(from, &out.about, view.method);
    let Some((i, mm, left)) = best(from, &out.about, direction, &spans, &offsets) else {
        let supports = from.plan.supports.iter().filter(|s| s.spar == out.about && s.direction == direction);
        let why = match supports.count() {
            0..=2 => "No move mends it: on two supports a spar keeps its own bow",
            _ => "No move of a single support mends it",
        };
        let words = format!(
            "{why}. Look for what strains it (a clamp, a bolt, heat), then have the {} spar straightened or replaced as \
             the kit maker says.",
            out.about
        );
        return plain(out, Remedy::Nothing, vec![words]);
    };
    let support = &from.plan.supports[i];
    let does = Effect::of(from.plan.wing.attitude, support.direction, mm).does();
    let step = SparMove {
        support: support.name.clone(),
        mm,
        turns: steps::turns(&support.adjust, mm),
        words: steps::words(&support.name, &support.adjust, does, mm, from.plan.shown_in),
    };
    let mut mend = vec![
        step.words.clone(),
        format!(
            "Straightness should come to {}. The twist changes with it: measure that again too.",
            from.plan.shown_in.scale(Kind::Length).fixed_with(left, 2)
        ),
    ];
    if from.plan.tolerances.straightness.is_some_and(|most| left > most.value()) {
        mend.push("That is not enough: no move of one support brings it within.".to_owned());
    }
    plain(out, Remedy::Spar { spar: out.about.clone(), moves: vec![step], expected_mm: left }, mend)
}

/// The direction in which its offsets were measured.
fn direction(from: Sources<'_>, spar: &str, method: StraightnessMethod) -> Direction {
    let line = from.plan.lines.iter().find(|l| l.spar == spar);
    match (method, line) {
        (StraightnessMethod::Line, Some(line)) => line.direction,
        _ => Direction::Up,
    }
}

/// The one support between the outer ones whose move leaves the narrowest zone: its position, mm, and the remaining
/// width.
fn best(
    from: Sources<'_>,
    spar: &str,
    direction: Direction,
    spans: &[f64],
    offsets: &[f64],
) -> Option<(usize, f64, f64)> {
    let plan = from.plan;
    let own = |s: &&Support| s.spar == spar && s.direction == direction;
    if !(3..=MOST_SUPPORTS).contains(&plan.supports.iter().filter(own).count()) {
        return None;
    }
    let rows = influence::on_spar(plan, spar, direction, spans);
    let width = |i: usize, mm: f64| {
        let moved: Vec<f64> = offsets.iter().zip(&rows).map(|(z, row)| z + row[i] * mm).collect();
        Some(minimum_zone(spans, &moved).ok()?.straightness)
    };
    let now = minimum_zone(spans, offsets).ok()?.straightness;
    let mut best: Option<(usize, f64, f64)> = None;
    for (i, support) in plan.supports.iter().enumerate() {
        if !own(&support) || matches!(support.adjust, Adjust::Fixed) {
            continue;
        }
        let left = steps::travel_left(support.travel, moved_mm(from.fold, &support.name));
        let amounts = steps::real_amounts(&support.adjust, left, Grain::Eighths);
        // The width is a convex function of the move.
        let (mut low, mut high) = (0, amounts.len() - 1);
        while low < high {
            let middle = usize::midpoint(low, high);
            if width(i, amounts[middle])? <= width(i, amounts[middle + 1])? {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        let left = width(i, amounts[low])?;
        if amounts[low] != 0.0 && best.is_none_or(|(_, _, b)| left < b - 1e-9) {
            best = Some((i, amounts[low], left));
        }
    }
    best.filter(|(_, _, left)| now - left > WORTH * now)
}
