//! A wing built in a jig: its log was taken up, and it was cleared and signed for this wing.

use super::judged::{Known, own};
use super::met::{Discharge, Shortfall};
use crate::view::ObligationKind as K;

/// The result for a wing of the plan.
pub fn taken_up(known: &Known<'_>, name: &str) -> Discharge {
    let about = || known.plan.rigging.wings.iter().find(|w| w.name == name).map(record::plan::RigWing::about);
    let cause = own(K::Rigging, &about().unwrap_or_else(|| name.to_owned()));
    let Some(wing) = known.wings.iter().find(|w| w.name == name) else {
        let words = format!("{name}: nothing is known about it");
        return Discharge::unmet(Shortfall::MISSING, words, Vec::new(), cause, None);
    };
    let (entries, words) = (wing.taken.iter().map(|t| t.on.entry).collect(), wing.words.clone());
    match Shortfall::of(wing.state) {
        None => Discharge::met(entries, words),
        Some(state) => Discharge::unmet(state, words, entries, cause, wing.settles.clone()),
    }
}
