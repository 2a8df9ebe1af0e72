//! The value that stands on the port, and how it compares with the design.

use quantity::Kind;
use record::plan::Direction;
use record::{Facing, Plan, Point, PointKind};

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
    match point.kind() {
        PointKind::Incidence => signed - plan.station(point.place()).map_or(0.0, |s| s.fixture.value()),
        _ => signed,
    }
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
    let high = deviation > 0.0;
    let pick = |over: (&'static str, Option<Arrow>), under: (&'static str, Option<Arrow>)| {
        let (words, arrow) = if high { over } else { under };
        Heading { words, arrow }
    };
    let up_down = pick(("lower it", Some(Arrow::Down)), ("raise it", Some(Arrow::Up)));
    let fore_aft = pick(("bring it forward", Some(Arrow::Fore)), ("bring it aft", Some(Arrow::Aft)));
    Some(match point.kind() {
        PointKind::Level => {
            pick(("lower the outboard end", Some(Arrow::Down)), ("raise the outboard end", Some(Arrow::Up)))
        }
        PointKind::Cross => {
            pick(("lower the leading edge", Some(Arrow::Down)), ("raise the leading edge", Some(Arrow::Up)))
        }
        PointKind::Incidence => {
            pick(("turn the nose down", Some(Arrow::Down)), ("turn the nose up", Some(Arrow::Up)))
        }
        PointKind::Walk => {
            pick(("this step climbs", Some(Arrow::Down)), ("this step falls", Some(Arrow::Up)))
        }
        PointKind::Spacing => {
            pick(("bring it inboard", Some(Arrow::In)), ("bring it outboard", Some(Arrow::Out)))
        }
        PointKind::Height | PointKind::BoreUp => up_down,
        PointKind::BoreAft | PointKind::Plumb => fore_aft,
        PointKind::Offset => {
            let line = plan.lines.iter().find(|l| Some(l.spar.as_str()) == point.spar());
            if line.is_some_and(|l| l.direction == Direction::Aft) { fore_aft } else { up_down }
        }
        PointKind::Diagonal => pick(("this diagonal is long", None), ("this diagonal is short", None)),
        PointKind::Bore => pick(("the bore is large", None), ("the bore is small", None)),
        PointKind::Spot => pick(("too much", None), ("too little", None)),
    })
}
