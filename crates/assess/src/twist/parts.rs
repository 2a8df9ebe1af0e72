//! Setting and washout error.

use super::decide;
use super::{Curve, ProfileFit};
use crate::judge::{Spread, judged_by};
use crate::resolve::sentence;
use crate::view::{Finding, NoValue, NotJudged, Verdict};
use numerics::gls::{change_row, deviation_row};
use numerics::scatter::Cause;
use quantity::{Degrees, Kind};
use record::Limits;
use record::plan::Plan;

/// A value and its error.
#[derive(Clone, Debug)]
pub(super) struct Valued {
    pub value: f64,
    pub spread: Spread,
}

impl ProfileFit {
    /// The setting: the curve at the root datum. `None` if the curve does not reach it.
    pub(super) fn setting(&self) -> Option<Valued> {
        let curve = self.curve.as_ref().filter(|c| c.reach.root)?;
        let value = curve.fit.value(&deviation_row(curve.fit.order, 0.0));
        Some(Valued { value, spread: self.of_curve(curve, &curve.setting) })
    }

    /// The washout error: the curve at the tip datum less the curve at the root datum. `None` if it does not reach
    /// both.
    pub(super) fn washout_error(&self) -> Option<Valued> {
        let curve = self.curve.as_ref().filter(|c| c.reach.root && c.reach.tip)?;
        let value = curve.fit.value(&change_row(curve.fit.order, 1.0));
        Some(Valued { value, spread: self.of_curve(curve, &curve.washout) })
    }

    fn of_curve(&self, curve: &Curve, weights: &[f64]) -> Spread {
        self.spread(&curve.scatter, weights, weights, Cause::Things)
    }

    pub(super) fn setting_finding(&self, plan: &Plan) -> Finding {
        let mut found = self.part(plan, "setting", self.setting(), plan.tolerances.setting);
        if let Finding::Judged(judged) = &mut found
            && self.rounds.moved()
            && !self.rounds.reversed
            && judged.verdict.is_some()
        {
            judged.verdict = Some(Verdict::Undecided);
            judged.decide = Some(
                "all stations moved together between the rounds: the level's zero or the wing; turn the level end for end"
                    .to_owned(),
            );
        }
        found
    }

    pub(super) fn washout_finding(&self, plan: &Plan) -> Finding {
        self.part(plan, "washout error", self.washout_error(), plan.tolerances.washout)
    }

    fn part(
        &self,
        plan: &Plan,
        what: &str,
        found: Option<Valued>,
        limits: Option<Limits<Degrees>>,
    ) -> Finding {
        let limits = limits.map(Limits::values);
        let Some(found) = found else {
            return Finding::Not(NotJudged::of(what, limits, self.unreached(plan)));
        };
        let mut judged = judged_by(plan, what, Kind::Angle, found.value, &found.spread.error(), limits);
        judged.spread = Some(found.spread);
        Finding::Judged(judged)
    }

    /// Adds what would decide a part with these weights, if it is undecided and nothing is said yet.
    pub(super) fn decide_part(&self, plan: &Plan, found: &mut Finding, weights: fn(&Curve) -> &[f64]) {
        let (Finding::Judged(judged), Some(curve)) = (found, &self.curve) else { return };
        if judged.verdict == Some(Verdict::Undecided) && judged.decide.is_none() {
            let weights = weights(curve);
            let limits = Limits { lower: judged.lower, upper: judged.upper };
            let ways = decide::ways(self, curve, weights, weights, Cause::Things);
            judged.decide = Some(sentence(plan, Kind::Angle, judged.value, judged.u, limits, &ways));
        }
    }

    /// Why there is no value.
    pub(super) fn unreached(&self, plan: &Plan) -> NoValue {
        let Some(curve) = &self.curve else {
            return if self.stations.len() == 2 { NoValue::TwoStations } else { NoValue::NoCurve };
        };
        let of = |i: Option<&usize>| i.and_then(|i| self.stations.get(*i)).map(|s| s.index);
        let (first, last) = (of(curve.fitted.first()), of(curve.fitted.last()));
        let beyond: Vec<&str> = plan
            .stations
            .iter()
            .enumerate()
            .filter(|(i, _)| {
                (!curve.reach.root && first.is_some_and(|f| *i < f))
                    || (!curve.reach.tip && last.is_some_and(|l| *i > l))
            })
            .map(|(_, s)| s.name.as_str())
            .collect();
        match beyond.as_slice() {
            [] if curve.reach.root => NoValue::NoTip,
            [] => NoValue::NoRoot,
            [only] => NoValue::Station((*only).to_owned()),
            [from, .., to] => NoValue::Stations { from: (*from).to_owned(), to: (*to).to_owned() },
        }
    }
}

impl NotJudged {
    pub(crate) fn of(what: &str, limits: Option<Limits<f64>>, why: NoValue) -> Self {
        Self {
            what: what.to_owned(),
            unit: Kind::Angle,
            value: None,
            u: None,
            lower95: None,
            upper95: None,
            lower: limits.and_then(|l| l.lower),
            upper: limits.and_then(|l| l.upper),
            verdict: limits.map(|_| why.verdict()),
            why,
        }
    }
}
