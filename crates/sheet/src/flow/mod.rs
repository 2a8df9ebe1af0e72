//! Layout: pieces one below the other, cut into pages, stretched to fill them, drawn.

mod canvas;
mod page;
mod piece;
mod stack;
mod table;

pub(crate) use canvas::Canvas;
pub(crate) use page::{Grid, lay_out};
pub(crate) use piece::{Area, Break, Piece, Stretch};
pub(crate) use stack::{PITCH, Stack, runs_width};
pub(crate) use table::{Cell, Column, Row, Table};
