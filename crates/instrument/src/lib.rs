//! Decodes bytes from inclinometers and calipers to samples, and detects when they settle.
//!
//! Make a [`Decoder`] for what an instrument speaks ([`DialectSpec`]); bytes go in as they come, [`Sample`]s and
//! [`Fault`]s come out. No ports, no clock, no allocator: the owner of the port passes in bytes and, where time
//! matters, milliseconds. A [`Settle`] watches the samples and reports when they are at rest.
//!
//! **What is promised.** A value that comes out was sent. Lines are accepted whole or not at all, and if they have a
//! checksum (ours, NMEA, Modbus), a frame that does not fit it is dropped. Text lines and 13-nibble frames have no
//! checksum, so a changed digit does not show; for them form, length and decimals are enforced strictly, and settling
//! restarts at a value that jumps. After damage, the next whole frame is read.
//!
//! Instrument files need the feature `std` (on by default).
#![no_std]

#[cfg(feature = "std")]
extern crate std;

mod decimal;
mod dialect;
#[cfg(feature = "std")]
mod examples;
#[cfg(feature = "std")]
mod file;
mod identify;
mod lines;
#[cfg(feature = "std")]
mod propose;
mod sample;
mod settle;
mod text;
mod values;

pub use decimal::{Decimal, Leading};
pub use dialect::*;
#[cfg(feature = "std")]
pub use examples::{EXAMPLES, Example};
#[cfg(feature = "std")]
pub use file::{FileErrors, FileFault, InstrumentFile, Parity, PortSettings, Positive};
pub use identify::{Heard, example_line, identify_stream};
pub use jigtrue_protocol::{Command, FaultCode, Flags, Line, Outcome, Quantity as Axis, Request};
pub use lines::{MAX_LINE, Marks};
#[cfg(feature = "std")]
pub use propose::{Proposal, propose};
pub use quantity::Unit;
pub use sample::{Fault, Notice, Sample};
pub use settle::{BUCKETS, Noise, Settle, SettleSettings, Settled, State, Unrest};
pub use text::Text;
pub use values::MAX_VALUES;

/// What an axis measures.
#[must_use]
pub const fn kind_of(axis: Axis) -> quantity::Kind {
    match axis {
        Axis::Angle | Axis::Cross => quantity::Kind::Angle,
        Axis::Length => quantity::Kind::Length,
        Axis::Temperature => quantity::Kind::Temperature,
        Axis::Torque => quantity::Kind::Torque,
        Axis::Force => quantity::Kind::Force,
    }
}
