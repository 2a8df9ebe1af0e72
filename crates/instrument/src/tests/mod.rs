//! Tests that take more than one file of the crate.

mod faults;
mod modbus;
mod notices;
mod specs;
