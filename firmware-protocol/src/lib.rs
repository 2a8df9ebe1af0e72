#![doc = include_str!("../PROTOCOL.md")]
#![no_std]
#![warn(missing_docs)]

pub mod crc;
mod damage;
mod decode;
pub mod digits;
mod encode;
mod fields;
mod flags;
mod held;
mod message;
mod receive;
mod straight;
mod words;

pub use damage::Damage;
pub use decode::decode;
pub use encode::{Line, Unsayable};
pub use flags::Flags;
pub use held::Held;
pub use message::{
    Answer, Command, Decimal, Fault, Identify, MAX_DETAIL, MAX_FIRMWARE, MAX_LINE, MAX_NAME, MAX_NUMBER,
    Message, Request, Sample, Stamp, Status, VERSION,
};
pub use receive::Receiver;
pub use words::{FaultCode, Outcome, Quantity, Unit};
