//! What the window shows: plain data handed in.

use crate::action::Action;
use crate::trace::Trace;
use assess::advice::Advice;
use assess::{Assessment, Chain};
use quantity::Kind;
use quantity::shown::Scale;
use record::{Entry, GateState, Plan};
use std::sync::Arc;

#[derive(Clone, Debug, Default)]
pub struct Model {
    pub wing: Option<Wing>,
    /// The recent logs, the latest first.
    pub recent: Vec<LogRow>,
    /// The folder being listed, while a log is to be opened.
    pub listing: Option<Listing>,
    /// The folder in which new logs are made.
    pub folder: String,
    /// True until the cautions have been read once.
    pub cautions_due: bool,
    pub notice: Option<Notice>,
    /// Who is at the bench; nobody yet if the name is empty.
    pub who: Person,
    /// Everybody who was at the bench lately, in order of first appearance.
    pub people: Vec<Person>,
    /// Ports found at the last search.
    pub ports: Vec<String>,
    /// Instruments that can be opened: those of the log, and files beside it.
    pub gauges: Vec<String>,
    /// The question to be answered before an unexpected value is recorded.
    pub asks: Option<Asks>,
    pub import: Option<Import>,
}

/// Is the value right? Nothing is recorded until the answer is yes.
#[derive(Clone, Debug, PartialEq)]
pub struct Asks {
    pub words: String,
    /// The action to repeat if the answer is yes.
    pub again: Action,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Person {
    /// The name; it goes with every entry.
    pub name: String,
    pub role: Role,
}

quantity::words! {
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    pub enum Role {
        #[default]
        Builder = "builder",
        Inspector = "inspector",
        Helper = "helper",
    }
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LogRow {
    pub path: String,
    /// The file's name without its ending.
    pub file: String,
    /// The wing's name; empty if it is not known.
    pub wing: String,
    /// The stage it is at (`stage 4 of 6, ribs outboard`).
    pub stage: String,
    /// The last reading, or when it was written (`last reading 2 June 16:20, Oke`).
    pub last: String,
    pub gate: Option<GateState>,
    /// Why it cannot be opened, if so.
    pub problem: Option<String>,
}

impl LogRow {
    /// The wing, or the file if the wing is not known.
    pub fn title(&self) -> &str {
        if self.wing.is_empty() { &self.file } else { &self.wing }
    }
}

/// A folder, and what in it can be opened.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Listing {
    pub folder: String,
    pub above: Option<String>,
    /// Folders in it, by full path.
    pub folders: Vec<String>,
    /// Files in it: logs, plans or tables, as requested.
    pub files: Vec<LogRow>,
    /// Sticks and other places to begin from: name and path.
    pub places: Vec<Place>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// Its name (`This machine`, `Stick`).
    pub name: String,
    pub path: String,
}

/// A table that is being imported; until that has ended nothing else can be written.
#[derive(Clone, Debug, PartialEq)]
pub struct Import {
    pub table: String,
    pub lines: u64,
    /// How far it is, 0 to 1.
    pub share: f32,
    pub stopping: bool,
}

#[derive(Clone, Debug)]
pub struct Wing {
    pub plan: Arc<Plan>,
    pub assessment: Arc<Assessment>,
    pub entries: Arc<Vec<Entry>>,
    pub log: String,
    /// Whether the log is whole, as found when it was read.
    pub chain: Chain,
    pub live: bench::View,
    pub trace: Option<Trace>,
    /// The moves advised; `None` if advice was not asked for since the last entry.
    pub advice: Option<Arc<Advice>>,
    pub read_only: bool,
}

impl Wing {
    /// How values of a quantity are shown: in the plan's own unit.
    pub fn scale(&self, kind: Kind) -> Scale {
        self.plan.shown_in.scale(kind)
    }

    pub fn last_entry(&self) -> u64 {
        self.entries.last().map_or(0, |e| e.seq)
    }

    pub fn angles(&self) -> Scale {
        self.scale(Kind::Angle)
    }

    pub fn lengths(&self) -> Scale {
        self.scale(Kind::Length)
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// True if something could not be done.
    pub wrong: bool,
    pub words: String,
}
