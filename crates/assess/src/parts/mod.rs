//! The judgements beside twist, one file each.

mod bays;
mod bores;
mod computed;
mod level;
mod rigging;
mod spacing;
mod spars;
mod spots;

pub use bays::bays;
pub use bores::bore_line;
pub use computed::Computed;
pub use level::posts;
pub use rigging::{jig_twist, rig_closures, rig_pairs, rigging};
pub use spacing::spacing;
pub use spars::{spars, straightness_points};
pub use spots::{rows, spot};

use crate::estimate::Measured;
use crate::view::Unjudged;
use record::Point;
use std::collections::BTreeMap;

/// The measured points that count.
pub type Values = BTreeMap<Point, Measured>;

/// What was judged, and what was measured and cannot be.
pub type Judgements<T> = (Vec<T>, Vec<Unjudged>);

/// Splits what was found.
fn split<T>(found: impl Iterator<Item = Result<T, Unjudged>>) -> Judgements<T> {
    let (mut judged, mut not) = (Vec::new(), Vec::new());
    for one in found {
        match one {
            Ok(one) => judged.push(one),
            Err(why) => not.push(why),
        }
    }
    (judged, not)
}
