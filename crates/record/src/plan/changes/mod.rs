//! What differs between two plans, and which differences are looser.
//!
//! Every key is compared as written, so that none can be forgotten. What a key means is judged separately, and only
//! to decide whether the new plan demands less.

mod design;
mod found;
mod instruments;
mod looser;
mod rigging;
mod written;

pub use instruments::claims;

use super::Plan;
use found::Sides;
use serde::Serialize;
use std::collections::BTreeSet;
use std::fmt;

/// A key whose value changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PlanChange {
    /// The key, as `tolerance.station` or `station.S7.span`.
    pub key: String,
    /// Its value in the old plan, as written; `None` if it was not there.
    pub old: Option<String>,
    /// Its value in the new plan.
    pub new: Option<String>,
    /// Whether the new plan demands less by this key.
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
    /// The text of the open item for a loosened key, open until it is carried past: `looser: tolerance.station 0.25
    /// -> 0.30`.
    #[must_use]
    pub fn open_item(&self) -> String {
        format!("looser: {self}")
    }
}

/// All differences between the texts of two plans, by key. Both plans must be readable.
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
    // Looser changes whose key is not written itself, such as a stage that is gone with all its keys.
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
    /// The plan it describes.
    pub plan: &'a Plan,
}
