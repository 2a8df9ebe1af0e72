//! What an inspector looks for: doubts, open items, moves, withdrawals, sign-offs.

use super::wrap::wrap;
use assess::view::{Assessment, WithdrawnView};
use quantity::shown::count;
use quantity::{Kind, Units};
use record::{Entry, OpenAction, What, Withdrawn};

/// Open items that were not closed.
pub fn open(a: &Assessment) -> Vec<String> {
    a.open_items
        .iter()
        .filter(|o| o.action != OpenAction::Closed)
        .map(|o| {
            let did = if o.action == OpenAction::Carried { "carried past" } else { "open" };
            let why = o.reason.as_ref().map(|r| format!(" ({r})")).unwrap_or_default();
            wrap("  - ", &format!("{}: {did}{why}", o.item))
        })
        .collect()
}

/// Doubts, and withdrawals with their reasons. Slips that their writer withdrew immediately are only named by their
/// entries: nothing was judged by them.
pub fn doubts(a: &Assessment, entries: &[Entry]) -> Vec<String> {
    let (slips, others): (Vec<_>, Vec<_>) = a.withdrawn.iter().partition(|w| is_slip(w, entries));
    let withdrawn = others
        .into_iter()
        .map(|w| format!("entry {} ({}) was withdrawn by {}: {}", w.entry, w.what, w.by, w.reason));
    let slips = (!slips.is_empty()).then(|| {
        let slipped = count(slips.len(), "slip was", "slips were");
        let entry = if slips.len() == 1 { "entry" } else { "entries" };
        let numbers: Vec<String> = slips.iter().map(|w| w.entry.to_string()).collect();
        format!("{slipped} withdrawn at once by the one who typed it: {entry} {}", named(&numbers))
    });
    let all = a.doubts.iter().map(|d| d.words.clone()).chain(withdrawn).chain(slips);
    all.map(|words| wrap("  - ", &words)).collect()
}

/// The most entries named.
const NAMED: usize = 6;

/// The first few numbers, and where the rest are.
fn named(numbers: &[String]) -> String {
    match numbers.get(..NAMED) {
        Some(first) if numbers.len() > NAMED => {
            format!("{} and {} more, which jigtrue entries lists", first.join(", "), numbers.len() - NAMED)
        }
        _ => numbers.join(", "),
    }
}

/// A withdrawal after more entries than this is not an immediate correction.
const AT_ONCE: u64 = 4;
/// The same in milliseconds: ten minutes.
const AT_ONCE_MS: i64 = 600_000;

/// A reading or remark that the same person withdrew within minutes and a few entries.
fn is_slip(withdrawn: &WithdrawnView, entries: &[Entry]) -> bool {
    let Some(typed) = entries.iter().find(|e| e.seq == withdrawn.entry) else { return false };
    let by = entries.iter().rev().find(|e| matches!(e.what, What::Withdrawn { seq, .. } if seq == typed.seq));
    let Some(by) = by else { return false };
    let simple = matches!(typed.what, What::Reading(_) | What::Note { .. });
    let soon =
        by.seq - typed.seq <= AT_ONCE && (0..=AT_ONCE_MS).contains(&(by.at.millis() - typed.at.millis()));
    simple && soon && by.by == typed.by
}

pub fn notes(entries: &[Entry]) -> Vec<String> {
    let note = |e: &Entry| match &e.what {
        What::Note { text } => {
            Some(wrap("  - ", &format!("entry {}, {} by {}: {text}", e.seq, e.when(), e.by)))
        }
        _ => None,
    };
    Withdrawn::others(entries).filter_map(note).collect()
}

pub fn signatures(a: &Assessment) -> Vec<String> {
    a.signatures
        .iter()
        .map(|s| {
            let text = format!(
                "entry {}, {}: {}, {}: \"{}\" (gate {}, {}; {}); {}",
                s.entry,
                s.when,
                s.who,
                s.capacity,
                s.statement,
                s.gate.word(),
                count(s.entries, "entry", "entries"),
                s.seal_words(),
                s.since_words()
            );
            wrap("  - ", &text)
        })
        .collect()
}

/// What the plan changed, old and new.
pub fn plan_changes(a: &Assessment) -> Vec<String> {
    a.plan_changes.iter().map(|c| wrap("  - ", &format!("entry {}: {}", c.entry, c.words()))).collect()
}

/// What was measured but cannot be judged.
pub fn unjudged(a: &Assessment) -> Vec<String> {
    a.unjudged.iter().map(|u| wrap("  - ", &format!("{}: {}", u.judged_by, u.why))).collect()
}

/// Zeros of instruments found by reversal.
pub fn zeros(a: &Assessment, units: Units) -> Vec<String> {
    let last = a.zeros.iter().map(|z| z.round).max();
    a.zeros
        .iter()
        .filter(|z| z.moved || Some(z.round) == last)
        .map(|z| {
            let moved = if z.moved { "; it moved within the round" } else { "" };
            wrap(
                "  ",
                &format!(
                    "zero of {} by reversal, round {}: {} from {}{moved}",
                    z.instrument,
                    z.round,
                    units.with_u(Kind::Angle, z.zero_deg, z.u_deg).signed_with(),
                    count(z.pairs, "pair", "pairs")
                ),
            )
        })
        .collect()
}
