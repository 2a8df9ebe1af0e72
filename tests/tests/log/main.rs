//! The log on a disk that fails, is full, is shared, or loses its power: a file is a filter.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a story stops where something fails"
)]

mod crash;
mod damage;
mod disk;
mod highest;
mod power;
mod shared;
