//! From the log to what can be learned from it: moves, and the profile before and after them.

use super::live::observation;
use super::observed::{Event, Observation, Seen, Turned};
use super::steps::hand_mm;
use crate::assembly::{fresh, stations_of};
use crate::estimate::{Estimate, Shared};
use crate::history::Fold;
use crate::twist::StationValue;
use record::plan::Plan;
use record::{Entry, What};
use std::collections::{BTreeMap, BTreeSet};

/// Everything the log teaches about the supports: rounds before and after moves, and what a level on a station showed
/// of a single move. Rounds with a stage between them teach nothing, nor do rounds between which a foot or something
/// unknown to the plan was moved.
pub fn events(plan: &Plan, entries: &[Entry], fold: &Fold<'_>) -> Vec<Event> {
    let stages: Vec<u64> = entries
        .iter()
        .filter(|e| matches!(e.what, What::Stage(_)) && !fold.withdrawals.contains(e.seq))
        .map(|e| e.seq)
        .collect();
    let ended = fold.profiles.iter().filter_map(|p| Some((p.ended_by, stations_of(plan, p.points.iter())?)));
    let now = stations_of(plan, fresh(fold)).map(|now| (u64::MAX, now));
    let rounds: Vec<(u64, Profile)> = ended.chain(now).map(|(by, all)| (by, profile(all))).collect();
    let mut out: Vec<(u64, Event)> = fold
        .moves
        .iter()
        .filter_map(|m| Some((m.seq, Event::Observed(observation(plan, &m.what)?))))
        .collect();
    for pair in rounds.windows(2) {
        let [(from, before), (to, after)] = pair else { continue };
        let between = |seq: u64| seq >= *from && seq < *to;
        if let Some(stage) = stages.iter().find(|s| between(**s)) {
            out.push((*stage, Event::Stage));
            continue;
        }
        let moves = moves_between(plan, fold, &between);
        let seen = moves.map(|moves| compare(plan, moves, before, after));
        let seen = seen.filter(|o| !o.moves.is_empty() && o.stations.len() >= 2);
        out.extend(seen.map(|o| (*to, Event::Observed(o))));
    }
    out.sort_by_key(|(seq, _)| *seq);
    out.into_iter().map(|(_, event)| event).collect()
}

/// Deviations of the stations of a profile, by position in the plan.
type Profile = BTreeMap<usize, Estimate>;

fn profile(stations: Vec<StationValue>) -> Profile {
    stations.into_iter().map(|s| (s.index, s.incidence.estimate)).collect()
}

/// Sums of the moves of each support; `None` if something with an unknown effect was moved.
fn moves_between(plan: &Plan, fold: &Fold<'_>, between: &impl Fn(u64) -> bool) -> Option<Vec<Turned>> {
    let mut sums: BTreeMap<usize, Turned> = BTreeMap::new();
    for made in fold.moves.iter().filter(|m| between(m.seq)).map(|m| &m.what) {
        let support = plan.supports.iter().position(|s| s.name == made.support)?;
        let by_hand = hand_mm(&plan.supports[support]);
        let u_mm = made.u().map_or(by_hand, |u| u.value().max(by_hand));
        let sum = sums.entry(support).or_insert(Turned { support, mm: 0.0, u_mm: 0.0 });
        sum.mm += made.amount.value();
        sum.u_mm = libm::hypot(sum.u_mm, u_mm);
    }
    Some(sums.into_values().filter(|t| t.mm != 0.0).collect())
}

fn compare(plan: &Plan, moves: Vec<Turned>, before: &Profile, after: &Profile) -> Observation {
    let mut stations = Vec::new();
    let mut changes = Vec::new();
    for (index, now) in after {
        let (Some(then), Some(station)) = (before.get(index), plan.stations.get(*index)) else { continue };
        let change = Estimate::propagate(now.value - then.value, &[(1.0, now), (-1.0, then)]);
        stations.push(Seen { span_mm: station.span.value(), change_deg: change.value, own_deg: change.own });
        changes.push(change);
    }
    let errors: BTreeSet<&Shared> = changes.iter().flat_map(|c| c.shared.keys()).collect();
    let part = |e: &&Shared| changes.iter().map(|c| c.shared.get(*e).copied().unwrap_or(0.0)).collect();
    let shared = errors.iter().map(part).collect();
    Observation { moves, stations, shared }
}
