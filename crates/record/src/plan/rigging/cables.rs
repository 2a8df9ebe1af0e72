//! Cables with their tension, bolts with their torque.

use crate::Limits;
use quantity::Millimetres;

/// The tension wanted in a cable.
#[derive(Clone, Debug, PartialEq)]
pub enum Tension {
    /// The same at every temperature.
    Fixed(Option<Limits<f64>>),
    /// From a chart by temperature, linear between its rows, with a tolerance.
    Chart {
        /// By rising temperature; at least two rows.
        rows: Vec<ChartRow>,
        /// Permitted deviation from the chart.
        tolerance: Limits<f64>,
    },
}

/// A row of a chart of cable tensions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChartRow {
    /// Temperature, °C.
    pub at: f64,
    /// Tension, N.
    pub tension: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Cable {
    pub name: String,
    /// The tension wanted.
    pub tension: Tension,
    /// Its size and make, as in a tensiometer's table.
    pub size: Option<String>,
    /// The riser of the tensiometer, if it has several tables for this size.
    pub riser: Option<String>,
    /// Limit of error of the temperature used with the chart, in kelvin.
    pub temperature_within: Option<f64>,
}

quantity::words! {
    /// How a nut's own drag counts.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum DragRule {
        /// It is always added to the torque wanted.
        Add = "add",
        /// It is added if it is at least 0.33 of the torque wanted.
        AddFromThird = "add-from-third",
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WrenchExtension {
    /// From the drive to the middle of the grip.
    pub lever: Millimetres,
    /// From the drive to the nut.
    pub length: Millimetres,
    /// Angle from straight ahead, degrees.
    pub angle: f64,
}

/// A bolt whose torque must be proven.
#[derive(Clone, Debug, PartialEq)]
pub struct Bolt {
    pub name: String,
    /// The torque at the nut, without drag.
    pub limits: Option<Limits<f64>>,
    /// The extension used to tighten it.
    pub extension: Option<WrenchExtension>,
    /// Permitted torque to run the nut down; below the lower limit it no longer locks.
    pub drag: Option<Limits<f64>>,
    /// How drag counts; `None` if the torque in the plan includes it.
    pub drag_rule: Option<DragRule>,
}

impl Tension {
    /// Change of the charted tension per kelvin; zero without a chart or outside it.
    #[must_use]
    pub fn per_kelvin(&self, temperature: f64) -> f64 {
        let Self::Chart { rows, .. } = self else { return 0.0 };
        // At a corner of the chart, the steeper side counts.
        let slopes = rows.windows(2).filter(|pair| (pair[0].at..=pair[1].at).contains(&temperature));
        let slope =
            |pair: &[ChartRow]| ((pair[1].tension - pair[0].tension) / (pair[1].at - pair[0].at)).abs();
        slopes.map(slope).fold(0.0, f64::max)
    }

    /// The limits at a temperature; `None` outside the chart, or without a temperature if there is a chart.
    #[must_use]
    pub fn limits_at(&self, temperature: Option<f64>) -> Option<Limits<f64>> {
        match self {
            Self::Fixed(limits) => *limits,
            Self::Chart { rows, tolerance } => {
                let wanted = by_chart(rows, temperature?)?;
                Some(tolerance.map(|t| wanted + t))
            }
        }
    }
}

/// Linear between the rows of a chart; `None` beyond its ends.
fn by_chart(rows: &[ChartRow], at: f64) -> Option<f64> {
    rows.windows(2).find_map(|pair| {
        let (a, b) = (pair[0], pair[1]);
        let share = (at - a.at) / (b.at - a.at);
        (0.0..=1.0).contains(&share).then_some(a.tension + share * (b.tension - a.tension))
    })
}
