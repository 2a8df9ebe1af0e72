//! The values of all wings, figure by figure.

use super::creep::{Moved, StageChange};
use super::rows::Of;
use super::view::WingRow;
use super::wing::Wing;
use super::zeros::Found;
use crate::view::{ObligationKind, Verdict};
use quantity::Kind;
use record::Limits;
use std::collections::BTreeMap;

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

/// Wings that count, in the order in which they were finished.
#[derive(Default)]
pub(super) struct Columns {
    pub wings: Vec<WingRow>,
    /// In the order of the board.
    pub figures: Vec<Column>,
    pub changes: BTreeMap<ChangedDuring, Vec<Of>>,
    /// Oldest first.
    pub found: Vec<FoundOn>,
}

impl Columns {
    pub fn of(wings: impl Iterator<Item = Wing>) -> Self {
        let mut all = Self::default();
        wings.for_each(|wing| all.add(wing));
        all.figures.sort_by_key(|c| c.kind);
        all.found.sort_by_key(|FoundOn { wing, found }| (found.at, *wing));
        all
    }

    fn add(&mut self, wing: Wing) {
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
        self.wings.push(WingRow {
            log: wing.log,
            wing: wing.wing,
            at: wing.at.to_string(),
            entries: wing.entries,
            gate: wing.gate,
        });
    }

    fn column(&mut self, kind: ObligationKind, about: &str, unit: Kind) -> &mut Column {
        let known = self.figures.iter().position(|c| c.kind == kind && c.about == about);
        let at = known.unwrap_or_else(|| {
            let about = about.to_owned();
            self.figures.push(Column { kind, about, unit, limits: None, values: vec![], lacking: vec![] });
            self.figures.len() - 1
        });
        let column = &mut self.figures[at];
        if column.values.is_empty() {
            column.unit = unit;
        }
        column
    }

    pub fn log(&self, wing: usize) -> String {
        self.wings[wing].log.clone()
    }
}
