//! What makes two wings the same kind: side, attitude, datums, stations, spars, bushes, bays and shaft. Tolerances,
//! stages, instruments and the jig may differ.

use record::plan::{Adjust, Plan, RigValue};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// Every key that defines the kind, with its value in the plan.
pub fn geometry(plan: &Plan) -> BTreeMap<String, String> {
    let mut out = BTreeMap::new();
    let mut put = |key: String, text: String| _ = out.insert(key, text);
    put("wing.attitude".to_owned(), plan.wing.attitude.word().to_owned());
    put("wing.side".to_owned(), plan.wing.side.word().to_owned());
    put("wing.root".to_owned(), format!("{} mm", plan.wing.root.value()));
    put("wing.tip".to_owned(), format!("{} mm", plan.wing.tip.value()));
    for s in &plan.stations {
        put(format!("station.{}.span", s.name), format!("{} mm", s.span.value()));
        put(format!("station.{}.chord", s.name), format!("{} mm", s.chord.value()));
        put(format!("station.{}.incidence", s.name), format!("{}°", s.incidence.value()));
        put(format!("station.{}.height_angle", s.name), format!("{}°", s.height_angle.value()));
    }
    for s in &plan.spars {
        put(format!("spar.{}", s.name), format!("{} to {} mm aft", s.aft_root.value(), s.aft_tip.value()));
    }
    for b in &plan.bushes {
        put(format!("bush.{}", b.name), format!("{} mm at {} mm", b.bore.value(), b.span.value()));
    }
    for b in &plan.bays {
        put(format!("bay.{}", b.name), format!("{} by {} mm", b.a.value(), b.b.value()));
    }
    if let Some(shaft) = &plan.shaft {
        put(format!("shaft.{}", shaft.name), format!("{} mm", shaft.diameter.value()));
    }
    for spot in &plan.spots {
        put(format!("spot.{}", spot.name), spot.quantity.word().to_owned());
    }
    for check in plan.rig_checks() {
        let what = match check.value {
            RigValue::Deviation(nominal) => format!("{} mm", quantity::shown::fixed(nominal, 1)),
            _ => check.unit.word().to_owned(),
        };
        put(format!("rigging.{}", check.name), what);
    }
    out
}

/// A key in which two plans differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unlike {
    pub key: String,
    /// `None` if the plan has no such key.
    pub was: Option<String>,
    pub now: Option<String>,
}

impl fmt::Display for Unlike {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let side = |text: &Option<String>| text.clone().unwrap_or_else(|| "none".to_owned());
        write!(f, "{} {} -> {}", self.key, side(&self.was), side(&self.now))
    }
}

/// How a plan differs in kind from the first; empty if it does not.
pub fn differences(first: &Plan, other: &Plan) -> Vec<Unlike> {
    unlike(&geometry(first), &geometry(other))
}

/// The supports that move the twist, in plan order, each with its place and how it moves: stiffness is learned for
/// these.
pub fn jig(plan: &Plan) -> BTreeMap<String, String> {
    let of = |s: &record::plan::Support| {
        let adjust = match &s.adjust {
            Adjust::Screw { .. } => "screw",
            Adjust::Shims { .. } => "shims",
            Adjust::Fixed => "fixed",
        };
        (
            format!("support.{}", s.name),
            format!("{} at {} mm, {}, {adjust}", s.spar, s.span.value(), s.direction.word()),
        )
    };
    plan.supports.iter().map(of).collect()
}

/// The keys in which two of these lists differ.
pub fn unlike(was: &BTreeMap<String, String>, now: &BTreeMap<String, String>) -> Vec<Unlike> {
    let keys: BTreeSet<&String> = was.keys().chain(now.keys()).collect();
    keys.into_iter()
        .filter(|key| was.get(*key) != now.get(*key))
        .map(|key| Unlike { key: key.clone(), was: was.get(key).cloned(), now: now.get(key).cloned() })
        .collect()
}
