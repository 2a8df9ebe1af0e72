//! Entries after the decision to close: they are shown beside the decision and never change it.

use crate::view::{Assessment, DecisionView, Doubt, DoubtKind, EntryView, Gate};
use record::plan::Plan;
use record::{Entry, GateState, What};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// How many entries the decision depends on; `None` until a stage after the closing one of the plan in force has begun, and again
/// `None` once the build goes back to the closing stage or one before it: then the wing is open again and must be decided again.
pub fn decided(plan: &Plan, entries: &[Entry]) -> Option<usize> {
    let withdrawn = record::Withdrawn::of(entries);
    let mut in_force = plan_then(plan, entries, 1);
    let mut decided = None;
    for (i, entry) in entries.iter().enumerate() {
        match &entry.what {
            What::Replanned { .. } => in_force = plan_then(plan, entries, i + 1),
            What::Stage(begun) if !withdrawn.contains(entry.seq) => {
                match in_force.stage_place(&begun.name) {
                    // A stage that the plan does not have does not say where the build is.
                    None => {}
                    place if place > in_force.closing_place() => decided = decided.or(Some(i)),
                    Some(_) => decided = None,
                }
            }
            _ => {}
        }
    }
    decided
}

/// The entries that the decision depends on, with what was found out about them later: withdrawals, checks of instruments, a second
/// start, sign-offs. `None` if nothing was found out.
pub fn known_since(entries: &[Entry], decided: usize) -> Option<Vec<Entry>> {
    let (then, since) = entries.split_at_checked(decided)?;
    let tells = |e: &&Entry| {
        matches!(
            e.what,
            What::Withdrawn { .. } | What::InstrumentCheck(_) | What::Started { .. } | What::Signed(_)
        )
    };
    let told: Vec<&Entry> = since.iter().filter(tells).collect();
    (!told.is_empty()).then(|| then.iter().chain(told).cloned().collect())
}

/// The plan in force after the first `count` entries; `now` if the log never had another.
pub fn plan_then<'p>(now: &'p Plan, entries: &[Entry], count: usize) -> Cow<'p, Plan> {
    if !entries.iter().any(|e| matches!(e.what, What::Replanned { .. })) {
        return Cow::Borrowed(now);
    }
    let then = entries.iter().take(count).filter_map(|e| e.what.plan()).next_back();
    then.and_then(|text| Plan::parse_logged(text).ok())
        .map_or(Cow::Borrowed(now), |then| Cow::Owned(Plan { shown_in: now.shown_in, ..then }))
}

/// The gate as it was when the closing was decided.
pub struct Decided {
    /// By what was known then.
    pub then: Gate,
    /// By what was found out later about the entries it depends on.
    pub by_now: Gate,
}

/// Replaces today's decision by the decision as it was, and says how today's differs.
pub fn freeze(out: &mut Assessment, gates: Decided, plan: &Plan, entries: &[Entry], decided: usize) {
    let Decided { then: gate, by_now } = gates;
    let last = decided.checked_sub(1).and_then(|i| entries.get(i));
    let began = entries.get(decided).map(|e| &e.what);
    if let (Some(last), Some(What::Stage(begun))) = (last, began) {
        let (at, when) = (last.at.to_string(), last.when().to_string());
        out.decision = Some(DecisionView {
            on: EntryView { entry: last.seq, at, when, by: last.by.clone() },
            stage: plan.closing_stage().map_or_else(String::new, |s| s.name.clone()),
            before: begun.name.clone(),
            now: by_now.state,
            by_now: by_now.clone(),
        });
    }
    let seq = last.map_or(0, |e| e.seq);
    let mut say = |words: String| out.doubts.push(Doubt { kind: DoubtKind::Later, words });
    if gate.state == GateState::Clear && by_now.state == GateState::Hold {
        for reason in &by_now.reasons {
            let why = &reason.words;
            say(format!("the decision of entry {seq} does not stand by what is known since: {why}"));
        }
    }
    if gate.state != out.gate.state {
        let (then, now) = (gate.state.word(), out.gate.state.word());
        say(format!("the decision is that of entry {seq}: {then}; with the later entries it would be {now}"));
    }
    let then: BTreeMap<_, _> = gate.obligations.iter().map(|o| ((o.kind, &o.about), o.state)).collect();
    for now in &out.gate.obligations {
        if then.get(&(now.kind, &now.about)).is_some_and(|then| *then != now.state) {
            say(format!("since the decision: {}", now.words));
        }
    }
    out.gate = gate;
}
