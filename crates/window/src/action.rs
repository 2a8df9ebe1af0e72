//! What a person asked for.

use crate::model::Person;
use record::{Facing, OpenAction, Point};

/// What is looked for in a folder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Files {
    /// Logs.
    Logs,
    /// Plans.
    Plans,
    /// Tables of readings.
    Tables,
}

/// One thing a person asked for. The program does it and shows what came of it in the next model.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Take a typed reading.
    Take {
        /// Where.
        point: Point,
        /// What was typed.
        text: String,
        /// Which way the instrument faced.
        facing: Option<Facing>,
        /// With which instrument.
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
        /// Where.
        point: Point,
        /// Which way it faces.
        facing: Option<Facing>,
        /// Temperature of the part, as typed; the instrument's own is not the part's.
        temperature: Option<String>,
        /// True if it may be taken although it has not settled.
        unsettled: bool,
    },
    /// Withdraw an entry.
    Withdraw {
        /// Its number.
        seq: u64,
        /// Why.
        reason: String,
    },
    /// Begin a stage of the build.
    BeginStage(String),
    /// Begin a stage though something is not met, or stages are passed over.
    BeginAnyway {
        /// Its name.
        name: String,
        /// Why.
        reason: String,
    },
    /// A support or a foot was moved.
    Move {
        /// Which.
        support: String,
        /// How far, as typed.
        text: String,
        /// True where the program asked whether it is so, and the answer was yes.
        sure: bool,
    },
    /// Something was done there outside the program: tightened, reamed, fitted again.
    Rework {
        /// Where.
        point: Point,
        /// What was done.
        what: String,
    },
    /// Take up the log of a wing built in a jig.
    TakeUp {
        /// The wing, by its name in the plan.
        wing: String,
        /// The file of its log.
        log: String,
    },
    /// Something was done about a thing left open.
    OpenItem {
        /// The thing.
        item: String,
        /// What was done.
        action: OpenAction,
        /// Why, or by what.
        reason: Option<String>,
    },
    /// Sign.
    Sign {
        /// In what capacity.
        capacity: String,
        /// What is stated.
        statement: String,
        /// True to sign although the gate holds.
        as_seen: bool,
        /// A key file to sign with.
        key: Option<String>,
    },
    /// Make a new key file.
    MakeKey(String),
    /// Write a remark into the log.
    Note(String),
    /// Write the sheet beside the log.
    WriteSheet,
    /// Walk the log's chain.
    WalkChain,
    /// Compare an entry read off paper with the log: its number, then digits of its hash.
    OnPaper(String),
    /// Work out the moves again.
    Advise,
    /// Open a log.
    OpenLog(String),
    /// Look again whether the logs opened lately can be opened.
    LookAgain,
    /// Make a plan and a log and open it.
    NewLog {
        /// The plan's text.
        plan: String,
        /// The folder both go into.
        folder: String,
        /// Their name, without an ending.
        name: String,
    },
    /// Make a log from a plan there is, and open it.
    NewLogFromPlan {
        /// The plan.
        plan: String,
        /// The log.
        log: String,
    },
    /// Open the invented wing with its invented readings; make it if it is not there.
    Demo,
    /// Begin the invented wing from the empty jig.
    DemoFromEmpty,
    /// Close the log and go back to the start.
    CloseLog,
    /// Who is at the bench from now on.
    SetWho(Person),
    /// Look into a folder; an empty one is where one looked last.
    ListFolder {
        /// The folder.
        path: String,
        /// What is looked for.
        files: Files,
    },
    /// Something at the bench, in its own terms.
    Bench(bench::Key),
    /// A click or a tone: something was taken.
    Tone,
    /// The cautions were read.
    CautionsRead,
    /// Open a port.
    OpenPort {
        /// The port.
        port: String,
        /// The instrument on it: a name in the log or a file.
        instrument: String,
    },
    /// Close the port.
    ClosePort,
    /// Look which ports there are.
    ListPorts,
    /// Begin or end a drift watch of a point.
    Watch(Option<Point>),
    /// Import a table of readings.
    Import(String),
    /// Stop the import; nothing of the table is taken.
    StopImport,
    /// What was asked about is not recorded.
    DropAsked,
    /// The notice was read.
    DismissNotice,
    /// Leave.
    Quit,
}

impl Action {
    /// The same with the answer that it is meant so; none for what is never asked about.
    #[must_use]
    pub fn meant(mut self) -> Option<Self> {
        match &mut self {
            Self::Take { sure, .. } | Self::Move { sure, .. } => *sure = true,
            _ => return None,
        }
        Some(self)
    }
}
