//! Instruments, moves, withdrawals, open things and sign-offs as views.

use crate::history::Distrust;
use crate::history::Fold;
use crate::parts::Values;
use crate::view::{
    CheckView, EntryView, IdentityView, InstrumentView, MoveView, NoteView, OpenItemView, ReworkView,
    SignView, WithdrawnView,
};
use std::collections::BTreeMap;

/// When an entry was written, as its writer's clock showed it.
fn when(fold: &Fold<'_>, entry: u64) -> String {
    fold.written.entry(entry).map(|when| when.to_string()).unwrap_or_default()
}

/// Which wing it is.
pub(super) fn identity(of: &record::plan::Identity) -> IdentityView {
    let record::plan::Identity { serial, drawing, issue, place } = of.clone();
    IdentityView { serial, drawing, issue, place }
}

/// An entry that is no reading.
pub(super) fn entry(fold: &Fold<'_>, entry: u64) -> Option<EntryView> {
    let when = fold.written.entry(entry)?;
    let by = fold.written.by(entry).to_owned();
    Some(EntryView { entry, at: when.at.to_string(), when: when.to_string(), by })
}

/// The remarks.
pub(super) fn notes(fold: &Fold<'_>) -> Vec<NoteView> {
    let note =
        |n: &crate::history::Noted| Some(NoteView { written: entry(fold, n.seq)?, text: n.text.clone() });
    fold.notes.iter().filter_map(note).collect()
}

/// The replacements of the plan.
pub(super) fn replans(fold: &Fold<'_>) -> Vec<NoteView> {
    let one =
        |(seq, reason): &(u64, String)| Some(NoteView { written: entry(fold, *seq)?, text: reason.clone() });
    fold.replanned.iter().filter_map(one).collect()
}

pub(super) fn open_items(fold: &Fold<'_>) -> Vec<OpenItemView> {
    fold.open
        .iter()
        .map(|o| OpenItemView {
            entry: o.seq,
            when: when(fold, o.seq),
            by: fold.written.by(o.seq).to_owned(),
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
            when: when(fold, *entry),
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
            withdrawn_by: w.seq,
            at: w.at.to_string(),
            when: when(fold, w.seq),
            by: w.by.clone(),
            reason: w.reason.clone(),
        })
        .collect()
}

pub(super) fn signatures(fold: &Fold<'_>) -> Vec<SignView> {
    fold.sign_offs.all().iter().map(|one| SignView::of(&fold.sign_offs, one)).collect()
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

/// The day of the last check in the log that passed.
fn last_check(known: &crate::history::Known) -> Option<String> {
    known.checks.iter().rev().find(|c| c.check.passed).map(|c| c.at.date().to_string())
}

/// The checks made of instruments.
pub(super) fn checks(fold: &Fold<'_>) -> Vec<CheckView> {
    let made = fold.instruments.iter().flat_map(|(_, known)| &known.checks);
    let mut out: Vec<CheckView> = made
        .map(|c| CheckView {
            entry: c.seq,
            at: c.at.to_string(),
            when: when(fold, c.seq),
            by: c.by.clone(),
            instrument: c.check.instrument.clone(),
            method: c.check.method.clone(),
            found: c.check.found,
            u: c.check.u,
            passed: c.check.passed,
        })
        .collect();
    out.sort_by_key(|c| c.entry);
    out
}

/// The reworks.
pub(super) fn reworks(fold: &Fold<'_>) -> Vec<ReworkView> {
    let view = |(entry, at, by, r): &(u64, record::At, String, record::Rework)| ReworkView {
        entry: *entry,
        at: at.to_string(),
        when: when(fold, *entry),
        by: by.clone(),
        points: r.points.clone(),
        what: r.what.clone(),
    };
    fold.reworks.iter().map(view).collect()
}
