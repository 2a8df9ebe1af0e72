//! What changed between two profiles, and whether it is more than measurement.
//!
//! The ribs are the same in both: their scatter about the curve counts only where the two curves weigh them
//! differently.

use super::{Curve, Fitted, ProfileFit};
use crate::conformity::LEVEL;
use crate::view::{Change, Changes, Finding, PartChange, PreviousStation, PreviousTwist, ValueU};
use numerics::mixture::Mixture;
use numerics::scatter::Variance;
use quantity::shown::K95;
use record::plan::Plan;
use std::collections::BTreeMap;

/// Significance of a change, over all stations together.
pub(crate) const ALPHA: f64 = 0.05;

/// Changes from `then` to `now`; a part or a station without a value in one of them is left out.
pub fn changes(plan: &Plan, since: &str, then: &ProfileFit, now: &ProfileFit) -> Changes {
    let mut out =
        Changes { since: since.to_owned(), parts: Vec::new(), stations: Vec::new(), station_alpha: ALPHA };
    let (Some(was), Some(is)) = (&then.curve, &now.curve) else { return out };
    let then_places: BTreeMap<usize, usize> =
        then.stations.iter().enumerate().map(|(j, s)| (s.index, j)).collect();
    let common: Vec<Option<usize>> =
        now.stations.iter().map(|s| then_places.get(&s.index).copied()).collect();
    let setting = ("setting", now.setting(), then.setting(), &is.setting, &was.setting);
    let washout = ("washout error", now.washout_error(), then.washout_error(), &is.washout, &was.washout);
    for (part, a, b, w, v) in [setting, washout] {
        let (Some(a), Some(b)) = (a, b) else { continue };
        let known = |p: &ProfileFit, weights: &[f64]| p.covariance.uncertainty_of(weights).powi(2);
        let (now, then) = ((now, is, known(now, w)), (then, was, known(then, v)));
        let error = error(now, then, ribs(w, v, &common));
        let change = a.value - b.value;
        let p = error.two_sided(change);
        let u = error.half_width(LEVEL) / K95;
        out.parts.push(PartChange {
            part: part.to_owned(),
            change_deg: change,
            u_deg: u,
            p,
            real: p < ALPHA,
        });
    }
    let (Some(errors_now), Some(errors_then)) = (now.twist_errors(), then.twist_errors()) else { return out };
    let alpha = ALPHA / common.iter().flatten().count().max(1) as f64;
    out.station_alpha = alpha;
    // The rib itself is the same in both and cancels; the ribs only enter through the two settings.
    let ribs = ribs(&is.setting, &was.setting, &common);
    let (known_now, known_then) = (now.less_setting(&is.setting), then.less_setting(&was.setting));
    for (i, j) in common.into_iter().enumerate().filter_map(|(i, j)| Some((i, j?))) {
        let Some(station) = now.stations.get(i).and_then(|s| plan.stations.get(s.index)) else { continue };
        let change = errors_now[i].value - errors_then[j].value;
        let error = error((now, is, known_now[i]), (then, was, known_then[j]), ribs);
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

/// The effect of a unit of variance of every rib on the difference of two combinations; `common` gives, for each rib
/// of the first, its position in the second.
fn ribs(now: &[f64], then: &[f64], common: &[Option<usize>]) -> f64 {
    let mut only_then = then.to_vec();
    let mut sum = 0.0;
    for (a, j) in now.iter().zip(common) {
        let b = j.and_then(|j| only_then.get_mut(j)).map_or(0.0, std::mem::take);
        sum += (a - b) * (a - b);
    }
    sum + only_then.iter().map(|b| b * b).sum::<f64>()
}

/// A profile, its curve, and the variance from its readings.
type Side<'a> = (&'a ProfileFit, &'a Curve, f64);

fn error(now: Side<'_>, then: Side<'_>, ribs: f64) -> Mixture {
    let readings = |(profile, curve, known): Side<'_>, ribs: f64| {
        curve.scatter.error(Variance { known, per_tau2: ribs, cause: profile.cause(curve) })
    };
    readings(now, ribs).plus(&readings(then, 0.0))
}

/// An earlier profile, to draw behind the present one.
pub fn previous(plan: &Plan, stage: &str, then: &Fitted) -> PreviousTwist {
    let brief = then.brief(plan);
    let part = |found: &Finding| match found {
        Finding::Judged(judged) => Some(ValueU { value: judged.value, u: judged.u }),
        Finding::Not(_) => None,
    };
    let stations = then.fit.stations.iter().filter_map(|s| {
        let view = brief.stations.get(s.index)?;
        Some(PreviousStation {
            span_mm: view.span_mm,
            twist_error_deg: view.twist_error_deg?,
            u_deg: view.u_deg?,
        })
    });
    PreviousTwist {
        stage: stage.to_owned(),
        setting: part(&brief.setting),
        washout_error: part(&brief.washout_error),
        stations: stations.collect(),
    }
}
