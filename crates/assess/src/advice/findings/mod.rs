//! One finding for each thing that is outside or undecided, from the assessment that `check` shows.

mod geometry;
mod posts;
mod rest;
mod rigging;
mod spots;
mod straightness;
mod twist;

use super::finding::Finding;
use super::profile::Profile;
use crate::history::Fold;
use crate::view::{Assessment, Judged, Obligation, ObligationKind, Verdict};
use record::plan::Plan;

/// The inputs of the findings.
#[derive(Clone, Copy)]
pub(super) struct Sources<'a> {
    plan: &'a Plan,
    fold: &'a Fold<'a>,
    assessment: &'a Assessment,
    profile: &'a Profile,
}

/// Everything that is outside, undecided, doubtful or cannot be judged, worst first, then what the present stage
/// still lacks.
pub(super) fn findings(
    plan: &Plan,
    fold: &Fold<'_>,
    assessment: &Assessment,
    profile: &Profile,
) -> Vec<Finding> {
    let from = Sources { plan, fold, assessment, profile };
    let outs = outs(assessment);
    let mut found = posts::findings(from, &outs);
    found.extend(twist::findings(from, &outs));
    for out in &outs {
        match out.kind {
            ObligationKind::Level
            | ObligationKind::Cross
            | ObligationKind::Setting
            | ObligationKind::Washout
            | ObligationKind::Neighbour
            | ObligationKind::Station => {}
            ObligationKind::Straightness => found.push(straightness::finding(from, out)),
            ObligationKind::Spacing => found.push(geometry::spacing(from, out)),
            ObligationKind::Square => found.push(geometry::square(from, out)),
            ObligationKind::Clearance => found.push(geometry::clearance(from, out)),
            ObligationKind::Spot => found.push(spots::finding(from, out)),
            ObligationKind::Rigging => found.push(rigging::finding(from, out)),
            ObligationKind::Point => found.push(rest::point(out)),
            ObligationKind::Stage
            | ObligationKind::Instrument
            | ObligationKind::OpenItem
            | ObligationKind::Record => found.push(rest::record(from, out)),
        }
    }
    // What was measured badly comes before what was not measured; work comes before measuring.
    found.sort_by_key(|f| (std::cmp::Reverse(f.state), !f.remedy.moves()));
    if let Some(lacking) = rest::lacking(from, &found) {
        found.push(lacking);
    }
    found
}

/// The gate's unmet obligations for which something was recorded. What was never recorded or went stale is owed by a
/// stage, now or later; the present stage's share comes last, as what to measure.
fn outs(assessment: &Assessment) -> Vec<&Obligation> {
    let open = |state: Verdict| only_open(state) || state == Verdict::Outside;
    assessment.gate.obligations.iter().filter(|o| open(o.state)).collect()
}

/// A finding for one thing alone.
fn plain(out: &Obligation, remedy: super::finding::Remedy, mend: Vec<String>) -> Finding {
    Finding {
        kind: out.kind,
        about: out.about.clone(),
        state: out.state,
        words: out.words.clone(),
        with: vec![],
        remedy,
        mend,
    }
}

/// Whether a value with this answer is a reason to move anything.
const fn may_move(state: Verdict) -> bool {
    matches!(state, Verdict::Outside | Verdict::Undecided)
}

/// What would decide a value that measuring again did not decide.
fn stayed(judged: &Judged) -> String {
    let how = judged.decide.as_deref().unwrap_or("take a finer instrument, or move it away from the limit");
    format!("It stayed undecided after measuring again; {how}.")
}

/// Whether a value is only undecided, so that another reading may settle it.
const fn only_open(state: Verdict) -> bool {
    matches!(state, Verdict::Undecided | Verdict::Doubtful | Verdict::CannotJudge)
}
