//! The rigged aeroplane.

use super::Judged;
use record::Point;
use serde::Serialize;

/// One thing of the rigged aeroplane: an angle, a travel, a tension, a torque, a distance, a yaw, a difference.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RigView {
    /// What it is called (`dihedral of left wing`).
    pub name: String,
    /// Its value; judged where the plan has limits for it.
    pub judged: Judged,
    /// The points it rests on.
    pub points: Vec<Point>,
}
