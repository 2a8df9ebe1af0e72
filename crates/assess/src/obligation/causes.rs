//! Why the gate holds: one line for each cause, worst first.

use super::LookedUp;
use super::met::{Answer, Cause, Discharge, Unmet};
use super::owed::Owed;
use crate::view::{ObligationKind as K, Reason, ReasonKind, Verdict};
use record::plan::Plan;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// An obligation that is not met, and why.
type Held<'f> = (&'f Owed, &'f Unmet);

/// The reasons to hold, worst first; equal ones in order of how much they hold up, then in the order of the board.
pub fn reasons(plan: &Plan, looked_up: &LookedUp<'_>, found: &[(Owed, Discharge)]) -> Vec<Reason> {
    let mut groups: Vec<(&Cause, Vec<Held<'_>>)> = Vec::new();
    let mut places: BTreeMap<&Cause, usize> = BTreeMap::new();
    for (owed, discharge) in found {
        let Answer::Unmet(unmet) = &discharge.answer else { continue };
        let place = *places.entry(&unmet.cause).or_insert_with(|| {
            groups.push((&unmet.cause, Vec::new()));
            groups.len() - 1
        });
        groups[place].1.push((owed, unmet));
    }
    let mut reasons: Vec<Reason> =
        groups.iter().map(|(cause, held)| reason(plan, looked_up, cause, held)).collect();
    reasons.sort_by_key(|r| (r.kind.place(), Reverse(r.obligations)));
    reasons
}

fn reason(plan: &Plan, looked_up: &LookedUp<'_>, cause: &Cause, held: &[Held<'_>]) -> Reason {
    let worst = held.iter().map(|(_, unmet)| unmet.state.verdict()).max().unwrap_or(Verdict::Doubtful);
    let (head, rest) = head_and_rest(cause, held);
    let kind = match cause {
        Cause::Record(_) => ReasonKind::Chain,
        Cause::Stage(_) => ReasonKind::Stage,
        Cause::Open => ReasonKind::Open,
        Cause::Doubt { .. } | Cause::Disturbed(_) | Cause::NotMeasured(_) | Cause::Own(_) => {
            ReasonKind::Unmet(worst)
        }
    };
    let others = list(plan, &rest);
    let words = match cause {
        Cause::Record(_) | Cause::Own(_) => {
            let words = head.map_or_else(String::new, |(_, unmet)| unmet.words.clone());
            if rest.is_empty() { words } else { format!("{words}; {others} with it") }
        }
        Cause::Stage(stage) if rest.is_empty() => format!("{stage} is not begun"),
        Cause::Stage(stage) => format!("{stage} is not begun; waiting for it: {others}"),
        Cause::Doubt { words, .. } if rest.is_empty() => words.clone(),
        Cause::Doubt { words, .. } => format!("{words}: {others}"),
        Cause::Disturbed(by) => format!("measured before {by}: {others}"),
        Cause::NotMeasured(_) => format!("not measured: {others}"),
        Cause::Open => {
            let items = held.iter().map(|(_, unmet)| unmet.words.trim_start_matches("left open: "));
            format!("left open: {}", items.collect::<Vec<_>>().join("; "))
        }
    };
    let judged = match (cause, head, held) {
        (Cause::Own(_), Some((owed, _)), _) | (_, None, [(owed, _)]) => Some(owed),
        _ => None,
    };
    let limits = || held.iter().map(|(owed, _)| looked_up.limit(owed));
    let limit = match judged {
        Some(owed) => looked_up.limit(owed),
        None => limits().next().flatten().filter(|first| limits().all(|l| l.as_ref() == Some(first))),
    };
    let finding = judged.and_then(|owed| looked_up.findings.get(owed.kind, &owed.about));
    Reason {
        kind,
        state: worst,
        what: what(cause, head, &words, &others),
        found: finding.and_then(|f| f.found.clone()),
        limit,
        about: Some(about(cause, head, held)),
        words,
        cause: cause.name(),
        obligations: held.len(),
        settles: head.or(held.first()).and_then(|(_, unmet)| unmet.settles.clone()),
    }
}

/// What a cause concerns, for a line with value and limit beside it.
fn what(cause: &Cause, head: Option<&Held<'_>>, words: &str, others: &str) -> String {
    match (cause, head) {
        (Cause::Own(_), Some((owed, _))) if others.is_empty() => owed.kind.of(&owed.about),
        (Cause::Own(_), Some((owed, _))) => format!("{}; {others} with it", owed.kind.of(&owed.about)),
        (Cause::Disturbed(_) | Cause::NotMeasured(_), _) => others.to_owned(),
        (Cause::Record(_) | Cause::Stage(_) | Cause::Doubt { .. } | Cause::Open | Cause::Own(_), _) => {
            words.to_owned()
        }
    }
}

/// The obligation that is itself the cause, if any, and those that hold because of it.
fn head_and_rest<'h, 'f>(cause: &Cause, held: &'h [Held<'f>]) -> (Option<&'h Held<'f>>, Vec<&'h Held<'f>>) {
    let is_head = |h: &&Held<'_>| match cause {
        Cause::Record(what) => h.0.kind == K::Record && h.0.about == *what,
        Cause::Stage(stage) => h.0.kind == K::Stage && h.0.about == *stage,
        Cause::Doubt { .. } => h.0.kind == K::Instrument,
        Cause::Own(what) => h.0.kind == what.kind && h.0.about == what.about,
        Cause::Disturbed(_) | Cause::NotMeasured(_) | Cause::Open => false,
    };
    let place = held.iter().position(|h| is_head(&h));
    let place = place.or(match cause {
        Cause::Record(_) | Cause::Own(_) if !held.is_empty() => Some(0),
        _ => None,
    });
    let rest = held.iter().enumerate().filter(|(i, _)| Some(*i) != place).map(|(_, h)| h).collect();
    (place.and_then(|i| held.get(i)), rest)
}

fn about(cause: &Cause, head: Option<&Held<'_>>, held: &[Held<'_>]) -> String {
    match (cause, head) {
        (_, Some((owed, _))) => owed.about.clone(),
        (Cause::Stage(stage), None) => stage.clone(),
        (Cause::Doubt { name, .. }, None) => name.clone(),
        (_, None) => held.first().map_or_else(String::new, |(owed, _)| owed.about.clone()),
    }
}

/// `S4 to S9, setting, level of tip-post`: names that are consecutive in the plan as a range.
fn list(plan: &Plan, held: &[&Held<'_>]) -> String {
    let mut parts: Vec<String> = Vec::new();
    for kind in K::ALL {
        let names: Vec<&str> = held.iter().filter(|h| h.0.kind == kind).map(|h| h.0.about.as_str()).collect();
        if names.is_empty() {
            continue;
        }
        let order: Vec<&str> = match kind {
            K::Station | K::Spacing => plan.stations.iter().map(|s| s.name.as_str()).collect(),
            K::Spot => plan.spots.iter().map(|s| s.name.as_str()).collect(),
            K::Point => Vec::new(),
            _ => {
                parts.extend(names.iter().map(|n| kind.of(n)));
                continue;
            }
        };
        parts.push(kind.of(&ranges(&order, &names)));
    }
    parts.join(", ")
}

/// Names, with three or more consecutive ones as `S4 to S9`.
fn ranges(order: &[&str], names: &[&str]) -> String {
    let places: BTreeMap<&str, usize> = order.iter().enumerate().map(|(i, o)| (*o, i)).collect();
    let place = |name: &str| places.get(name).copied();
    let mut runs: Vec<Vec<&str>> = Vec::new();
    for name in names {
        match runs.last_mut() {
            Some(run)
                if run.last().and_then(|last| place(last)).is_some_and(|i| place(name) == Some(i + 1)) =>
            {
                run.push(name);
            }
            _ => runs.push(vec![name]),
        }
    }
    let words = runs.iter().flat_map(|run| match run.as_slice() {
        [first, _, .., last] => vec![format!("{first} to {last}")],
        few => few.iter().map(|name| (*name).to_owned()).collect(),
    });
    words.collect::<Vec<_>>().join(", ")
}
