//! Lengths, angles, torques, forces and temperatures, and what people type for them.
//!
//! Inside jigtrue a length is in millimetres, an angle in degrees, a torque in newton metres, a force in newtons and
//! a temperature in degrees Celsius: the base units. Each quantity has its own type. Nothing here needs the standard
//! library, except three features: [`shown`] needs an allocator, `nearest` (suggestions) and `table` (files) need all of it.
#![no_std]

#[cfg(any(feature = "shown", feature = "nearest"))]
extern crate alloc;

mod amount;
mod instrument_kind;
#[cfg(feature = "nearest")]
mod nearest;
mod newtypes;
#[cfg(feature = "shown")]
pub mod shown;
#[cfg(feature = "table")]
pub mod table;
pub mod typed;
mod unit;
#[cfg(feature = "serde")]
mod unit_by_symbol;
mod units;
mod words;

pub use amount::Amount;
pub use instrument_kind::InstrumentKind;
#[cfg(feature = "nearest")]
pub use nearest::{nearest, nearest_of};
pub use newtypes::{Celsius, Degrees, Millimetres, NewtonMetres, Newtons};
pub use typed::{
    Fault, Typed, TypedError, possible, possible_words, typed, typed_any, typed_in, typed_or_in, unit_named,
};
pub use unit::{Kind, Unit};
pub use units::{UNIT_WORDS, UnitWord, Units};
