//! Layout: pieces below one another, cut into pages, stretched to fill them, drawn.

mod area;
mod canvas;
mod measure;
mod page;
mod piece;
mod stack;
mod table;

pub(crate) use area::Area;
pub(crate) use canvas::Canvas;
pub(crate) use measure::{cut, shrunk};
pub(crate) use page::{Grid, Laid, lay_out};
pub(crate) use piece::{Break, Piece, Stretch};
pub(crate) use stack::{PlotHeight, Stack, runs_width};
pub(crate) use table::{Cell, Table};
