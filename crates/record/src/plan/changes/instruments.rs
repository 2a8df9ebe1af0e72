//! What an instrument claims beyond what it claimed before, in a new plan or entered again.

use super::PlanChange;
use super::found::wider;
use crate::{Instrument, Limits};
use quantity::shown::significant;

/// The facts by which an instrument claims more than before under the same name, or by which its check expires later.
#[must_use]
pub fn claims(before: &Instrument, after: &Instrument) -> Vec<PlanChange> {
    let number = |n: Option<f64>| n.map(|n| significant(n, 4));
    let smaller = |old: Option<f64>, new: Option<f64>| old.is_some_and(|o| new.is_none_or(|n| n < o));
    let size = |key, old: Option<f64>, new: Option<f64>| Fact {
        key,
        looser: smaller(old, new),
        old: number(old),
        new: number(new),
    };
    let day = |day: &Option<crate::Date>| day.as_ref().map(ToString::to_string);
    let later = before.due.as_ref().is_some_and(|o| after.due.as_ref().is_none_or(|n| n > o));
    let other = |key, looser| Fact {
        key,
        looser,
        old: Some("as it was".to_owned()),
        new: Some("another".to_owned()),
    };
    let all = [
        size("resolution", Some(before.resolution), Some(after.resolution)),
        size("accuracy", before.accuracy, after.accuracy),
        size("repeatability", before.repeatability, after.repeatability),
        size("scale", before.scale, after.scale),
        Fact { key: "due", looser: later, old: day(&before.due), new: day(&after.due) },
        Fact {
            key: "range",
            looser: wider(before.range, after.range),
            old: before.range.map(range),
            new: after.range.map(range),
        },
        other("table", before.tables != after.tables && !before.tables.is_empty()),
        other("tape", before.tape.is_some() && before.tape != after.tape),
    ];
    let change = |Fact { key, old, new, .. }: Fact| {
        let key = format!("instrument.{}.{key}", before.name);
        PlanChange { key, old, new, looser: true }
    };
    all.into_iter().filter(|fact| fact.looser).map(change).collect()
}

struct Fact {
    key: &'static str,
    looser: bool,
    old: Option<String>,
    new: Option<String>,
}

fn range(Limits { lower, upper }: Limits<f64>) -> String {
    let end = |limit: Option<f64>| limit.map_or_else(|| "any".to_owned(), |l| significant(l, 4));
    format!("{} to {}", end(lower), end(upper))
}
