//! What the bench may know about the log, passed in with every call.

use crate::Place;
use crate::seat::axis_of;
use assess::Assessment;
use assess::advice::feet::Axis;
use record::{At, Entry, Limits, Plan, Point};

#[derive(Clone, Copy, Debug)]
pub struct Log<'a> {
    pub plan: &'a Plan,
    pub entries: &'a [Entry],
    pub assessment: &'a Assessment,
    pub now: At,
}

impl Log<'_> {
    /// How far a support was moved in total, in mm.
    pub fn moved_mm(&self, support: &str) -> f64 {
        let moves = self.assessment.moves.iter().map(|m| &m.what);
        moves.filter(|m| m.support == support).map(|m| m.amount_mm).sum()
    }

    /// A live value at a point, less its zero, on the scale of the point's own limits; for a tilt of a post, on that
    /// of the plan's tolerance.
    pub fn place(&self, point: Point, value: f64) -> Place {
        let view = self.assessment.points.iter().find(|view| view.point == point);
        let (design, lower, upper) = view.map_or((None, None, None), |v| (v.design, v.lower, v.upper));
        let of_tilt = tilt_limits(self.plan, &point);
        let (lower, upper) = of_tilt.map_or((lower, upper), |of| (of.lower, of.upper));
        Place { point, value, zero_out: true, design, lower, upper }
    }
}

/// The plan's limits for a tilt of a post; `None` for any other point.
pub fn tilt_limits(plan: &Plan, point: &Point) -> Option<Limits<f64>> {
    let of_axis = match axis_of(point.kind())? {
        Axis::Along => plan.tolerances.level,
        Axis::Across => plan.tolerances.cross,
    };
    of_axis.map(Limits::values)
}
