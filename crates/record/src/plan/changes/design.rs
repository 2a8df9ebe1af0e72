//! Where a new plan makes other values of the same readings: what did not pass by the old one may pass by the new one.

use super::found::{Found, Sides, key};
use crate::plan::{Plan, Station};

/// The most names that are listed; the rest is counted.
const LISTED: usize = 4;

/// What readings are compared with, or how a value follows from them, as far as the old plan judges that value.
pub fn keys(old: &Plan, new: &Plan, found: &mut Found) {
    let t = &old.tolerances;
    let twist = t.setting.is_some() || t.washout.is_some() || t.station.is_some() || t.neighbour.is_some();
    let clearance = old.shaft.as_ref().is_some_and(|shaft| shaft.clearance.is_some());
    let mut other = |what: &str, judged: bool, names: Vec<&str>| {
        if !judged || names.is_empty() {
            return;
        }
        let listed = names.iter().take(LISTED).copied().collect::<Vec<_>>().join(", ");
        let more = names.len().saturating_sub(LISTED);
        let of = if more > 0 { format!("{listed} and {more} more") } else { listed };
        let sides = Sides { old: "as it was".to_owned(), new: Some(format!("another for {of}")) };
        found.insert(what.to_owned(), Some(sides));
    };
    let moved = |a: &Station, b: &Station| a.span != b.span;
    let turned = |a: &Station, b: &Station| {
        (a.incidence, a.fixture, a.height_angle) != (b.incidence, b.fixture, b.height_angle)
    };
    let stations = |differ: &dyn Fn(&Station, &Station) -> bool| {
        let of = |a: &&Station| new.station(&a.name).is_some_and(|b| differ(a, b));
        old.stations.iter().filter(of).map(|s| s.name.as_str()).collect::<Vec<_>>()
    };
    other("design angle", twist, stations(&turned));
    let (moved, gone) = (stations(&moved), old.stations.iter().any(|s| new.station(&s.name).is_none()));
    // A datum that the plan does not give goes with its station.
    let datum = moved.is_empty() && !gone && (old.wing.root, old.wing.tip) != (new.wing.root, new.wing.tip);
    other("root or tip datum", twist, if datum { vec!["the wing"] } else { Vec::new() });
    other("design place", twist || t.spacing.is_some(), moved);
    let spars = old.spars.iter().filter(|a| new.spars.iter().any(|b| a.name == b.name && *a != b));
    other("place of a spar", twist, spars.map(|s| s.name.as_str()).collect());
    let lines = old.lines.iter().filter(|a| !new.lines.contains(a));
    other("line along a spar", t.straightness.is_some(), lines.map(|l| l.spar.as_str()).collect());
    let bays = old.bays.iter().filter(|a| new.bays.iter().any(|b| a.name == b.name && *a != b));
    other("sides of a bay", t.square.is_some(), bays.map(|b| b.name.as_str()).collect());
    let bushes =
        old.bushes.iter().filter(|a| new.bushes.iter().any(|b| a.name == b.name && a.span != b.span));
    other("place of a bush", clearance, bushes.map(|b| b.name.as_str()).collect());
    if let (Some(before), Some(after)) = (&old.shaft, &new.shaft)
        && clearance
        && after.diameter < before.diameter
    {
        key(found, "shaft.diameter");
    }
}
