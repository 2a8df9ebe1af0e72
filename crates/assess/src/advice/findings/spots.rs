//! Spot checks: the value to reach.

use super::super::finding::{Finding, Remedy};
use super::{Sources, plain};
use crate::view::{Obligation, PointView, Verdict};
use quantity::Kind;
use quantity::shown::K95;
use quantity::shown::Scale;
use record::{Point, PointKind};

/// What to do about a value with limits of its own.
pub(super) fn finding(from: Sources<'_>, out: &Obligation) -> Finding {
    let spot = from.plan.spot(&out.about);
    let point = Point::at(PointKind::Spot, &out.about);
    let view = from.assessment.points.iter().find(|p| p.point == point);
    let point = point.to_string();
    let waits = matches!(out.state, Verdict::Doubtful | Verdict::CannotJudge);
    let (Some(spot), Some(view), false) = (spot, view, waits) else {
        let words = format!("Measure {} again before you work on it.", out.about);
        return plain(out, Remedy::Measure { points: vec![point] }, vec![words]);
    };
    let undecided = out.state == Verdict::Undecided;
    let Some(value) = view.value else {
        return plain(out, Remedy::Measure { points: vec![point] }, vec![format!("Measure {}.", out.about)]);
    };
    let low = side(view.lower, value, true);
    let high = side(view.upper, value, false);
    let near_low = match (low, high) {
        (Some(l), Some(h)) => l < h,
        (Some(_), None) => true,
        _ => false,
    };
    let half = K95 * view.u.unwrap_or(0.0);
    let scale = from.plan.shown_in.scale(spot.quantity);
    let at_least = view.lower.filter(|_| near_low).map(|l| up_to(scale, l + half));
    let at_most = view.upper.filter(|_| !near_low).map(|u| -up_to(scale, -(u - half)));
    let mut mend: Vec<String> = Vec::new();
    if undecided {
        mend.extend(view.decide.iter().map(|how| format!("Undecided: {how}.")));
    }
    mend.push(work(scale, spot.quantity, &out.about, view, at_least, at_most));
    plain(out, Remedy::Rework { at_least, at_most }, mend)
}

/// How far inside a limit a value is.
fn side(limit: Option<f64>, value: f64, lower: bool) -> Option<f64> {
    limit.map(|l| if lower { value - l } else { l - value })
}

/// Rounds up to the next shown value: a tenth in the base unit, as fine in another unit.
fn up_to(scale: Scale, value: f64) -> f64 {
    let tenths = libm::exp10(scale.decimals(1) as f64);
    scale.unit().to_base(libm::ceil(scale.number(value) * tenths - 1e-9) / tenths)
}

fn work(
    scale: Scale,
    kind: Kind,
    name: &str,
    view: &PointView,
    at_least: Option<f64>,
    at_most: Option<f64>,
) -> String {
    let with = |value| scale.fixed_with(value, 1);
    let then = |what: &str| format!("then jigtrue rework {name} --what \"{what}\" and measure it again");
    let stale = if view.state == crate::view::PointState::Fresh { "" } else { " (its reading is stale)" };
    match (kind, at_least, at_most) {
        (Kind::Torque, Some(least), _) => {
            format!("Tighten it to {} or more{stale}, {}.", with(least), then("tightened again"))
        }
        (Kind::Torque, _, Some(most)) => format!(
            "Slacken it, look at bolt and nut, tighten it to {} or less{stale}, {}. An overtightened bolt may \
                have to be replaced: ask the kit maker.",
            with(most),
            then("slackened and tightened again")
        ),
        (_, None, None) => "The plan has no limits for it: replan with limits.".to_owned(),
        (_, least, most) => format!(
            "No move mends it: bring it to {} or {}{stale}, {}. Where material is already gone, ask the \
                kit maker.",
            with(least.or(most).unwrap_or(f64::NAN)),
            if least.is_some() { "more" } else { "less" },
            then("reworked")
        ),
    }
}
