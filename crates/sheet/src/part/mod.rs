//! What a sheet is made of, a file for each part.

mod cautions;
mod changes;
pub(crate) mod foot;
mod front;
mod gate;
mod geometry;
pub(crate) mod judged;
mod points;
mod rule;
mod twist;

mod trust;

pub(crate) use cautions::{cautions, places_to_sign, short_caution, spelled};
pub(crate) use changes::changes;
pub(crate) use front::{Running, front, running_head};
pub(crate) use gate::{doubts, reasons};
pub(crate) use geometry::geometry;
pub(crate) use points::points;
pub(crate) use rule::rule;
pub(crate) use trust::trust;
pub(crate) use twist::twist;
