//! The window, without a screen and on a virtual one; a file is a filter.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a story with real programs has files, threads and a clock, and stops where something is missing"
)]

mod common;
mod gate_parts;
mod grid;
mod plain;
mod sizes;
mod stories;
mod units;
mod walk;
mod work;

// Both need the program, its session and its sheet.
#[cfg(feature = "app")]
mod agreement;
#[cfg(all(unix, feature = "app"))]
mod real_window;
#[cfg(all(unix, feature = "app"))]
mod screen;
