//! Squareness of a bay from its two diagonals.
//!
//! A parallelogram has D1^2 + D2^2 = 2(a^2 + b^2) however it leans: diagonals far from that do not belong to the bay.

use super::{Judgements, Values};
use crate::estimate::Estimate;
use crate::judge::{ToJudge, judged};
use crate::view::{BayView, JudgedBy, NoJudgement, ObligationKind as K, Unjudged};
use numerics::lengths;
use quantity::Kind;
use record::plan::{Bay, Plan};
use record::{Point, PointKind};

/// The largest share by which the real sides of a bay may differ from the drawing.
const AS_BUILT: f64 = 0.01;

/// The bays with both diagonals measured.
pub fn bays(plan: &Plan, values: &Values) -> Judgements<BayView> {
    let one = |bay: &Bay| {
        let judged_by = JudgedBy::new(K::Square, &bay.name);
        let [first, second] = &bay.diagonals;
        let points = [first, second].map(|d| Point::at(PointKind::Diagonal, d));
        let [m1, m2] = [values.get(&points[0])?, values.get(&points[1])?];
        let (d1, d2) = (&m1.estimate, &m2.estimate);
        let lean = lengths::lean(bay.a.value(), bay.b.value(), d1.value, d2.value);
        let Some(lean) = lean.filter(|_| fits(bay, d1, d2)) else {
            let why = NoJudgement::Diagonals {
                sides: [bay.a.value(), bay.b.value()],
                diagonals: [d1.value, d2.value],
                shown_in: plan.shown_in.scale(Kind::Length),
            };
            return Some(Err(Unjudged { judged_by, why, points: points.to_vec() }));
        };
        let lean = Estimate::propagate(
            lean.angle.to_degrees(),
            &[(lean.per_first.to_degrees(), d1), (lean.per_second.to_degrees(), d2)],
        );
        Some(Ok(BayView {
            bay: bay.name.clone(),
            out_of_square: judged(
                plan,
                judged_by.to_string(),
                ToJudge::made(Kind::Angle, lean.value, lean.u(), vec![m1, m2]),
                plan.tolerances.square.map(record::Limits::values),
            ),
            difference_mm: d1.value - d2.value,
        }))
    };
    plan.bays.iter().filter_map(one).collect()
}

/// Whether a bay with these sides can have these diagonals. The plan's sides come from the drawing, so the real ones
/// may differ slightly.
fn fits(bay: &Bay, d1: &Estimate, d2: &Estimate) -> bool {
    let drawn = 2.0 * (bay.a.value() * bay.a.value() + bay.b.value() * bay.b.value());
    let found = d1.value * d1.value + d2.value * d2.value;
    let u = 2.0 * libm::hypot(d1.value * d1.u(), d2.value * d2.u());
    (found - drawn).abs() <= 2.0 * AS_BUILT * drawn + 4.0 * u
}
