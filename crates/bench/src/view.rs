//! What the bench shows at a moment, as plain data. A face draws it and adds nothing.

use crate::{HandsFree, Measured, Question, Seat, Shown, Target, Zero};
use instrument::{Fault, Unrest};
use quantity::Kind;
use record::{Facing, Point};

/// What the bench shows. It contains no verdict.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct View {
    pub port: PortView,
    /// The instrument that is wanted on it.
    pub instrument: Option<DeviceView>,
    pub live: Live,
    /// The last reading of this run that was not withdrawn.
    pub last: Option<LastTaken>,
    /// Where the next reading goes, and the facing for it.
    pub target: Option<Target>,
    /// Points still wanted that this instrument can measure, including the target.
    pub left: usize,
    /// The zero of the instrument's own axis, as far as known.
    pub zero: Zero,
    /// The live value on the scale of the target's limits, corrected for facing, zero and fixture.
    pub place: Option<Place>,
    pub main: Main,
    /// The loop of moves; `None` outside it.
    pub level: Option<LevelView>,
    /// The open question; until it is answered, nothing is written.
    pub question: Option<Question>,
    /// How the instrument lies on a post.
    pub seat: Seat,
    /// Whether values are taken automatically.
    pub hands_free: HandsFree,
    /// Notes about recent events, the latest last; a few at most.
    pub said: Vec<String>,
    /// The units in which a person wants to see values.
    pub units: quantity::Units,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum PortView {
    #[default]
    None,
    Opening(String),
    Open(String),
}

/// The instrument that is wanted on the port.
#[derive(Clone, Debug, PartialEq)]
pub struct DeviceView {
    pub name: String,
    pub kind: Kind,
    /// The step of its display, in the base unit.
    pub resolution: f64,
    /// True once it sends a second axis.
    pub two_axes: bool,
    pub can_zero: bool,
}

/// The live value, by state. Only states with `shown` have a full-size figure.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Live {
    /// No instrument is on a port.
    #[default]
    None,
    /// The port is open and no value came yet.
    Waiting {
        /// What came that is not a value.
        fault: Option<Fault>,
    },
    Moving {
        shown: Shown,
        /// Why it does not come to rest, once known.
        why: Option<Unrest>,
    },
    /// It has nearly come to rest.
    Settling {
        shown: Shown,
        /// How far, 0 to 1.
        progress: f32,
    },
    /// It is at rest and can be taken.
    Settled {
        shown: Shown,
    },
    /// It is still at the rest that was taken.
    Taken {
        shown: Shown,
        /// Milliseconds since it was taken.
        for_ms: u64,
    },
    /// No value for two seconds, or three times the instrument's own interval.
    Lost {
        /// Milliseconds since the last value.
        for_ms: u64,
        last: Option<Shown>,
    },
    Wrong {
        here: String,
        wanted: String,
    },
}

impl View {
    /// The port that is open or being opened.
    pub fn port_name(&self) -> Option<&str> {
        match &self.port {
            PortView::None => None,
            PortView::Opening(name) | PortView::Open(name) => Some(name),
        }
    }

    pub fn kind(&self) -> Option<Kind> {
        self.instrument.as_ref().map(|it| it.kind)
    }

    pub fn instrument_name(&self) -> Option<&str> {
        self.instrument.as_ref().map(|it| it.name.as_str())
    }

    /// The step of its display, in the base unit; a hundredth if unknown.
    pub fn step(&self) -> f64 {
        let own = self.instrument.as_ref().map(|it| it.resolution);
        self.live.shown().map(|it| it.step).or(own).unwrap_or(0.01)
    }
}

impl LevelView {
    /// Whether a move is in progress, from its start until it is recorded or dropped: facing is locked.
    pub const fn under_way(&self) -> bool {
        matches!(self.phase, Phase::Turning { .. } | Phase::Ended | Phase::Lost)
    }

    /// True at rest on a post if the turn told is less than it may be off: then not even its direction is known.
    pub fn too_little_to_tell(&self) -> bool {
        let doubted = |t: &Turn| t.turns.zip(t.give_or_take).is_some_and(|(turns, off)| turns.abs() < off);
        self.phase == Phase::AtRest && self.site != Site::Spars && self.turn.as_ref().is_some_and(doubted)
    }

    /// The live tilt of the instrument's own axis.
    pub fn tilt(&self) -> Option<&Place> {
        self.tilts.first().filter(|place| Some(&place.point) == self.point.as_ref())
    }
}

/// How it is known how far a screw went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    Level,
    /// The level does not show it where it lies: the turns are counted.
    Count,
}

impl Turn {
    /// What remains in mm, in the direction of [`Turn::mm`].
    pub fn mm_to_go(&self, phase: Phase) -> f64 {
        match phase {
            Phase::Turning { to_go_mm, .. } => to_go_mm,
            _ => self.mm,
        }
    }
}

impl Live {
    /// The value as the instrument shows it, if one is live.
    pub const fn shown(&self) -> Option<Shown> {
        match self {
            Self::Moving { shown, .. }
            | Self::Settling { shown, .. }
            | Self::Settled { shown }
            | Self::Taken { shown, .. } => Some(*shown),
            Self::None | Self::Waiting { .. } | Self::Lost { .. } | Self::Wrong { .. } => None,
        }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct LastTaken {
    pub seq: u64,
    pub point: Point,
    pub facing: Option<Facing>,
    pub text: String,
    /// When, on the bench's clock.
    pub at_ms: u64,
}

/// A live value on the scale of its limits.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    pub point: Point,
    /// The value in the base unit, corrected for facing, zero and fixture as far as known.
    pub value: f64,
    pub zero_out: bool,
    pub design: Option<f64>,
    pub lower: Option<f64>,
    pub upper: Option<f64>,
}

/// What the main key does.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Main {
    /// Nothing, and why.
    #[default]
    Off,
    /// Nothing: hold it still first.
    HoldStill,
    /// Nothing: move the instrument first; this rest was taken.
    MoveFirst,
    Take,
    /// Begins a move: the value at rest is the start.
    Start,
    /// Nothing: a screw is being turned.
    Turning,
    Record(Measured),
    /// Nothing: the level does not show the screw to be turned, so count its turns.
    Count,
    /// Nothing: level enough, leave it.
    Enough,
    /// Nothing: turns are shown once it was taken both ways.
    TakeBothWays,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Site {
    /// A post, levelled by its feet, with the level on it.
    Post(String),
    /// The spars, moved by their supports; the level stays on a station while a screw is turned.
    Spars,
}

/// The loop of moves.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelView {
    pub site: Site,
    /// The point that the instrument's own axis measures; `None` if nothing is left to turn.
    pub point: Option<Point>,
    pub facing: Facing,
    pub phase: Phase,
    /// The live tilts, each on its scale, that of the instrument's own axis first; empty while nothing is live.
    pub tilts: Vec<Place>,
    /// The first of them at the start of the move.
    pub start: Option<f64>,
    /// Supports still to be turned, including that of `turn`; not given for a post's feet.
    pub left: usize,
    /// The screw to turn now; `None` while the zero is unknown or nothing needs turning.
    pub turn: Option<Turn>,
    /// Which end is high, if the zero is unknown.
    pub coarse: Option<Coarse>,
    /// Why nothing is to be turned although something is outside, as text.
    pub reasons: Vec<String>,
}

/// Which end is high by a level with an unknown zero: it gives no amount, and if the post is nearly level the other
/// end may be high.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Coarse {
    pub words: String,
    /// The foot to turn, and which way; `None` if the level shows no tilt or no foot corrects it.
    pub foot: Option<CoarseFoot>,
}

/// A foot, and which way to turn it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CoarseFoot {
    pub name: String,
    pub raise: bool,
}

#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Phase {
    /// No start yet: hold it still.
    #[default]
    HoldStill,
    /// The present value belongs to another seat or the other facing: lay the level as told.
    LayIt,
    /// At rest: it can be the start.
    AtRest,
    /// Started: turn.
    Turning {
        /// How far the foot or support has moved, in mm, by the live value.
        done_mm: f64,
        to_go_mm: f64,
    },
    /// At rest again: the question is open.
    Ended,
    /// The signal was lost during a move; the start is kept.
    Lost,
}

/// A screw to turn, or shims to put in.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// How it is known how far it went.
    pub by: By,
    pub foot: String,
    /// How far, in mm, positive up or in the support's direction.
    pub mm: f64,
    /// Turns of its screw, clockwise positive; `None` for shims.
    pub turns: Option<f64>,
    /// How many of them remain, clockwise positive; the same before the start.
    pub to_go: Option<f64>,
    /// Half width of the 95 % interval of the turns needed.
    pub give_or_take: Option<f64>,
    /// The instruction.
    pub words: String,
}
