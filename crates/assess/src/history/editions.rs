//! The plans a log had, and what changed from one to the next.

use record::plan::{Plan, PlanChange as Change, PlanText, changes};
use record::{Entry, What};
use serde::Serialize;

/// A plan that replaced another.
#[derive(Clone, Debug, PartialEq)]
pub struct Edition {
    /// The entry that brought it.
    pub seq: u64,
    pub plan: Plan,
    pub changes: Vec<PlanChange>,
}

/// Every plan of a log that had more than one.
#[derive(Clone, Debug, PartialEq)]
pub struct Editions {
    /// The plan it began with.
    pub first: Plan,
    /// Those that replaced it, in order.
    pub later: Vec<Edition>,
}

/// One key of the plan that changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PlanChange {
    /// The entry that brought the new plan.
    pub entry: u64,
    /// The key, as `tolerance.station`.
    pub key: String,
    /// Its old value, as written; empty if it is new.
    pub was: String,
    /// Its new value, as written; empty if it was removed.
    pub now: String,
    /// Whether more passes than before, or less is required.
    pub looser: bool,
    /// For a looser key: whether the plan in force is no looser than before this change.
    pub taken_back: bool,
}

impl PlanChange {
    /// The change as text, which is also the name of the open item if it is looser.
    pub fn words(&self) -> String {
        let side = |text: &String| (!text.is_empty()).then(|| text.clone());
        let (old, new) = (side(&self.was), side(&self.now));
        let change = Change { key: self.key.clone(), old, new, looser: self.looser };
        if self.looser { change.open_item() } else { change.to_string() }
    }
}

/// The text of a plan, and the plan itself if the text can still be read.
struct Version<'e> {
    seq: u64,
    text: &'e str,
    plan: Option<Plan>,
}

impl Editions {
    /// The plans in the entries; `None` if the log kept its first plan. A text that cannot be read counts as the plan
    /// in force, and its changes count as looser.
    pub(super) fn of(in_force: &Plan, entries: &[Entry]) -> Option<Self> {
        if !entries.iter().any(|e| matches!(e.what, What::Replanned { .. })) {
            return None;
        }
        let versions: Vec<Version<'_>> = entries
            .iter()
            .filter_map(|e| match &e.what {
                What::Started { plan, .. } | What::Replanned { plan, .. } => {
                    Some(Version { seq: e.seq, text: plan, plan: Plan::parse_logged(plan).ok() })
                }
                _ => None,
            })
            .collect();
        let meant = |v: &Version<'_>| v.plan.clone().unwrap_or_else(|| in_force.clone());
        let later = versions.windows(2).filter_map(|pair| {
            let [before, after] = pair else { return None };
            Some(Edition {
                seq: after.seq,
                plan: meant(after),
                changes: told(before, after, versions.last()),
            })
        });
        Some(Self { first: versions.first().map_or_else(|| in_force.clone(), meant), later: later.collect() })
    }
}

/// What a plan changed, each change with whether the last plan took it back.
fn told(before: &Version<'_>, after: &Version<'_>, last: Option<&Version<'_>>) -> Vec<PlanChange> {
    let found = between(before, after);
    let still: Vec<Change> = match last {
        Some(last) if found.iter().any(|c| c.looser) => between(before, last),
        _ => Vec::new(),
    };
    let told = |change: Change| PlanChange {
        entry: after.seq,
        taken_back: change.looser && !still.iter().any(|s| s.looser && s.key == change.key),
        looser: change.looser,
        was: change.old.unwrap_or_default(),
        now: change.new.unwrap_or_default(),
        key: change.key,
    };
    found.into_iter().map(told).collect()
}

fn between(old: &Version<'_>, new: &Version<'_>) -> Vec<Change> {
    match (&old.plan, &new.plan) {
        _ if old.text == new.text => Vec::new(),
        (Some(was), Some(now)) => {
            changes(&PlanText { text: old.text, plan: was }, &PlanText { text: new.text, plan: now })
        }
        // Nobody can tell what changed, so nobody can tell that it requires as much as before.
        (None, _) | (_, None) => {
            let (old, new) = (Some("a plan".to_owned()), Some("one that cannot be compared".to_owned()));
            vec![Change { key: "plan".to_owned(), old, new, looser: true }]
        }
    }
}
