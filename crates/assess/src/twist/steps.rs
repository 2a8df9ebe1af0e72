//! The steps: the change of the deviation from each station to the next.

use super::ProfileFit;
use super::decide;
use crate::judge::{Spread, judged_by};
use crate::resolve::sentence;
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
        let step = |pair: &[usize]| {
            let [from, to] = [pair[0], pair[1]].map(|i| plan.stations[i].name.clone());
            let finding = self.step(plan, [&from, &to], [measured(pair[0]), measured(pair[1])]);
            StepView { from, to, finding }
        };
        listed.windows(2).map(step).collect()
    }

    /// From the station inboard to that outboard, each where it is measured.
    fn step(&self, plan: &Plan, [from, to]: [&String; 2], measured: [Option<usize>; 2]) -> Finding {
        let what = format!("change from {from} to {to}");
        let limits = plan.tolerances.neighbour.map(record::Limits::values);
        let missing =
            |name: &String| Finding::Not(NotJudged::of(&what, limits, NoValue::Station(name.clone())));
        let (inner, outer) = match measured {
            [Some(inner), Some(outer)] => (inner, outer),
            [None, Some(_)] => return missing(from),
            [_, None] => return missing(to),
        };
        let mut weights = vec![0.0; self.stations.len()];
        weights[inner] = -1.0;
        weights[outer] = 1.0;
        let value = self.stations[outer].deviation - self.stations[inner].deviation;
        let own = self.curve.as_ref().map_or(Cause::Things, |c| self.cause(c));
        let spread = match &self.curve {
            Some(curve) => self.spread(&curve.scatter, &weights, &[], own),
            None => Spread::normal(self.covariance.uncertainty_of(&weights)),
        };
        let mut judged = judged_by(plan, what, Kind::Angle, value, &spread.error(), limits);
        judged.spread = Some(spread);
        if let (Some(Verdict::Undecided), Some(limits)) = (judged.verdict, limits) {
            let of = |curve| decide::ways(self, curve, &weights, &[], own);
            let ways = self.curve.as_ref().map(of).unwrap_or_default();
            judged.decide = Some(sentence(plan, Kind::Angle, value, judged.u, limits, &ways));
        }
        Finding::Judged(judged)
    }
}
