//! What a person asked for.

use record::{Facing, OpenAction, Point};

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
    /// Something at the bench: take, turn, skip, the loop of moves.
    Bench(bench::Key),
    /// Withdraw an entry.
    Withdraw {
        /// Its number.
        seq: u64,
        /// Why.
        reason: String,
    },
    /// Begin a stage of the build.
    BeginStage(String),
    /// A support or a foot was moved.
    Move {
        /// Which.
        support: String,
        /// How far, as advised or typed.
        text: String,
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
    /// Work out the moves again.
    Advise,
    /// Open a log.
    OpenLog(String),
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
    /// Who is working.
    SetWho(String),
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
    /// The notice was read.
    DismissNotice,
    /// Leave.
    Quit,
}
