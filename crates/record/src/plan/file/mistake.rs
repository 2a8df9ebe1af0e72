//! Everything that can be wrong with a plan or an instrument's table.

use crate::{DateParseError, Point, PointParseError};
use quantity::Millimetres;
use quantity::table::{self, TableFault};
use thiserror::Error;

/// The mistakes of a plan.
pub type Mistakes<'t> = table::Mistakes<'t, Mistake>;
/// A table of a plan.
pub type Table<'a, 'i> = table::Table<'a, 'i, Mistake>;

/// What is wrong.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Mistake {
    // The text
    #[error("a plan has at most {most} MiB; this has {bytes} bytes")]
    TooLong { most: usize, bytes: usize },
    #[error("the plan is empty")]
    Empty,
    #[error("this plan is of format {found}, written for a newer program; this one reads format {known}")]
    Newer { found: u32, known: u32 },
    // Keys and values
    #[error(transparent)]
    Table(#[from] TableFault),
    #[error("`{key}`: {why}")]
    Date {
        key: &'static str,
        #[source]
        why: DateParseError,
    },
    #[error("lower ({lower}) must be below upper ({upper})")]
    Limits { lower: f64, upper: f64 },
    #[error("this is in the list already")]
    ListedTwice,
    // Names
    #[error("there is already a {of} named `{name}`")]
    NameTaken { of: &'static str, name: String },
    #[error("the {of} `{name}` looks like the {of} `{other}`")]
    LooksLike { of: &'static str, name: String, other: String },
    #[error("the {of} `{name}` differs from the {of} `{other}` only in capitals")]
    OnlyCapitals { of: &'static str, name: String, other: String },
    #[error("there is no {of} named `{name}`")]
    NoneNamed { of: &'static str, name: String },
    #[error("there is no spar `{0}`")]
    NoSpar(String),
    // The wing
    #[error("a plan is for one [wing] in its jig or for the rigged [aeroplane], not for both")]
    WingAndAeroplane,
    #[error("the root datum ({root} mm) must be inboard of the tip datum ({tip} mm)")]
    DatumOrder { root: f64, tip: f64 },
    #[error("a twist profile needs at least two stations; the plan has {0}")]
    FewStations(usize),
    #[error("all {count} stations are at the same span, {span}")]
    AllAtOneSpan { count: usize, span: Millimetres },
    #[error("the stations `{first}` and `{second}` are both at {span}")]
    TwoAtOneSpan { first: String, second: String, span: Millimetres },
    #[error(
        "the stations `{first}` and `{second}` are less than 0.1 mm apart: no tape tells them apart, so they are one place"
    )]
    OnePlace { first: String, second: String },
    #[error("the bore of `{bush}` must be wider than the shaft, {shaft}")]
    NarrowBore { bush: String, shaft: Millimetres },
    #[error("it has a screw or shims, not both")]
    ScrewAndShims,
    #[error("this plan has {points} points to measure; the most is {most}")]
    ManyPoints { points: usize, most: usize },
    // Stages
    #[error("stage `{first}` closes the wing already; `{second}` cannot too")]
    TwoClose { first: String, second: String },
    #[error("`{0}` names no point of this plan")]
    NoPoint(String),
    #[error("too many patterns with * for a plan of this size")]
    ManyPatterns,
    #[error("the stages list more than {0} points")]
    ManyListed(usize),
    // Instruments
    #[error(
        "a table has at least two rows, {{ dial = 48, force = \"70 lbf\" }}; the tension increases with the dial"
    )]
    DialTable,
    // The rigged aeroplane
    #[error(transparent)]
    NotAPoint(PointParseError),
    #[error("`{0}` is not a rigged point of this plan")]
    NotRigged(Point),
    #[error("`{first}` and `{second}` do not go together: give two things of one quantity")]
    NotTogether { first: Point, second: Point },
    #[error("a pair goes from one mark on the middle (right = 0) to two marks placed alike, left and right")]
    NoPair,
    #[error("`{0}` is not an incidence of this plan, such as rig-incidence@left tip")]
    NoIncidence(Point),
    #[error("station `{station}` or `{point}` is listed twice")]
    StationTwice { station: String, point: Point },
}
