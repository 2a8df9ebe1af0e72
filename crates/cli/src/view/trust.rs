//! What an inspector looks for: doubts, things left open, moves, withdrawals, sign-offs.

use super::wrap::wrap;
use assess::view::Assessment;
use quantity::shown::{WithU, count};
use record::OpenAction;

/// Things left open that were not closed.
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

/// Doubts, and what was withdrawn, with the reasons.
pub fn doubts(a: &Assessment) -> Vec<String> {
    let withdrawn = a
        .withdrawn
        .iter()
        .map(|w| format!("entry {} ({}) was withdrawn by {}: {}", w.entry, w.what, w.by, w.reason));
    a.doubts.iter().map(|d| d.words.clone()).chain(withdrawn).map(|words| wrap("  - ", &words)).collect()
}

/// Who signed what.
pub fn signatures(a: &Assessment) -> Vec<String> {
    a.signatures
        .iter()
        .map(|s| {
            let text = format!(
                "entry {}, {}: {}, {}: \"{}\" (gate {}, {} entries; {}); {}",
                s.entry,
                s.when,
                s.who,
                s.capacity,
                s.statement,
                s.gate.word(),
                s.entries,
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

/// What was measured and cannot be judged.
pub fn unjudged(a: &Assessment) -> Vec<String> {
    a.unjudged.iter().map(|u| wrap("  - ", &format!("{}: {}", u.judged_by, u.why))).collect()
}

/// Zeros of instruments found by reversal.
pub fn zeros(a: &Assessment) -> Vec<String> {
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
                    WithU::of_u(z.zero_deg, z.u_deg).signed_with("deg"),
                    count(z.pairs as u64, "pair", "pairs")
                ),
            )
        })
        .collect()
}
