//! Layout: things one below the other, over as many pages as they need.

mod lines;
mod page;
mod table;

pub(crate) use lines::Style;
pub(crate) use page::{Flow, MARGIN};
pub(crate) use table::{Cell, Column, Row, Table};
