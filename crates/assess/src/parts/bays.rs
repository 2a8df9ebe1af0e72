//! Squareness of a bay from its two diagonals: out of square = (D1^2 - D2^2)/(4ab).

use super::Values;
use crate::estimate::Estimate;
use crate::judge::{Spread, judged};
use crate::resolve::Makeup;
use crate::view::BayView;
use record::plan::Plan;
use record::{Point, PointKind};

/// The bays with both diagonals measured.
///
/// For a parallelogram of sides a and b leaning by t from square, D1^2 - D2^2 = 4ab sin t (law of cosines, twice); for
/// the angles in question the arc sine is taken all the same.
pub fn bays(plan: &Plan, values: &Values) -> Vec<BayView> {
    plan.bays
        .iter()
        .filter_map(|bay| {
            let [first, second] = &bay.diagonals;
            let d1 = &values.get(&Point::at(PointKind::Diagonal, first))?.estimate;
            let d2 = &values.get(&Point::at(PointKind::Diagonal, second))?.estimate;
            let four_ab = 4.0 * bay.a.value() * bay.b.value();
            let sine = (d1.value * d1.value - d2.value * d2.value) / four_ab;
            if sine.abs() >= 1.0 {
                return None;
            }
            let angle = libm::asin(sine);
            let slope = (1.0 / libm::cos(angle)).to_degrees() / four_ab;
            let lean = Estimate::propagate(
                angle.to_degrees(),
                &[(2.0 * d1.value * slope, d1), (-2.0 * d2.value * slope, d2)],
            );
            Some(BayView {
                bay: bay.name.clone(),
                out_of_square: judged(
                    &plan.rule,
                    format!("{} out of square", bay.name),
                    "deg",
                    lean.value,
                    Spread { u: lean.u(), dof: None },
                    plan.tolerances.square.map(|l| l.map(|d| d.value())),
                    &Makeup::Unknown,
                ),
                difference_mm: d1.value - d2.value,
            })
        })
        .collect()
}
