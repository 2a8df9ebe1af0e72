//! Plan, stages, entries and readings: the nouns of the job.
//!
//! A [`Plan`] says what a wing should be; an [`Entry`] is one thing that happened to it. Both are plain values:
//! nothing here reads a clock, a file or a port.

mod asked;
pub mod calendar;
mod entry;
pub mod hex;
mod instrument;
mod json;
mod limits;
mod moved;
mod open_item;
mod plainly;
pub mod plan;
pub mod point;
mod reading;
mod rework;
mod signed;
pub mod signoff;
pub mod skim;
mod stage_begun;
mod time;
mod when;
mod wing_taken;
mod withdrawn;

pub use asked::Asked;
pub use entry::{DriftShift, Entry, Instead, What, Withdrawable};
pub use instrument::{DialForce, DialRow, DialTable, Instrument, InstrumentCheck, NoForce, TapeFacts};
pub use json::{EntryError, JsonFault};
pub use limits::Limits;
pub use moved::{Move, MoveKnown, MoveSeen};
pub use open_item::{OpenAction, OpenItem};
pub use plan::Plan;
pub use point::{Point, PointKind, PointParseError};
pub use reading::{Dial, Facing, Reading, Source};
pub use rework::Rework;
pub use signed::{GateState, Signature, Signed, SignedText, inspects};
pub use stage_begun::StageBegun;
pub use time::{At, Date, DateParseError, UtcOffset};
pub use when::When;
pub use wing_taken::{JigShared, JigStation, WingSigned, WingTaken};
pub use withdrawn::Withdrawn;
