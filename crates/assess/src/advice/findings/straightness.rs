//! A bowed spar: by its supports if they can hold it straight, else by work on the spar.

use super::super::finding::{Finding, Remedy, SparMove};
use super::super::{Effect, spars, steps};
use super::{Sources, may_move, plain, stayed};
use crate::view::{Obligation, SparView, Verdict};
use quantity::Kind;
use record::PointKind;
use record::plan::Support;

/// How to correct a spar.
pub(super) fn finding(from: Sources<'_>, out: &Obligation) -> Finding {
    let view = from.assessment.spars.iter().find(|s| s.spar == out.about);
    let Some(view) = view.filter(|_| may_move(out.state)) else { return measure(from, out, None) };
    let direction = spars::direction(from.plan, &out.about, view.method);
    let spars = &from.profile.spars;
    let own = |s: &&Support| s.spar == out.about && s.direction == direction;
    let left = spars.left.iter().find(|l| l.spar == out.about);
    let steps: Vec<SparMove> = left
        .into_iter()
        .flat_map(|_| from.plan.supports.iter().zip(&spars.moves))
        .filter(|(support, mm)| own(support) && **mm != 0.0)
        .map(|(support, mm)| step(from, support, *mm))
        .collect();
    let open = out.state == Verdict::Undecided;
    if open && steps.is_empty() {
        return measure(from, out, Some(view));
    }
    let (Some(left), false) = (left, steps.is_empty()) else {
        let why = match (left, from.plan.supports.iter().filter(own).count()) {
            (_, 0..=2) => "No move mends it: on two supports a spar keeps its own bow",
            (Some(left), _) if left.forbidden => {
                "No move mends it alone: what would straighten it puts the twist or another spar outside"
            }
            _ => "No move of its supports mends it",
        };
        let words = format!(
            "{why}. Look for what strains it (a clamp, a bolt, heat), then have the {} spar straightened or replaced as \
             the kit maker says.",
            out.about
        );
        return plain(out, Remedy::Nothing, vec![words]);
    };
    let mut mend: Vec<String> = steps.iter().map(|s| s.words.clone()).collect();
    let width = from.plan.shown_in.scale(Kind::Length).fixed_with(left.width_mm, 2);
    mend.push(format!(
        "Straightness should come to {width}. The twist changes with it: measure that again too."
    ));
    if spars.left.len() > 1 || !from.profile.steps.is_empty() {
        mend.push("That counts on all the moves given here, of other spars too: make them all.".to_owned());
    }
    if !left.proven {
        let limit = from.plan.tolerances.straightness.map_or(f64::INFINITY, |most| most.value());
        let words = if left.width_mm <= limit {
            "That is inside the limit, and not by enough to be proven."
        } else {
            "That is not enough: no moves of its supports bring it within."
        };
        mend.push(words.to_owned());
    }
    if open {
        mend.push(stayed(&view.minimum_zone));
    }
    plain(out, Remedy::Spar { spar: out.about.clone(), moves: steps, expected_mm: left.width_mm }, mend)
}

/// What to measure again, and what else would decide it if that was done.
fn measure(from: Sources<'_>, out: &Obligation, view: Option<&SparView>) -> Finding {
    let points = from.assessment.points.iter().filter(|p| {
        matches!(p.point.kind(), PointKind::Offset | PointKind::Walk)
            && p.point.spar() == Some(out.about.as_str())
    });
    let points = points.filter(|p| !p.entries.is_empty()).map(|p| p.point.to_string()).collect();
    let again = view.filter(|view| spars::measured_again(from.fold, from.assessment, view));
    let words = again.map_or_else(
        || "Measure its offsets again before you move or bend anything.".to_owned(),
        |view| stayed(&view.minimum_zone),
    );
    plain(out, Remedy::Measure { points }, vec![words])
}

fn step(from: Sources<'_>, support: &Support, mm: f64) -> SparMove {
    let does = Effect::of(from.plan.wing.attitude, support.direction, mm).does();
    SparMove {
        support: support.name.clone(),
        mm,
        turns: steps::turns(&support.adjust, mm),
        words: steps::words(&support.name, &support.adjust, does, mm, from.plan.shown_in),
    }
}
