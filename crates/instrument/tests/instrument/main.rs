//! Decoders, settling and instrument files. A file name works as a filter.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a test runs compilers and programs, and stops where something is missing"
)]

mod bcd;
mod decimal;
mod faults;
mod files;
mod identify;
mod kept;
mod line_formats;
mod lines;
mod modbus;
mod nmea;
mod nostd;
mod notices;
mod page;
mod propose;
mod recorded_by_others;
mod settling;
mod specs;
mod templates;
