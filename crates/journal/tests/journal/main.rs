//! The tests of the log as one program: linking each file separately took longer than running it.

mod append_and_read;
mod chain;
mod open;
mod support;
mod tamper;
