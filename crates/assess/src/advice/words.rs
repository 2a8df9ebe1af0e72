//! The sentences that go with moves: cautions, what was learned, the effect of an amount.

use super::influence;
use super::learn::Learned;
use super::view::LearnedView;
use record::plan::{Adjust, Attitude, Direction, Plan};

/// A spar on more than two supports that moves bend by more than this is worth a word, in mm.
const BEND_MM: f64 = 0.05;

/// What an amount does, for a hand: what goes up depends on how the wing stands.
#[must_use]
pub const fn effect(attitude: Attitude, direction: Direction, amount_mm: f64) -> &'static str {
    let along = amount_mm >= 0.0;
    match (attitude, direction) {
        (Attitude::ChordLevel, Direction::Up) => {
            if along {
                "raises"
            } else {
                "lowers"
            }
        }
        (Attitude::ChordLevel, Direction::Aft) => {
            if along {
                "moves aft"
            } else {
                "moves forward"
            }
        }
        // Standing on its leading edge, aft is up; on its trailing edge, aft is down.
        (Attitude::LeadingEdgeDown, Direction::Aft) => {
            if along {
                "raises"
            } else {
                "lowers"
            }
        }
        (Attitude::LeadingEdgeUp, Direction::Aft) => {
            if along {
                "lowers"
            } else {
                "raises"
            }
        }
        (_, Direction::Up) => {
            if along {
                "moves toward the upper side"
            } else {
                "moves toward the lower side"
            }
        }
    }
}

/// What to mind. Practice of the trade, no source; the kit maker's manual stands above it.
#[must_use]
pub fn cautions(plan: &Plan, moves: &[f64]) -> Vec<String> {
    let mut out: Vec<String> = [
        "A wing on a jig can roll or drop when a support moves: have a second person hold it, and keep hands, feet and head \
         out from under it.",
        "Free only the clamp of the support you are moving, and no further than it needs; springs and clamps let go with \
         force.",
        "If you work under the wing or above your head, protect your eyes, and rest the wing on something that does not \
         depend on the screw you turn.",
        "Go in small steps and stop if a screw goes stiff: something else holds the wing.",
    ]
    .map(str::to_owned)
    .to_vec();
    let moved = || plan.supports.iter().zip(moves).filter(|(_, m)| **m != 0.0);
    if moved().any(|(_, m)| *m < 0.0) {
        out.push("Where a support goes back, see that the spar follows and still rests on it.".to_owned());
    }
    if moved().any(|(s, _)| matches!(s.adjust, Adjust::Screw { .. })) {
        out.push(
            "Finish every screw turning the way that pushes the spar, so that the play of its thread is taken up.".to_owned(),
        );
    }
    for spar in &plan.spars {
        let bend = bend(plan, &spar.name, moves);
        if bend > BEND_MM {
            out.push(format!(
                "The {} spar stands on more than two supports: these moves bend it by {bend:.1} mm between them; check its \
                 straightness afterwards.",
                spar.name
            ));
        }
    }
    out.push("The kit maker's manual stands above this advice.".to_owned());
    out
}

/// By how much moves bend a spar away from the line through its ends, at most, in mm.
fn bend(plan: &Plan, spar: &str, moves: &[f64]) -> f64 {
    let mut spans: Vec<f64> = plan.stations.iter().map(|s| s.span.value()).collect();
    spans.extend(plan.supports.iter().filter(|s| s.spar == spar).map(|s| s.span.value()));
    spans.sort_by(f64::total_cmp);
    let rows = influence::on_spar(plan, spar, Direction::Up, &spans);
    let rise: Vec<f64> = rows.iter().map(|r| r.iter().zip(moves).map(|(a, m)| a * m).sum()).collect();
    let (Some((first, z0)), Some((last, z1))) =
        (spans.first().zip(rise.first()), spans.last().zip(rise.last()))
    else {
        return 0.0;
    };
    let length = last - first;
    if length <= 0.0 {
        return 0.0;
    }
    spans
        .iter()
        .zip(&rise)
        .map(|(s, z)| (z - z0 - (z1 - z0) * (s - first) / length).abs())
        .fold(0.0, f64::max)
}

/// What earlier moves taught, support by support.
#[must_use]
pub fn learned(plan: &Plan, learned: &Learned) -> Vec<LearnedView> {
    let of = |(i, support): (usize, &record::plan::Support)| {
        let (factor, u, twists) = learned.factor(plan, i).filter(|_| learned.seen[i])?;
        let what = if twists { "the twist" } else { "the setting" };
        let name = &support.name;
        let words = format!("{name} moves {what} {factor:.1} of what geometry says (give or take {u:.1})");
        Some(LearnedView { support: name.clone(), factor, u, words })
    };
    plan.supports.iter().enumerate().filter_map(of).collect()
}
