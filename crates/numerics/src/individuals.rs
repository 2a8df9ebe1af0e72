//! Control limits of single values in their order: the chart of individuals and moving ranges.
//!
//! NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (individuals control charts); the constants are those that it
//! uses for ranges of two.

/// Mean range of two normal values, in standard deviations.
pub const D2: f64 = 1.128;
/// Upper limit of a range of two over its mean.
pub const D4: f64 = 3.267;

/// What values in their order say of the process that they come from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Individuals {
    /// Mean.
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

/// The chart of these values; none of fewer than three.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "counts")]
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

#[cfg(test)]
mod tests {
    use super::individuals;

    /// The handbook's own example: flow rates of ten batches, its table of moving ranges and its limits as printed.
    #[test]
    fn the_worked_example_comes_out_as_printed() {
        let flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
        let chart = individuals(&flow).unwrap();
        assert!((chart.mean - 50.81).abs() < 5e-5, "{chart:?}");
        assert!((chart.moving_range - 1.8778).abs() < 5e-5, "{chart:?}");
        assert!((chart.upper - 55.8041).abs() < 5e-5, "{chart:?}");
        assert!((chart.lower - 45.8159).abs() < 5e-5, "{chart:?}");
        assert!(flow.iter().all(|v| (chart.lower..=chart.upper).contains(v)));
    }

    #[test]
    fn a_shift_widens_no_limit_as_it_widens_the_spread() {
        let mut values = vec![0.0, 1.0, 0.0, 1.0, 0.0, 1.0];
        values.extend([9.0, 10.0, 9.0, 10.0, 9.0, 10.0]);
        let chart = individuals(&values).unwrap();
        assert!(values.iter().any(|v| *v > chart.upper), "{chart:?}");
    }
}
