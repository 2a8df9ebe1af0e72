//! Instruments, moves, withdrawals, open items and sign-offs as views.

use crate::history::{Distrust, Fold, OpenState, Withdrawal};
use crate::parts::Values;
use crate::view::{EntryView, InstrumentView, MoveView, OpenItemView, Told, WithdrawnView};
use record::{InstrumentCheck, Move, OpenItem};
use std::collections::BTreeMap;

pub(super) fn moved(made: &Move) -> MoveView {
    MoveView { support: made.support.clone(), amount_mm: made.amount.value(), text: made.text.clone() }
}

pub(super) fn open_items(fold: &Fold<'_>) -> Vec<OpenItemView> {
    let view = |open: &OpenState| {
        let OpenItem { item, action, reason } = open.last.what.clone();
        let EntryView { entry, when, by, .. } = (&open.last).into();
        OpenItemView { entry, when, by, item, action, reason, stage: open.stage.clone() }
    };
    fold.open.iter().map(view).collect()
}

pub(super) fn withdrawn(fold: &Fold<'_>) -> Vec<WithdrawnView> {
    let view = |(entry, w): (u64, &Withdrawal)| {
        let EntryView { entry: withdrawn_by, at, when, by } = (&w.reason).into();
        let (what, reason) = (w.withdrew.clone(), w.reason.what.clone());
        WithdrawnView { entry, what, withdrawn_by, at, when, by, reason }
    };
    fold.withdrawals.iter().map(view).collect()
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
            let past_due = |d: &Distrust| matches!(d, Distrust::PastDue(_));
            count.1 += usize::from(measured.doubts.iter().any(past_due));
        }
    }
    fold.instruments
        .iter()
        .filter_map(|(name, known)| Some((name, known, known.now()?)))
        .map(|(name, known, i)| {
            let (readings, past_due) = counts.get(name).copied().unwrap_or_default();
            InstrumentView {
                name: i.name.clone(),
                number: i.number.clone(),
                // A dial shows divisions, which have no unit.
                unit: i.kind.quantity().filter(|_| !i.shows_divisions()),
                resolution: i.resolution,
                accuracy: i.accuracy,
                repeatability: i.repeatability,
                checked: last_check(known).or_else(|| i.checked.as_ref().map(ToString::to_string)),
                due: i.due.as_ref().map(ToString::to_string),
                readings,
                past_due,
            }
        })
        .collect()
}

/// The day of the last passed check in the log.
fn last_check(known: &crate::history::Known) -> Option<String> {
    known.checks.iter().rev().find(|c| c.what.passed).map(|c| c.when.at.date().to_string())
}

/// The checks of instruments, oldest first.
pub(super) fn checks(fold: &Fold<'_>) -> Vec<Told<InstrumentCheck>> {
    let made = fold.instruments.iter().flat_map(|(_, known)| Told::all(&known.checks, Clone::clone));
    let mut out: Vec<_> = made.collect();
    out.sort_by_key(|c| c.on.entry);
    out
}
