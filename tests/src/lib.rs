//! Shared helpers of the stories: programs killed at random, disks that are full or read-only, invented content.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a story stops where something fails"
)]

pub mod crash;
pub mod disk;
pub mod forge;
pub mod invented;
pub mod jig;
pub mod power;
pub mod program;
pub mod screen;
pub mod seeded;
pub mod sim;
pub mod trainer;
pub mod wal;
pub mod wings;
