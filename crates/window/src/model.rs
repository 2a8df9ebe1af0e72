//! What the window shows: plain data handed in.

use crate::live::Live;
use crate::trace::Trace;
use assess::Assessment;
use assess::advice::Advice;
use record::{Entry, Plan};
use std::sync::Arc;

/// Everything the window shows.
#[derive(Clone, Debug, Default)]
pub struct Model {
    /// The open log; none at the start.
    pub wing: Option<Wing>,
    /// Logs opened lately, the latest first.
    pub recent: Vec<Recent>,
    /// The folder in which new logs are made unless another is typed.
    pub folder: String,
    /// True until the cautions were read once.
    pub cautions_due: bool,
    /// What went well or wrong last.
    pub notice: Option<Notice>,
    /// Who is working.
    pub who: String,
    /// Ports found when they were last looked for.
    pub ports: Vec<String>,
    /// A table that is being read in.
    pub import: Option<Import>,
}

/// A table that is being read in; until that is over nothing else can be written.
#[derive(Clone, Debug, PartialEq)]
pub struct Import {
    /// The table.
    pub table: String,
    /// Lines read so far.
    pub lines: u64,
    /// How far it is, 0 to 1.
    pub share: f32,
    /// True once it was asked to stop.
    pub stopping: bool,
}

/// An open log.
#[derive(Clone, Debug)]
pub struct Wing {
    /// The plan.
    pub plan: Arc<Plan>,
    /// The judgement.
    pub assessment: Arc<Assessment>,
    /// Every entry of the log.
    pub entries: Arc<Vec<Entry>>,
    /// The log's file, as it was opened.
    pub log: String,
    /// Where the sheet was or will be written.
    pub sheet: String,
    /// The state of its chain.
    pub chain: Chain,
    /// What stands on the port.
    pub live: Live,
    /// What the drift watch has seen.
    pub trace: Option<Trace>,
    /// The moves advised; none while the screen of the moves was not asked for since the last entry.
    pub advice: Option<Arc<Advice>>,
    /// True if nothing can be written.
    pub read_only: bool,
}

/// A log opened lately.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recent {
    /// The file.
    pub path: String,
    /// The wing's name, as it was when it was last open.
    pub wing: String,
}

/// What went well or wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// True if something could not be done.
    pub wrong: bool,
    /// The sentence.
    pub words: String,
}

/// The state of the log's chain.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum Chain {
    /// It was not walked since the log was opened.
    #[default]
    NotWalked,
    /// It was walked and is whole, with so many entries.
    Whole(u64),
    /// It does not fit.
    Broken(String),
}
