//! Plan, stages, entries and readings: the nouns of the job.
//!
//! A [`Plan`] says what a wing should be; an [`Entry`] is one thing that happened to it. Both are plain values:
//! nothing here reads a clock, a file or a port.

mod entry;
mod instrument;
mod json;
mod limits;
mod nearest;
pub mod plan;
mod point;
mod reading;
mod time;

pub use entry::{Entry, GateState, Move, OpenAction, OpenItem, Signature, Signed, What};
pub use instrument::{Instrument, InstrumentCheck, InstrumentKind};
pub use json::EntryError;
pub use limits::Limits;
pub use plan::Plan;
pub use point::{Point, PointKind, PointParseError};
pub use reading::{Facing, Reading, Source};
pub use time::{At, Date, DateParseError};
