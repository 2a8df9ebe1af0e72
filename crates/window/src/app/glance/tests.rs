//! Tests of `glance`.

use super::{Change, Pace, Sight};
use bench::{Came, PortEvent};
use instrument::{Axis, Decimal, Sample, SettleSettings};
use quantity::Unit;

fn event(at_ms: u64, hundredths: i64) -> PortEvent {
    let value = Decimal { mantissa: hundredths, exponent: -2 };
    PortEvent { at_ms, what: Came::Sample(Sample::bare(Axis::Angle, value, Unit::Degree)) }
}

/// Changes of each kind that 20 values a second make.
fn changes(sight: &mut Sight, from_ms: u64, to_ms: u64, of: impl Fn(u64) -> i64) -> (usize, usize) {
    let all: Vec<Change> = (from_ms..to_ms).step_by(50).map(|at| sight.change(&event(at, of(at)))).collect();
    let count = |kind| all.iter().filter(|c| **c == kind).count();
    (count(Change::Value), count(Change::News))
}

#[test]
fn a_level_at_rest_asks_for_no_picture() {
    let mut sight = Sight::new(Axis::Angle, SettleSettings::from_instrument(0.1, 0.02), 0.1);
    // It settles: the ring closes in steps, then the window shows that it is settled.
    let (values, news) = changes(&mut sight, 0, 5_000, |_| 20);
    assert!(values <= 24 && news == 2, "{values} {news}");
    // Noise below the display's step is not shown.
    assert_eq!(changes(&mut sight, 5_000, 65_000, |at| 20 + i64::from(at % 100 == 0)), (0, 0));
    // It is moved, which is shown at once.
    let (_, news) = changes(&mut sight, 65_000, 65_500, |_| 140);
    assert_eq!(news, 1);
}

#[test]
fn what_happens_to_the_port_is_shown_at_once() {
    let mut sight = Sight::new(Axis::Angle, SettleSettings::from_instrument(0.1, 0.02), 0.1);
    changes(&mut sight, 0, 5_000, |_| 20);
    let lost = Came::Lost(bench::Gone::because("unplugged"));
    assert_eq!(sight.change(&PortEvent { at_ms: 5_000, what: lost }), Change::News);
    assert_eq!(sight.change(&PortEvent { at_ms: 6_000, what: Came::Found }), Change::News);
    assert_eq!(sight.change(&event(6_010, 20)), Change::News, "the first value after it");
    changes(&mut sight, 6_050, 9_000, |_| 20);
    assert_eq!(sight.change(&event(12_000, 20)), Change::News, "the first value after a silence");
}

#[test]
fn each_press_is_shown() {
    let settings = SettleSettings { hold_ms: 0, samples: 1, ..SettleSettings::from_instrument(0.1, 0.0) };
    let mut sight = Sight::new(Axis::Angle, settings, 0.1);
    for press in 0..3 {
        let seen = sight.change(&event(press * 400, 20));
        assert_eq!(seen, if press == 0 { Change::News } else { Change::Value });
    }
}

#[test]
fn a_stream_is_painted_ten_times_a_second_and_a_single_value_at_once() {
    for every_ms in [1, 7, 10, 47, 50, 53] {
        let mut pace = Pace::default();
        let mut painted: Vec<u64> = Vec::new();
        for at_ms in (0..10_000).step_by(every_ms) {
            let shown = at_ms + pace.wait_ms(at_ms);
            assert!(shown > at_ms && shown <= at_ms + 100, "{every_ms}: {at_ms} is shown at {shown}");
            painted.push(shown);
        }
        painted.dedup();
        assert!(painted.len() <= 101, "every {every_ms} ms: {} pictures", painted.len());
        assert_eq!(pace.wait_ms(20_000), 1, "after a while without any");
    }
}
