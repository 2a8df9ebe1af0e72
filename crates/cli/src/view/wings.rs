//! Wings built in a jig, and the stages after the closing one.

use super::gate::{causes, mark};
use super::judged::line;
use super::wrap::{wrap, wrap_hang};
use assess::view::{Assessment, ObligationState, WingView};
use quantity::shown::{signed, significance};
use record::GateState;

/// What is known of each wing by its log, and its twist since the jig.
pub fn lines(a: &Assessment) -> Vec<String> {
    a.wings.iter().flat_map(wing).collect()
}

fn wing(w: &WingView) -> Vec<String> {
    let mut out = vec![wrap_hang(&format!("  {} ", mark(w.state)), "    ", &w.words)];
    if let Some(from) = w.changes.first().map(|c| &c.from) {
        out.push(wrap("    ", &format!("twist from {from}, last in the jig and now")));
    }
    for c in &w.changes {
        let decimals = c.change.with_u().decimals();
        out.push(line(&format!("    {}", c.station), &c.change));
        let says = if c.real { "more than measurement" } else { "no more than measurement" };
        let (jig, now) = (signed(c.jig_deg, decimals), signed(c.now_deg, decimals));
        out.push(format!("      {jig}° in the jig, {now}° now: {says} ({})", significance(c.p)));
    }
    out
}

/// The stages after the closing one.
pub fn after(a: &Assessment, all: bool) -> Vec<String> {
    let Some(gate) = &a.after else { return Vec::new() };
    let (met, of) = (gate.count(ObligationState::Met), gate.obligations.len());
    let says = match gate.state {
        GateState::Clear => "everything they ask for is proven",
        GateState::Hold => "not everything they ask for is proven",
    };
    let mut out =
        vec![wrap("  ", &format!("{says}: {met} of {of} met. The decision to close stays as it was"))];
    out.extend(causes(gate, all));
    out
}
