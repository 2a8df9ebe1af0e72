//! Wings built in a jig, and the stages after the closing one.

use super::Listed;
use super::gate::{causes, mark};
use super::judged::line;
use super::wrap::{wrap, wrap_hang};
use assess::view::{Assessment, Verdict, WingView};
use quantity::shown::significance;
use quantity::{Kind, Units};
use record::GateState;

/// What each wing's log says, and its twist since the jig.
pub fn lines(a: &Assessment, units: Units) -> Vec<String> {
    a.wings.iter().flat_map(|w| wing(w, units)).collect()
}

fn wing(w: &WingView, units: Units) -> Vec<String> {
    let angle = units.scale(Kind::Angle);
    let mut out = vec![wrap_hang(&format!("  {} ", mark(w.state)), "    ", &w.words)];
    if let Some(from) = w.changes.first().map(|c| &c.from) {
        out.push(wrap("    ", &format!("twist from {from}, last in the jig and now")));
    }
    for c in &w.changes {
        let decimals = c.change.with_u().decimals();
        out.push(line(&format!("    {}", c.station), &c.change));
        let says = if c.real { "more than measurement" } else { "no more than measurement" };
        let shown = |deg| angle.with(&angle.signed(deg, decimals));
        let (jig, now) = (shown(c.jig_deg), shown(c.now_deg));
        out.push(format!("      {jig} in the jig, {now} now: {says} ({})", significance(c.p)));
    }
    out
}

/// The stages after the closing one.
pub fn after(a: &Assessment, listed: Listed) -> Vec<String> {
    let Some(gate) = &a.after else { return Vec::new() };
    let (met, of) = (gate.count(Verdict::Within), gate.obligations.len());
    let says = match gate.state {
        GateState::Clear => "everything they ask for is proven",
        GateState::Hold => "not everything they ask for is proven",
    };
    let mut out =
        vec![wrap("  ", &format!("{says}: {met} of {of} met. The decision to close stays as it was"))];
    out.extend(causes(gate, listed));
    out
}
