//! What differs between two plans, and which differences are looser.
//!
//! Every key is compared as it is written, so that no key can be forgotten here; what a key means is judged apart, and only
//! to say whether the new plan asks for less.

mod found;
mod instruments;
mod looser;
mod rigging;
mod written;

pub use instruments::claims;

use super::Plan;
use found::Sides;
use std::collections::BTreeSet;
use std::fmt;

/// A key whose value is not the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanChange {
    /// The key, as `tolerance.station` or `station.S7.span`.
    pub key: String,
    /// Its value in the old plan as written; `None` where it was not there.
    pub old: Option<String>,
    /// Its value in the new plan.
    pub new: Option<String>,
    /// True where the new plan asks for less by it.
    pub looser: bool,
}

impl fmt::Display for PlanChange {
    /// `tolerance.station 0.25 -> 0.30`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let side = |value: &Option<String>| value.clone().unwrap_or_else(|| "not there".to_owned());
        write!(f, "{} {} -> {}", self.key, side(&self.old), side(&self.new))
    }
}

impl PlanChange {
    /// The words under which a loosened key is left open until it is carried past: `looser: tolerance.station 0.25 -> 0.30`.
    #[must_use]
    pub fn open_item(&self) -> String {
        format!("looser: {self}")
    }
}

/// Everything in which the text of a plan differs from another's, by key. Both are plans that can be read.
#[must_use]
pub fn changes(old: &PlanText<'_>, new: &PlanText<'_>) -> Vec<PlanChange> {
    let (before, after) = (written::keys(old.text), written::keys(new.text));
    let looser = looser::keys(old.plan, new.plan);
    let keys: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let mut all: Vec<PlanChange> = keys
        .into_iter()
        .filter(|key| before.get(*key) != after.get(*key))
        .map(|key| PlanChange {
            key: key.clone(),
            old: before.get(key).map(|value| written::short(value)),
            new: after.get(key).map(|value| written::short(value)),
            looser: looser.contains_key(key),
        })
        .collect();
    // What is looser by a key that is not written itself, as a stage that is gone with all its keys.
    for (key, sides) in looser {
        if all.iter().any(|change| change.key == key) {
            continue;
        }
        let sides = sides.unwrap_or(Sides { old: "as it was".to_owned(), new: Some("less".to_owned()) });
        all.push(PlanChange { key, old: Some(sides.old), new: sides.new, looser: true });
    }
    all
}

/// A plan with the text it was read from.
#[derive(Clone, Copy, Debug)]
pub struct PlanText<'a> {
    pub text: &'a str,
    /// What it means.
    pub plan: &'a Plan,
}
