//! Refusals of requests on a log or a file, one variant each; the message says why and what to do.

use crate::{brief, each_line_shown, shown};
use assess::Broken;
use journal::plain;
use quantity::shown::significant;
use quantity::{Kind, TypedError};
use record::{Instead, NoForce, OpenAction, Point, PointKind};
use std::path::PathBuf;
use thiserror::Error;

/// Why something is not done. The log is unchanged and intact.
#[derive(Debug, Error)]
pub enum Refusal {
    // A log
    #[error("{0}; nothing was written. `jigtrue check` and `jigtrue verify` can still read it")]
    BrokenLog(#[source] Broken),
    #[error(transparent)]
    BrokenWithoutPlan(Broken),
    #[error("{0}; it was not taken up")]
    BrokenWing(#[source] Broken),
    #[error("{} never had {entries} entries", .log.display())]
    NeverSoLong { log: PathBuf, entries: u64 },
    #[error("{} cannot be read", .0.display())]
    Unreadable(PathBuf, #[source] journal::Unreadable),
    #[error("there is no log in the folder {}", shown(&.0.display().to_string()))]
    NoLogIn(PathBuf),
    #[error("{} has no plan; keep it and start a new log", .0.display())]
    NoPlan(PathBuf),
    #[error("entry {0} was written but cannot be found again")]
    LostEntry(u64),
    #[error("the reading was written but reads back as something else")]
    OtherEntry,
    #[error("there was nothing to write")]
    NothingToWrite,
    /// The signals that end a program cannot be caught.
    #[error("cannot install the Ctrl-C handler: {}", plain(.0))]
    Signals(#[source] std::io::Error),
    // What a person must say
    #[error("who is at the bench? Say it with --by NAME, or set JIGTRUE_BY once for this bench")]
    NoPerson,
    #[error("a person's name has at most {0} characters, all on one line")]
    NoName(usize),
    #[error("why is it withdrawn? Give a reason, as in `the level was on a rivet head`")]
    WithdrawnWhy,
    #[error("why are they withdrawn? Give a reason")]
    AllWithdrawnWhy,
    #[error("why is the plan replaced? Give a reason")]
    ReplannedWhy,
    #[error("what is left open? Name it")]
    OpenWhat,
    #[error("the remark is empty")]
    EmptyRemark,
    #[error("what was done? Say it with --what, as in \"tightened again\"")]
    ReworkedHow,
    #[error("name what was worked on, as in spot@BR2")]
    ReworkedWhat,
    #[error("in what capacity? For example `builder` or `inspector`")]
    NoCapacity,
    #[error("what is stated? Write the sentence to sign")]
    NoStatement,
    #[error("{} signed this already (entry {entry}), and nothing came after it; nothing was written", shown(.who))]
    SignedAlready { who: String, entry: u64 },
    // Withdrawals
    #[error("{} has no entry left to withdraw", shown(.0))]
    NothingOf(String),
    #[error("none of these is left to withdraw")]
    NothingOfThese,
    #[error("entry {seq} ({words}) needs a reason of its own to be withdrawn: jigtrue undo --reason REASON")]
    NeedsReason { seq: u64, words: String },
    #[error("there is no entry {seq}; the last is {last}")]
    NoEntry { seq: u64, last: u64 },
    #[error("there is no entry {0}")]
    NoSuchEntry(u64),
    #[error("entry {seq} was already withdrawn by entry {by}")]
    WithdrawnAlready { seq: u64, by: u64 },
    #[error("entry {seq} cannot be withdrawn: {instead}")]
    NotWithdrawable { seq: u64, instead: Instead },
    // Moves
    #[error("it is moved by shims, not by a screw; write millimetres, as in +0.2 mm")]
    MovedByShims,
    #[error("`{0}` could be turns or a length; write it as `{0} cw` or `{0} mm`")]
    TurnsOrLength(String),
    #[error(
        "`{}` is not an amount of a move ({source}); write turns with a direction, as in `3/8 turn cw`, or \
            millimetres, as in `0.5 mm` or `-0.2 mm`, positive in the support's own direction",
        shown(.text)
    )]
    NoAmount {
        text: String,
        /// Why it is not a length either.
        source: TypedError,
    },
    #[error("the plan says this support is fixed")]
    DoesNotMove,
    #[error("the plan says `{}` is fixed", shown(.0))]
    Fixed(String),
    // Open items
    #[error(
        "`{}` was {} already (entry {entry}); nothing was written. If it is open, leave it open again first",
        shown(.item),
        if *.action == OpenAction::Closed { "closed" } else { "carried past the gate" }
    )]
    ItemSettled { item: String, action: OpenAction, entry: u64 },
    #[error("an item carried past the gate needs a reason")]
    CarriedWhy,
    #[error(
        "a loosened key of the plan cannot be closed: carry it past with --carry --reason, or replan back"
    )]
    LoosenedNotClosed,
    #[error("stage `{}` leaves several things open; name one by its own words:{}", shown(.stage), below(.items))]
    SeveralOpen { stage: String, items: Vec<String> },
    #[error("entry {seq} loosened several keys; carry each past by its own words:{}", below(.items))]
    SeveralLoosened { seq: u64, items: Vec<String> },
    // Plan and stages
    #[error("that is the plan already in force; nothing was written")]
    SamePlan,
    #[error("the plan has no stages")]
    NoStages,
    #[error("the last stage of the plan is begun already")]
    NoFurtherStage,
    #[error("stage `{}` has not begun in this log", shown(.0))]
    StageNotBegun(String),
    // Wings
    #[error(
        "the plan has no [[wing]] whose log could be taken up; jigtrue plan --full shows how to write one"
    )]
    NoWings,
    #[error("{} is the log of an aeroplane, not of a wing", shown(&.0.display().to_string()))]
    NotOfAWing(PathBuf),
    #[error("{}", each_line_shown(&.0.to_string()))]
    OtherWing(#[source] assess::series::OtherWing),
    // Points and readings
    #[error("`{}` is the place of several points; name one: {}", brief(.text), .points.iter().map(|p| shown(&p.to_string()).into_owned()).collect::<Vec<_>>().join(", "))]
    SeveralPoints { text: String, points: Vec<Point> },
    #[error("`{}` has no facing: only {} readings have one; leave the facing out", .0, reversing())]
    NoFacing(Point),
    #[error("`{}` needs {}, which this instrument does not read", shown(.text), .asks.word())]
    NotRead { text: String, asks: Kind },
    #[error("readings of `{point}` are {}s, but the instrument sent {}s", .asks.word(), .sent.word())]
    OtherQuantity { point: Point, asks: Kind, sent: Kind },
    #[error("the scatter of the instrument's values is not a valid size")]
    Scatter,
    /// A text is not a value; it is shown with a mark under the mistake.
    #[error("{source}\n  {}", marked(.text, .source.at))]
    Typed { text: String, source: TypedError },
    #[error("`{}`: {why}", shown(.text))]
    NoValue {
        text: String,
        #[source]
        why: TypedError,
    },
    // Instruments
    #[error("`{}` does not read {}s; name another instrument", shown(.name), .quantity.word())]
    DoesNotRead { name: String, quantity: Kind },
    #[error("several instruments read {}s; say which with --instrument: {}", .quantity.word(), quoted(.names))]
    SeveralInstruments { quantity: Kind, names: Vec<String> },
    /// Readings of two instruments under one name would make pairs and share a zero.
    #[error(
        "`{}` is number {} in this log; give number {} a name of its own. If the number was wrong, withdraw its entry or \
         replan, then enter it again",
        shown(.name), shown(.was), shown(.now)
    )]
    OtherNumber { name: String, was: String, now: String },
    #[error("`{}` shows divisions and has a table for them: type what its dial shows", shown(.0))]
    ShowsDivisions(String),
    #[error("`{}`: `{name}` shows divisions, which its table converts to a tension: give the bare number it shows", brief(.text))]
    NoDivisions { text: String, name: String },
    #[error("{text} is beyond the range of `{name}`")]
    BeyondDial { text: String, name: String },
    #[error("{} gives no tension: {why}", brief(.text))]
    NoTension {
        text: String,
        #[source]
        why: NoForce,
    },
    #[error("the instrument has no name")]
    NamelessInstrument,
    #[error("instrument `{}`: {why}", shown(.name))]
    Unusable { name: String, why: NotUsable },
    #[error("`{}` does not read angles; turning it end for end shows nothing", shown(.0))]
    ReadsNoAngles(String),
    #[error("`{}` states no accuracy, so there is no pass limit; enter it again with its maker's limit of error", shown(.0))]
    NoAccuracy(String),
    #[error(
        "this check is good to ±{}°, but the accuracy is {}°: it cannot tell whether `{}` passes. Give the \
            block's height and the feet's distance with more digits, or use a finer display",
        significant(*.good_to, 2),
        significant(*.accuracy, 2),
        shown(.name)
    )]
    CheckTooCoarse {
        name: String,
        /// Its 95 % uncertainty, in degrees.
        good_to: f64,
        /// The limit to compare with, in degrees.
        accuracy: f64,
    },
    #[error("the block must be higher than 0 and lower than the distance between the feet")]
    NoBlock,
    // A hash on paper
    #[error("give the entry's number first, as in `96 3f2a 91c0 ...`")]
    NoNumberOnPaper(#[source] std::num::ParseIntError),
    #[error("a hash has the digits 0 to 9 and a to f")]
    NotHexadecimal,
    #[error("a hash has {0} digits")]
    LongHash(usize),
    #[error("the hash has {digits} digits; give at least {} of the {}, or it could fit by chance", .of.start(), .of.end())]
    ShortHash { digits: usize, of: std::ops::RangeInclusive<usize> },
    // Tables and exports
    #[error("the import was stopped; nothing was recorded")]
    ImportStopped,
    #[error("the import failed; nothing was recorded")]
    ImportBrokeOff,
    #[error(
        "{table}: the same {rows} readings are in the log as entries {first} to {last}. Nothing was recorded.\n  \
         If they really were measured again: jigtrue import {table} --again"
    )]
    CameBefore { table: String, rows: u64, first: u64, last: u64 },
    #[error("{} is not a folder name", .0.display())]
    NoFolderName(PathBuf),
    #[error("{} has something in it that is not an export of jigtrue, so it is left unchanged; name a new folder", shown(&.0.display().to_string()))]
    NotOurFolder(PathBuf),
    #[error("another program is exporting to {}", shown(&.0.display().to_string()))]
    FolderInUse(PathBuf),
    #[error("these logs are of more than {0} kinds of wing; export them into several folders")]
    ManyKinds(usize),
    // The shipped cases
    #[error("the steps of `{case}` cannot be read: {why}")]
    Steps {
        case: &'static str,
        #[source]
        why: csv::Error,
    },
    #[error("a shipped case has no step `{}`", shown(.0))]
    NoSuchStep(String),
    #[error("{} exists already and is not a demo's log, so it is left unchanged; go to another folder", shown(&.0.display().to_string()))]
    NoDemo(PathBuf),
    #[error("{} exists already and somebody added to it, so it is left unchanged; go to another folder", shown(&.0.display().to_string()))]
    DemoGrown(PathBuf),
}

/// Why an instrument's numbers cannot be used in computations.
#[derive(Debug, Error)]
pub enum NotUsable {
    #[error("the resolution must be a number above zero")]
    Resolution,
    #[error("its {0} must be a number of zero or more")]
    BelowZero(&'static str),
    #[error("its table for {} is unusable: dial and force must increase together, over two rows or more", shown(.0))]
    Table(String),
    #[error("pull, mass, section and modulus of a tape must be above zero")]
    Tape,
    #[error("a size is beyond any {} of a wing, {}", .0.word(), quantity::possible_words(*.0))]
    Size(Kind),
    #[error("its scale must be a relative error of at most 0.5, its expansion at most 1e-3 per kelvin")]
    Scale,
    #[error("a name has 1 to 80 characters, none of them @, : or *, and no space around it")]
    Name,
    #[error("its check expires before the day it was done")]
    Due,
}

/// The text with a mark under the mistake; without the mark if it is too long to be a value.
fn marked(text: &str, at: usize) -> String {
    if text.len() > quantity::typed::MAX_BYTES {
        return brief(text).into_owned();
    }
    let before = text.get(..at).map_or(0, |b| shown(b).chars().count());
    format!("{}\n  {:before$}^", shown(text), "")
}

/// The words of the kinds of points with a facing.
fn reversing() -> String {
    PointKind::all().filter(|k| k.reverses()).map(PointKind::word).collect::<Vec<_>>().join(", ")
}

fn quoted(names: &[String]) -> String {
    names.iter().map(|name| format!("`{}`", shown(name))).collect::<Vec<_>>().join(", ")
}

/// Each on a line of its own, indented.
fn below(items: &[String]) -> String {
    items.iter().map(|item| format!("\n  {}", shown(item))).collect()
}
