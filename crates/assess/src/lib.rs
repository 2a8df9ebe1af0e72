//! From plan and entries to verdicts, fits, moves and the closing gate.
//!
//! `assess(plan, entries, chain)` is a pure function: no clock, no files, no ports, and no randomness but a seeded generator.
//! The same log and plan always give the same [`Assessment`], byte for byte.

pub mod advice;
mod answers;
mod assembly;
mod chain;
mod compare;
mod conformity;
pub mod drift;
mod estimate;
pub mod expect;
pub mod history;
mod incidence;
mod judge;
mod obligation;
mod parts;
mod resolve;
pub mod series;
mod sound;
mod twist;
pub mod view;

pub use assembly::{
    Elsewhere, LastProfile, Part, Stages, assess, assess_fold, assess_part, assess_with, current_values,
    last_profile,
};
pub use chain::{Because, Broken, Chain};
pub use compare::{CompareError, Compared, compare, compare_wings};
pub use estimate::{Estimate, Measured, Shared};
pub use history::{Fold, Withdrawals};
pub use twist::ProfileFit;
pub use view::{Assessment, Verdict};
