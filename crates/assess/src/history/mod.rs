//! What happened, folded entry by entry into what still counts.
//!
//! Withdrawals are known before the fold begins, so a withdrawn entry counts as if it had never been written; it stays
//! in the list of withdrawals for the inspector.

mod fold;
mod withdrawals;

pub use fold::{Fold, Freshness, Profile, Used};
pub use withdrawals::{Withdrawal, Withdrawals};

/// The state of things left open, an item of a stage's list or one entered by hand.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenState {
    /// The thing.
    pub item: String,
    /// What was done last.
    pub action: record::OpenAction,
    /// Why, or by what.
    pub reason: Option<String>,
    /// The stage that left it open, if a stage did.
    pub stage: Option<String>,
}
