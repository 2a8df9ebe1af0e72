//! What an instrument is, as far as the arithmetic needs to know.

use crate::plan::Cable;
use crate::{Date, Limits};
use quantity::shown::exact;
use quantity::{Kind, Unit, Units};
use serde::{Deserialize, Serialize};

crate::words! {
    /// What sort of instrument it is.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
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
    /// Of a tape: what its pull and its weight do to it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tape: Option<TapeFacts>,
    /// Of a tensiometer that shows divisions: its tables, one a cable. Resolution, range, accuracy and repeatability are then in
    /// divisions.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tables: Vec<DialTable>,
    /// The day its check was last done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub checked: Option<Date>,
    /// The day its check runs out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<Date>,
}

/// What pull and weight do to a tape.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TapeFacts {
    /// The pull under which it is right, in N.
    pub pull: f64,
    /// Its mass, in g a metre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass: Option<f64>,
    /// Its section, in mm².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub section: Option<f64>,
    /// Its modulus of elasticity, in N/mm².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub modulus: Option<f64>,
}

/// The table of a tensiometer for one cable: what its dial shows, and what the tension then is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DialTable {
    /// The cable, as the plan's `size` says it.
    pub cable: String,
    /// The riser that is fitted for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub riser: Option<String>,
    /// Limit of error of the table itself, in N.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accuracy: Option<f64>,
    /// Its rows, both growing.
    pub rows: Vec<DialRow>,
}

/// A row of such a table.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DialRow {
    /// What the dial shows.
    pub dial: f64,
    /// The tension, in N.
    pub force: f64,
}

/// A tension by a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DialForce {
    /// The tension, in N.
    pub force: f64,
    /// Its change with the dial, N a division.
    pub slope: f64,
}

impl DialTable {
    /// True where it can be read: two rows at least, everything finite, dial and force above zero and growing together.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        let grows = |pair: &[DialRow]| pair[0].dial < pair[1].dial && pair[0].force < pair[1].force;
        let sound =
            |r: &DialRow| r.dial.is_finite() && r.force.is_finite() && r.dial >= 0.0 && r.force >= 0.0;
        self.rows.len() >= 2
            && self.rows.iter().all(sound)
            && self.rows.windows(2).all(grows)
            && self.accuracy.is_none_or(|a| a.is_finite() && a >= 0.0)
    }

    /// The tension for what the dial shows, straight between the rows; `None` outside the table.
    #[must_use]
    pub fn force(&self, dial: f64) -> Option<DialForce> {
        if !self.is_sound() {
            return None;
        }
        self.rows.windows(2).find(|pair| (pair[0].dial..=pair[1].dial).contains(&dial)).map(|pair| {
            let slope = (pair[1].force - pair[0].force) / (pair[1].dial - pair[0].dial);
            DialForce { force: pair[0].force + slope * (dial - pair[0].dial), slope }
        })
    }
}

/// Why no tension follows from a dial.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoForce {
    /// The plan does not say what the cable is.
    #[error("the plan does not say the size of its cable, so no table of the instrument is for it")]
    NoSize,
    /// No table, or more than one, is for this cable.
    #[error("the instrument has no one table for `{size}{}`", .riser.as_ref().map_or_else(String::new, |r| format!(", riser {r}")))]
    NoTable { size: String, riser: Option<String> },
    /// It lies outside the table, whose dial readings go from the one to the other.
    #[error("it lies outside the instrument's table, which goes from {} to {}", exact(*.from), exact(*.to))]
    Outside { from: f64, to: f64 },
}

impl Instrument {
    /// An instrument of which no more than this is known; the resolution in the unit used inside.
    #[must_use]
    pub fn of(name: &str, kind: InstrumentKind, resolution: f64) -> Self {
        Self {
            name: name.to_owned(),
            number: None,
            kind,
            unit: None,
            resolution,
            range: None,
            accuracy: None,
            repeatability: None,
            scale: None,
            expansion: None,
            tape: None,
            tables: Vec::new(),
            checked: None,
            due: None,
        }
    }

    /// True where it shows divisions, of which its own tables make a force.
    #[must_use]
    pub const fn shows_divisions(&self) -> bool {
        !self.tables.is_empty()
    }

    /// Its table for a cable.
    ///
    /// # Errors
    /// Where the cable has no size, or not just one table is for it.
    pub fn table_for(&self, cable: Option<&Cable>) -> Result<&DialTable, NoForce> {
        let cable = cable.ok_or(NoForce::NoSize)?;
        let size = cable.size.as_deref().ok_or(NoForce::NoSize)?;
        let riser = |t: &DialTable| cable.riser.is_none() || t.riser == cable.riser;
        let mut fit = self.tables.iter().filter(|t| t.cable == size && riser(t));
        match (fit.next(), fit.next()) {
            (Some(table), None) => Ok(table),
            _ => Err(NoForce::NoTable { size: size.to_owned(), riser: cable.riser.clone() }),
        }
    }

    /// The tension of a cable for what the dial shows.
    ///
    /// # Errors
    /// Where no table is for the cable, or the dial lies outside it.
    pub fn force(&self, cable: Option<&Cable>, dial: f64) -> Result<DialForce, NoForce> {
        let table = self.table_for(cable)?;
        let end = |row: Option<&DialRow>| row.map_or(f64::NAN, |r| r.dial);
        let outside = || NoForce::Outside { from: end(table.rows.first()), to: end(table.rows.last()) };
        table.force(dial).ok_or_else(outside)
    }

    /// The unit of a bare number typed for it, where it is not the one used inside.
    #[must_use]
    pub fn bare_unit(&self, quantity: Kind) -> Option<Unit> {
        self.unit.filter(|unit| unit.kind() == quantity)
    }

    /// The same for every way in: the instrument's; where none is used, that of the plan.
    #[must_use]
    pub fn bare_unit_of(instrument: Option<&Self>, quantity: Kind, plan: Units) -> Option<Unit> {
        match instrument {
            Some(instrument) => instrument.bare_unit(quantity),
            None => plan.bare(quantity),
        }
    }
}

/// A check done on an instrument in the shop.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct InstrumentCheck {
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
