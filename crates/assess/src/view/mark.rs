//! The marks of verdicts: one shape each, distinct without colour. Every face draws these.

use super::Verdict;

/// The shape of a mark: solid is proven, half filled is open, hollow has no evidence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkShape {
    /// A solid circle.
    Circle,
    /// A solid triangle, its point up.
    Triangle,
    /// A solid bar across.
    Bar,
    /// A triangle with its point down, the left half filled.
    HalfTriangle,
    /// A diamond, the left half filled.
    HalfDiamond,
    /// A ring with a stroke through it.
    StruckRing,
    /// A hollow square.
    Square,
}

/// What the colour of a mark says; where there is no colour the shape says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// Proven within, or an obligation met.
    Met,
    /// Proven outside.
    Outside,
    /// Readings are there and do not prove it.
    Open,
    /// No reading that counts, or none that can be judged.
    Bare,
}

impl Verdict {
    /// Its colour, the same on every screen.
    pub const fn tone(self) -> Tone {
        match self {
            Self::Within => Tone::Met,
            Self::Outside => Tone::Outside,
            Self::Undecided | Self::Doubtful => Tone::Open,
            Self::Stale | Self::Missing | Self::CannotJudge => Tone::Bare,
        }
    }

    /// How it is drawn, in text and in pictures.
    pub const fn mark(self) -> MarkShape {
        match self {
            Self::Within => MarkShape::Circle,
            Self::Outside => MarkShape::Triangle,
            Self::CannotJudge => MarkShape::Bar,
            Self::Doubtful => MarkShape::HalfTriangle,
            Self::Undecided => MarkShape::HalfDiamond,
            Self::Stale => MarkShape::StruckRing,
            Self::Missing => MarkShape::Square,
        }
    }
}
