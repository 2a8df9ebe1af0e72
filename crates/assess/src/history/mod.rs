//! What happened, folded entry by entry into what still counts.
//!
//! Withdrawals are known before the fold begins, so a withdrawn entry counts as if it had never been written; it stays
//! in the list of withdrawals for the inspector.

mod distrust;
mod disturbs;
mod editions;
mod fold;
mod instruments;
mod readings;
mod recall;
mod visits;
mod withdrawals;
mod written;

pub use distrust::Distrust;
pub use disturbs::Disturbs;
pub use editions::{Edition, Editions, PlanChange};
pub use fold::Fold;
pub use instruments::{Claim, FirstLast, Instruments, Known};
pub use readings::{EARLIER, Freshness, Profile, SEATINGS, Used};
pub use recall::{Handle, Recall};
pub use visits::{Before, Visit};
pub use withdrawals::{Withdrawal, Withdrawals};
pub use written::{Said, Written};

/// The state of things left open, an item of a stage's list or one entered by hand.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenState {
    /// What was said last.
    pub last: Said<record::OpenItem>,
    /// The stage that left it open, if a stage did.
    pub stage: Option<String>,
}

/// A shift that a watch found.
#[derive(Clone, Debug, PartialEq)]
pub struct Shifted {
    /// Its entry.
    pub seq: u64,
    /// The point watched.
    pub point: record::Point,
}

impl Shifted {
    /// True where a reading of this point, taken before, may no longer be so: the point watched, and what moves with what
    /// carries it.
    #[must_use]
    pub fn touches(&self, point: &record::Point) -> bool {
        use record::point::DisturbedBy;
        match (self.point.kind().row().disturbed_by, point.kind().row().disturbed_by) {
            _ if self.point == *point => true,
            (DisturbedBy::Nothing, _) | (_, DisturbedBy::Nothing) => false,
            (DisturbedBy::Feet, DisturbedBy::Feet | DisturbedBy::SupportsAndFeet) => true,
            (DisturbedBy::SupportsAndFeet, DisturbedBy::SupportsAndFeet) => true,
            (DisturbedBy::SupportsAndFeet, DisturbedBy::Feet) => false,
        }
    }
}
