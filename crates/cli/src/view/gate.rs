//! The closing gate with every reason.

use super::{paint, wrap};
use assess::view::{Gate, Reason, ReasonKind};
use quantity::shown::count;
use record::GateState;

/// Reasons listed unless all are asked for.
const MOST: usize = 12;
/// Up to this many of one kind get a line each.
const FEW: usize = 3;
/// At most this many are named where they share a line.
const NAMED: usize = 6;

/// One line that can be read from across the room.
pub fn headline(gate: &Gate) -> String {
    match gate.state {
        GateState::Clear => paint::good("GATE clear: nothing here prevents closing the skins"),
        GateState::Hold => {
            let reasons = count(gate.reasons.len() as u64, "reason", "reasons");
            paint::bad(&format!("GATE hold: leave the skins off, {reasons}"))
        }
    }
}

/// The reasons, weightiest first; many of one sort on one line unless all are asked for.
pub fn reasons(gate: &Gate, all: bool) -> Vec<String> {
    if all {
        return gate.reasons.iter().map(|r| wrap::wrap("  - ", &r.words)).collect();
    }
    let mut out = Vec::new();
    let mut listed = 0;
    for same in gate.reasons.chunk_by(|a, b| a.kind == b.kind) {
        match grouped(same) {
            Some(words) => {
                out.push(wrap::wrap("  - ", &words));
                listed += same.len();
            }
            None => {
                let room = MOST.saturating_sub(out.len()).max(1);
                out.extend(same.iter().take(room).map(|r| wrap::wrap("  - ", &r.words)));
                listed += same.len().min(room);
            }
        }
    }
    if listed < gate.reasons.len() {
        out.push(format!("  and {} more; --all lists them", gate.reasons.len() - listed));
    }
    out
}

/// One sentence for many readings that are missing or stale.
fn grouped(same: &[Reason]) -> Option<String> {
    let first = same.first().filter(|_| same.len() > FEW)?;
    let n = same.len();
    let named: Vec<&str> = same.iter().filter_map(|r| r.about.as_deref()).take(NAMED).collect();
    let more = if n > named.len() { format!(" and {} more", n - named.len()) } else { String::new() };
    let names = format!("{}{more}", named.join(", "));
    match first.kind {
        ReasonKind::Missing => Some(format!("{n} required points have no reading: {names}")),
        ReasonKind::Stale => {
            Some(format!("{n} required readings are stale: {names}. The first: {}", first.words))
        }
        _ => None,
    }
}
