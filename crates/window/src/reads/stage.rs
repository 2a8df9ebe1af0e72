//! The stages of the build.

use crate::model::Wing;

/// Place in the plan of the next stage; of the last if none comes after.
pub fn next(wing: &Wing) -> usize {
    let stages = &wing.plan.stages;
    let now = wing.assessment.stage.as_deref().and_then(|name| wing.plan.stage_place(name));
    now.map_or(0, |n| n + 1).min(stages.len().saturating_sub(1))
}

/// The present stage, in words (`ribs outboard, stage 4 of 6`).
pub fn words(wing: &Wing) -> String {
    match (&wing.assessment.stage, &wing.assessment.stage_number) {
        (Some(name), Some(n)) => format!("{name}, stage {} of {}", n.number, n.of),
        (Some(name), None) => name.clone(),
        _ => "no stage begun".to_owned(),
    }
}
