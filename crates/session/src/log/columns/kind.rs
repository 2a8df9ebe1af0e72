//! The name of a kind of wing: the side, and eight digits of a hash over what defines the kind.

use assess::series::geometry::geometry;
use record::Plan;
use sha2::{Digest, Sha256};

/// The name for logs that cannot be read.
pub const UNREADABLE: &str = "unreadable";

/// The kind of wing of a plan.
pub fn of(plan: &Plan) -> String {
    let mut hash = Sha256::new();
    for (key, value) in geometry(plan) {
        hash.update(format!("{key}\t{value}\n"));
    }
    let digits: String = hash.finalize().iter().take(4).map(|b| format!("{b:02x}")).collect();
    format!("{}-{digits}", plan.wing.side.word())
}
