//! The rigged aeroplane: the value to reach, and the direction of work.

use super::super::finding::{Finding, Remedy};
use super::{Sources, plain};
use crate::view::{Obligation, RigView, Verdict};
use quantity::shown::{K95, capital};

/// What can hurt people on an aeroplane that is being rigged.
const CARE: &str = "Prop the aeroplane so that it cannot tip, slacken a cable before you work on it, and keep hands clear of controls \
                    that move by themselves. The type's own data and licensed practice come first.";

/// What to do about one rigged value.
pub(super) fn finding(from: Sources<'_>, out: &Obligation) -> Finding {
    let view = from.assessment.rigging.iter().find(|r| r.name == out.about);
    let unjudged = from.assessment.unjudged.iter().filter(|u| u.judged_by.about == out.about);
    let points =
        view.map_or_else(|| unjudged.flat_map(|u| &u.points).collect(), |v| Vec::from_iter(&v.points));
    let points: Vec<String> = points.into_iter().map(ToString::to_string).collect();
    let Some(view) = view.filter(|_| out.state == Verdict::Outside) else {
        let how = view.and_then(|v| v.judged.decide.clone());
        let words =
            how.map_or_else(|| format!("Measure {} again.", points.join(" and ")), |how| format!("{how}."));
        return plain(out, Remedy::Measure { points }, vec![words]);
    };
    let judged = &view.judged;
    let half = K95 * judged.u;
    let low = judged.lower.is_some_and(|l| judged.value < l);
    let at_least = judged.lower.filter(|_| low).map(|l| l + half);
    let at_most = judged.upper.filter(|_| !low).map(|u| u - half);
    let mend =
        vec![format!("{}. Record it (jigtrue rework) and measure again.", way(view, low)), CARE.to_owned()];
    plain(out, Remedy::Rework { at_least, at_most }, mend)
}

/// Which way to work, from the row of the point if it rests on one.
fn way(view: &RigView, low: bool) -> String {
    match view.points.first().map(|p| p.kind().row()) {
        Some(row) if view.name.starts_with(row.words) => {
            capital(if low { row.below.words } else { row.above.words })
        }
        _ => format!("Bring it {}", if low { "up" } else { "down" }),
    }
}
