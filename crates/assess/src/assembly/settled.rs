//! One answer for each thing: what a view says of it is what its obligation says.
//!
//! A view says what the readings in use give; an obligation says whether that proves anything. A setting that fits the
//! stations still fresh is within its limits, and its obligation is stale. So each view takes the answer of its obligation,
//! and nothing shows `within` beside a gate that says it is not met.

use crate::history::Fold;
use crate::obligation::{Span, waiting};
use crate::view::{Assessment, Finding, Gate, ObligationKind as K, Verdict};
use record::Point;
use record::plan::Plan;
use record::point::Place;
use std::collections::{BTreeMap, BTreeSet};

/// The answers of a gate, by what they are about.
#[derive(Clone, Debug, Default)]
pub(super) struct Settled<'g>(BTreeMap<(K, &'g str), Verdict>);

impl<'g> Settled<'g> {
    /// Those of what is owed; after the decision to close it is the later stages that count.
    pub(super) fn of(closing: &'g Gate, after: Option<&'g Gate>) -> Self {
        let all = &after.unwrap_or(closing).obligations;
        Self(all.iter().map(|o| ((o.kind, o.about.as_str()), o.state.verdict())).collect())
    }

    fn settle(&self, kind: K, about: &str, verdict: &mut Option<Verdict>) {
        if let Some(owed) = self.0.get(&(kind, about)) {
            *verdict = Some(*owed);
        }
    }

    /// Puts them into everything that is judged.
    pub(super) fn judged(&self, out: &mut Assessment) {
        out.judged_mut().for_each(|one| self.settle(one.kind, one.about, &mut one.judged.verdict));
        for pair in &mut out.rig_pairs {
            for j in [&mut pair.left, &mut pair.right, &mut pair.difference].into_iter().flatten() {
                self.settle(K::Rigging, &j.what, &mut j.verdict);
            }
        }
        for change in out.wings.iter_mut().flat_map(|w| &mut w.changes) {
            self.settle(K::Rigging, &change.change.what, &mut change.change.verdict);
        }
        if let Some(twist) = &mut out.twist {
            self.settle(K::Setting, "setting", verdict(&mut twist.setting));
            self.settle(K::Washout, "washout error", verdict(&mut twist.washout_error));
            twist.stations.iter_mut().for_each(|s| self.settle(K::Station, &s.name, &mut s.verdict));
            // One obligation is for all steps: what spoils it spoils each.
            let steps = self.0.get(&(K::Neighbour, "steps")).copied();
            let spoilt =
                steps.filter(|v| !matches!(v, Verdict::Within | Verdict::Outside | Verdict::Undecided));
            if let Some(spoilt) = spoilt {
                twist.neighbours.iter_mut().for_each(|n| *verdict(&mut n.finding) = Some(spoilt));
            }
        }
    }

    /// Puts them into the points that are owed themselves: spot checks, and what is required without a limit.
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

    /// The worst of what rests on points that the present stage requires, once all its points are due: an angle whose fuselage
    /// is stale has no view.
    pub(super) fn of_stage(&self, plan: &Plan, fold: &Fold<'_>, out: &Assessment) -> Option<Verdict> {
        let later = waiting(plan, fold, Span::of_stage(plan, fold.stage));
        let required: BTreeSet<&Point> = out.points.iter().filter(|p| p.required).map(|p| &p.point).collect();
        let due = |points: &[Point]| {
            points.iter().any(|p| required.contains(p)) && !points.iter().any(|p| later.contains_key(p))
        };
        let checks = plan.rig_checks().into_iter().filter(|c| due(&c.points));
        checks.filter_map(|c| self.0.get(&(K::Rigging, c.name.as_str())).copied()).max()
    }
}

const fn verdict(found: &mut Finding) -> &mut Option<Verdict> {
    match found {
        Finding::Judged(judged) => &mut judged.verdict,
        Finding::Not(not) => &mut not.verdict,
    }
}
