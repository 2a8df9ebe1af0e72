//! Reads what follows from two readings: differences, and what a part's own weight does.

use super::super::checks::Names;
use super::super::limits::{tolerance, tolerance_any};
use super::super::mistake::{Mistake, Table};
use crate::Point;
use crate::plan::rigging::read_at;
use crate::plan::{Difference, Plan, Weight, WeightBy};
use quantity::Kind;
use quantity::table::Written;

/// Checks the differences of two things: both must be in the plan, and of one quantity.
pub fn check_differences(root: &Table<'_, '_>, plan: &Plan) {
    let checks = plan.rig_checks();
    let read = read_at(&checks);
    let r = &plan.rigging;
    let differences =
        r.differences.iter().enumerate().map(|(i, d)| ("difference", i, ("of", &d.of), ("less", &d.less)));
    let weights = r.weights.iter().enumerate().map(|(i, w)| match &w.by {
        WeightBy::TurnedOver { upright, inverted } => {
            ("weight", i, ("upright", upright), ("inverted", inverted))
        }
        WeightBy::Couple { without, with, .. } => ("weight", i, ("without", without), ("with", with)),
    });
    for (list, i, first, second) in differences.chain(weights) {
        let unit = |point: &Point| read.get(point).map(|c| c.unit);
        let note = |key: &str, what| root.mistakes().note(root.span_of(list, i, key), what, None);
        for (key, point) in [first, second] {
            if unit(point).is_none() {
                note(key, Mistake::NotRigged(point.clone()));
            }
        }
        let (a, b) = (first.1, second.1);
        if let (Some(of), Some(less)) = (unit(a), unit(b))
            && (of != less || a == b || (list == "weight" && of != Kind::Angle))
        {
            note(second.0, Mistake::NotTogether { first: a.clone(), second: b.clone() });
        }
    }
}

pub fn weight(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Weight> {
    let name = names.take("weight", t.name("name"));
    let given = |key: &'static str| t.has(key).then(|| point(t, key));
    let (upright, inverted) = (given("upright"), given("inverted"));
    let (without, with) = (given("without"), given("with"));
    let couple = t.positive("couple", Kind::Torque);
    let own = t.quantity("own_moment", Kind::Torque);
    let design = t.quantity("design", Kind::Angle).unwrap_or(0.0);
    let (built_in, sag) = (tolerance(t, "built_in", Kind::Angle), tolerance(t, "sag", Kind::Angle));
    let response = tolerance(t, "response", Kind::Angle);
    let by = match (upright, inverted, without, with, couple, own) {
        (Some(upright), Some(inverted), None, None, None, None) => {
            WeightBy::TurnedOver { upright: upright?, inverted: inverted? }
        }
        (None, None, Some(without), Some(with), Some(couple), Some(own)) => {
            WeightBy::Couple { without: without?, with: with?, weight_share: own / couple }
        }
        _ => {
            t.missing(
                "upright",
                "give two points, upright and inverted; or without and with a couple, the couple, and \
                    own_moment, the moment of the part's weight about the same line",
            );
            return None;
        }
    };
    if response.is_some() && !matches!(by, WeightBy::Couple { .. }) {
        t.missing("couple", "without a couple there is no response to limit");
    }
    Some(Weight { name: name?, by, design, built_in, sag, response })
}

/// The point that a key names.
pub fn point(t: &Table<'_, '_>, key: &'static str) -> Option<Point> {
    let Written { text, span } = t.required_text(key)?;
    text.parse::<Point>().map_err(|why| t.mistakes().note(span, Mistake::NotAPoint(why), None)).ok()
}

pub fn difference(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Difference> {
    let name = names.take("difference", t.name("name"));
    let (of, less) = (point(t, "of"), point(t, "less"));
    // In the quantity of the two points.
    let design = t.any_quantity("design").unwrap_or(0.0);
    let tolerance = tolerance_any(t, "tolerance");
    Some(Difference { name: name?, of: of?, less: less?, design, tolerance })
}
