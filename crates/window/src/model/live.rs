//! What comes over a port, as screens show it. The bench works it out; nothing here judges it.

use quantity::Kind;
use record::Point;

/// What comes over the port.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Live {
    /// The port, where one is open or being opened.
    pub port: Option<String>,
    /// The instrument wanted on it.
    pub instrument: Option<String>,
    /// What it measures.
    pub kind: Option<Kind>,
    /// The step of its display, in the unit used inside.
    pub step: f64,
    /// The state of the value.
    pub state: LiveState,
    /// The instrument's second axis, as displayed, if it has one.
    pub cross: Option<f64>,
    /// True while settled values are taken by themselves.
    pub hands_free: bool,
    /// The levelling of a post, while it goes on.
    pub levelling: Option<Levelling>,
    /// What is asked before anything more is written.
    pub question: Option<Question>,
}

/// The state of the live value. Values are as the instrument displays them, in the unit used inside.
#[derive(Clone, Debug, PartialEq, Default)]
pub enum LiveState {
    /// No port is open.
    #[default]
    Off,
    /// The port is being opened, or nothing has come yet.
    Opening,
    /// It moves.
    Moving {
        /// The value.
        shown: f64,
    },
    /// It comes to rest.
    Settling {
        /// The value.
        shown: f64,
        /// How far, 0 to 1.
        share: f32,
    },
    /// It rests and can be taken.
    Settled {
        /// The value.
        shown: f64,
    },
    /// This very rest was taken already.
    Taken {
        /// The value.
        shown: f64,
    },
    /// Nothing has come for too long, or the port has gone; it is looked for.
    Lost {
        /// For how long, in seconds.
        seconds: u32,
        /// The last value that came.
        last: Option<f64>,
    },
    /// Another instrument than the one wanted.
    Wrong {
        /// What is plugged in.
        here: String,
        /// What is wanted.
        wanted: String,
    },
}

impl LiveState {
    /// The value, where one stands that is live.
    #[must_use]
    pub const fn shown(&self) -> Option<f64> {
        match self {
            Self::Moving { shown }
            | Self::Settling { shown, .. }
            | Self::Settled { shown }
            | Self::Taken { shown } => Some(*shown),
            Self::Off | Self::Opening | Self::Lost { .. } | Self::Wrong { .. } => None,
        }
    }
}

/// The levelling of a post: held still, turned, held still. Nothing in it is a verdict.
#[derive(Clone, Debug, PartialEq)]
pub struct Levelling {
    /// The post.
    pub post: String,
    /// The tilt that is live.
    pub point: Point,
    /// Its value; facing taken out, and the zero where it is known. None while nothing is live.
    pub tilt: Option<f64>,
    /// True where the zero is taken out.
    pub zero_out: bool,
    /// How far the move is.
    pub phase: Phase,
    /// The tilt at the start.
    pub start: Option<f64>,
    /// The screw to turn now.
    pub turn: Option<Turn>,
    /// Which end is high, where the zero is not known.
    pub coarse: Option<String>,
    /// Why a tilt cannot be taken out at the feet.
    pub reasons: Vec<String>,
    /// What a move at rest has moved: it can be recorded.
    pub moved: Option<Moved>,
}

/// How far a move is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Phase {
    /// No start yet: hold it still.
    #[default]
    HoldStill,
    /// At rest: it can be the start.
    AtRest,
    /// Started: turn.
    Turning {
        /// How far the screw has moved the post, in mm.
        done_mm: f64,
    },
    /// At rest again.
    Ended,
    /// The signal went in the middle of a move.
    Lost,
}

/// A screw to turn.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// The foot.
    pub foot: String,
    /// How far still to go, positive up, in mm.
    pub mm: f64,
    /// Turns still to go, clockwise positive; none for shims.
    pub turns: Option<f64>,
    /// Turns by which that may be wrong, as half a 95 % interval.
    pub give_or_take: Option<f64>,
}

/// What was moved, by the difference of the two rests.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// The foot.
    pub foot: String,
    /// How far, positive up, in mm.
    pub mm: f64,
    /// Turns of its screw, clockwise positive; none for shims.
    pub turns: Option<f64>,
}

/// A question: until it is answered nothing is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// What is asked.
    pub title: String,
    /// What one should know.
    pub words: String,
    /// The answers, the main one last.
    pub answers: Vec<QuestionAnswer>,
}

/// An answer to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QuestionAnswer {
    /// What it says.
    pub text: String,
    /// What the bench is told.
    pub reply: crate::action::Reply,
}
