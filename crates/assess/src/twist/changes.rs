//! What changed between two profiles, and whether it is more than measurement.

use super::ProfileFit;
use crate::view::{Change, Changes, PartChange, PreviousTwist, ValueU};
use numerics::dist;
use record::plan::Plan;

/// Family-wise significance of a change.
const ALPHA: f64 = 0.05;

/// Changes from `then` to `now`. Errors the two share (an instrument's scale) cancel as far as they do.
pub fn changes(plan: &Plan, since: &str, then: &ProfileFit, now: &ProfileFit) -> Changes {
    let common: Vec<(usize, usize)> = now
        .stations
        .iter()
        .enumerate()
        .filter_map(|(i, s)| Some((i, then.stations.iter().position(|t| t.index == s.index)?)))
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "a few stations")]
    let station_alpha = ALPHA / (common.len().max(1)) as f64;
    let (set_now, s_now) = now.setting();
    let (set_then, s_then) = then.setting();
    let (wash_now, w_now) = now.twist_error(1.0);
    let (wash_then, w_then) = then.twist_error(1.0);
    let (apart_now, apart_then) = (now.less_setting(), then.less_setting());
    let part = |name: &str, a: f64, b: f64, ua: f64, ub: f64| {
        let (change, u) = (a - b, libm::hypot(ua, ub));
        let p = two_sided(change, u, dof_of(now, then));
        PartChange { part: name.to_owned(), change_deg: change, u_deg: u, p, real: p < ALPHA }
    };
    Changes {
        since: since.to_owned(),
        parts: vec![
            part("setting", set_now, set_then, s_now.u, s_then.u),
            part("washout error", wash_now, wash_then, w_now.u, w_then.u),
        ],
        stations: common
            .iter()
            .filter_map(|&(i, j)| {
                let station = plan.stations.get(now.stations.get(i)?.index)?;
                let ((da, ua), (db, ub)) = (apart_now.get(i)?, apart_then.get(j)?);
                let (change, u) = (da - db, libm::hypot(*ua, *ub));
                let p = two_sided(change, u, dof_of(now, then));
                Some(Change {
                    name: station.name.clone(),
                    span_mm: station.span.value(),
                    change_deg: change,
                    u_deg: u,
                    p,
                    real: p < station_alpha,
                })
            })
            .collect(),
        station_alpha,
    }
}

fn dof_of(a: &ProfileFit, b: &ProfileFit) -> Option<f64> {
    match (a.choice.fit.coverage_dof(), b.choice.fit.coverage_dof()) {
        (Some(x), Some(y)) => Some(x.min(y)),
        (x, y) => x.or(y),
    }
}

/// Two-sided probability of a value this large by chance.
pub fn two_sided(value: f64, u: f64, dof: Option<f64>) -> f64 {
    if u <= 0.0 {
        return if value == 0.0 { 1.0 } else { 0.0 };
    }
    let z = (value / u).abs();
    2.0 * dof.map_or_else(|| dist::normal_sf(z), |d| dist::t_sf(z, d))
}

/// An earlier profile, to stand behind the present one.
pub fn previous(plan: &Plan, stage: &str, then: &ProfileFit) -> PreviousTwist {
    let (setting, s) = then.setting();
    let (washout, w) = then.twist_error(1.0);
    PreviousTwist {
        stage: stage.to_owned(),
        setting: ValueU { value: setting, u: s.u },
        washout_error: ValueU { value: washout, u: w.u },
        stations: then
            .stations
            .iter()
            .enumerate()
            .filter_map(|(i, s)| {
                let (error, spread) = then.station_twist_error(i)?;
                Some((plan.stations.get(s.index)?.span.value(), error, spread.u))
            })
            .collect(),
    }
}
