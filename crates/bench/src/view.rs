//! What the bench shows at a moment: plain data. A face draws it and adds nothing.

use crate::{HandsFree, Measured, Question, Seat, Shown, Target, Zero};
use instrument::{Fault, Unrest};
use quantity::Kind;
use record::{Facing, Point};

/// What the bench shows. Nothing in it is a verdict.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct View {
    pub port: PortView,
    /// The instrument that is wanted on it.
    pub instrument: Option<DeviceView>,
    pub live: Live,
    /// The last reading of this run that was not withdrawn.
    pub last: Option<LastTaken>,
    /// Where the next reading goes, and which way the instrument faces.
    pub target: Option<Target>,
    /// Points still wanted that this instrument can measure, the target among them.
    pub left: usize,
    /// The zero of the instrument's own axis, as far as it is known.
    pub zero: Zero,
    /// The live value on the scale of the target's limits; facing, zero and fixture taken out.
    pub place: Option<Place>,
    pub main: Main,
    /// The loop of moves; none outside it.
    pub level: Option<LevelView>,
    /// What is asked; until it is answered nothing is written.
    pub question: Option<Question>,
    /// How the instrument lies on a post.
    pub seat: Seat,
    /// Whether values are taken by themselves.
    pub hands_free: HandsFree,
    /// Notes of what just happened, in words, the latest last; at most a few.
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

/// The live value, by state. No state but the ones with `shown` has a figure of full size.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Live {
    /// No instrument is on a port.
    #[default]
    None,
    /// The port is open and no value came yet.
    Waiting {
        /// What came that is no value.
        fault: Option<Fault>,
    },
    Moving {
        shown: Shown,
        /// Why it does not come to rest, once that is known.
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

    /// The step of its display, in the base unit; a hundredth where none is known.
    pub fn step(&self) -> f64 {
        let own = self.instrument.as_ref().map(|it| it.resolution);
        self.live.shown().map(|it| it.step).or(own).unwrap_or(0.01)
    }
}

impl LevelView {
    /// True from the start of a move until it is recorded or dropped: facing is locked.
    pub const fn under_way(&self) -> bool {
        matches!(self.phase, Phase::Turning { .. } | Phase::Ended | Phase::Lost)
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
    /// The level does not show it as it lies: the turns are counted.
    Count,
}

impl Turn {
    /// What is still to go in mm, in the direction of [`Turn::mm`].
    pub fn mm_to_go(&self, phase: Phase) -> f64 {
        match phase {
            Phase::Turning { to_go_mm, .. } => to_go_mm,
            _ => self.mm,
        }
    }
}

impl Live {
    /// The value as the instrument shows it, where one is live.
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
    /// The value, in the base unit; what is known of facing, zero and fixture taken out.
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
    /// Nothing: move the instrument first, this rest was taken.
    MoveFirst,
    Take,
    /// Begins a move: the value at rest is the start.
    Start,
    /// Nothing: a screw is being turned.
    Turning,
    Record(Measured),
    /// Nothing: a screw is to be turned that the level does not show, and its turns counted.
    Count,
    /// Nothing: level enough, leave it.
    Enough,
    /// Nothing: turns are shown once it was taken both ways.
    TakeBothWays,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Site {
    /// A post, levelled by its feet; the level lies on it.
    Post(String),
    /// The spars, moved by their supports; the level stays on a station while a screw is turned.
    Spars,
}

/// The loop of moves.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelView {
    pub site: Site,
    /// The point that the instrument's own axis measures where it lies; none where nothing is left to turn.
    pub point: Option<Point>,
    pub facing: Facing,
    pub phase: Phase,
    /// The tilts that are live, each on its scale, that of the instrument's own axis first; none while nothing is live.
    pub tilts: Vec<Place>,
    /// The first of them at the start of the move.
    pub start: Option<f64>,
    /// Supports still to be turned, that of `turn` among them; of a post's feet it is not said.
    pub left: usize,
    /// The screw to turn now; none while the zero is not known or nothing needs turning.
    pub turn: Option<Turn>,
    /// Which end is high, where the zero is not known.
    pub coarse: Option<Coarse>,
    /// Why nothing is to be turned though something is out, in words.
    pub reasons: Vec<String>,
}

/// Which end is high by a level whose zero is not known: no amount follows from it, and where it is nearly level the other end
/// may be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Coarse {
    pub words: String,
    /// The foot that would be turned, and which way; none where the level shows no tilt or no foot takes it out.
    pub foot: Option<CoarseFoot>,
}

/// A foot, and which way it would go.
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
    /// The value that is there is of another seat or the other facing: the level is to be laid as it is told.
    LayIt,
    /// At rest: it can be the start.
    AtRest,
    /// Started: turn.
    Turning {
        /// How far the foot or support has moved, in mm, as the live value says.
        done_mm: f64,
        to_go_mm: f64,
    },
    /// At rest again: the question is open.
    Ended,
    /// The signal went in the middle of a move; the start is kept.
    Lost,
}

/// A screw to turn, or shims to put in.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// How it is known how far it went.
    pub by: By,
    pub foot: String,
    /// How far, positive up, or in the support's direction, in mm.
    pub mm: f64,
    /// Turns of its screw, clockwise positive; none for shims.
    pub turns: Option<f64>,
    /// What is still to go of them, clockwise positive; the same before the start.
    pub to_go: Option<f64>,
    /// Half width of the 95 % interval of the turns needed.
    pub give_or_take: Option<f64>,
    /// The sentence for a hand.
    pub words: String,
}
