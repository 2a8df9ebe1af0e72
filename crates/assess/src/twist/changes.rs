//! What changed between two profiles, and whether it is more than measurement.
//!
//! The ribs are the same in both: their scatter about the curve counts only as far as the two curves weigh them differently.

use super::parts::Valued;
use super::{Curve, ProfileFit};
use crate::judge::LEVEL;
use crate::view::{Change, Changes, PartChange, PreviousStation, PreviousTwist, ValueU};
use numerics::mixture::Mixture;
use numerics::scatter::Variance;
use quantity::shown::K95;
use record::plan::Plan;

/// Significance of a change, over all stations together.
pub(crate) const ALPHA: f64 = 0.05;

/// Changes from `then` to `now`; a part or a station that has no value in one of them is not among them.
pub fn changes(plan: &Plan, since: &str, then: &ProfileFit, now: &ProfileFit) -> Changes {
    let mut out =
        Changes { since: since.to_owned(), parts: Vec::new(), stations: Vec::new(), station_alpha: ALPHA };
    let (Some(was), Some(is)) = (&then.curve, &now.curve) else { return out };
    let of = |c: &Curve, at: Part| if at == Part::Setting { c.setting.clone() } else { c.washout.clone() };
    for at in [Part::Setting, Part::Washout] {
        let value = |p: &ProfileFit| if at == Part::Setting { p.setting() } else { p.washout_error() };
        let (Some(a), Some(b)) = (value(now), value(then)) else { continue };
        let error = error((now, is, &of(is, at)), (then, was, &of(was, at)));
        let change = a.value - b.value;
        let p = error.two_sided(change);
        let u = error.half_width(LEVEL) / K95;
        let part = if at == Part::Setting { "setting" } else { "washout error" }.to_owned();
        out.parts.push(PartChange { part, change_deg: change, u_deg: u, p, real: p < ALPHA });
    }
    let (Some(errors_now), Some(errors_then)) = (now.twist_errors(), then.twist_errors()) else { return out };
    let common: Vec<(usize, usize)> = (0..now.stations.len())
        .filter_map(|i| {
            let index = now.stations.get(i)?.index;
            Some((i, then.stations.iter().position(|t| t.index == index)?))
        })
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "a few stations")]
    let alpha = ALPHA / common.len().max(1) as f64;
    out.station_alpha = alpha;
    let less = |c: &Curve, i: usize| -> Vec<f64> {
        let mut weights: Vec<f64> = c.setting.iter().map(|w| -w).collect();
        weights[i] += 1.0;
        weights
    };
    for (i, j) in common {
        let Some(station) = now.stations.get(i).and_then(|s| plan.stations.get(s.index)) else { continue };
        let change = errors_now[i].value - errors_then[j].value;
        let error = error((now, is, &less(is, i)), (then, was, &less(was, j)));
        let p = error.two_sided(change);
        out.stations.push(Change {
            name: station.name.clone(),
            span_mm: station.span.value(),
            change_deg: change,
            u_deg: error.half_width(LEVEL) / K95,
            p,
            real: p < alpha,
        });
    }
    out
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    Setting,
    Washout,
}

/// A profile, its curve, and weights of its measured stations.
type Side<'a> = (&'a ProfileFit, &'a Curve, &'a [f64]);

fn error(now: Side<'_>, then: Side<'_>) -> Mixture {
    let index = |side: Side<'_>, i: usize| side.0.stations.get(i).map(|s| s.index);
    let mut ribs = 0.0;
    for (i, a) in now.2.iter().enumerate() {
        let same = (0..then.2.len()).find(|j| index(then, *j) == index(now, i));
        let b = same.map_or(0.0, |j| then.2[j]);
        ribs += (a - b) * (a - b);
    }
    for (j, b) in then.2.iter().enumerate() {
        if !(0..now.2.len()).any(|i| index(now, i) == index(then, j)) {
            ribs += b * b;
        }
    }
    let readings = |(profile, curve, weights): Side<'_>, ribs: f64| {
        let u = profile.covariance.uncertainty_of(weights);
        curve.scatter.error(Variance { known: u * u, per_tau2: ribs, cause: profile.cause(curve) })
    };
    readings(now, ribs).plus(&readings(then, 0.0))
}

/// An earlier profile, to be drawn behind the present one.
pub fn previous(plan: &Plan, stage: &str, then: &ProfileFit) -> PreviousTwist {
    let u = |v: &Valued| v.spread.error().half_width(LEVEL) / K95;
    let part = |v: Option<Valued>| v.map(|v| ValueU { value: v.value, u: u(&v) });
    let errors = then.twist_errors().unwrap_or_default();
    PreviousTwist {
        stage: stage.to_owned(),
        setting: part(then.setting()),
        washout_error: part(then.washout_error()),
        stations: then
            .stations
            .iter()
            .zip(&errors)
            .filter_map(|(s, error)| {
                Some(PreviousStation {
                    span_mm: plan.stations.get(s.index)?.span.value(),
                    twist_error_deg: error.value,
                    u_deg: u(error),
                })
            })
            .collect(),
    }
}
