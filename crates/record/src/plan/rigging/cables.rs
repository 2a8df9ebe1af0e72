//! Cables with their tension, bolts with their torque.

use crate::Limits;
use quantity::Millimetres;

/// What a cable's tension may be.
#[derive(Clone, Debug, PartialEq)]
pub enum Tension {
    /// The same at every temperature.
    Fixed(Option<Limits<f64>>),
    /// By the chart for temperature, straight between its rows, with a tolerance about it.
    Chart {
        /// By growing temperature; at least two.
        rows: Vec<ChartRow>,
        /// How far it may be from the chart.
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
    /// What its tension may be.
    pub tension: Tension,
    /// Its size and make, as the table of a tensiometer says it.
    pub size: Option<String>,
    /// The riser of the tensiometer, where it has several tables for the size.
    pub riser: Option<String>,
    /// Limit of error of the temperature by which its chart is read, in kelvin.
    pub temperature_within: Option<f64>,
}

/// What is done about a nut's own drag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DragRule {
    /// It is added to the torque wanted, always.
    Add,
    /// It is added where it is at least 0.33 of the torque wanted.
    AddFromThird,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WrenchExtension {
    /// From the drive to the middle of the grip.
    pub lever: Millimetres,
    /// From the drive to the nut.
    pub length: Millimetres,
    /// From straight ahead, degrees.
    pub angle: f64,
}

/// A bolt whose torque is proven.
#[derive(Clone, Debug, PartialEq)]
pub struct Bolt {
    pub name: String,
    /// The torque at the nut, drag apart.
    pub limits: Option<Limits<f64>>,
    /// The extension it is done up with.
    pub extension: Option<WrenchExtension>,
    /// What the nut itself may take to run down: less, and it locks no more.
    pub drag: Option<Limits<f64>>,
    /// What is done about drag; none where the plan's torque has it in it.
    pub drag_rule: Option<DragRule>,
}

impl Tension {
    /// By how much the tension that the chart asks for changes a kelvin; zero without a chart or beyond it.
    #[must_use]
    pub fn per_kelvin(&self, temperature: f64) -> f64 {
        let Self::Chart { rows, .. } = self else { return 0.0 };
        // Beside a corner the steeper side counts.
        let slopes = rows.windows(2).filter(|pair| (pair[0].at..=pair[1].at).contains(&temperature));
        let slope =
            |pair: &[ChartRow]| ((pair[1].tension - pair[0].tension) / (pair[1].at - pair[0].at)).abs();
        slopes.map(slope).fold(0.0, f64::max)
    }

    /// The limits at a temperature; `None` beyond the chart, or without a temperature where there is a chart.
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

/// Straight between the rows of a chart; `None` beyond its ends.
fn by_chart(rows: &[ChartRow], at: f64) -> Option<f64> {
    rows.windows(2).find_map(|pair| {
        let (a, b) = (pair[0], pair[1]);
        let share = (at - a.at) / (b.at - a.at);
        (0.0..=1.0).contains(&share).then_some(a.tension + share * (b.tension - a.tension))
    })
}
