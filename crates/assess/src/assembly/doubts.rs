//! What an inspector would distrust, said without being asked.

use super::zero_moved;
use crate::history::Fold;
use crate::parts::Values;
use crate::view::{Doubt, DoubtKind, ZeroView};
use record::OpenAction;
use record::plan::{Acceptance, Plan};
use std::collections::BTreeSet;

pub(super) fn doubts(plan: &Plan, fold: &Fold<'_>, values: &Values, zeros: &[ZeroView]) -> Vec<Doubt> {
    let mut out = Vec::new();
    let mut doubt = |kind, words: String| out.push(Doubt { kind, words });
    for seq in &fold.clock_back {
        doubt(DoubtKind::Clock, format!("entry {seq} is dated before the entry in front of it"));
    }
    for (seq, point) in &fold.unsettled {
        doubt(DoubtKind::Unsettled, format!("{point} was taken before it had settled (entry {seq})"));
    }
    let mut past_due = BTreeSet::new();
    let mut moved = BTreeSet::new();
    for (point, measured) in values {
        let Some(freshness) = fold.points.get(point) else { continue };
        if freshness.rounds > 1 {
            doubt(
                DoubtKind::Repeated,
                format!(
                    "{point} was measured in {} rounds of this stage with nothing moved between; the last one counts",
                    freshness.rounds
                ),
            );
        }
        let Some(last) = freshness.used.last() else { continue };
        let name = last.reading.instrument.as_deref();
        match name {
            None => doubt(
                DoubtKind::NoInstrument,
                format!("{point} names no instrument: only the step of the figure typed is counted"),
            ),
            Some(name) if !fold.instruments.contains_key(name) => doubt(
                DoubtKind::NoInstrument,
                format!("{point} was read with `{name}`, which the log knows nothing of"),
            ),
            Some(name) if measured.past_due => {
                past_due.insert(name);
            }
            Some(name) if zero_moved(zeros, Some(name), last.reading.round) => {
                moved.insert((name, last.reading.round));
            }
            Some(_) => {}
        }
    }
    for name in past_due {
        doubt(DoubtKind::PastDue, format!("`{name}` was used after its check ran out"));
    }
    for (name, round) in moved {
        doubt(DoubtKind::ZeroMoved, format!("the zero of `{name}` moved within round {round}"));
    }
    if plan.rule.acceptance == Acceptance::Simple {
        doubt(
            DoubtKind::Rule,
            "the plan asks for simple acceptance, which is looser than the default".to_owned(),
        );
    }
    for (seq, reason) in &fold.replanned {
        doubt(DoubtKind::Replanned, format!("the plan was replaced (entry {seq}): {reason}"));
    }
    for item in fold.open.iter().filter(|o| o.action == OpenAction::Carried) {
        let why = item.reason.as_deref().unwrap_or("no reason given");
        doubt(DoubtKind::Carried, format!("carried past the gate: {} ({why})", item.item));
    }
    out.sort_by_key(|d| d.kind);
    out
}
