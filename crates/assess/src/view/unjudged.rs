//! What was measured and cannot be judged.

use super::JudgedBy;
use crate::parts::RigFault;
use numerics::bores::BoresError;
use quantity::shown::Scale;
use record::Point;
use serde::{Serialize, Serializer};
use std::fmt::Display;

/// Something measured that cannot be judged.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Unjudged {
    /// What would have been judged.
    pub judged_by: JudgedBy,
    /// Why it cannot be; a sentence in JSON.
    #[serde(serialize_with = "as_said")]
    pub why: NoJudgement,
    /// The points it would have been judged by.
    pub points: Vec<Point>,
}

/// Why a measurement cannot be judged. Lengths in mm.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoJudgement {
    #[error("no straight line can be laid through its offsets")]
    NoLine,
    #[error(
        "no bay of {} by {} has diagonals of {} and {}",
        .shown_in.exact(.sides[0]), .shown_in.exact_with(.sides[1]),
        .shown_in.exact(.diagonals[0]), .shown_in.exact_with(.diagonals[1])
    )]
    Diagonals { sides: [f64; 2], diagonals: [f64; 2], shown_in: Scale },
    #[error("{bush} has a bore of {}, but the plan has {}", .shown_in.exact_with(*.is), .shown_in.exact_with(*.drawn))]
    OtherBore { bush: String, is: f64, drawn: f64, shown_in: Scale },
    #[error(transparent)]
    Shaft(#[from] BoresError),
    #[error(transparent)]
    Rigging(#[from] Box<RigFault>),
}

/// Writes a cause in JSON as the sentence a person reads.
pub(crate) fn as_said<S: Serializer>(why: &impl Display, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(why)
}
