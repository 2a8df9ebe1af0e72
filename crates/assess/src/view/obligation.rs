//! What must be proven before the skins close, and what was found.

use super::{Verdict, of_obligation};

use serde::Serialize;

quantity::words_in_json! {
    /// What sort of thing must be proven, in the order of the sheet's board.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
    pub enum ObligationKind {
        /// A stage up to the closing one was begun in order, or skipped with a reason.
        Stage = "stage",
        /// Tilt of a post along the span.
        Level = "level",
        /// Tilt of a post fore and aft.
        Cross = "cross",
        /// The rigid part of the deviation.
        Setting = "setting",
        /// Twist error at the tip datum.
        Washout = "washout",
        /// Change of the deviation from a station to the next.
        Neighbour = "neighbour",
        /// Twist error of a station.
        Station = "station",
        /// Straightness of a spar.
        Straightness = "straightness",
        /// Distance of a station from the root datum.
        Spacing = "spacing",
        /// Angle out of square of a bay.
        Square = "square",
        /// Clearance of the shaft in its bushes.
        Clearance = "clearance",
        /// A spot check.
        Spot = "spot",
        /// Something of the rigged aeroplane.
        Rigging = "rigging",
        /// A required point that contributes to nothing judged.
        Point = "point",
        /// An instrument that was used.
        Instrument = "instrument",
        /// A thing left open.
        OpenItem = "open_item",
        /// The log itself: its chain, its signatures, its plan.
        Record = "record",
    }
}

impl ObligationKind {
    /// The kinds judged from the whole profile, with their names.
    pub(crate) const OF_PROFILE: [(Self, &'static str); 3] =
        [(Self::Setting, "setting"), (Self::Washout, "washout error"), (Self::Neighbour, "steps")];

    /// The heading for several of this kind (`stages`, `left open`).
    pub const fn plural(self) -> &'static str {
        self.row().plural
    }

    /// The name of one in a sentence, with its name in the plan: `level of root-post`.
    pub fn of(self, about: &str) -> String {
        match self {
            Self::Neighbour => "the largest step".to_owned(),
            _ => format!("{}{about}", self.row().before),
        }
    }

    /// What is measured in the same walk with it.
    pub(crate) const fn walk(self) -> &'static str {
        self.row().walk
    }

    const fn row(self) -> Row {
        match self {
            Self::Stage => row("stages", "", "points"),
            Self::Level => row("posts, along", "level of ", "posts"),
            Self::Cross => row("posts, across", "cross level of ", "posts"),
            Self::Setting => row("setting", "", "twist"),
            Self::Washout => row("washout error", "", "twist"),
            Self::Neighbour => row("steps", "", "twist"),
            Self::Station => row("stations", "", "twist"),
            Self::Straightness => row("straightness", "straightness of ", "straightness"),
            Self::Spacing => row("spacing", "spacing of ", "spacing"),
            Self::Square => row("bays", "squareness of ", "squareness"),
            Self::Clearance => row("shafts", "clearance of ", "shaft"),
            Self::Spot => row("spots", "", "spots"),
            Self::Rigging => row("rigging", "", "rigging"),
            Self::Point => row("points", "", "points"),
            Self::Instrument => row("instruments", "", "points"),
            Self::OpenItem => row("left open", "", "points"),
            Self::Record => row("record", "", "points"),
        }
    }
}

/// The words for a kind.
struct Row {
    plural: &'static str,
    /// The text before its name in a sentence.
    before: &'static str,
    walk: &'static str,
}

const fn row(plural: &'static str, before: &'static str, walk: &'static str) -> Row {
    Row { plural, before, walk }
}

/// One thing that must be proven before the skins close.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Obligation {
    /// What sort of thing.
    pub kind: ObligationKind,
    /// The plan's own name for it; kind and name together are unique and stable.
    pub about: String,
    /// What was found.
    #[serde(serialize_with = "of_obligation")]
    pub state: Verdict,
    /// What was found, as text: the thing, its value, its limit.
    pub words: String,
    /// What it is called in a sentence (`level of root-post`).
    pub what: String,
    /// The value found, with its 95 % and unit, if there is one.
    pub found: Option<String>,
    /// The plan's limit for it, with its unit.
    pub limit: Option<String>,
    /// Probability that it conforms.
    pub conforms: Option<f64>,
    /// Numbers of the entries it rests on.
    pub evidence: Vec<u64>,
    /// Its cause, which is the `cause` of one of the gate's reasons; `None` if it is met.
    pub cause: Option<String>,
    /// Whether the present stage requires what it rests on, so that the stage must answer for it.
    #[serde(skip)]
    pub of_stage: bool,
}
