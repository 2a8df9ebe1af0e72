//! An area to draw in, and the group it belongs to.

use crate::draw::Role;

#[derive(Clone, Copy, Debug)]
pub(crate) struct Area {
    pub x: f64,
    pub y: f64,
    pub width: f64,
    pub height: f64,
}

impl Area {
    pub(crate) fn right(&self) -> f64 {
        self.x + self.width
    }

    pub(crate) fn bottom(&self) -> f64 {
        self.y + self.height
    }
}

/// A group of the structure that several pieces share.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub id: u32,
    pub role: Role,
}
