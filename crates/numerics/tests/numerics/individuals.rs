//! Control limits of values in their order, against a published example.

use numerics::individuals::individuals;

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
fn a_shift_widens_the_spread_but_not_the_control_limits() {
    let mut values = vec![0.0, 1.0, 0.0, 1.0, 0.0, 1.0];
    values.extend([9.0, 10.0, 9.0, 10.0, 9.0, 10.0]);
    let chart = individuals(&values).unwrap();
    assert!(values.iter().any(|v| *v > chart.upper), "{chart:?}");
}
