//! What makes readings stale: one rule, for readings in the log and for those still to come from a table.

use record::plan::{Direction, Plan};
use record::point::DisturbedBy;
use record::{Point, What};
use std::collections::BTreeSet;

/// The points whose earlier readings no longer count after an entry.
#[derive(Clone, Debug)]
pub enum Disturbs<'p> {
    /// None.
    Nothing,
    /// Those that the plan's stage disturbs.
    Stage(&'p [Point]),
    /// Those carried by what was moved: a support, in the direction in which it moves its spar, or else a foot, or what
    /// the plan no longer has.
    Moved(Option<Direction>),
    /// The points worked on, and those that the plan's rework rules add.
    Worked(BTreeSet<Point>),
}

impl<'p> Disturbs<'p> {
    /// By any entry.
    pub fn by(plan: &'p Plan, what: &What) -> Self {
        match what {
            // Nothing if the plan no longer has the stage.
            What::Stage(begun) => {
                plan.stage(&begun.name).map_or(Self::Nothing, |stage| Self::Stage(&stage.disturbs))
            }
            What::Move(made) => Self::Moved(plan.support(&made.support).map(|s| s.direction)),
            What::Rework(rework) => Self::Worked(plan.staled_by(&rework.points).into_iter().collect()),
            What::Started { .. }
            | What::Replanned { .. }
            | What::Instrument(_)
            | What::InstrumentCheck(_)
            | What::Reading(_)
            | What::Withdrawn { .. }
            | What::OpenItem(_)
            | What::Drift { .. }
            | What::Signed(_)
            | What::Wing(_)
            | What::Note { .. } => Self::Nothing,
        }
    }

    /// Whether earlier readings of this point no longer count.
    pub fn hits(&self, point: &Point) -> bool {
        match self {
            Self::Nothing => false,
            Self::Stage(points) => points.contains(point),
            Self::Moved(support) => match point.kind().row().disturbed_by {
                DisturbedBy::Nothing => false,
                DisturbedBy::Feet => support.is_none(),
                DisturbedBy::AftAndFeet => *support != Some(Direction::Up),
                DisturbedBy::SupportsAndFeet => true,
            },
            Self::Worked(points) => points.contains(point),
        }
    }
}
