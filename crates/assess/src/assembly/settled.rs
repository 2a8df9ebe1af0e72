//! One answer for each thing: its view gives the answer of its obligation.
//!
//! A view gives the value from the readings in use; an obligation says whether that proves anything. A setting that
//! fits the stations still fresh is within its limits, but its obligation is stale. So each view takes the answer of
//! its obligation, and nothing shows `within` beside a gate that says unmet.

use crate::view::{Assessment, Finding, Gate, Judged, Obligation, ObligationKind as K, StageView, Verdict};
use record::plan::Plan;
use record::point::Place;
use std::collections::{BTreeMap, BTreeSet};

/// The answers of a gate, by what they concern.
#[derive(Clone, Debug, Default)]
pub(super) struct Settled<'g>(BTreeMap<(K, &'g str), Verdict>);

impl<'g> Settled<'g> {
    /// The answers about what is owed; after the decision to close, those of the later stages.
    pub(super) fn of(closing: &'g Gate, after: Option<&'g Gate>) -> Self {
        let all = &after.unwrap_or(closing).obligations;
        Self(all.iter().map(|o| ((o.kind, o.about.as_str()), o.state)).collect())
    }

    fn settle(&self, kind: K, about: &str, verdict: &mut Option<Verdict>) {
        if let Some(owed) = self.0.get(&(kind, about)) {
            *verdict = Some(*owed);
        }
    }

    /// What is stale conforms with no probability: that of old readings says nothing of what is there now.
    fn settle_judged(&self, kind: K, about: &str, judged: &mut Judged) {
        self.settle(kind, about, &mut judged.verdict);
        if judged.verdict == Some(Verdict::Stale) {
            judged.probability = None;
        }
    }

    fn settle_finding(&self, kind: K, about: &str, found: &mut Finding) {
        match found {
            Finding::Judged(judged) => self.settle_judged(kind, about, judged),
            Finding::Not(not) => self.settle(kind, about, &mut not.verdict),
        }
    }

    /// Puts them into everything that is judged.
    pub(super) fn judged(&self, out: &mut Assessment) {
        out.judged_mut().for_each(|one| self.settle_judged(one.kind, one.about, one.judged));
        for pair in &mut out.rig_pairs {
            for j in [&mut pair.left, &mut pair.right, &mut pair.difference].into_iter().flatten() {
                let what = j.what.clone();
                self.settle_judged(K::Rigging, &what, j);
            }
        }
        for change in out.wings.iter_mut().flat_map(|w| &mut w.changes) {
            self.settle(K::Rigging, &change.change.what, &mut change.change.verdict);
        }
        if let Some(twist) = &mut out.twist {
            self.settle_finding(K::Setting, "setting", &mut twist.setting);
            self.settle_finding(K::Washout, "washout error", &mut twist.washout_error);
            twist.stations.iter_mut().for_each(|s| self.settle(K::Station, &s.name, &mut s.verdict));
            // One obligation covers all steps: what spoils it spoils each step.
            let steps = self.0.get(&(K::Neighbour, "steps")).copied();
            let spoilt =
                steps.filter(|v| !matches!(v, Verdict::Within | Verdict::Outside | Verdict::Undecided));
            if let Some(spoilt) = spoilt {
                twist.neighbours.iter_mut().for_each(|n| *verdict(&mut n.finding) = Some(spoilt));
            }
        }
    }

    /// Applies them to the points that are owed themselves: spot checks, and required points without a limit.
    pub(super) fn points(&self, out: &mut Assessment) {
        let unjudged = self.0.keys().any(|(kind, _)| *kind == K::Point);
        for p in &mut out.points {
            if p.point.kind().row().place == Place::Spot {
                self.settle(K::Spot, p.point.place(), &mut p.verdict);
            }
            if unjudged {
                self.settle(K::Point, &p.point.to_string(), &mut p.verdict);
            }
        }
    }
}

/// The worst of what the present stage must answer for; a stage that requires something nothing judges proves
/// nothing.
pub(super) fn of_stage<'g>(gates: impl Iterator<Item = &'g Gate>) -> Option<Verdict> {
    let answers = gates.flat_map(|gate| &gate.obligations).filter(|o| o.of_stage);
    answers.map(|o| o.state).max()
}

/// A stage is not within if nothing judges something it required.
pub(super) fn stages<'g>(plan: &Plan, gates: impl Iterator<Item = &'g Gate>, begun: &mut [StageView]) {
    let of_plan = |o: &&Obligation| o.kind == K::Point && o.state == Verdict::CannotJudge;
    let all = gates.flat_map(|gate| &gate.obligations).filter(of_plan);
    let unjudged: BTreeSet<&str> = all.map(|o| o.about.as_str()).collect();
    for stage in begun.iter_mut().filter(|_| !unjudged.is_empty()) {
        let required = plan.stage(&stage.name).into_iter().flat_map(|s| &s.requires);
        if let Some(verdict) = &mut stage.verdict
            && required.map(ToString::to_string).any(|point| unjudged.contains(point.as_str()))
        {
            *verdict = Verdict::CannotJudge.max(*verdict);
        }
    }
}

const fn verdict(found: &mut Finding) -> &mut Option<Verdict> {
    match found {
        Finding::Judged(judged) => &mut judged.verdict,
        Finding::Not(not) => &mut not.verdict,
    }
}
