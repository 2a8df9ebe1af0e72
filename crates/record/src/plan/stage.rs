//! The stages of a build.

use crate::Point;

/// A named stage of the build. The patterns of the plan's text (`incidence@*`) are already expanded to points.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    pub name: String,
    /// The points that must be measured in it, in the plan's order.
    pub requires: Vec<Point>,
    /// The points whose earlier readings it makes stale.
    pub disturbs: Vec<Point>,
    /// Things left open on purpose.
    pub open: Vec<String>,
    /// Whether this stage closes the wing: at most one is marked so in the plan, else it is the last.
    pub closes: bool,
}

/// Which readings a rework makes stale, besides those of the reworked points themselves.
#[derive(Clone, Debug, PartialEq)]
pub struct ReworkRule {
    /// A rework of any of these points ...
    pub of: Vec<Point>,
    /// ... makes the readings of all of these stale.
    pub stales: Vec<Point>,
}
