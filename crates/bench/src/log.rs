//! What the bench may know of the log: handed in with every call.

use crate::Place;
use assess::Assessment;
use record::{At, Entry, Plan, Point};

#[derive(Clone, Copy, Debug)]
pub struct Log<'a> {
    pub plan: &'a Plan,
    pub entries: &'a [Entry],
    pub assessment: &'a Assessment,
    pub now: At,
}

impl Log<'_> {
    /// How far a support was moved in all, in mm.
    pub fn moved_mm(&self, support: &str) -> f64 {
        let moves = self.assessment.moves.iter().map(|m| &m.what);
        moves.filter(|m| m.support == support).map(|m| m.amount_mm).sum()
    }

    /// A live value at a point, its zero taken out, on the scale of the point's own limits.
    pub fn place(&self, point: Point, value: f64) -> Place {
        let view = self.assessment.points.iter().find(|view| view.point == point);
        let (design, lower, upper) = view.map_or((None, None, None), |v| (v.design, v.lower, v.upper));
        Place { point, value, zero_out: true, design, lower, upper }
    }
}
