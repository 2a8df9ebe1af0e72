//! From plan and entries to verdicts, fits, moves and the closing gate.
//!
//! `assess(plan, entries)` is a pure function: no clock, no files, no ports, and no randomness but a seeded generator.
//! The same log and plan always give the same [`Assessment`], byte for byte.

pub mod view;

pub use view::{Assessment, Verdict};
