//! The label of one of two assessments in a comparison.

use crate::view::{Assessment, ComparisonKind};

pub(super) fn label(a: &Assessment, kind: ComparisonKind) -> String {
    let stage = a.stage.as_deref().unwrap_or("no stage");
    match kind {
        ComparisonKind::Stages | ComparisonKind::SinceJig => stage.to_owned(),
        ComparisonKind::Sides => format!("{} ({} wing, {stage})", a.wing, a.side.word()),
    }
}
