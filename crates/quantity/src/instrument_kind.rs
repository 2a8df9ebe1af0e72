//! Sorts of instruments.

use crate::Kind;

crate::words! {
    /// What sort of instrument it is.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    #[cfg_attr(
        feature = "serde",
        derive(serde::Serialize, serde::Deserialize),
        serde(rename_all = "kebab-case")
    )]
    pub enum InstrumentKind {
        /// A digital level or clinometer: angles.
        Inclinometer = "inclinometer",
        /// A caliper or depth gauge: lengths.
        Caliper = "caliper",
        /// A tape or rule: lengths.
        Tape = "tape",
        /// A torque wrench: torques.
        TorqueWrench = "torque-wrench",
        /// A tensiometer: forces.
        Tensiometer = "tensiometer",
        /// Anything else; its quantity is as the point asks.
        Other = "other",
    }
}

impl InstrumentKind {
    /// The quantity it reads, where that is certain.
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
