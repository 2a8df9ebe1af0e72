use super::{Gauge, Standing};
use instrument::{Axis, Decimal, Flags, Sample, SettleSettings};
use quantity::Unit;

/// Tenths of a degree, ten samples a second.
fn feed(gauge: &mut Gauge, from_ms: u64, to_ms: u64, tenths: i64) {
    let value = Decimal { mantissa: tenths, exponent: -1 };
    let sample = Sample::bare(Axis::Angle, value, Unit::Degree);
    for at_ms in (from_ms..to_ms).step_by(100) {
        gauge.sample(at_ms, &sample);
    }
}

fn gauge() -> Gauge {
    Gauge::new(Axis::Angle, SettleSettings::from_instrument(0.1, 0.0))
}

#[test]
fn the_same_rest_is_offered_once() {
    let mut gauge = gauge();
    feed(&mut gauge, 0, 3_000, 20);
    assert!(
        matches!(gauge.standing(3_000), Standing::Ready { reading } if (reading.value - 2.0).abs() < 1e-9)
    );
    gauge.took(2.0);
    feed(&mut gauge, 3_000, 9_000, 20);
    assert!(matches!(gauge.standing(9_000), Standing::Taken { .. }));
    // A flicker of one step is still the same rest.
    feed(&mut gauge, 9_000, 12_000, 21);
    assert!(matches!(gauge.standing(12_000), Standing::Taken { .. }));
    feed(&mut gauge, 12_000, 15_000, 25);
    assert!(matches!(gauge.standing(15_000), Standing::Ready { .. }));
}

#[test]
fn each_press_is_offered_once() {
    let settings = SettleSettings { hold_ms: 0, samples: 1, ..SettleSettings::from_instrument(0.1, 0.0) };
    let mut gauge = Gauge::new(Axis::Angle, settings);
    assert_eq!(gauge.standing(0), Standing::Silent);
    for press_ms in [1_000, 90_000] {
        feed(&mut gauge, press_ms, press_ms + 100, 20);
        let standing = gauge.standing(press_ms + 60_000);
        assert!(
            matches!(standing, Standing::Ready { reading } if (reading.value - 2.0).abs() < 1e-9 && reading.samples == 1)
        );
        gauge.took(2.0);
        gauge.restart();
        assert!(matches!(gauge.standing(press_ms + 60_000), Standing::Taken { .. }));
    }
}

#[test]
fn trailing_zeros_that_an_instrument_leaves_out_are_digits() {
    let mut gauge = gauge();
    for (mantissa, exponent) in [(199, -2), (2, 0), (21, -1), (2, 0)] {
        let value = Decimal { mantissa, exponent };
        gauge.sample(0, &Sample::bare(Axis::Angle, value, Unit::Degree));
    }
    assert_eq!(gauge.latest().map(|sample| sample.value), Some(Decimal { mantissa: 200, exponent: -2 }));
}

#[test]
fn a_value_marked_as_moving_is_not_a_reading() {
    let moving = |tenths| Sample {
        flags: Flags::MOVING,
        ..Sample::bare(Axis::Angle, Decimal { mantissa: tenths, exponent: -1 }, Unit::Degree)
    };
    let settings = SettleSettings { hold_ms: 0, samples: 1, ..SettleSettings::from_instrument(0.1, 0.0) };
    let mut pressed = Gauge::new(Axis::Angle, settings);
    pressed.sample(0, &moving(20));
    assert_eq!(pressed.standing(0), Standing::Silent);
    let mut level = gauge();
    for at_ms in (0..9_000).step_by(100) {
        level.sample(at_ms, &moving(20));
    }
    assert!(matches!(level.standing(9_000), Standing::Moving { .. }));
    feed(&mut level, 9_000, 12_000, 20);
    assert!(matches!(level.standing(12_000), Standing::Ready { .. }));
}

#[test]
fn a_knock_does_not_make_another_rest() {
    let mut gauge = gauge();
    feed(&mut gauge, 0, 3_000, 20);
    gauge.took(2.0);
    feed(&mut gauge, 3_000, 3_300, 90);
    feed(&mut gauge, 3_300, 7_000, 20);
    assert!(matches!(gauge.standing(7_000), Standing::Taken { .. }));
}

/// A creep of 0.0005 degrees a second on a display of hundredths is followed for an hour and never becomes another
/// rest.
#[test]
fn a_creep_is_followed_and_not_taken_for_another_rest() {
    let mut gauge = Gauge::new(Axis::Angle, SettleSettings::from_instrument(0.01, 0.002));
    let mut offered = 0;
    for at_ms in (0..3_600_000_u64).step_by(100) {
        let true_deg = 0.000_5 * at_ms as f64 / 1000.0;
        let value = Decimal { mantissa: (true_deg * 100.0).round() as i64, exponent: -2 };
        gauge.sample(at_ms, &Sample::bare(Axis::Angle, value, Unit::Degree));
        if let Standing::Ready { reading } = gauge.standing(at_ms) {
            gauge.took(reading.value);
            offered += 1;
        }
    }
    assert_eq!(offered, 1);
}

#[test]
fn a_lost_port_does_not_make_another_rest() {
    let mut gauge = gauge();
    feed(&mut gauge, 0, 3_000, 20);
    gauge.took(2.0);
    assert_eq!(gauge.standing(8_000), Standing::Silent);
    gauge.restart();
    feed(&mut gauge, 8_000, 12_000, 20);
    assert!(matches!(gauge.standing(12_000), Standing::Taken { .. }));
    feed(&mut gauge, 12_000, 15_000, -4);
    assert!(matches!(gauge.standing(15_000), Standing::Ready { .. }));
}
