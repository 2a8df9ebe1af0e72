//! What was measured and cannot be judged.

use super::JudgedBy;
use record::Point;
use serde::Serialize;

/// Something measured from which no judgement follows.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Unjudged {
    /// What would have been judged.
    pub judged_by: JudgedBy,
    /// Why it cannot be, for a person.
    pub why: String,
    /// The points it would have been judged by.
    pub points: Vec<Point>,
}
