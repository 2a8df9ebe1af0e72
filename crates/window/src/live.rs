//! The value that stands on the port, and how it compares with the design.

use quantity::Kind;
use record::plan::Direction;
use record::point::{Go, Judgement};
use record::{Facing, Plan, Point};

/// What stands on the port.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Live {
    /// The state of the port.
    pub port: Port,
    /// The instrument on it.
    pub instrument: Option<String>,
    /// The last value; none before the first.
    pub value: Option<Value>,
}

/// The state of a port.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum Port {
    /// None is open.
    #[default]
    None,
    /// It is being opened.
    Opening(String),
    /// It is open and values come in.
    Open(String),
    /// It is open and nothing came in for a while.
    Quiet(String),
    /// It has gone; it is looked for.
    Lost(String),
    /// Another instrument than the one asked for is on it; nothing is taken from it.
    Stranger {
        /// The port.
        port: String,
        /// The number the instrument gives.
        number: String,
    },
}

/// A value on the port.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Value {
    /// The number as displayed, in the unit used inside.
    pub shown: f64,
    /// What it is.
    pub kind: Kind,
    /// The step of the display.
    pub resolution: f64,
    /// The instrument's other axis, if it has one, as displayed.
    pub cross_shown: Option<f64>,
    /// How far it has settled, 0 to 1.
    pub settled: f32,
    /// True once it may be taken.
    pub ready: bool,
    /// True where a reading of this very rest was taken already.
    pub taken: bool,
}

/// What the number on the display means at a point: the facing's sign and the fixture taken into account.
#[must_use]
pub fn meant(plan: &Plan, point: &Point, shown: f64, facing: Option<Facing>) -> f64 {
    let signed = if point.kind().reverses() { shown * facing.map_or(1.0, Facing::sign) } else { shown };
    signed - plan.fixture_of(point)
}

/// What to do about a deviation, in words, and which way the arrow points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Heading {
    /// The words.
    pub words: &'static str,
    /// The arrow; none where no direction in space answers.
    pub arrow: Option<Arrow>,
}

/// A direction on the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrow {
    /// Up.
    Up,
    /// Down.
    Down,
    /// Outboard.
    Out,
    /// Inboard.
    In,
    /// Aft.
    Aft,
    /// Forward.
    Fore,
}

/// Which way to go from a deviation (value less design); none if it is zero as shown.
#[must_use]
pub fn heading(plan: &Plan, point: &Point, deviation: f64, step: f64) -> Option<Heading> {
    if deviation.abs() < step / 2.0 {
        return None;
    }
    let row = point.kind().row();
    let off = if deviation > 0.0 { row.above } else { row.below };
    let aft = |l: &record::plan::Line| Some(l.spar.as_str()) == point.spar() && l.direction == Direction::Aft;
    // An offset is mended in the direction in which its line measures.
    let across = row.judgement == Judgement::Straightness && row.arrow == record::point::Arrow::None;
    Some(match off.go {
        Go::Down if across && plan.lines.iter().any(aft) => {
            Heading { words: "bring it forward", arrow: Some(Arrow::Fore) }
        }
        Go::Up if across && plan.lines.iter().any(aft) => {
            Heading { words: "bring it aft", arrow: Some(Arrow::Aft) }
        }
        go => Heading { words: off.words, arrow: arrow(go) },
    })
}

const fn arrow(go: Go) -> Option<Arrow> {
    match go {
        Go::Nowhere => None,
        Go::Up => Some(Arrow::Up),
        Go::Down => Some(Arrow::Down),
        Go::Outboard => Some(Arrow::Out),
        Go::Inboard => Some(Arrow::In),
        Go::Aft => Some(Arrow::Aft),
        Go::Forward => Some(Arrow::Fore),
    }
}
