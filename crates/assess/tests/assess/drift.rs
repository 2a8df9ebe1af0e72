//! A shift of an instrument at rest: how rarely noise is mistaken for one, and how soon one is named.

use assess::drift::DriftWatch;

/// Draws of a normal distribution (xorshift and the sum of twelve), the same on every machine.
struct Noise(u64);

impl Noise {
    fn next(&mut self) -> f64 {
        let unit = |state: &mut u64| {
            *state ^= *state << 13;
            *state ^= *state >> 7;
            *state ^= *state << 17;
            (*state >> 11) as f64 / (1_u64 << 53) as f64
        };
        (0..12).map(|_| unit(&mut self.0)).sum::<f64>() - 6.0
    }
}

/// Average number of records from one false shift to the next, over `watches` of `records` each, of an instrument at
/// rest whose means of intervals scatter by 0.005, correlate with the one before by `alike`, and are shown in steps
/// of `step`.
fn run_length(watches: u64, records: u64, alike: f64, step: f64) -> f64 {
    let mut false_shifts = 0_u32;
    for seed in 1..=watches {
        let mut noise = Noise(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        let mut watch = DriftWatch::new(1, step);
        let mut at_rest = noise.next();
        for at_ms in 0..records {
            at_rest = alike * at_rest + (1.0 - alike * alike).sqrt() * noise.next();
            let shown = (0.005 * at_rest / step).round() * step;
            let span = watch.value(at_ms, shown);
            false_shifts += u32::from(span.is_some_and(|span| span.shift.is_some()));
        }
    }
    (watches * records) as f64 / f64::from(false_shifts.max(1))
}

/// A night of records, one a minute, is 600: on average at least ten nights pass between two false shifts, and three
/// if each record correlates by half with the one before.
#[test]
fn noise_is_rarely_mistaken_for_a_shift() {
    for (alike, step, least) in [(0.0, 0.000_1, 6_000.0), (0.0, 0.01, 6_000.0), (0.5, 0.000_1, 1_800.0)] {
        let length = run_length(100, 600, alike, step);
        assert!(length >= least, "alike {alike} step {step}: a false shift every {length:.0} records");
    }
}

#[test]
#[ignore = "prints what DEVELOPERS.md states: cargo test -- --ignored"]
fn average_run_lengths() {
    for (alike, step) in [(0.0, 0.000_1), (0.0, 0.01), (0.3, 0.000_1), (0.5, 0.000_1), (0.8, 0.000_1)] {
        let [night, long] =
            [600, 10_000].map(|records| run_length(1_200_000 / records, records, alike, step));
        println!("alike {alike} step {step}: {night:.0} in watches of 600, {long:.0} of 10,000");
    }
    for by in [1.0, 1.5, 2.0, 3.0, 6.0] {
        let mut took = 0;
        for seed in 1..=200 {
            let mut noise = Noise(seed * 7919);
            let mut watch = DriftWatch::new(1, 0.000_1);
            let found = (0..10_000).find(|at_ms| {
                let shifted = if *at_ms >= 60 { 0.005 * by } else { 0.0 };
                watch.value(*at_ms, shifted + 0.005 * noise.next()).is_some_and(|span| span.shift.is_some())
            });
            took += found.unwrap_or(10_000).saturating_sub(60);
        }
        println!("a shift of {by} standard deviations is named after {:.1} records", took as f64 / 200.0);
    }
}

#[test]
fn a_shift_is_named_with_its_time_and_size() {
    let mut watch = DriftWatch::new(60_000, 0.01);
    let mut spans = Vec::new();
    for second in 0..7_200_u32 {
        let level = if second < 3_600 { 1.0 } else { 1.05 };
        let flicker = if second % 2 == 0 { 0.0 } else { 0.01 };
        spans.extend(watch.value(u64::from(second) * 1000, level + flicker));
    }
    assert_eq!(spans.len(), 119);
    assert!(spans.iter().all(|s| s.samples == 60 && s.seconds == 59));
    let shifts: Vec<assess::drift::Shift> = spans.iter().filter_map(|s| s.shift).collect();
    let [assess::drift::Shift { size, since_ms }] = shifts[..] else { panic!("one shift, not {shifts:?}") };
    assert!((size - 0.05).abs() < 0.005, "{size}");
    assert_eq!(since_ms, 3_600_000);
}

#[test]
fn an_instrument_that_was_zeroed_has_not_shifted() {
    let mut watch = DriftWatch::new(1_000, 0.1);
    let mut shifts = 0;
    for (from, value) in [(0, 0.3), (100, 0.0)] {
        if from > 0 {
            watch.forget();
        }
        let spans = (from..from + 100_u64).filter_map(|i| watch.value(i * 1000, value));
        shifts += spans.filter(|span| span.shift.is_some()).count();
    }
    assert_eq!((shifts, watch.level()), (0, Some(0.0)));
}

#[test]
fn a_value_at_rest_has_no_shift() {
    let mut watch = DriftWatch::new(1_000, 0.1);
    let spans: Vec<_> = (0..10_000_u64).filter_map(|i| watch.value(i * 100, 0.3)).collect();
    assert!(spans.len() > 900);
    assert!(spans.iter().all(|s| s.shift.is_none()));
    assert!(watch.level().is_some_and(|l| (l - 0.3).abs() < 1e-12));
}
