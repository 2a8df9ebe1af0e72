//! Decoders and instrument files against what others wrote; a file is a filter.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a test runs compilers and programs, and stops where something is missing"
)]

mod line_formats;
mod nostd;
mod page;
mod recorded_by_others;
