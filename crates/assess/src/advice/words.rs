//! The sentences that go with moves: cautions, what was learned, the effect of an amount.

use super::influence;
use super::learn::Learned;
use super::prior::PerMm;
use super::view::LearnedView;
use numerics::elastic;
use quantity::Kind;
use quantity::shown::counted;
use record::plan::{Adjust, Direction, Plan};

/// A spar on more than two supports that moves bend by more than this gets a remark, in mm.
const BEND_MM: f64 = 0.05;

/// Says that moves are under way.
pub fn goes_on(made: usize) -> String {
    let moves = counted(made, "move was", "moves were");
    format!("{moves} made since the profile was measured: this is what is left; then measure it again")
}

/// What to watch for. Practice of the trade, no source; the kit maker's manual comes first.
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
    let touched = |spar: &&record::plan::Spar| moved().any(|(s, _)| s.spar == spar.name);
    for spar in plan.spars.iter().filter(touched) {
        let bend = bend(plan, &spar.name, moves);
        if bend > BEND_MM {
            out.push(format!(
                "The {} spar stands on more than two supports: these moves bend it by {} between them; check its \
                 straightness afterwards.",
                spar.name,
                plan.shown_in.scale(Kind::Length).fixed_with(bend, 1)
            ));
        }
    }
    out.push("The kit maker's manual comes before this advice.".to_owned());
    out
}

/// How far moves bend a spar from the line through its ends, at most, in mm.
fn bend(plan: &Plan, spar: &str, moves: &[f64]) -> f64 {
    let own = influence::under(plan, spar, Direction::Up);
    let mut spans: Vec<f64> = plan.stations.iter().map(|s| s.span.value()).collect();
    let places: Vec<f64> = own.iter().map(|i| plan.supports[*i].span.value()).collect();
    spans.extend(&places);
    spans.sort_by(f64::total_cmp);
    let moved: Vec<f64> = own.iter().map(|i| moves[*i]).collect();
    let Ok(rise) = elastic::deflection(&places, &moved, &spans) else { return 0.0 };
    let (Some((first, z0)), Some((last, z1))) =
        (spans.first().zip(rise.first()), spans.last().zip(rise.last()))
    else {
        return 0.0;
    };
    let length = last - first;
    if length <= 0.0 {
        return 0.0;
    }
    let off = |(s, z): (&f64, &f64)| (z - z0 - (z1 - z0) * (s - first) / length).abs();
    spans.iter().zip(&rise).map(off).fold(0.0, f64::max)
}

/// What earlier moves taught about each support.
pub fn learned(plan: &Plan, learned: &Learned) -> Vec<LearnedView> {
    let of = |m: PerMm| {
        let (name, factor) = (&plan.supports[m.support].name, m.factor);
        let u = (m.u * m.factor / m.deg_per_mm).abs();
        let what = if m.twists { "the twist" } else { "the setting" };
        let words = format!("{name} moves {what} {factor:.1} of what geometry says (give or take {u:.1})");
        LearnedView { support: name.clone(), factor, u, words }
    };
    learned.belief.per_mm(plan).into_iter().filter(|m| learned.seen[m.support]).map(of).collect()
}

/// The sentence for moves that were not believable.
pub fn doubted(supports: &[String]) -> String {
    format!(
        "the change after moving {} does not look like that move: was it made as recorded, the right way \
            round, and was nothing else moved? Nothing was learned from it",
        supports.join(", ")
    )
}
