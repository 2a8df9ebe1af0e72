//! The loosened keys found so far.

use crate::Limits;
use std::collections::BTreeMap;

/// Old and new value, as a person would write them.
#[derive(Clone, Debug)]
pub struct Sides {
    pub old: String,
    pub new: Option<String>,
}

/// The loosened keys, named as in a list of changes. Both sides are given if the key itself is not written in the
/// plan.
pub type Found = BTreeMap<String, Option<Sides>>;

pub(super) fn key(found: &mut Found, key: impl Into<String>) {
    found.entry(key.into()).or_default();
}

/// Wider, or no longer there.
pub(super) fn wider(old: Option<Limits<f64>>, new: Option<Limits<f64>>) -> bool {
    let Some(old) = old else { return false };
    let Some(new) = new else { return true };
    let lower = old.lower.is_some_and(|o| new.lower.is_none_or(|n| n < o));
    let upper = old.upper.is_some_and(|o| new.upper.is_none_or(|n| n > o));
    lower || upper
}
