//! The loosened keys as they are found.

use crate::Limits;
use std::collections::BTreeMap;

/// What was loosened; with words for both sides where the key itself is not written in the plan.
#[derive(Clone, Debug, Default)]
pub struct Loosened {
    /// The values as a person would say them.
    pub sides: Option<Sides>,
}

/// Old and new.
#[derive(Clone, Debug)]
pub struct Sides {
    pub old: String,
    pub new: Option<String>,
}

/// The loosened keys, named as in a list of changes.
pub type Found = BTreeMap<String, Loosened>;

pub(super) fn key(found: &mut Found, key: impl Into<String>) {
    found.entry(key.into()).or_default();
}

/// Wider, or no longer there at all.
pub(super) fn wider(old: Option<Limits<f64>>, new: Option<Limits<f64>>) -> bool {
    let Some(old) = old else { return false };
    let Some(new) = new else { return true };
    let lower = old.lower.is_some_and(|o| new.lower.is_none_or(|n| n < o));
    let upper = old.upper.is_some_and(|o| new.upper.is_none_or(|n| n > o));
    lower || upper
}
