//! What Undo would take back: the person's own last entry that can be withdrawn.

use crate::model::Wing;
use crate::words;
use record::calendar;
use record::{Entry, What, Withdrawable, Withdrawn};

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Undo {
    pub seq: u64,
    /// What it is (`S7 forward +0.71°`).
    pub what: String,
    /// The same, as short as a small button is.
    pub short: String,
    /// Number, instrument, person and time.
    pub facts: String,
    /// True if the reason must be typed, as for a stage or a check.
    pub typed_reason: bool,
}

/// How many entries are searched, from the last.
const FAR: usize = 2000;

impl Undo {
    pub fn find(wing: &Wing, gone: &Withdrawn, who: &str) -> Option<Self> {
        let own = wing.entries.iter().rev().take(FAR).filter(|e| e.by == who && !gone.contains(e.seq));
        own.filter(|e| !matches!(e.what, What::Withdrawn { .. })).find_map(|e| Self::of(wing, e))
    }

    fn of(wing: &Wing, entry: &Entry) -> Option<Self> {
        let when = entry.when().to_string();
        let mut with = String::new();
        let (what, short) = match &entry.what {
            What::Reading(r) => {
                let value = words::reading(&wing.plan, r);
                let short = words::faced(r).replace(" forward", " fwd");
                with = r.instrument.as_ref().map_or(String::new(), |i| format!(" {i},"));
                (format!("{}{} {value}", r.point.place(), words::faced(r)), format!("{value}{short}"))
            }
            What::Move(m) => (format!("move of {}, {}", m.support, m.text), m.support.clone()),
            What::Stage(s) => (format!("stage {}", s.name), s.name.clone()),
            What::Rework(r) => (format!("rework, {}", r.what), "rework".to_owned()),
            What::Wing(w) => (format!("taking up of {}", w.name), w.name.clone()),
            What::Note { .. } => ("the note".to_owned(), "note".to_owned()),
            What::OpenItem(i) => (format!("open item {}", i.item), "open item".to_owned()),
            What::InstrumentCheck(c) => (format!("check of {}", c.instrument), "check".to_owned()),
            What::Drift { point, .. } => (format!("drift watch of {}", point.place()), "drift".to_owned()),
            What::Instrument(i) => (format!("instrument {}", i.name), i.name.clone()),
            _ => return None,
        };
        let typed_reason = matches!(entry.what.withdrawable(), Withdrawable::WithReason);
        let facts = format!("#{},{with} {}, {}", entry.seq, entry.by, calendar::clock(&when));
        Some(Self { seq: entry.seq, what, short, facts, typed_reason })
    }
}
