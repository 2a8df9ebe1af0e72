//! The judgements beside twist, one file each.

mod bays;
mod bores;
mod level;
mod spacing;
mod spars;
mod spots;

pub use bays::bays;
pub use bores::bore_line;
pub use level::posts;
pub use spacing::spacing;
pub use spars::spars;
pub use spots::{rows, spot};

use crate::estimate::{Estimate, Measured};
use crate::judge::Spread;
use crate::resolve::Makeup;
use record::Point;
use std::collections::BTreeMap;

/// The measured points that count.
pub type Values = BTreeMap<Point, Measured>;

/// The normal coverage of an estimate.
pub fn normal(estimate: &Estimate) -> Spread {
    Spread::normal(estimate.u())
}

/// What can be done about the uncertainty of a single point.
pub fn makeup(measured: &Measured) -> Makeup {
    Makeup::Point {
        resolution: measured.resolution,
        seating: measured.seating,
        shared: measured.estimate.shared_u(),
        can_reverse: measured.facing_wanted.is_some(),
    }
}
