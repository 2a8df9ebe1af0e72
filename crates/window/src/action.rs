//! What a person asked for.

use crate::model::Person;
use record::{Facing, OpenAction, Point};

/// What is looked for in a folder.
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
        /// True where the program asked whether it is so, and the answer was yes.
        sure: bool,
    },
    /// Take what the instrument on the port shows now.
    TakeLive {
        point: Point,
        facing: Option<Facing>,
        /// Temperature of the part, as typed; the instrument's own is not the part's.
        temperature: Option<String>,
        /// True if it may be taken although it has not settled.
        unsettled: bool,
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
        /// True where the program asked whether it is so, and the answer was yes.
        sure: bool,
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
    /// Something was done about a thing left open.
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
    /// Compare an entry read off paper with the log: its number, then digits of its hash.
    OnPaper(String),
    Advise,
    OpenLog(String),
    /// Look again whether the logs opened lately can be opened.
    LookAgain,
    /// Make a plan and a log and open it.
    NewLog {
        /// The plan's text.
        plan: String,
        /// The folder both go into.
        folder: String,
        name: String,
    },
    /// Make a log from a plan there is, and open it.
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
    /// Look into a folder; an empty one is where one looked last.
    ListFolder {
        path: String,
        files: Files,
    },
    Bench(bench::Key),
    /// A click or a tone: something was taken.
    Tone,
    CautionsRead,
    OpenPort {
        port: String,
        /// The instrument on it: a name in the log or a file.
        instrument: String,
    },
    ClosePort,
    ListPorts,
    Watch(Option<Point>),
    Import(String),
    /// Stop the import; nothing is recorded.
    StopImport,
    /// What was asked about is not recorded.
    DropAsked,
    DismissNotice,
    Quit,
}

impl Action {
    /// The same with the answer that it is meant so; none for what is never asked about.
    pub fn meant(mut self) -> Option<Self> {
        match &mut self {
            Self::Take { sure, .. } | Self::Move { sure, .. } => *sure = true,
            _ => return None,
        }
        Some(self)
    }
}
