//! What must be proven before the skins close, and what was found.

use serde::Serialize;

/// What sort of thing must be proven, in the order of the sheet's board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ObligationKind {
    /// A stage up to the closing one was begun in order, or passed over with a reason.
    Stage,
    /// Tilt of a post along the span.
    Level,
    /// Tilt of a post fore and aft.
    Cross,
    /// The rigid part of the deviation.
    Setting,
    /// Twist error at the tip datum.
    Washout,
    /// Change of the deviation from a station to the next.
    Neighbour,
    /// Twist error of a station.
    Station,
    /// Straightness of a spar.
    Straightness,
    /// Distance of a station from the root datum.
    Spacing,
    /// Angle out of square of a bay.
    Square,
    /// Clearance of the shaft in its bushes.
    Clearance,
    /// A spot check.
    Spot,
    /// Something of the rigged aeroplane.
    Rigging,
    /// A required point that feeds nothing judged.
    Point,
    /// An instrument that was used.
    Instrument,
    /// A thing left open.
    OpenItem,
    /// The log itself: its chain, its signatures, its plan.
    Record,
}

impl ObligationKind {
    /// Every kind, in the order of the board.
    pub const ALL: [Self; 17] = [
        Self::Stage,
        Self::Level,
        Self::Cross,
        Self::Setting,
        Self::Washout,
        Self::Neighbour,
        Self::Station,
        Self::Straightness,
        Self::Spacing,
        Self::Square,
        Self::Clearance,
        Self::Spot,
        Self::Rigging,
        Self::Point,
        Self::Instrument,
        Self::OpenItem,
        Self::Record,
    ];

    /// The word for it, as in JSON.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stage => "stage",
            Self::Level => "level",
            Self::Cross => "cross",
            Self::Setting => "setting",
            Self::Washout => "washout",
            Self::Neighbour => "neighbour",
            Self::Station => "station",
            Self::Straightness => "straightness",
            Self::Spacing => "spacing",
            Self::Square => "square",
            Self::Clearance => "clearance",
            Self::Spot => "spot",
            Self::Rigging => "rigging",
            Self::Point => "point",
            Self::Instrument => "instrument",
            Self::OpenItem => "open_item",
            Self::Record => "record",
        }
    }

    /// What a list of them is called (`stages`, `left open`).
    #[must_use]
    pub const fn plural(self) -> &'static str {
        match self {
            Self::Stage => "stages",
            Self::Level => "posts, along",
            Self::Cross => "posts, across",
            Self::Setting => "setting",
            Self::Washout => "washout error",
            Self::Neighbour => "steps",
            Self::Station => "stations",
            Self::Straightness => "straightness",
            Self::Spacing => "spacing",
            Self::Square => "bays",
            Self::Clearance => "shafts",
            Self::Spot => "spots",
            Self::Rigging => "rigging",
            Self::Point => "points",
            Self::Instrument => "instruments",
            Self::OpenItem => "left open",
            Self::Record => "record",
        }
    }
}

/// What was found of an obligation. Only `Met` discharges it; the order is that of concern, the worst last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ObligationState {
    /// Proven, by the evidence named beside it.
    Met,
    /// Nothing was recorded.
    Missing,
    /// What was recorded was disturbed since.
    Stale,
    /// Measured; neither conformity nor the contrary is proven.
    Undecided,
    /// What was recorded contradicts itself, or what it rests on is in doubt.
    Doubtful,
    /// Recorded, and no value follows from it, or nothing says what passes.
    CannotJudge,
    /// Proven not to be so.
    Outside,
}

impl ObligationState {
    /// Every state, worst first, `Met` last.
    pub const WORST_FIRST: [Self; 7] = [
        Self::Outside,
        Self::CannotJudge,
        Self::Doubtful,
        Self::Undecided,
        Self::Stale,
        Self::Missing,
        Self::Met,
    ];

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Met => "met",
            Self::Missing => "missing",
            Self::Stale => "stale",
            Self::Undecided => "undecided",
            Self::Doubtful => "doubtful",
            Self::CannotJudge => "cannot be judged",
            Self::Outside => "outside",
        }
    }
}

/// One thing that must be proven before the skins close.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Obligation {
    /// What sort of thing.
    pub kind: ObligationKind,
    /// The plan's own name for it; kind and name together are unique and stable.
    pub about: String,
    /// What was found.
    pub state: ObligationState,
    /// What was found, for a person: the thing, its value, its limit.
    pub words: String,
    /// What it is called in a sentence (`level of root-post`).
    pub what: String,
    /// The value found, with its 95 % and unit; none where there is none.
    pub found: Option<String>,
    /// The plan's limit for it, with its unit.
    pub limit: Option<String>,
    /// Probability that it conforms.
    pub conforms: Option<f64>,
    /// Numbers of the entries it rests on.
    pub evidence: Vec<u64>,
    /// The cause it goes with, which is the `cause` of one of the gate's reasons; none where it is met.
    pub cause: Option<String>,
}
