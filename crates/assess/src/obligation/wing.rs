//! A wing built in a jig: its log was taken up, and it was cleared and signed for this wing.

use super::judged::{Known, own};
use super::met::{Cause, Discharge, Evidence, Met, Shortfall, Unmet};
use crate::view::ObligationKind as K;

/// The result for a wing of the plan.
pub fn taken_up(known: &Known<'_>, name: &str) -> Discharge {
    let about = || known.plan.rigging.wings.iter().find(|w| w.name == name).map(record::plan::RigWing::about);
    let cause = || own(K::Rigging, &about().unwrap_or_else(|| name.to_owned()));
    let unmet = |state, words: String, entries: Vec<u64>, cause: Cause, settles| {
        Discharge::Unmet(Unmet { state, words, entries, cause, settles })
    };
    let Some(wing) = known.wings.iter().find(|w| w.name == name) else {
        return unmet(
            Shortfall::Missing,
            format!("{name}: nothing is known about it"),
            Vec::new(),
            cause(),
            None,
        );
    };
    let entries: Vec<u64> = wing.taken.iter().map(|t| t.on.entry).collect();
    match Shortfall::of(wing.state.verdict()) {
        None => Discharge::Met(Met::by(Evidence { entries, words: wing.words.clone() })),
        Some(state) => unmet(state, wing.words.clone(), entries, cause(), wing.settles.clone()),
    }
}
