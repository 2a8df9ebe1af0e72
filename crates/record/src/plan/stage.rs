//! The stages of a build.

use crate::Point;

/// A named state of the build. Patterns in the plan's text (`incidence@*`) stand here already as points.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    pub name: String,
    /// The points that must be measured in it, in the plan's order.
    pub requires: Vec<Point>,
    /// The points whose earlier readings it makes stale.
    pub disturbs: Vec<Point>,
    /// Things left open on purpose.
    pub open: Vec<String>,
    /// True for the stage that closes the wing: at most one of the plan says so, else the last stage does.
    pub closes: bool,
}

/// What goes stale with a rework, beside the readings of the points worked on themselves.
#[derive(Clone, Debug, PartialEq)]
pub struct ReworkRule {
    /// A rework of any of these points ...
    pub of: Vec<Point>,
    /// ... makes the readings of all of these stale.
    pub stales: Vec<Point>,
}
