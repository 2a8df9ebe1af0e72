//! What is owed in readings, and what in the record.

use super::super::decide::list;
use super::super::finding::{Finding, Remedy};
use super::{Sources, plain};
use crate::view::{Obligation, ObligationKind, PointState, Verdict};
use std::collections::BTreeSet;

/// A required point that contributes to nothing judged.
pub(super) fn point(out: &Obligation) -> Finding {
    let words = match out.state {
        Verdict::CannotJudge => {
            "The plan has no limit for it: replan with a limit, or list it under record_only.".to_owned()
        }
        _ => format!("Measure {} again.", out.about),
    };
    plain(out, Remedy::Measure { points: vec![out.about.clone()] }, vec![words])
}

/// A stage, an instrument, an open item, the log itself.
pub(super) fn record(from: Sources<'_>, out: &Obligation) -> Finding {
    let words = match out.kind {
        ObligationKind::Instrument => instrument(from, out),
        ObligationKind::OpenItem => "Close it, or carry it past with a reason: jigtrue open-item".to_owned(),
        ObligationKind::Record => {
            "Find out what was changed: jigtrue verify, and compare with a backup.".to_owned()
        }
        _ => "Begin the stage, or skip it with a reason: jigtrue stage".to_owned(),
    };
    plain(out, Remedy::Record, vec![words])
}

/// What the present stage still wants beyond what the findings ask for; `None` if nothing.
pub(super) fn lacking(from: Sources<'_>, found: &[Finding]) -> Option<Finding> {
    let asked: BTreeSet<&String> = found
        .iter()
        .flat_map(|f| match &f.remedy {
            Remedy::Measure { points } => points.as_slice(),
            _ => &[],
        })
        .collect();
    let wanted: Vec<String> = from.assessment.wanted.iter().map(ToString::to_string).collect();
    let points: Vec<String> = wanted.into_iter().filter(|p| !asked.contains(p)).collect();
    let first = points.first()?.clone();
    let wanted: BTreeSet<&String> = points.iter().collect();
    let stale = from
        .assessment
        .points
        .iter()
        .any(|p| p.state == PointState::Stale && wanted.contains(&p.point.to_string()));
    let stage = from.assessment.stage.clone().unwrap_or_default();
    let verb = if points.len() == 1 { "has" } else { "have" };
    let words = format!("{} {verb} no reading that counts", list(&points));
    Some(Finding {
        kind: ObligationKind::Point,
        about: first,
        state: if stale { Verdict::Stale } else { Verdict::Missing },
        words: if stage.is_empty() { words } else { format!("{stage}: {words}") },
        // The words name them all.
        with: Vec::new(),
        remedy: Remedy::Measure { points },
        mend: vec!["jigtrue take".to_owned()],
    })
}

/// What settles the cause of doubt about an instrument.
fn instrument(from: Sources<'_>, out: &Obligation) -> String {
    let cause = from.assessment.gate.reasons.iter().find(|r| Some(&r.cause) == out.cause.as_ref());
    match cause.and_then(|r| r.settles.as_deref()).filter(|settles| !settles.is_empty()) {
        Some(settles) => format!("For {}: {settles}.", out.about),
        None => format!(
            "Have {} checked, record it (jigtrue instrument check), and measure again what was taken with it since.",
            out.about
        ),
    }
}
