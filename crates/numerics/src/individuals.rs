//! Control limits of individual values in time order: the chart of individuals and moving ranges.
//!
//! NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (individuals control charts). The constants are those it
//! gives for ranges of two.

/// Mean range of two normal values, in standard deviations.
pub const D2: f64 = 1.128;
/// Upper limit of a range of two, divided by the mean range.
pub const D4: f64 = 3.267;

/// What the values, in order, say about the process they come from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Individuals {
    pub mean: f64,
    /// Mean distance from each value to the next.
    pub moving_range: f64,
    /// Lower control limit of a value.
    pub lower: f64,
    /// Upper control limit of a value.
    pub upper: f64,
    /// Upper control limit of the distance from a value to the next.
    pub range_upper: f64,
}

/// The chart of these values; `None` for fewer than three.
pub fn individuals(values: &[f64]) -> Option<Individuals> {
    if values.len() < 3 {
        return None;
    }
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    let steps: f64 = values.windows(2).map(|w| (w[1] - w[0]).abs()).sum();
    let moving_range = steps / (values.len() - 1) as f64;
    let reach = 3.0 * moving_range / D2;
    Some(Individuals {
        mean,
        moving_range,
        lower: mean - reach,
        upper: mean + reach,
        range_upper: D4 * moving_range,
    })
}
