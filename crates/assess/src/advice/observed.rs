//! Observations that teach about the supports: moves, and their visible effect.

/// One thing that teaches something, in order of time.
#[derive(Clone, Debug, PartialEq)]
pub enum Event {
    /// A stage began: the wing is stiffer or softer than before.
    Stage,
    /// Supports were moved and the profile was measured before and after.
    Observed(Observation),
}

/// Moves with what they did.
#[derive(Clone, Debug, PartialEq)]
pub struct Observation {
    /// How much was turned, summed over the records, one entry for each support.
    pub moves: Vec<Turned>,
    /// The change of each station measured both times.
    pub stations: Vec<Seen>,
    /// Errors shared by several changes: how much each station's change shifts with one standard uncertainty of it,
    /// in degrees.
    pub shared: Vec<Vec<f64>>,
}

/// Change of the incidence at a station.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    pub span_mm: f64,
    /// Change of the measured incidence, after less before.
    pub change_deg: f64,
    /// Independent standard uncertainty.
    pub own_deg: f64,
}

/// A move of a support as set by hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turned {
    /// Position of the support in the plan's list.
    pub support: usize,
    /// How far, in mm.
    pub mm: f64,
    /// Standard uncertainty of that, in mm.
    pub u_mm: f64,
}
