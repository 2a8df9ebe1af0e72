//! Tests that take more than one file of the crate.

mod faults;
#[cfg(feature = "std")]
mod files;
mod kept;
mod modbus;
mod notices;
mod settling;
pub(crate) mod specs;
