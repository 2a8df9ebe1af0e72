//! What the bench may know of the log: handed in with every call.

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

    /// The limits of a point's own value, lower and upper, and its design.
    pub fn place_of(&self, point: &Point) -> Limits {
        let view = self.assessment.points.iter().find(|view| view.point == *point);
        view.map_or_else(Limits::default, |view| Limits {
            design: view.design,
            lower: view.lower,
            upper: view.upper,
        })
    }
}

/// What a value is compared with.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    pub design: Option<f64>,
    pub lower: Option<f64>,
    pub upper: Option<f64>,
}
