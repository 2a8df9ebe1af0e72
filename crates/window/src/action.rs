//! What a person asked for.

use crate::model::Person;
use bench::Sure;
use record::{Facing, OpenAction, Point};

/// What to list of a folder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Files {
    Logs,
    Plans,
    Tables,
}

/// One thing a person asked for. The program does it, and the next model shows the result.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    Take {
        point: Point,
        text: String,
        facing: Option<Facing>,
        instrument: Option<String>,
        /// Temperature of the part, as typed.
        temperature: Option<String>,
        /// True to begin a new round of this instrument.
        new_round: bool,
        /// Yes if the program asked whether the value is right, and that was the answer.
        sure: Sure,
    },
    /// Record what the instrument on the port shows now.
    TakeLive {
        point: Point,
        facing: Option<Facing>,
        /// Temperature of the part, as typed; the instrument's own is not the part's.
        temperature: Option<String>,
    },
    Withdraw {
        seq: u64,
        reason: String,
    },
    BeginStage(String),
    /// Begin a stage though something is not met, or stages are skipped.
    BeginAnyway {
        name: String,
        reason: String,
    },
    Move {
        support: String,
        /// How far, as typed.
        text: String,
        /// Yes if the program asked whether the value is right, and that was the answer.
        sure: Sure,
    },
    /// Something was done there outside the program: tightened, reamed, fitted again.
    Rework {
        point: Point,
        what: String,
    },
    /// Take up the log of a wing built in a jig.
    TakeUp {
        /// The wing, by its name in the plan.
        wing: String,
        log: String,
    },
    /// Close an open item, or carry it past the gate.
    OpenItem {
        item: String,
        action: OpenAction,
        reason: Option<String>,
    },
    Sign {
        capacity: String,
        statement: String,
        /// True to sign although the gate holds.
        as_seen: bool,
        /// A key file to sign with.
        key: Option<String>,
    },
    MakeKey(String),
    Note(String),
    /// Write the sheet beside the log.
    WriteSheet,
    WalkChain,
    /// Compare an entry copied from a printed sheet with the log: its number, then digits of its hash.
    OnPaper(String),
    Advise,
    OpenLog(String),
    /// Check again whether the recent logs can be opened.
    LookAgain,
    /// Write a plan, make its log and open it.
    NewLog {
        /// The plan's text.
        plan: String,
        /// The folder for both.
        folder: String,
        name: String,
    },
    /// Make a log from an existing plan, and open it.
    NewLogFromPlan {
        plan: String,
        log: String,
    },
    /// Open the invented wing with its invented readings; make it if it is not there.
    Demo,
    /// Begin the invented wing from the empty jig.
    DemoFromEmpty,
    CloseLog,
    SetWho(Person),
    /// List a folder; an empty path means the last one listed.
    ListFolder {
        path: String,
        files: Files,
    },
    Bench(bench::Key),
    /// A click or a tone: something was recorded.
    Tone,
    CautionsRead,
    OpenPort {
        port: String,
        /// The instrument on the port: a name in the log or a file.
        instrument: String,
    },
    ClosePort,
    ListPorts,
    Watch(Option<Point>),
    Import(String),
    /// Stop the import; nothing is recorded.
    StopImport,
    /// The value in question is not recorded.
    DropAsked,
    DismissNotice,
    Quit,
}

impl Action {
    /// The same action with the answer yes; `None` for actions that are never questioned.
    pub fn meant(mut self) -> Option<Self> {
        match &mut self {
            Self::Take { sure, .. } | Self::Move { sure, .. } => *sure = Sure::Yes,
            _ => return None,
        }
        Some(self)
    }
}
