//! The drawing: what is where on which page, before anything is written. Points (1/72 in), y down.

mod hatch;
mod shape;
mod tree;

pub(crate) use hatch::hatch;
pub(crate) use shape::{Anchor, Ink, Pen, Shape, Text};
pub(crate) use tree::{Bookmark, Drawing, Leaf, Mark, Node, Page, Role};
