//! The judgements besides twist, one file each.

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
pub use rigging::{Contradiction, RigFault, Rigged, jig_twist, rig_closures, rig_pairs, rigging};
pub use spacing::spacing;
pub use spars::{spars, straightness_points};
pub use spots::{rows, spot};

use crate::estimate::Measured;
use crate::view::Unjudged;
use record::Point;
use std::collections::BTreeMap;

/// The measured points that count.
pub type Values = BTreeMap<Point, Measured>;

/// What was judged, and what was measured but cannot be judged.
pub struct Judgements<T> {
    pub judged: Vec<T>,
    pub not: Vec<Unjudged>,
}

impl<T> FromIterator<Result<T, Unjudged>> for Judgements<T> {
    fn from_iter<I: IntoIterator<Item = Result<T, Unjudged>>>(found: I) -> Self {
        let mut out = Self { judged: Vec::new(), not: Vec::new() };
        for one in found {
            match one {
                Ok(one) => out.judged.push(one),
                Err(why) => out.not.push(why),
            }
        }
        out
    }
}
