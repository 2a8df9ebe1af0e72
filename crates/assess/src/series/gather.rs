//! Takes in logs one by one; memory grows with their figures and not with their readings.

use super::creep::Moved;
use super::rows::Of;
use super::view::{NotCounted, WingRow};
use super::wing::{NotCountedWhy, Wing};
use super::zeros::Found;
use super::{creep::StageChange, geometry, geometry::Unlike};
use crate::advice::observed::Event;
use crate::view::{ObligationKind, Verdict};
use quantity::Kind;
use record::plan::Plan;
use record::{At, Limits};
use std::collections::BTreeMap;
use std::fmt;

/// The most keys that a message names for each log of another wing.
const NAMED: usize = 3;

/// A figure and its values.
pub(super) struct Column {
    pub kind: ObligationKind,
    pub about: String,
    pub unit: Kind,
    /// Limits of the first wing; `None` if another wing's differ.
    pub limits: Option<Limits<f64>>,
    pub values: Vec<Valued>,
    pub lacking: Vec<WingLacks>,
}

/// A value of one wing with its verdict.
pub(super) struct Valued {
    pub of: Of,
    pub verdict: Option<Verdict>,
}

/// A wing, by its position, without a value that counts.
pub(super) struct WingLacks {
    pub wing: usize,
    pub state: Verdict,
    pub words: String,
}

/// What an instrument of one wing (by position) showed.
pub(super) struct FoundOn {
    pub wing: usize,
    pub found: Found,
}

/// What changed during a stage.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct ChangedDuring {
    pub during: String,
    pub what: Moved,
}

/// The log that the others are compared with.
pub(super) struct First {
    pub log: String,
    pub plan: Plan,
}

/// What is kept of a wing besides its figures.
pub(super) struct Kept {
    pub row: WingRow,
    pub(super) at: At,
    pub(super) events: Vec<Event>,
    pub(super) same_jig: bool,
}

/// Logs taken in so far.
#[derive(Default)]
pub struct Gathering {
    pub(super) first: Option<First>,
    pub(super) wings: Vec<Kept>,
    pub(super) not_counted: Vec<NotCounted>,
    pub(super) differs: Vec<Differs>,
    pub(super) columns: Vec<Column>,
    places: BTreeMap<(ObligationKind, String), usize>,
    pub(super) changes: BTreeMap<ChangedDuring, Vec<Of>>,
    pub(super) found: Vec<FoundOn>,
}

/// A log of another kind of wing than the first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Differs {
    pub log: String,
    /// Where it differs from the first.
    pub keys: Vec<Unlike>,
}

/// Some logs are of another kind of wing: nothing is computed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherWing {
    /// The log that the others are compared with.
    pub first: String,
    /// Those that differ.
    pub differs: Vec<Differs>,
}

impl fmt::Display for OtherWing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a series is of one kind of wing; these logs differ from {}:", self.first)?;
        for Differs { log, keys } in &self.differs {
            let more = keys.len().saturating_sub(NAMED);
            write!(
                f,
                "\n  {log}: {}",
                keys.iter().take(NAMED).map(ToString::to_string).collect::<Vec<_>>().join(", ")
            )?;
            if more > 0 {
                write!(f, " and {more} more")?;
            }
        }
        Ok(())
    }
}

impl core::error::Error for OtherWing {}

impl Gathering {
    /// Whether a log is of the same kind of wing as the first one; if not, it is named at the end.
    pub fn is_alike(&mut self, name: &str, plan: &Plan) -> bool {
        let first = self.first.get_or_insert_with(|| First { log: name.to_owned(), plan: plan.clone() });
        let keys = geometry::differences(&first.plan, plan);
        let alike = keys.is_empty();
        if !alike {
            self.differs.push(Differs { log: name.to_owned(), keys });
        }
        alike
    }

    /// Takes in the result for a log of the same kind.
    pub fn put(&mut self, name: &str, plan: &Plan, wing: Result<Wing, NotCountedWhy>) {
        let same_jig =
            self.first.as_ref().is_some_and(|first| geometry::jig(&first.plan) == geometry::jig(plan));
        match wing {
            Ok(wing) => self.keep(wing, same_jig),
            Err(why) => self.leave_out(NotCounted { log: name.to_owned(), why }),
        }
    }

    /// Names a log that is not counted.
    pub fn leave_out(&mut self, log: NotCounted) {
        self.not_counted.push(log);
    }

    fn keep(&mut self, wing: Wing, same_jig: bool) {
        let at = self.wings.len();
        for figure in wing.figures {
            let column = self.column(figure.kind, &figure.about, figure.unit);
            let limits = Limits { lower: figure.lower, upper: figure.upper };
            match column.limits {
                _ if column.values.is_empty() => column.limits = Some(limits),
                Some(known) if known != limits => column.limits = None,
                _ => {}
            }
            let of = Of { wing: at, value: figure.value, u: figure.u };
            column.values.push(Valued { of, verdict: figure.verdict });
        }
        for lacking in wing.lacking {
            let column = self.column(lacking.kind, &lacking.about, Kind::Angle);
            column.lacking.push(WingLacks { wing: at, state: lacking.state, words: lacking.words });
        }
        for StageChange { during, what, change_deg, u_deg } in wing.changes {
            let value = Of { wing: at, value: change_deg, u: u_deg };
            let changed = ChangedDuring { during: during.join(" + "), what };
            self.changes.entry(changed).or_default().push(value);
        }
        self.found.extend(wing.found.into_iter().map(|found| FoundOn { wing: at, found }));
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
