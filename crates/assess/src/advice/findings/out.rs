//! The list of what is not met and not merely lacking, from the gate's obligations.

use crate::view::{Assessment, Judged, ObligationKind, ObligationState, PointState, Verdict};
use quantity::shown::WithU;
use record::PointKind;

/// One thing that is out or not decided.
pub(super) struct Out {
    pub kind: ObligationKind,
    pub about: String,
    pub state: ObligationState,
    pub words: String,
}

/// The gate's obligations that something was recorded for and that are not met. What was never recorded or went stale
/// is owed by a stage, now or later; the present stage's share comes last, as what to measure.
pub(super) fn outs(assessment: &Assessment) -> Vec<Out> {
    if assessment.gate.obligations.is_empty() {
        return from_views(assessment);
    }
    let open = |state: ObligationState| match state {
        ObligationState::Outside
        | ObligationState::CannotJudge
        | ObligationState::Doubtful
        | ObligationState::Undecided => true,
        ObligationState::Stale | ObligationState::Missing | ObligationState::Met => false,
    };
    let obligations = assessment.gate.obligations.iter().filter(|o| open(o.state));
    obligations
        .map(|o| Out { kind: o.kind, about: o.about.clone(), state: o.state, words: o.words.clone() })
        .collect()
}

/// The same from the judgements themselves, for an assessment whose gate lists no obligations.
fn from_views(a: &Assessment) -> Vec<Out> {
    let mut outs = Vec::new();
    let mut add = |kind, about: &str, judged: &Judged| {
        let state = match judged.verdict {
            Some(Verdict::Outside) => ObligationState::Outside,
            Some(Verdict::Undecided) => ObligationState::Undecided,
            Some(Verdict::Doubtful) => ObligationState::Doubtful,
            Some(Verdict::CannotJudge) => ObligationState::CannotJudge,
            _ => return,
        };
        outs.push(Out { kind, about: about.to_owned(), state, words: words(judged) });
    };
    for post in &a.posts {
        post.level.iter().for_each(|t| add(ObligationKind::Level, &post.post, &t.tilt));
        post.cross.iter().for_each(|t| add(ObligationKind::Cross, &post.post, &t.tilt));
    }
    a.spars.iter().for_each(|s| add(ObligationKind::Straightness, &s.spar, &s.minimum_zone));
    a.spacing.iter().for_each(|s| add(ObligationKind::Spacing, &s.station, &s.deviation));
    a.bays.iter().for_each(|b| add(ObligationKind::Square, &b.bay, &b.out_of_square));
    a.bore_line.iter().for_each(|b| add(ObligationKind::Clearance, &b.shaft, &b.clearance));
    if let Some(twist) = &a.twist {
        twist.setting.judged().iter().for_each(|j| add(ObligationKind::Setting, "setting", j));
        twist.washout_error.judged().iter().for_each(|j| add(ObligationKind::Washout, "washout error", j));
        let steps = twist.neighbours.iter().filter_map(|s| s.finding.judged());
        steps.for_each(|j| add(ObligationKind::Neighbour, &j.what, j));
    }
    let state = |v: Option<Verdict>| match v {
        Some(Verdict::Outside) => Some(ObligationState::Outside),
        Some(Verdict::Undecided) => Some(ObligationState::Undecided),
        Some(Verdict::Doubtful) => Some(ObligationState::Doubtful),
        Some(Verdict::CannotJudge) => Some(ObligationState::CannotJudge),
        _ => None,
    };
    for s in a.twist.iter().flat_map(|t| &t.stations) {
        let (Some(state), Some(value), Some(u)) = (state(s.verdict), s.twist_error_deg, s.u_deg) else {
            continue;
        };
        let words = format!("{} {}", s.name, WithU::of_u(value, u).signed_with("deg"));
        outs.push(Out { kind: ObligationKind::Station, about: s.name.clone(), state, words });
    }
    for p in a.points.iter().filter(|p| p.state == PointState::Fresh) {
        let spot = p.point.place();
        let (Some(state), PointKind::Spot) = (state(p.verdict), p.point.kind()) else { continue };
        let (value, u) = (p.value.unwrap_or(0.0), p.u.unwrap_or(0.0));
        let words = format!("{spot} {}", WithU::of_u(value, u).plain());
        outs.push(Out { kind: ObligationKind::Spot, about: spot.to_owned(), state, words });
    }
    outs
}

fn words(j: &Judged) -> String {
    let limits = j.limits();
    let comma = if limits.is_empty() { "" } else { ", limits " };
    format!("{} {}{comma}{limits}", j.what, j.shown())
}
