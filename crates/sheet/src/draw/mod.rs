//! The drawing: what is where on which page, before anything is written. Points (1/72 in), y down.

mod hatch;
mod shape;
mod tree;

pub(crate) use hatch::hatch;
pub(crate) use shape::{Anchor, Ink, Pen, Shape, Text};
pub(crate) use tree::{Bookmark, Drawing, Leaf, Mark, Node, Page, Role};

/// A count of what is drawn, as a number to compute with.
#[expect(clippy::cast_precision_loss, reason = "a few thousand at most")]
pub(crate) const fn many(count: usize) -> f64 {
    count as f64
}
