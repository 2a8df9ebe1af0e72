//! An instrument, as far as the arithmetic needs to know it.

use crate::plan::Cable;
use crate::{Date, Limits};
use quantity::shown::exact;
use quantity::{InstrumentKind, Kind, Unit, Units};
use serde::{Deserialize, Serialize};

/// An instrument. Its numbers are in the base unit of its quantity (degrees, mm, N·m, N).
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
    /// The unit it shows, in which a bare typed number is read; absent if that is the base unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<Unit>,
    /// The step of its display.
    pub resolution: f64,
    /// The range of its display; a value beyond it is refused.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub range: Option<Limits<f64>>,
    /// The limit of error its maker states (a rectangular limit, not a standard deviation).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accuracy: Option<f64>,
    /// Standard deviation of one seating, from its own repeat study or its maker.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub repeatability: Option<f64>,
    /// Limit of the error in proportion to the value (0.001 is 0.1 %), if its maker states one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale: Option<f64>,
    /// Thermal expansion of a tape or caliper, per kelvin.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub expansion: Option<f64>,
    /// For a tape: how pull and weight affect it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tape: Option<TapeFacts>,
    /// For a tensiometer that shows divisions: its tables, one for each cable. Resolution, range, accuracy and
    /// repeatability are then in divisions.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tables: Vec<DialTable>,
    /// The day its check was last done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub checked: Option<Date>,
    /// The day its check runs out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<Date>,
}

/// How pull and weight affect a tape.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TapeFacts {
    /// The pull at which it reads true, in N.
    pub pull: f64,
    /// Its mass, in g per metre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass: Option<f64>,
    /// Its cross section, in mm².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub section: Option<f64>,
    /// Its modulus of elasticity, in N/mm².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub modulus: Option<f64>,
}

/// A tensiometer's table for one cable: dial reading and tension.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DialTable {
    /// The cable, as written in the plan's `size`.
    pub cable: String,
    /// The riser fitted for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub riser: Option<String>,
    /// Limit of error of the table itself, in N.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accuracy: Option<f64>,
    /// The rows; dial and tension both increase.
    pub rows: Vec<DialRow>,
}

/// A row of a tensiometer's table.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DialRow {
    /// What the dial shows.
    pub dial: f64,
    /// The tension, in N.
    pub force: f64,
}

/// A tension read from a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DialForce {
    /// The tension, in N.
    pub force: f64,
    /// Its change with the dial, N per division.
    pub slope: f64,
}

impl DialTable {
    /// Whether the table can be used: at least two rows, everything finite, dial and force above zero and increasing
    /// together.
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

    /// The tension for this dial reading, linear between the rows; `None` outside the table.
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

/// Why a dial reading gives no tension.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoForce {
    /// The plan does not say which cable it is.
    #[error("the plan does not give the size of this cable, so no table of the instrument can be used")]
    NoSize,
    /// There is no table for this cable, or more than one.
    #[error("the instrument has no table, or more than one, for `{size}{}`", .riser.as_ref().map_or_else(String::new, |r| format!(", riser {r}")))]
    NoTable { size: String, riser: Option<String> },
    /// The reading is outside the table, whose dial readings span this range.
    #[error("it is outside the instrument's table, which goes from {} to {}", exact(*.from), exact(*.to))]
    Outside { from: f64, to: f64 },
}

impl Instrument {
    /// An instrument with only these facts known; the resolution is in the base unit.
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

    /// Whether it shows divisions, which its tables convert to a force.
    #[must_use]
    pub const fn shows_divisions(&self) -> bool {
        !self.tables.is_empty()
    }

    /// Its table for a cable.
    ///
    /// # Errors
    /// If the cable has no size, or the instrument does not have exactly one table for it.
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

    /// The tension of a cable for this dial reading.
    ///
    /// # Errors
    /// If there is no table for the cable, or the reading is outside it.
    pub fn force(&self, cable: Option<&Cable>, dial: f64) -> Result<DialForce, NoForce> {
        let table = self.table_for(cable)?;
        let end = |row: Option<&DialRow>| row.map_or(f64::NAN, |r| r.dial);
        let outside = || NoForce::Outside { from: end(table.rows.first()), to: end(table.rows.last()) };
        table.force(dial).ok_or_else(outside)
    }

    /// The unit of a bare number typed for this instrument, if it is not the base unit.
    #[must_use]
    pub fn bare_unit(&self, quantity: Kind) -> Option<Unit> {
        self.unit.filter(|unit| unit.kind() == quantity)
    }

    /// The same for every way of entering values: the instrument's unit, or the plan's if there is no instrument.
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
    /// The zero or the error found, in the base unit.
    pub found: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// Whether the instrument passed by its stated accuracy.
    pub passed: bool,
}
