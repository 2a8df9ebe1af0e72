//! What moves should bring nearer its design, and what they must not put outside.

use super::belief::Belief;
use super::local::{Deviation, Odd};
use super::rows::{Goal, Target};
use crate::view::{Finding, Judged, StationView, Twist, Verdict};
use record::Limits;
use record::plan::Plan;
use std::collections::BTreeMap;

/// The targets of a profile, and the ribs that supports cannot correct.
#[derive(Clone, Debug, Default)]
pub struct Targets {
    /// What is judged.
    pub targets: Vec<Target>,
    /// Stations that are odd by themselves and not within.
    pub odd: Vec<String>,
    /// Whether an odd station is still part of the profile's curve, which then represents no other station.
    pub hidden: bool,
}

/// Every limit of the setting, of the twist error at stations and tip, and of the steps between neighbours.
///
/// A station that is odd by itself is not aimed at, nor is a step to it; it is only kept from going outside.
pub fn targets(plan: &Plan, twist: &Twist, belief: &Belief) -> Targets {
    let measured: Vec<&StationView> = twist.stations.iter().filter(|s| s.deviation_deg.is_some()).collect();
    let deviation = |s: &&StationView| Deviation {
        eta: s.eta,
        deg: s.deviation_deg.unwrap_or(0.0),
        u_deg: s.measured_u_deg.unwrap_or(0.0),
    };
    let deviations: Vec<Deviation> = measured.iter().map(deviation).collect();
    let odd = Odd::among(&deviations);
    // If an odd rib is still in the curve, the profile's parts depend on it; use the parabola of the others instead.
    let hidden = odd.places.iter().any(|i| !measured[*i].stands_out);
    let spans: Vec<f64> = measured.iter().map(|s| s.span_mm).collect();
    let places = belief.field.places(plan, &spans);
    let ends = belief.field.places(plan, &[plan.wing.root.value(), plan.wing.tip.value()]);
    let [root, tip] = ends.as_slice() else { return Targets::default() };
    let mut targets = Vec::new();
    if !hidden {
        let part = |found: &Finding, way| found.judged().map(|j| of_judged(j, Goal::Aim, way));
        targets.extend(part(&twist.setting, belief.way(root)));
        targets.extend(part(&twist.washout_error, belief.way(&tip.less(root))));
    }
    let limits = plan.tolerances.station.map_or(Limits { lower: None, upper: None }, Limits::values);
    let is_odd = |i: usize| measured[i].stands_out || odd.places.contains(&i);
    for (i, (station, place)) in measured.iter().zip(&places).enumerate() {
        let (Some(value), Some(u)) = (station.twist_error_deg, station.u_deg) else { continue };
        let value = if hidden { deviations[i].deg - odd.at(0.0) } else { value };
        let goal = if is_odd(i) { Goal::Guard } else { Goal::Aim };
        let way = belief.way(&place.less(root));
        targets.push(Target::new(&station.name, value, u, limits, goal, way));
    }
    let by_name: BTreeMap<&str, usize> =
        measured.iter().enumerate().map(|(i, s)| (s.name.as_str(), i)).collect();
    let place = |name: &str| by_name.get(name).copied();
    for step in &twist.neighbours {
        let (Some(judged), Some(i), Some(j)) = (step.finding.judged(), place(&step.from), place(&step.to))
        else {
            continue;
        };
        let goal = if is_odd(i) || is_odd(j) { Goal::Guard } else { Goal::Aim };
        targets.push(of_judged(judged, goal, belief.way(&places[j].less(&places[i]))));
    }
    targets.retain(|t| !t.sides.is_empty());
    let named = |i: &usize| is_odd(*i) && measured[*i].verdict != Some(Verdict::Within);
    let odd = (0..measured.len()).filter(named).map(|i| measured[i].name.clone()).collect();
    Targets { targets, odd, hidden }
}

fn of_judged(judged: &Judged, goal: Goal, way: super::belief::Way) -> Target {
    let limits = Limits { lower: judged.lower, upper: judged.upper };
    Target::new(&judged.what, judged.value, judged.u, limits, goal, way)
}

/// The worst target aimed at now.
pub fn worst(targets: &[Target]) -> Option<&Target> {
    let aimed = targets.iter().filter(|t| t.goal == Goal::Aim);
    aimed.max_by(|a, b| a.now().total_cmp(&b.now()))
}

/// Expected largest ratio aimed at after moves.
pub fn largest_after(targets: &[Target], moves: &[f64]) -> f64 {
    let aimed = targets.iter().filter(|t| t.goal == Goal::Aim);
    aimed.map(|t| t.after(moves)).fold(f64::NEG_INFINITY, f64::max)
}
