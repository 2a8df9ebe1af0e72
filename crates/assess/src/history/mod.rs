//! Folds what happened, entry by entry, into what still counts.
//!
//! Withdrawals are known before the fold begins, so a withdrawn entry counts as if it had never been written; it
//! stays in the list of withdrawals for the inspector.

mod distrust;
mod disturbs;
mod doubted;
mod editions;
mod fold;
mod instruments;
mod readings;
mod recall;
mod visits;
mod withdrawals;
mod written;

pub use distrust::{Distrust, ZeroShown};
pub use disturbs::Disturbs;
pub use editions::{Edition, Editions, PlanChange};
pub use fold::Fold;
pub use instruments::{Claim, Instruments, Known};
pub use readings::{Freshness, Profile, SEATINGS, Used};
pub use recall::{Handle, Recall};
pub use visits::{Before, Visit};
pub use withdrawals::{Withdrawal, Withdrawals};
pub use written::{Said, Written};

/// The state of an open item, from a stage's list or entered by hand.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenState {
    /// What was said last.
    pub last: Said<record::OpenItem>,
    /// The stage that left it open, if any.
    pub stage: Option<String>,
}

/// A shift found by a watch.
#[derive(Clone, Debug, PartialEq)]
pub struct Shifted {
    /// Its entry.
    pub seq: u64,
    /// The point watched.
    pub point: record::Point,
}

impl Shifted {
    /// Whether an earlier reading of this point may no longer hold: the point watched, and everything carried with
    /// it.
    pub fn touches(&self, point: &record::Point) -> bool {
        use record::point::DisturbedBy;
        match (self.point.kind().row().disturbed_by, point.kind().row().disturbed_by) {
            _ if self.point == *point => true,
            (DisturbedBy::Nothing, _) | (_, DisturbedBy::Nothing) => false,
            (DisturbedBy::Feet, _) => true,
            (DisturbedBy::AftAndFeet | DisturbedBy::SupportsAndFeet, carried) => carried != DisturbedBy::Feet,
        }
    }
}
