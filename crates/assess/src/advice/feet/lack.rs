//! What the feet of a post cannot do, and what would.

use super::Axis;
use record::plan::Post;
use serde::Serialize;

/// Why a tilt stays.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Lack {
    /// The tilt is no number that a post can have.
    Unreadable,
    /// The post has no feet in the plan, or too many to work with.
    Feet {
        /// How many.
        count: usize,
    },
    /// No foot that moves stands apart from the others this way.
    Freedom {
        /// Which way it leans.
        axis: Axis,
        /// How much of the tilt stays, in degrees.
        left_deg: f64,
    },
    /// The feet come to the end of their travel.
    Travel {
        /// Share of the tilt that can be taken out, in percent.
        percent: f64,
    },
}

impl Lack {
    /// The sentence for a person, with what would do it.
    #[must_use]
    pub fn words(&self, post: &Post) -> String {
        let name = &post.name;
        match self {
            Self::Unreadable => format!("{name}: the tilt cannot be read; measure it again"),
            Self::Feet { count: 0 } => {
                format!("{name}: the plan lists no feet for it; level it at its base, then measure again")
            }
            Self::Feet { count } => format!("{name}: {count} feet are too many to work out; level it by eye"),
            Self::Freedom { axis, left_deg } => {
                let (along, apart) = match axis {
                    Axis::Along => ("along the span", "inboard or outboard"),
                    Axis::Across => ("fore and aft", "fore or aft"),
                };
                format!(
                    "{name}: {left_deg:.2}° {along} cannot be taken out at its feet: none that moves stands {apart} of the \
                     others. Pack or wedge under its base, then measure again"
                )
            }
            Self::Travel { percent } => format!(
                "{name}: the travel of its feet takes out only {percent:.0} % of the tilt; move the post itself or pack under \
                 a foot, enter the new travel in the plan, then measure again"
            ),
        }
    }
}
