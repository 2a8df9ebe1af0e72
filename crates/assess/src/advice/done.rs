//! Moves made with a level on a station.

use super::observed::{Observation, Seen, Turned};
use super::steps::hand_mm;
use record::plan::Plan;

/// A move of a support made since the profile was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Done {
    pub support: String,
    /// How much was turned or put in, in mm, positive in the support's direction.
    pub mm: f64,
    /// Its standard uncertainty, in mm, if the amount comes from the observed change; `None` if it was set by eye.
    pub u_mm: Option<f64>,
    /// What a level on a station showed during the move.
    pub seen: Option<SeenAt>,
}

/// A change of the incidence at a station: rest after less rest before.
#[derive(Clone, Debug, PartialEq)]
pub struct SeenAt {
    pub station: String,
    /// The change, in degrees.
    pub change_deg: f64,
    /// Its standard uncertainty.
    pub u_deg: f64,
}

impl From<&record::Move> for Done {
    fn from(made: &record::Move) -> Self {
        let at = |seen: &record::MoveSeen| SeenAt {
            station: seen.point.place().to_owned(),
            change_deg: seen.change.value(),
            u_deg: seen.u.value(),
        };
        let incidence = |seen: &&record::MoveSeen| seen.point.kind() == record::PointKind::Incidence;
        Self {
            support: made.support.clone(),
            mm: made.amount.value(),
            u_mm: made.u().map(quantity::Millimetres::value),
            seen: made.seen.as_ref().filter(incidence).map(at),
        }
    }
}

/// What a move teaches; `None` if nothing was observed, if its amount was computed from what was observed, or if the
/// plan lacks the support or the station.
pub(super) fn observation(plan: &Plan, done: &Done) -> Option<Observation> {
    let seen = done.seen.as_ref().filter(|_| done.u_mm.is_none())?;
    let support = plan.supports.iter().position(|s| s.name == done.support)?;
    let station = plan.station(&seen.station)?;
    let u_mm = hand_mm(&plan.supports[support]);
    Some(Observation {
        moves: vec![Turned { support, mm: done.mm, u_mm }],
        stations: vec![Seen {
            span_mm: station.span.value(),
            change_deg: seen.change_deg,
            own_deg: seen.u_deg,
        }],
        shared: vec![],
    })
}
