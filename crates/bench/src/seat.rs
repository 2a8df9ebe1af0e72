//! How an instrument lies on a post: which tilt each of its axes measures. This is set once and belongs to the
//! instrument's seat; it never depends on the next point.

use assess::advice::feet::Axis;
use record::point::{Arrow as Lies, Place};
use record::{Facing, PointKind};

/// How the instrument lies on a post.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Seat {
    pub arrow: Arrow,
    pub second: Second,
}

/// What the instrument's arrow lies along on a post.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Arrow {
    /// Across the post: forward is toward the leading edge. Its own axis then measures `cross`.
    #[default]
    ForeAndAft,
    /// Along the span: forward is outboard. Its own axis then measures `level`.
    AlongSpan,
}

/// What the second axis of an instrument measures while the arrow faces forward.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Second {
    /// Nothing: there is no second axis, or nobody has said yet which way it counts.
    #[default]
    NotUsed,
    /// Its value grows with the tilt (outboard end up, or leading edge up).
    Grows,
    /// Its value falls as that tilt grows.
    Falls,
}

impl Seat {
    /// The tilt of a post that the instrument's own axis measures.
    pub const fn main_axis(self) -> Axis {
        match self.arrow {
            Arrow::ForeAndAft => Axis::Across,
            Arrow::AlongSpan => Axis::Along,
        }
    }

    /// The tilt of a post that its second axis measures.
    pub const fn second_axis(self) -> Axis {
        match self.arrow {
            Arrow::ForeAndAft => Axis::Along,
            Arrow::AlongSpan => Axis::Across,
        }
    }

    /// What the instrument's own axis measures on a post, as a kind of point.
    pub fn main_kind(self) -> Option<PointKind> {
        tilt(self.main_axis())
    }

    /// What its second axis measures on a post.
    pub fn second_kind(self) -> Option<PointKind> {
        tilt(self.second_axis())
    }

    /// The facing with which a value of the second axis is recorded while the instrument faces `main`; `None` if it
    /// is not used.
    pub const fn second_facing(self, main: Facing) -> Option<Facing> {
        match self.second {
            Second::NotUsed => None,
            Second::Grows => Some(main),
            Second::Falls => Some(main.turned()),
        }
    }
}

/// The tilt of a post along an axis, as a kind of point.
pub(crate) fn tilt(axis: Axis) -> Option<PointKind> {
    PointKind::all().find(|kind| axis_of(*kind) == Some(axis))
}

/// The tilt of a post for a kind of point; `None` for any other kind.
pub(crate) const fn axis_of(kind: PointKind) -> Option<Axis> {
    match (kind.row().place, kind.row().arrow) {
        (Place::Post, Lies::AlongSpan) => Some(Axis::Along),
        (Place::Post, Lies::AcrossSpan) => Some(Axis::Across),
        _ => None,
    }
}
