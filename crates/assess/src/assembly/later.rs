//! What came after the decision to close: it is told beside the decision and never changes it.

use crate::view::{Assessment, Doubt, DoubtKind, Gate};
use record::plan::Plan;
use record::{Entry, What};

/// How many entries the decision rests on; none before a stage after the closing one has begun.
pub fn decided(plan: &Plan, entries: &[Entry]) -> Option<usize> {
    let (closing, _) = plan.closing_stage()?;
    let withdrawn = record::Withdrawn::of(entries);
    entries.iter().position(|e| match &e.what {
        What::Stage(begun) => {
            !withdrawn.contains(e.seq) && plan.stage(&begun.name).is_some_and(|(i, _)| i > closing)
        }
        _ => false,
    })
}

/// Puts the decision as it was in place of today's, and says where today's differs.
pub fn freeze(out: &mut Assessment, gate: Gate, entries: &[Entry], decided: usize) {
    let seq = entries.get(decided).map_or(0, |e| e.seq);
    let mut say = |words: String| out.doubts.push(Doubt { kind: DoubtKind::Later, words });
    if gate.state != out.gate.state {
        say(format!(
            "the decision is that of entry {}: {}; what was entered later would give {}",
            seq.saturating_sub(1),
            gate.state.word(),
            out.gate.state.word()
        ));
    }
    for now in &out.gate.obligations {
        let then = gate.obligations.iter().find(|o| o.kind == now.kind && o.about == now.about);
        if then.is_some_and(|then| then.state != now.state) {
            say(format!("since the decision: {}", now.words));
        }
    }
    out.gate = gate;
}
