//! The steps: the change of the deviation from each station to the next.

use super::ProfileFit;
use super::decide::{self, Ways};
use super::spread::Combination;
use crate::judge::{Spread, judged_by};
use crate::view::{Finding, NoValue, NotJudged, StepView, Verdict};
use numerics::scatter::Cause;
use quantity::Kind;
use record::plan::Plan;
use std::collections::{BTreeMap, BTreeSet};

impl ProfileFit {
    /// From every measured or required station to the next one.
    pub(super) fn steps(&self, plan: &Plan, required: &BTreeSet<usize>) -> Vec<StepView> {
        let places: BTreeMap<usize, usize> =
            self.stations.iter().enumerate().map(|(i, s)| (s.index, i)).collect();
        let measured = |index: usize| places.get(&index).copied();
        let mut listed: Vec<usize> =
            (0..plan.stations.len()).filter(|i| required.contains(i) || measured(*i).is_some()).collect();
        let span = |i: &usize| plan.stations.get(*i).map_or(f64::NAN, |s| s.span.value());
        listed.sort_by(|a, b| span(a).total_cmp(&span(b)));
        let name = |i: Option<&usize>| {
            i.and_then(|i| plan.stations.get(*i)).map_or_else(String::new, |s| s.name.clone())
        };
        listed
            .windows(2)
            .map(|pair| StepView {
                from: name(pair.first()),
                to: name(pair.last()),
                finding: self.step(plan, pair, &measured),
            })
            .collect()
    }

    fn step(&self, plan: &Plan, pair: &[usize], measured: &impl Fn(usize) -> Option<usize>) -> Finding {
        let name =
            |at: usize| pair.get(at).and_then(|i| plan.stations.get(*i)).map_or("", |s| s.name.as_str());
        let what = format!("change from {} to {}", name(0), name(1));
        let limits = plan.tolerances.neighbour.map(record::Limits::values);
        let place = |at: usize| pair.get(at).and_then(|i| measured(*i));
        let missing =
            |at: usize| Finding::Not(NotJudged::of(&what, limits, NoValue::Station(name(at).to_owned())));
        let (inner, outer) = match (place(0), place(1)) {
            (Some(inner), Some(outer)) => (inner, outer),
            (None, Some(_)) => return missing(0),
            (_, None) => return missing(1),
        };
        let mut weights = vec![0.0; self.stations.len()];
        weights[inner] = -1.0;
        weights[outer] = 1.0;
        let value = self.stations[outer].deviation - self.stations[inner].deviation;
        let own = self.curve.as_ref().map_or(Cause::Things, |c| self.cause(c));
        let spread = match &self.curve {
            Some(curve) => {
                self.spread(&curve.scatter, &Combination { readings: &weights, ribs: &[], cause: own })
            }
            None => Spread::normal(self.covariance.uncertainty_of(&weights)),
        };
        let mut judged = judged_by(plan, what, Kind::Angle, value, &spread.error(), limits);
        judged.spread = Some(spread);
        if let (Some(Verdict::Undecided), Some(limits)) = (judged.verdict, limits) {
            let of = |curve| Ways::of(self, curve, &weights, &[], own);
            let ways = self.curve.as_ref().map_or_else(Ways::none, of);
            judged.decide = Some(decide::words(plan, value, judged.u, limits, &ways));
        }
        Finding::Judged(judged)
    }
}
