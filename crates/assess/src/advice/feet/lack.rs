//! What the feet of a post cannot do, and what to do instead.

use super::Axis;
use record::plan::Post;
use serde::Serialize;

/// Why a tilt remains.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Lack {
    /// The tilt is not one that a post can have.
    Unreadable,
    /// The post has no feet in the plan, or too many to work with.
    Feet {
        /// How many.
        count: usize,
    },
    /// No movable foot is apart from the others in this direction.
    Freedom {
        /// Which way it leans.
        axis: Axis,
        /// How much of the tilt remains, in degrees.
        left_deg: f64,
    },
    /// The feet reach the end of their travel.
    Travel {
        /// Percentage of the tilt that can be removed.
        percent: f64,
    },
}

impl Lack {
    /// The message for a person, with what to do.
    pub fn words(&self, post: &Post) -> String {
        let name = &post.name;
        match self {
            Self::Unreadable => format!("{name}: the tilt is impossible; measure it again"),
            Self::Feet { count: 0 } => {
                format!("{name}: the plan lists no feet for it; level it at its base, then measure again")
            }
            Self::Feet { count } => format!(
                "{name}: there are too many feet ({count}) to compute moves; \
                level it by eye"
            ),
            Self::Freedom { axis, left_deg } => {
                let (along, apart) = match axis {
                    Axis::Along => ("along the span", "inboard or outboard"),
                    Axis::Across => ("fore and aft", "fore or aft"),
                };
                format!(
                    "{name}: {left_deg:.2}° {along} cannot be removed at its feet, because no movable foot is \
                        {apart} of the others. Pack or wedge under its base, then measure again"
                )
            }
            Self::Travel { percent } => format!(
                "{name}: the travel of its feet removes only {percent:.0} % of the tilt; move the post itself \
                    or pack under a foot, enter the new travel in the plan, then measure again"
            ),
        }
    }
}
