//! Which readings of the work in progress still count beside the next one.

use super::rounds::Rounds;
use record::{Entry, Plan, Point, Reading, What, Withdrawn};
use std::collections::BTreeSet;

#[derive(Clone, Copy, Debug)]
pub(crate) struct Standing<'e> {
    pub(crate) entry: &'e Entry,
    pub(crate) reading: &'e Reading,
}

/// The readings, oldest first, that were neither withdrawn nor made stale since by a stage, a move, or work on them.
pub(crate) fn standing<'e, I>(plan: &Plan, entries: I) -> Vec<Standing<'e>>
where
    I: IntoIterator<Item = &'e Entry, IntoIter: DoubleEndedIterator + Clone>,
{
    let entries = entries.into_iter();
    let withdrawn = Withdrawn::of(entries.clone());
    let mut out: Vec<Standing<'e>> = Vec::new();
    for entry in entries.filter(|e| !withdrawn.contains(e.seq)) {
        match &entry.what {
            What::Reading(reading) => out.push(Standing { entry, reading }),
            What::Rework(rework) => {
                let stale: BTreeSet<Point> = plan.staled_by(&rework.points).into_iter().collect();
                out.retain(|s| !stale.contains(&s.reading.point));
            }
            other if Rounds::ends(other) => out.clear(),
            _ => {}
        }
    }
    out
}

/// The last of them that pairs with a reading: of the same point, round and instrument, with the opposite facing.
pub(crate) fn other_half<'e>(standing: &[Standing<'e>], reading: &Reading) -> Option<&'e Entry> {
    let turned = reading.facing?.turned();
    let is_half = |r: &Reading| {
        r.point == reading.point
            && r.round == reading.round
            && r.instrument == reading.instrument
            && r.facing == Some(turned)
    };
    standing.iter().rev().find(|s| is_half(s.reading)).map(|s| s.entry)
}
