//! The tests of the log in one program: linking each by itself took longer than running it.

mod append_and_read;
mod chain;
mod open;
mod support;
mod tamper;
