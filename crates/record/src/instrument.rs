//! What an instrument is, as far as the arithmetic needs to know.

use crate::{Date, Limits};
use quantity::{Kind, Unit};
use serde::{Deserialize, Serialize};

/// What sort of instrument it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum InstrumentKind {
    /// A digital level or clinometer: angles.
    Inclinometer,
    /// A caliper or depth gauge: lengths.
    Caliper,
    /// A tape or rule: lengths.
    Tape,
    /// A torque wrench: torques.
    TorqueWrench,
    /// A tensiometer: forces.
    Tensiometer,
    /// Anything else; its quantity is as the point asks.
    Other,
}

impl InstrumentKind {
    /// The quantity it reads, where that is certain.
    #[must_use]
    pub const fn quantity(self) -> Option<Kind> {
        match self {
            Self::Inclinometer => Some(Kind::Angle),
            Self::Caliper | Self::Tape => Some(Kind::Length),
            Self::TorqueWrench => Some(Kind::Torque),
            Self::Tensiometer => Some(Kind::Force),
            Self::Other => None,
        }
    }
}

/// An instrument. The numbers are in the unit used inside for its quantity (degrees, mm, N·m, N).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Instrument {
    /// The name people use for it.
    pub name: String,
    /// Its serial or tool number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub number: Option<String>,
    /// What sort it is.
    pub kind: InstrumentKind,
    /// The unit it shows, in which a bare number typed for it is; absent where that is the unit used inside.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<Unit>,
    /// The step of its display.
    pub resolution: f64,
    /// What it can show at all; a value beyond is refused.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub range: Option<Limits<f64>>,
    /// The limit of error its maker states (a rectangular limit, not a standard deviation).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accuracy: Option<f64>,
    /// Standard deviation of one seating, from its own repeat study or its maker.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub repeatability: Option<f64>,
    /// Limit of relative error proportional to the value (0.001 is 0.1 %), where its maker states one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale: Option<f64>,
    /// Thermal expansion of a tape or caliper, per kelvin.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub expansion: Option<f64>,
    /// The day its check was last done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub checked: Option<Date>,
    /// The day its check runs out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<Date>,
}

impl Instrument {
    /// The unit of a bare number typed for it, where it is not the one used inside.
    #[must_use]
    pub fn bare_unit(&self, quantity: Kind) -> Option<Unit> {
        self.unit.filter(|unit| unit.kind() == quantity)
    }
}

/// A check done on an instrument in the shop.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct InstrumentCheck {
    /// Which instrument.
    pub instrument: String,
    /// `reversal` or `known slope`.
    pub method: String,
    /// The zero or the error found, in the unit used inside.
    pub found: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// Whether the instrument passed by its own stated accuracy.
    pub passed: bool,
}
