//! The closing gate with every reason.

use super::{paint, wrap};
use shop::assess::view::Gate;
use shop::record::GateState;

/// Reasons listed unless all are asked for.
const MOST: usize = 12;

/// One line that can be read from across the shop.
pub fn headline(gate: &Gate) -> String {
    match gate.state {
        GateState::Clear => paint::good("GATE clear: nothing here stands against closing the skins"),
        GateState::Hold => {
            let n = gate.reasons.len();
            let reasons = if n == 1 { "1 reason".to_owned() } else { format!("{n} reasons") };
            paint::bad(&format!("GATE hold: leave the skins off, {reasons}"))
        }
    }
}

/// The reasons, weightiest first.
pub fn reasons(gate: &Gate, all: bool) -> Vec<String> {
    let most = if all { usize::MAX } else { MOST };
    let mut out: Vec<String> = gate.reasons.iter().take(most).map(|r| wrap::wrap("  - ", &r.words)).collect();
    if gate.reasons.len() > most {
        out.push(format!("  and {} more; --all lists them", gate.reasons.len() - most));
    }
    out
}
