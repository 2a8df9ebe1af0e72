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

impl Verdict {
    /// How it is drawn, in text and in pictures.
    #[must_use]
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
