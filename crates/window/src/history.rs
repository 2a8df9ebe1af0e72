//! The readings of a point over the stages, as the log has them.

use crate::live::meant;
use record::{Entry, Plan, Point, What};

/// A reading of a point.
#[derive(Clone, Debug, PartialEq)]
pub struct Past {
    /// Its entry's number.
    pub seq: u64,
    /// When, ISO 8601 UTC.
    pub at: String,
    /// By whom.
    pub by: String,
    /// The stage it was taken in; none before the first.
    pub stage: Option<String>,
    /// What was typed or shown.
    pub text: String,
    /// What it means at the point, facing and fixture taken into account, in the unit used inside.
    pub value: f64,
    /// The facing, as a word; empty where there is none.
    pub facing: &'static str,
    /// The instrument; empty if none was stated.
    pub instrument: String,
    /// The round.
    pub round: u32,
    /// Why it was withdrawn, if it was.
    pub withdrawn: Option<String>,
}

/// Every reading of a point, in the order they were taken.
#[must_use]
pub fn of(plan: &Plan, entries: &[Entry], point: &Point) -> Vec<Past> {
    let mut stage = None;
    let mut out: Vec<Past> = Vec::new();
    for entry in entries {
        match &entry.what {
            What::Stage(begun) => stage = Some(begun.name.clone()),
            What::Reading(r) if r.point == *point => out.push(Past {
                seq: entry.seq,
                at: entry.at.to_string(),
                by: entry.by.clone(),
                stage: stage.clone(),
                text: r.text.clone(),
                value: meant(plan, point, r.value, r.facing),
                facing: r.facing.map_or("", record::Facing::word),
                instrument: r.instrument.clone().unwrap_or_default(),
                round: r.round,
                withdrawn: None,
            }),
            What::Withdrawn { seq, reason } => {
                if let Some(past) = out.iter_mut().find(|p| p.seq == *seq) {
                    past.withdrawn = Some(reason.clone());
                }
            }
            _ => {}
        }
    }
    out
}
