//! What a move does to the wing as it stands, in words for a hand.

use record::plan::{Attitude, Direction, Plan};

/// The visible effect of a move. Which direction is up depends on how the wing stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effect {
    Up,
    Down,
    Aft,
    Forward,
    /// Toward the upper surface, for a wing on edge.
    UpperSide,
    LowerSide,
}

impl Effect {
    /// The effect of an amount along a support's direction, in mm.
    pub const fn of(attitude: Attitude, direction: Direction, amount_mm: f64) -> Self {
        let [along, against] = match (attitude, direction) {
            (Attitude::ChordLevel, Direction::Up) => [Self::Up, Self::Down],
            (Attitude::ChordLevel, Direction::Aft) => [Self::Aft, Self::Forward],
            // Standing on its leading edge, aft is up; on its trailing edge, aft is down.
            (Attitude::LeadingEdgeDown, Direction::Aft) => [Self::Up, Self::Down],
            (Attitude::LeadingEdgeUp, Direction::Aft) => [Self::Down, Self::Up],
            (_, Direction::Up) => [Self::UpperSide, Self::LowerSide],
        };
        if amount_mm >= 0.0 { along } else { against }
    }

    /// The effect of an amount in mm at a support of the plan, or at a foot, which moves up and down however the wing
    /// stands.
    pub fn at(plan: &Plan, name: &str, amount_mm: f64) -> Self {
        match plan.support(name) {
            Some(support) => Self::of(plan.wing.attitude, support.direction, amount_mm),
            None => Self::at_foot(amount_mm),
        }
    }

    /// The effect of an amount in mm at a foot.
    pub const fn at_foot(amount_mm: f64) -> Self {
        if amount_mm >= 0.0 { Self::Up } else { Self::Down }
    }

    /// `raises`.
    pub const fn does(self) -> &'static str {
        self.words()[0]
    }

    /// `raised`.
    pub const fn did(self) -> &'static str {
        self.words()[1]
    }

    /// `Raise`, as an instruction.
    pub const fn told(self) -> &'static str {
        self.words()[2]
    }

    /// What it does, what it did, and the instruction.
    const fn words(self) -> [&'static str; 3] {
        match self {
            Self::Up => ["raises", "raised", "Raise"],
            Self::Down => ["lowers", "lowered", "Lower"],
            Self::Aft => ["moves aft", "moved aft", "Bring aft"],
            Self::Forward => ["moves forward", "moved forward", "Bring forward"],
            Self::UpperSide => {
                ["moves toward the upper side", "moved toward the upper side", "To the upper side"]
            }
            Self::LowerSide => {
                ["moves toward the lower side", "moved toward the lower side", "To the lower side"]
            }
        }
    }
}
