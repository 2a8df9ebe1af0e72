//! What each stage did to the twist of one wing: the profile before it less the profile after it, if nothing else was
//! moved or worked on in between.

use crate::assembly::{fit_of, fresh};
use crate::estimate::Estimate;
use crate::history::Fold;
use crate::twist::{self, ProfileFit};
use record::plan::Plan;
use serde::Serialize;

/// What changed.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case", tag = "what", content = "station")]
pub enum Moved {
    /// The rigid part of the deviation.
    Setting,
    WashoutError,
    /// A station, relative to the middle one.
    Station(String),
}

/// A change during a stage, or during several between which the twist was not measured.
#[derive(Clone, Debug, PartialEq)]
pub struct StageChange {
    /// The stages, as they began.
    pub during: Vec<String>,
    /// What changed.
    pub what: Moved,
    /// By how much, after less before, in degrees.
    pub change_deg: f64,
    /// Its standard uncertainty.
    pub u_deg: f64,
}

/// Every change of a wing, oldest first.
pub fn changes(plan: &Plan, fold: &Fold<'_>) -> Vec<StageChange> {
    let mut rounds: Vec<(u64, ProfileFit)> =
        fold.profiles.iter().filter_map(|p| Some((p.ended_by, fit_of(plan, p.points.iter())?))).collect();
    rounds.extend(fit_of(plan, fresh(fold)).map(|now| (u64::MAX, now)));
    let mut out = Vec::new();
    for pair in rounds.windows(2) {
        let [(from, before), (to, after)] = pair else { continue };
        let between = |seq: u64| seq >= *from && seq < *to;
        let during: Vec<String> =
            fold.visits.iter().filter(|v| between(v.begun.seq)).map(|v| v.begun.what.name.clone()).collect();
        let moved = fold.moves.iter().any(|m| between(m.seq)) || fold.reworks.iter().any(|r| between(r.seq));
        if during.is_empty() || moved {
            continue;
        }
        let mut put = |what, change_deg, u_deg| {
            out.push(StageChange { during: during.clone(), what, change_deg, u_deg });
        };
        for part in &twist::changes(plan, "", before, after).parts {
            let what = if part.part == "setting" { Moved::Setting } else { Moved::WashoutError };
            put(what, part.change_deg, part.u_deg);
        }
        for (index, change) in of_stations(before, after) {
            let Some(station) = plan.stations.get(index) else { continue };
            put(Moved::Station(station.name.clone()), change.value, change.own);
        }
    }
    out
}

/// Fewer stations than this have no middle one.
const FEWEST: usize = 3;

/// The change of each station measured both times, by position in the plan, less that of the middle one: what all
/// stations do together is the wing's setting, and a creeping rib does not move it.
fn of_stations(before: &ProfileFit, after: &ProfileFit) -> Vec<(usize, Estimate)> {
    let mut all: Vec<(usize, Estimate)> = after
        .stations
        .iter()
        .filter_map(|now| {
            let then = before.stations.iter().find(|then| then.index == now.index)?;
            let (now_is, then_was) = (&now.incidence.estimate, &then.incidence.estimate);
            let change = now_is.value - then_was.value;
            Some((now.index, Estimate::propagate(change, &[(1.0, now_is), (-1.0, then_was)])))
        })
        .collect();
    let mut sorted: Vec<f64> = all.iter().map(|(_, change)| change.value).collect();
    sorted.sort_by(f64::total_cmp);
    let n = sorted.len();
    if n < FEWEST {
        return vec![];
    }
    let middle = f64::midpoint(sorted[(n - 1) / 2], sorted[n / 2]);
    all.iter_mut().for_each(|(_, change)| change.value -= middle);
    all
}
