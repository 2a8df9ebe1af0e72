//! Instruments, moves, withdrawals, open things and sign-offs as views.

use crate::history::Fold;
use crate::parts::Values;
use crate::view::{InstrumentView, MoveView, OpenItemView, SignView, WithdrawnView};
use record::signoff::Seal;
use std::collections::BTreeMap;

pub(super) fn open_items(fold: &Fold<'_>) -> Vec<OpenItemView> {
    fold.open
        .iter()
        .map(|o| OpenItemView {
            item: o.item.clone(),
            action: o.action,
            reason: o.reason.clone(),
            stage: o.stage.clone(),
        })
        .collect()
}

pub(super) fn moves(fold: &Fold<'_>) -> Vec<MoveView> {
    fold.moves
        .iter()
        .map(|(entry, at, by, made)| MoveView {
            entry: *entry,
            at: at.to_string(),
            by: by.clone(),
            support: made.support.clone(),
            amount_mm: made.amount.value(),
            text: made.text.clone(),
        })
        .collect()
}

pub(super) fn withdrawn(fold: &Fold<'_>) -> Vec<WithdrawnView> {
    fold.withdrawals
        .iter()
        .map(|(entry, w)| WithdrawnView {
            entry,
            what: w.what.clone(),
            at: w.at.to_string(),
            by: w.by.clone(),
            reason: w.reason.clone(),
        })
        .collect()
}

pub(super) fn signatures(fold: &Fold<'_>) -> Vec<SignView> {
    fold.sign_offs.all().iter().map(|one| SignView::of(&fold.sign_offs, one)).collect()
}

/// What speaks against the log's signatures, in words: why the record does not hold.
pub(super) fn unsound_signatures(fold: &Fold<'_>) -> impl Iterator<Item = String> {
    fold.sign_offs.all().iter().filter(|s| !s.seal.is_sound()).map(|s| {
        let who = &s.signed.who;
        let entry = s.entry;
        match (s.seal, s.copy_of) {
            (Seal::Copy, Some(of)) => {
                format!("entry {entry} is a copy of the sign-off in entry {of}, not one by {who}")
            }
            (Seal::Gone, _) => format!("the signature of {who} in entry {entry} is missing; a key was used"),
            _ => format!("the signature of {who} in entry {entry} does not fit; the sign-off was changed"),
        }
    })
}

/// The instruments whose readings are in use, and those known to the plan or the log.
pub(super) fn instruments(fold: &Fold<'_>, values: &Values) -> Vec<InstrumentView> {
    let mut counts: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for (point, measured) in values {
        let Some(freshness) = fold.points.get(point) else { continue };
        for used in &freshness.used {
            let Some(name) = used.reading.instrument.as_deref() else { continue };
            let count = counts.entry(name).or_default();
            count.0 += 1;
            count.1 += usize::from(measured.past_due);
        }
    }
    fold.instruments
        .values()
        .map(|i| {
            let (readings, past_due) = counts.get(i.name.as_str()).copied().unwrap_or_default();
            InstrumentView {
                name: i.name.clone(),
                number: i.number.clone(),
                unit: i.kind.quantity(),
                resolution: i.resolution,
                accuracy: i.accuracy,
                repeatability: i.repeatability,
                checked: i.checked.as_ref().map(ToString::to_string),
                due: i.due.as_ref().map(ToString::to_string),
                readings,
                past_due,
            }
        })
        .collect()
}
