//! The assessment with one answer for each thing.
//!
//! A view says what the readings in use give; an obligation says whether that proves anything. A setting that fits the
//! stations still fresh is within its limits, and its obligation is stale. The pages after the first show views, so each
//! view takes the answer of its obligation: no page says `within` of what the first page says is not met.

use assess::view::{Finding, ObligationKind as K, ObligationState as State};
use assess::{Assessment, Verdict};
use record::GateState;
use record::point::Place;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// The assessment whose views say what its obligations say. Where everything is met it is as it was handed in; after the
/// decision to close it is the obligations of the later stages that count.
pub(crate) fn agreed(a: &Assessment) -> Cow<'_, Assessment> {
    let gate = if a.decision.is_some() { a.after.as_ref() } else { Some(&a.gate) };
    let Some(gate) = gate.filter(|g| g.state == GateState::Hold) else { return Cow::Borrowed(a) };
    let owed: BTreeMap<(K, &str), Verdict> =
        gate.obligations.iter().map(|o| ((o.kind, o.about.as_str()), verdict_of(o.state))).collect();
    let settle = |kind: K, about: &str, verdict: &mut Option<Verdict>| {
        if let Some(owed) = owed.get(&(kind, about)) {
            *verdict = Some(*owed);
        }
    };
    let mut out = a.clone();
    for post in &mut out.posts {
        post.level.iter_mut().for_each(|t| settle(K::Level, &post.post, &mut t.tilt.verdict));
        post.cross.iter_mut().for_each(|t| settle(K::Cross, &post.post, &mut t.tilt.verdict));
    }
    out.spars.iter_mut().for_each(|v| settle(K::Straightness, &v.spar, &mut v.minimum_zone.verdict));
    out.bays.iter_mut().for_each(|v| settle(K::Square, &v.bay, &mut v.out_of_square.verdict));
    out.spacing.iter_mut().for_each(|v| settle(K::Spacing, &v.station, &mut v.deviation.verdict));
    out.bore_line.iter_mut().for_each(|v| settle(K::Clearance, &v.shaft, &mut v.clearance.verdict));
    out.rigging.iter_mut().for_each(|v| settle(K::Rigging, &v.name, &mut v.judged.verdict));
    for pair in &mut out.rig_pairs {
        for j in [&mut pair.left, &mut pair.right, &mut pair.difference].into_iter().flatten() {
            settle(K::Rigging, &j.what, &mut j.verdict);
        }
    }
    for p in out.points.iter_mut().filter(|p| p.point.kind().row().place == Place::Spot) {
        settle(K::Spot, p.point.place(), &mut p.verdict);
    }
    if let Some(twist) = &mut out.twist {
        settle(K::Setting, "setting", verdict(&mut twist.setting));
        settle(K::Washout, "washout error", verdict(&mut twist.washout_error));
        twist.stations.iter_mut().for_each(|s| settle(K::Station, &s.name, &mut s.verdict));
        // One obligation is for all steps: what spoils it spoils each.
        let steps = owed.get(&(K::Neighbour, "steps")).copied();
        let spoilt = steps.filter(|v| !matches!(v, Verdict::Within | Verdict::Outside | Verdict::Undecided));
        if let Some(spoilt) = spoilt {
            twist.neighbours.iter_mut().for_each(|n| *verdict(&mut n.finding) = Some(spoilt));
        }
    }
    Cow::Owned(out)
}

const fn verdict(found: &mut Finding) -> &mut Option<Verdict> {
    match found {
        Finding::Judged(judged) => &mut judged.verdict,
        Finding::Not(not) => &mut not.verdict,
    }
}

const fn verdict_of(state: State) -> Verdict {
    match state {
        State::Met => Verdict::Within,
        State::Missing => Verdict::Missing,
        State::Stale => Verdict::Stale,
        State::Undecided => Verdict::Undecided,
        State::Doubtful => Verdict::Doubtful,
        State::CannotJudge => Verdict::CannotJudge,
        State::Outside => Verdict::Outside,
    }
}
