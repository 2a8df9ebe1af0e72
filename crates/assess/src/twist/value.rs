//! The value of a station, before anything is judged.

use crate::incidence::{self, Incidence};
use crate::parts::Values;
use record::plan::{Plan, Station};

/// A station with a usable incidence.
#[derive(Clone, Debug)]
pub struct StationValue {
    /// Its position in the plan's list.
    pub index: usize,
    /// Relative place along the span.
    pub eta: f64,
    /// Measured less design, in degrees.
    pub deviation: f64,
    /// The measured incidence.
    pub incidence: Incidence,
    /// The quality of one reading, if the angle is read directly.
    pub(super) reading: Option<OneReading>,
}

/// One reading of an instrument.
#[derive(Clone, Copy, Debug)]
pub(super) struct OneReading {
    /// Step of the display.
    pub resolution: f64,
    /// Standard deviation of one seating.
    pub seating: f64,
}

impl StationValue {
    /// The value of a station, by its position in the plan's list; `None` without a usable incidence in these values.
    pub(super) fn of(plan: &Plan, index: usize, station: &Station, measured: &Values) -> Option<Self> {
        let incidence = incidence::of_station(plan, station, measured)?;
        let direct = incidence::read_at(station, measured);
        Some(Self {
            index,
            eta: plan.eta(station.span),
            deviation: incidence.estimate.value - station.incidence.value(),
            incidence,
            reading: direct.map(|m| OneReading { resolution: m.resolution, seating: m.seating }),
        })
    }
}
