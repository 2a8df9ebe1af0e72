//! Taking in logs one by one, in memory that grows with their figures and not with their readings.

use super::creep::Moved;
use super::rows::Of;
use super::view::{NotCounted, WingRow};
use super::wing::{NotCountedWhy, Wing, WingLog};
use super::zeros::Found;
use super::{creep::StageChange, geometry};
use crate::advice::observed::Event;
use crate::view::{ObligationKind, ObligationState, Verdict};
use quantity::Kind;
use record::At;
use record::plan::Plan;
use std::collections::BTreeMap;
use std::fmt;

/// Most keys that a message names of each log of another wing.
const NAMED: usize = 3;

/// A figure and its values.
pub(super) struct Column {
    pub kind: ObligationKind,
    pub about: String,
    pub unit: Kind,
    /// Limits of the first wing; none where another wing's differ.
    pub limits: Option<(Option<f64>, Option<f64>)>,
    pub values: Vec<(Of, Option<Verdict>)>,
    pub lacking: Vec<(usize, ObligationState, String)>,
}

/// What is kept of a wing beside its figures.
pub(super) struct Kept {
    pub row: WingRow,
    pub(super) at: At,
    pub(super) events: Vec<Event>,
    pub(super) same_jig: bool,
}

/// Logs taken in so far.
#[derive(Default)]
pub struct Gathering {
    pub(super) first: Option<(String, Plan)>,
    pub(super) wings: Vec<Kept>,
    pub(super) not_counted: Vec<NotCounted>,
    pub(super) differs: Vec<Differs>,
    pub(super) columns: Vec<Column>,
    places: BTreeMap<(ObligationKind, String), usize>,
    pub(super) changes: BTreeMap<(String, Moved), Vec<Of>>,
    pub(super) found: Vec<(usize, Found)>,
}

/// A log of another kind of wing than the first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Differs {
    pub log: String,
    /// In what it differs, key by key, from the first.
    pub keys: Vec<String>,
}

/// Some logs are of another kind of wing: nothing is reckoned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherWing {
    /// The log that the others are compared with.
    pub first: String,
    /// Those that differ.
    pub differs: Vec<Differs>,
}

impl fmt::Display for OtherWing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a series is of one kind of wing; these logs are of another than {}:", self.first)?;
        for Differs { log, keys } in &self.differs {
            let more = keys.len().saturating_sub(NAMED);
            write!(f, "\n  {log}: {}", keys.iter().take(NAMED).cloned().collect::<Vec<_>>().join(", "))?;
            if more > 0 {
                write!(f, " and {more} more")?;
            }
        }
        Ok(())
    }
}

impl core::error::Error for OtherWing {}

impl Gathering {
    /// Whether a log is of the kind of wing of the first one asked about; if not, it is named when all are put together.
    pub fn is_alike(&mut self, name: &str, plan: &Plan) -> bool {
        let first = self.first.get_or_insert_with(|| (name.to_owned(), plan.clone()));
        let keys = geometry::differences(&first.1, plan);
        let alike = keys.is_empty();
        if !alike {
            self.differs.push(Differs { log: name.to_owned(), keys });
        }
        alike
    }

    /// Takes in a log.
    pub fn add(&mut self, log: WingLog<'_>) {
        if self.is_alike(log.name, log.plan) {
            self.put(log.name, log.plan, Wing::of(log));
        }
    }

    /// Takes in what came of a log that is alike.
    pub fn put(&mut self, name: &str, plan: &Plan, wing: Result<Wing, NotCountedWhy>) {
        let same_jig = self.first.as_ref().is_some_and(|(_, p)| geometry::jig(p) == geometry::jig(plan));
        match wing {
            Ok(wing) => self.keep(wing, same_jig),
            Err(why) => self.leave_out(name, why.to_string()),
        }
    }

    /// Names a log that is not counted.
    pub fn leave_out(&mut self, log: &str, why: String) {
        self.not_counted.push(NotCounted { log: log.to_owned(), why });
    }

    fn keep(&mut self, wing: Wing, same_jig: bool) {
        let at = self.wings.len();
        for figure in wing.figures {
            let column = self.column(figure.kind, &figure.about, figure.unit);
            let limits = (figure.lower, figure.upper);
            match column.limits {
                _ if column.values.is_empty() => column.limits = Some(limits),
                Some(known) if known != limits => column.limits = None,
                _ => {}
            }
            column.values.push((Of { wing: at, value: figure.value, u: figure.u }, figure.verdict));
        }
        for lacking in wing.lacking {
            let column = self.column(lacking.kind, &lacking.about, Kind::Angle);
            column.lacking.push((at, lacking.state, lacking.words));
        }
        for StageChange { during, what, change_deg, u_deg } in wing.changes {
            let value = Of { wing: at, value: change_deg, u: u_deg };
            self.changes.entry((during.join(" + "), what)).or_default().push(value);
        }
        self.found.extend(wing.found.into_iter().map(|f| (at, f)));
        self.wings.push(Kept {
            row: WingRow {
                log: wing.log,
                wing: wing.wing,
                at: wing.at.to_string(),
                entries: wing.entries,
                gate: wing.gate,
            },
            at: wing.at,
            events: wing.events,
            same_jig,
        });
    }

    fn column(&mut self, kind: ObligationKind, about: &str, unit: Kind) -> &mut Column {
        let next = self.columns.len();
        let at = *self.places.entry((kind, about.to_owned())).or_insert(next);
        if at == next {
            let about = about.to_owned();
            self.columns.push(Column { kind, about, unit, limits: None, values: vec![], lacking: vec![] });
        }
        let column = &mut self.columns[at];
        if column.values.is_empty() {
            column.unit = unit;
        }
        column
    }

    pub(super) fn log(&self, wing: usize) -> String {
        self.wings[wing].row.log.clone()
    }
}
