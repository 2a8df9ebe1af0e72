//! Requests that cannot be carried out, one variant each; the message says why and what to do.

use assess::advice::Summary;
use bench::typing::Undone;
use quantity::shown::{count, counted};
use quantity::{Kind, TypedError, UNIT_WORDS, Unit};
use record::Point;
use session::which::VARIABLE;
use session::{SessionError, shown};
use std::path::PathBuf;
use thiserror::Error;

#[derive(Debug, Error)]
pub enum Refusal {
    // Which log
    #[error("no log here. Name one after the verb, set {VARIABLE}, or begin one: jigtrue new PLAN")]
    NoLogHere,
    #[error("{} logs here. Name one after the verb, or set {VARIABLE}:{}", .0.len(), .0.iter().map(|log| format!("\n  {}", path(log))).collect::<String>())]
    SeveralLogs(Vec<PathBuf>),
    // What is typed
    #[error("line {0} is too long for a value")]
    LongLine(u64),
    #[error("no stage has begun, so nothing is wanted yet: jigtrue stage")]
    NoStageBegun,
    #[error("nothing more is wanted in this stage; name the point, as in S4 f 1.45")]
    NothingWanted,
    #[error("standard input was empty, so nothing was recorded; {} wanted", count(*.0, "value is", "values are"))]
    NothingCameIn(u64),
    #[error(transparent)]
    NotTaken(Undone),
    #[error("line {line}: {}\n{go_on}", said(.why))]
    Line {
        line: u64,
        #[source]
        why: Box<SessionError>,
        /// What is on disk, and how to continue.
        go_on: String,
    },
    #[error("no value for {0}: jigtrue take {0} VALUE")]
    NoValue(String),
    #[error("`{}` and --facing {option} contradict each other; leave one of them out", shown(.word))]
    TwoFacings { word: String, option: &'static str },
    #[error("no value after {facing}: write it as in {point} f 1.45 a -1.2")]
    NoValueAfter { facing: &'static str, point: String },
    #[error(
        "`{whole} {fraction}` could be one value or two: put one in quotes, and write a unit after each of two"
    )]
    FractionApart { whole: String, fraction: String },
    #[error("no instrument was chosen; nothing was recorded")]
    NoInstrument,
    #[error("why is it withdrawn? --reason REASON, as in \"the level was on a rivet head\"")]
    WithdrawnWhy,
    #[error("an entry is a number, several are a run such as 14-18")]
    NoEntryNumber(#[source] std::num::ParseIntError),
    #[error("the run {0} ends before it begins")]
    RunBackwards(String),
    #[error("there is no entry {seq}; the last is {last}")]
    NoEntry { seq: u64, last: u64 },
    #[error("there is no such entry; the last is {0}")]
    NoSuchEntry(u64),
    #[error("which one? jigtrue open-item lists them with their numbers")]
    WhichItem,
    #[error("--capacity and --statement are needed where nobody can be asked")]
    NobodyToAsk,
    // What is named
    #[error("`{word}` is not one of {}{}", UNIT_WORDS.map(|known| known.word).join(", "), and_near(.nearest.as_deref()))]
    NotShownIn { word: String, nearest: Option<String> },
    #[error("--units does nothing for `{verb}`: {why}.\n  Leave it out")]
    UnitsNotShown { verb: &'static str, why: &'static str },
    #[error("one unit for each quantity: `{word}` and {} are both units of {}", .other.symbol(), .other.kind().word())]
    TwoUnits { word: String, other: Unit },
    // Forms, sheets, comparisons
    #[error("the plan has no stages, so it does not say what to measure")]
    NoStages,
    #[error("the stage {} requires no readings", shown(.0))]
    NoReadings(String),
    #[error("{} would hold {holds}: name a file that ends in .{usual}, as in {option}{}", path(.file), path(.instead))]
    OtherEnding {
        file: PathBuf,
        holds: &'static str,
        usual: &'static str,
        /// The option that names it, with a space after it; empty if it is an argument.
        option: &'static str,
        instead: PathBuf,
    },
    #[error("a table is not a PDF: leave out --csv, or name a .csv file")]
    TableAsPdf,
    #[error("--paper is for a PDF: name a file that ends in .pdf")]
    PaperWithoutPdf,
    #[error("name the other wing's log, or two stages: --stage \"ribs on\" --with \"rear spar on\"")]
    ComparedWithWhat,
    #[error("{} was not taken up into {}, or has changed since.\n  jigtrue wing LOG WING=LOG takes it up", path(.wing), path(.aeroplane))]
    NotTakenUp { wing: PathBuf, aeroplane: PathBuf },
    #[error("{} is a comparison, not an inspection sheet: to check it, make it again with `compare`", .0.display())]
    Comparison(PathBuf),
    #[error("{} is a blank form, not an inspection sheet: nothing on it was measured", .0.display())]
    BlankForm(PathBuf),
    #[error("{} is not a sheet of this program: it has no fingerprint", .0.display())]
    NoSheet(PathBuf),
    // Ports
    #[error("no file can be proposed for what this port sends, so nothing was written")]
    NothingProposed,
    #[error("no rate was given to listen at")]
    NoRate,
    #[error(
        "an instrument that types sends each value once: its file needs `[settle] hold_ms = 0` (jigtrue instrument \
         example caliper)"
    )]
    TypedOnce,
    #[error("moves need a level, but this instrument measures no angle")]
    NotALevel,
    #[error(
        "nothing that this instrument measures is still wanted at this stage; begin the next stage with \
            `jigtrue stage`, or name a point with --point"
    )]
    NothingToMeasure,
    #[error("no support needs turning: {0}")]
    NothingToTurn(Summary),
    #[error("`{point}` needs {}, but this instrument reads {}", .asks.word(), .reads.word())]
    OtherQuantity { point: Point, asks: Kind, reads: Kind },
    // A value on the line
    #[error("`{}`: {why}", shown(.text))]
    Value {
        text: String,
        #[source]
        why: TypedError,
    },
    #[error("{what}: {why}")]
    Given {
        what: String,
        #[source]
        why: TypedError,
    },
    #[error("{what}, `{}`: {why}", shown(.text))]
    GivenAs {
        what: String,
        text: String,
        #[source]
        why: TypedError,
    },
    #[error("{0} must be above zero")]
    NotAboveZero(String),
    #[error("{0} goes from 0 to 1e-3 a kelvin")]
    Expansion(String),
    #[error("{what} goes from -{most} to {most} degrees")]
    Steep { what: String, most: f64 },
    #[error("`{}` is not a limit; write a number, or - for none", shown(.text))]
    NoLimit {
        text: String,
        #[source]
        why: std::num::ParseFloatError,
    },
    // Torque
    #[error("`{}` has no unit; write --unit in-lb, or \"{} in-lb\"", shown(.0), shown(.0))]
    NoUnit(String),
    #[error("`{}` is not a unit of torque; write N·m, in-lb or ft-lb", shown(.0))]
    NoTorqueUnit(String),
    #[error("the torque wanted must be above zero, and drag must not be negative")]
    Torque,
    #[error("no wrench can be set to the result; check lever, extension and angle")]
    NoWrench,
    #[error("write the unit of both, lever and extension, or of neither")]
    LeverUnits,
    #[error(
        "the lever must be above zero, and the extension must not be negative; one that points back has --angle 180"
    )]
    Lever,
    #[error("the angle goes from -180 to 180 degrees; 0 is straight ahead")]
    Angle,
    #[error("the extension is more than ten times the lever; check both and their units")]
    LongExtension,
    #[error("with this extension the nut is at the grip or behind it; turn the extension")]
    NutBehind,
    // Travel
    #[error("say how the level is --laid, or give --chord and --by")]
    HowLaid,
    #[error("write the unit of both, the length and the chord, or of neither")]
    ChordUnits,
    #[error("the chord must be above zero")]
    Chord,
    // A steel tape
    #[error(
        "give what is known about the tape: --pull with --right-at, --section and --modulus; --pull with \
            --mass and --spans; --temperature with --expansion"
    )]
    NothingOfTheTape,
    #[error("the limit of the pull reaches the pull itself: give a smaller --pull-within")]
    NoPull,
    #[error(
        "the tape would be off by more than a hundredth; check its pull, mass, section and expansion, and their units"
    )]
    FarOff,
    // Tables
    #[error("the table has no temperature column for the correction")]
    NoTemperature,
    #[error(
        "the table has temperatures: say with --part and --tape how part and tape expand, or leave the column out if the lengths \
         hold at 20 °C"
    )]
    Expansions,
    #[error("the least clearance must not be negative")]
    Clearance,
    #[error("the resolution and the repeatability must not be negative")]
    LevelSpread,
    #[error("sides and diagonals must be above zero")]
    Sides,
    #[error("the standard uncertainty of a diagonal must be above zero")]
    DiagonalUncertainty,
    #[error("more than 64 coefficients; use a lower order")]
    ManyCoefficients,
    #[error("every column is a predictor; name the one to fit with --y")]
    NothingFitted,
    #[error(
        "the coefficients are not determined: {} depend on each other in these rows; leave one of them out, or add rows that tell \
         them apart",
        .0.join(", ")
    )]
    Dependent(Vec<String>),
    #[error("weight and tension must be above zero")]
    WeightAndTension,
    #[error("more than 1,000 bushes")]
    ManyBushes,
    #[error("the table has a column u; leave --u out")]
    UTwice,
    #[error("the table has no pair of distances")]
    NoPairs,
    #[error(
        "every person must measure every point equally often: {} measured {} {have} times, but {wanted} is the most",
        shown(.person),
        shown(.point)
    )]
    Unbalanced { person: String, point: String, have: usize, wanted: usize },
}

/// Why a table cannot be used; the file's name precedes the message.
#[derive(Debug, Error)]
pub enum TableFault {
    #[error("{}", line_words(.0))]
    Line(#[source] csv::Error),
    #[error("has no header row; name the columns in the first line, as in span_mm,offset_mm")]
    NoHeader,
    #[error("begins with numbers; name the columns in a header row, as in x,y")]
    Numbers,
    #[error("has a header but no rows")]
    NoRows,
    #[error("has {have} columns but needs at least {least}")]
    FewColumns { have: usize, least: usize },
    #[error("has no column `{}`{}; it has {}", shown(.name), near_column(.name, .have), .have.iter().map(|n| shown(n)).collect::<Vec<_>>().join(", "))]
    NoColumn { name: String, have: Vec<String> },
    #[error("row {row}: `{}` is not a number{}", shown(.text), if .text.contains(',') { "; the decimal mark is a point" } else { "" })]
    NotANumber { row: usize, text: String },
    #[error("`{}` is not a unit of {}", shown(.word), .kind.one())]
    NoUnit { word: String, kind: Kind },
    #[error("row {row}, {}: {why}", shown(.column))]
    Cell {
        row: usize,
        column: String,
        #[source]
        why: TypedError,
    },
    #[error("row {0}: left, right and out must be above zero")]
    Distance(usize),
    #[error("row {0}: a standard uncertainty must be above zero")]
    Uncertainty(usize),
    #[error("row {row}: the uncertainty in `{}` must be above zero", shown(.column))]
    UncertaintyIn { row: usize, column: String },
    #[error("row {row}: the uncertainty in `{}` must not be negative", shown(.column))]
    Negative { row: usize, column: String },
    #[error("has two columns for one thing, `{}` and `{}`; take one of them out", shown(.0), shown(.1))]
    Twice(String, String),
    #[error("row {0}: the bore must be above zero")]
    Bore(usize),
}

fn near_column(name: &str, have: &[String]) -> String {
    let near = quantity::nearest(name, have.iter().map(String::as_str));
    near.map(|near| format!("; nearest is `{}`", shown(near))).unwrap_or_default()
}

fn line_words(why: &csv::Error) -> String {
    match why.kind() {
        csv::ErrorKind::UnequalLengths { pos, expected_len, len } => {
            let line = pos.as_ref().map_or_else(String::new, |p| format!("line {} ", p.line()));
            let fields = counted(*len, "field", "fields");
            format!("{line}has {fields} where the header has {expected_len}")
        }
        _ => why.to_string(),
    }
}

/// The question, if there is one; else the whole message.
fn said(why: &SessionError) -> String {
    match why {
        SessionError::Asks(question) => question.to_string(),
        why => why.to_string(),
    }
}

fn and_near(near: Option<&str>) -> String {
    near.map_or_else(String::new, |near| format!("; the nearest is {near}"))
}

fn path(path: &std::path::Path) -> String {
    shown(&path.display().to_string()).into_owned()
}

impl From<Refusal> for SessionError {
    fn from(why: Refusal) -> Self {
        Self::because(why)
    }
}
