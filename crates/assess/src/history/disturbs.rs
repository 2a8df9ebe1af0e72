//! What makes readings stale: one rule, for readings in the log and for those still to come from a table.

use record::plan::{Direction, Plan};
use record::point::DisturbedBy;
use record::{Move, Point, Rework, StageBegun, What};
use std::collections::BTreeSet;

/// What was moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carrier {
    Foot,
    /// A support, in the direction in which it moves its spar.
    Support(Direction),
    /// The plan no longer has it.
    Unknown,
}

/// The points whose earlier readings no longer count after an entry.
#[derive(Clone, Debug)]
pub enum Disturbs<'p> {
    /// None.
    Nothing,
    /// Those that the plan's stage disturbs.
    Stage(&'p [Point]),
    /// Those carried by what was moved.
    Moved(Carrier),
    /// The points worked on, and those that the plan's rework rules add.
    Worked(BTreeSet<Point>),
}

impl<'p> Disturbs<'p> {
    /// By any entry.
    pub fn by(plan: &'p Plan, what: &What) -> Self {
        match what {
            What::Stage(begun) => Self::stage(plan, begun),
            What::Move(made) => Self::moved(plan, made),
            What::Rework(rework) => Self::worked(plan, rework),
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

    /// For a stage that begins; nothing if the plan no longer has it.
    pub fn stage(plan: &'p Plan, begun: &StageBegun) -> Self {
        plan.stage(&begun.name).map_or(Self::Nothing, |stage| Self::Stage(&stage.disturbs))
    }
    pub fn moved(plan: &Plan, made: &Move) -> Self {
        let is_foot = plan.posts.iter().any(|p| p.feet.iter().any(|f| f.name == made.support));
        Self::Moved(match plan.support(&made.support) {
            Some(support) => Carrier::Support(support.direction),
            None if is_foot => Carrier::Foot,
            None => Carrier::Unknown,
        })
    }
    pub fn worked(plan: &Plan, rework: &Rework) -> Self {
        Self::Worked(plan.staled_by(&rework.points).into_iter().collect())
    }

    /// Whether earlier readings of this point no longer count.
    pub fn hits(&self, point: &Point) -> bool {
        match self {
            Self::Nothing => false,
            Self::Stage(points) => points.contains(point),
            Self::Moved(carrier) => match point.kind().row().disturbed_by {
                DisturbedBy::Nothing => false,
                DisturbedBy::Feet => !matches!(carrier, Carrier::Support(_)),
                DisturbedBy::AftAndFeet => *carrier != Carrier::Support(Direction::Up),
                DisturbedBy::SupportsAndFeet => true,
            },
            Self::Worked(points) => points.contains(point),
        }
    }
}
