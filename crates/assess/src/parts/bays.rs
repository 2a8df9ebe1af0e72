//! Squareness of a bay from its two diagonals.

use super::Values;
use crate::estimate::Estimate;
use crate::judge::{Spread, judged};
use crate::resolve::Makeup;
use crate::view::{BayView, JudgedBy};
use numerics::lengths;
use quantity::Kind;
use record::plan::Plan;
use record::{Point, PointKind};

/// The bays with both diagonals measured.
pub fn bays(plan: &Plan, values: &Values) -> Vec<BayView> {
    plan.bays
        .iter()
        .filter_map(|bay| {
            let [first, second] = &bay.diagonals;
            let d1 = &values.get(&Point::at(PointKind::Diagonal, first))?.estimate;
            let d2 = &values.get(&Point::at(PointKind::Diagonal, second))?.estimate;
            let lean = lengths::lean(bay.a.value(), bay.b.value(), d1.value, d2.value)?;
            let lean = Estimate::propagate(
                lean.angle.to_degrees(),
                &[(lean.per_first.to_degrees(), d1), (lean.per_second.to_degrees(), d2)],
            );
            Some(BayView {
                bay: bay.name.clone(),
                out_of_square: judged(
                    &plan.rule,
                    JudgedBy::Square(bay.name.clone()).to_string(),
                    Kind::Angle,
                    lean.value,
                    Spread::normal(lean.u()),
                    plan.tolerances.square.map(|l| l.map(|d| d.value())),
                    &Makeup::Unknown,
                ),
                difference_mm: d1.value - d2.value,
            })
        })
        .collect()
}
