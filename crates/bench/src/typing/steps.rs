//! The values still wanted, one for each step, in walking order.

use crate::Target;
use assess::Assessment;
use record::plan::Plan;
use record::{Facing, Point};
use std::collections::BTreeSet;

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Done {
    /// Still wanted.
    Not,
    Taken {
        seq: u64,
        text: String,
    },
    Skipped,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    pub target: Target,
    pub done: Done,
}

/// Every value still wanted at the present stage, in plan order. At a place that is read both ways the level is
/// turned once: the next place begins with the facing it then has.
pub fn steps(plan: &Plan, assessment: &Assessment) -> Vec<Step> {
    let wanted: BTreeSet<&Point> = assessment.wanted.iter().collect();
    let mut out: Vec<Step> = Vec::new();
    for view in assessment.points.iter().filter(|view| view.required) {
        let Some(quantity) = plan.quantity_of(&view.point) else { continue };
        let missing = wanted.contains(&view.point);
        let carried = carried(&out, &view.point);
        let mut want = |facing| {
            let target = Target { point: view.point.clone(), quantity, facing };
            out.push(Step { target, done: Done::Not });
        };
        match (view.point.kind().reverses(), missing) {
            (false, true) => want(None),
            (false, false) => {}
            (true, true) => {
                want(Some(carried));
                want(Some(carried.turned()));
            }
            // Half of the pair is there.
            (true, false) => {
                if let Some(other) = view.facing_wanted {
                    want(Some(other));
                }
            }
        }
    }
    out
}

/// The level's facing from the previous place, if the same kind was measured there.
fn carried(before: &[Step], point: &Point) -> Facing {
    let last = before.last().filter(|last| last.target.point.kind() == point.kind());
    last.and_then(|last| last.target.facing).unwrap_or(Facing::Forward)
}
