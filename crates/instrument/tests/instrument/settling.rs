//! Settling on kept traces: steps, drift, knocks, a display of tenths, dropouts, a fast sensor.

use crate::kept::same_as_kept;
use instrument::{Axis, Decimal, Flags, Sample, Settle, SettleSettings, State};
use quantity::Unit;
use std::fmt::Write;
use stories::seeded::Draws;
use stories::sim::Trace;

/// A recording: a value each `every_ms`, shown in steps of `step`, or none while the line was silent.
struct Recording {
    name: &'static str,
    every_ms: u64,
    step: Decimal,
    noise: f64,
    length_ms: u64,
    script: Trace,
}

fn recordings() -> Vec<Recording> {
    let hundredths = Decimal { mantissa: 1, exponent: -2 };
    let tenths = Decimal { mantissa: 1, exponent: -1 };
    let recording = |name, every_ms, step, noise: f64, length_ms, script: Trace| {
        let script = script.noise(noise);
        Recording { name, every_ms, step, noise, length_ms, script }
    };
    vec![
        recording(
            "steps",
            250,
            hundredths,
            0.004,
            40_000,
            Trace::at(1.0).step(10_000, 2.5).ramp(20_000, 24_000, -0.4),
        ),
        recording("drift", 100, hundredths, 0.004, 40_000, Trace::at(0.0).ramp(5_000, 30_000, 1.0)),
        recording(
            "knocks",
            100,
            hundredths,
            0.004,
            30_000,
            Trace::at(0.7).knock(8_000, 300, 0.5).knock(15_000, 100, -0.2).knock(16_500, 100, 0.2),
        ),
        recording("tenths", 250, tenths, 0.0, 30_000, Trace::at(1.26).step(10_000, 2.04).step(20_000, 2.06)),
        recording("flicker", 250, tenths, 0.02, 20_000, Trace::at(1.25)),
        recording(
            "dropouts",
            100,
            hundredths,
            0.004,
            30_000,
            Trace::at(0.3).gap(6_000, 6_800).gap(12_000, 16_000),
        ),
        recording("fast", 1, hundredths, 0.02, 6_000, Trace::at(0.0).step(3_000, 0.8)),
    ]
}

impl Recording {
    /// The output of the script as kept: one line for each sample, in steps of the display, `-` for none.
    fn made(&self) -> String {
        let mut draws = Draws::new(20);
        let mut text =
            format!("# invented trace; every {} ms, in steps of 1e{}\n", self.every_ms, self.step.exponent);
        for ms in (0..self.length_ms).step_by(self.every_ms as usize) {
            match self.script.seen(ms, &mut draws) {
                Some(seen) => writeln!(text, "{}", libm::round(seen / self.step.to_f64())).unwrap(),
                None => text.push_str("-\n"),
            }
        }
        text
    }

    fn settings(&self) -> SettleSettings {
        SettleSettings::from_instrument(self.step.to_f64(), self.noise)
    }

    /// The states of a settle along the recording.
    fn states(&self) -> Vec<(u64, State)> {
        let mut settle = Settle::new(self.settings());
        let mut states = Vec::new();
        for (at, line) in self.made().lines().skip(1).enumerate() {
            let now_ms = at as u64 * self.every_ms;
            states.push((
                now_ms,
                match line.parse::<i64>() {
                    Ok(steps) => {
                        let value = Decimal { mantissa: steps, exponent: self.step.exponent };
                        settle.sample(now_ms, &Sample::bare(Axis::Angle, value, Unit::Degree))
                    }
                    Err(_) => settle.at(now_ms),
                },
            ));
        }
        states
    }
}

fn told(states: &[(u64, State)]) -> String {
    let mut text = String::new();
    let mut last = "";
    for (now_ms, state) in states {
        let word = match state {
            State::Lost => "lost",
            State::Settling { .. } => "moving",
            State::Settled { .. } => "settled",
        };
        if word != last {
            last = word;
            write!(text, "{now_ms:>6} ms {word}").unwrap();
            if let State::Settled { reading: it, .. } = state {
                let (value, scatter) = (it.value, it.scatter);
                write!(
                    text,
                    " at {value:.4}, scatter {scatter:.4}, {} samples since {} ms",
                    it.samples, it.since_ms
                )
                .unwrap();
            }
            text.push('\n');
        }
    }
    text
}

#[test]
fn the_kept_traces_match_their_scripts() {
    for recording in recordings() {
        same_as_kept(&format!("{}.trace", recording.name), &recording.made());
    }
}

#[test]
fn the_states_along_each_trace_match_the_kept_ones() {
    let mut text = String::new();
    for recording in recordings() {
        writeln!(text, "{}\n{}", recording.name, told(&recording.states())).unwrap();
    }
    same_as_kept("settling.txt", &text);
}

/// Every offered value is within a step of the display and the noise of where the script was.
#[test]
fn an_offered_value_is_where_the_script_was() {
    for recording in recordings() {
        let limit = recording.step.to_f64() / 2.0 + 3.0 * recording.noise;
        let mut offered = 0;
        for (now_ms, state) in recording.states() {
            let State::Settled { reading, .. } = state else { continue };
            offered += 1;
            let level = recording.script.level(now_ms);
            let still = recording.script.level(reading.since_ms) == level;
            assert!(
                !still || (reading.value - level).abs() <= limit,
                "{} {now_ms}: {reading:?}",
                recording.name
            );
        }
        assert!(offered > 0, "{}", recording.name);
    }
}

#[test]
fn nothing_is_offered_during_a_creep() {
    let recording = recordings().into_iter().find(|recording| recording.name == "drift").unwrap();
    let early = |state: &State| matches!(state, State::Settled { .. });
    let creeping = recording.states().into_iter().filter(|(ms, _)| (6_500..30_000).contains(ms));
    assert_eq!(creeping.filter(|(_, state)| early(state)).count(), 0);
}

#[test]
fn a_constant_display_has_no_scatter_and_counts_its_samples() {
    let recording = recordings().into_iter().find(|recording| recording.name == "tenths").unwrap();
    let Some((_, State::Settled { reading, .. })) =
        recording.states().into_iter().find(|(ms, _)| *ms == 9_750)
    else {
        panic!("not settled");
    };
    assert_eq!((reading.value, reading.scatter, reading.samples), (1.3, 0.0, 9));
}

#[test]
fn a_barred_or_missing_value_restarts_the_hold_time() {
    let mut settle = Settle::new(SettleSettings::from_instrument(0.01, 0.0));
    let good = Sample::bare(Axis::Angle, Decimal { mantissa: 125, exponent: -2 }, Unit::Degree);
    let rest = |settle: &mut Settle, from: u64| {
        (0..30).map(|n| settle.sample(from + n * 100, &good)).last().unwrap()
    };
    assert!(matches!(rest(&mut settle, 0), State::Settled { .. }));
    let held = Sample { flags: Flags::HELD, ..good };
    assert!(matches!(settle.sample(3_000, &held), State::Settling { progress: 0.0, .. }));
    assert!(matches!(rest(&mut settle, 3_100), State::Settled { .. }));
    assert!(matches!(settle.value(6_100, f64::NAN), State::Settling { progress: 0.0, .. }));
    assert!(matches!(settle.at(9_000), State::Lost));
}

#[test]
fn progress_grows_steadily() {
    let mut settle = Settle::new(SettleSettings::from_instrument(0.01, 0.0));
    let mut last = 0.0;
    for n in 0..20_u64 {
        let State::Settling { progress, .. } = settle.value(n * 100, 1.25) else {
            panic!("settled too soon")
        };
        assert!(progress >= last);
        last = progress;
    }
    assert!(matches!(settle.value(2_000, 1.25), State::Settled { .. }));
}

#[test]
fn rounding_does_not_shift_the_mean_far_from_zero() {
    let mut settle = Settle::new(SettleSettings { band: 1.0, ..SettleSettings::from_instrument(0.01, 0.1) });
    let mut state = State::Lost;
    for n in 0..3_000_u64 {
        state = settle.value(n, 1e9 + if n % 2 == 0 { 0.25 } else { -0.25 });
    }
    let State::Settled { reading, .. } = state else { panic!("not settled") };
    assert!((reading.value - 1e9).abs() < 1e-3, "{reading:?}");
    assert!((reading.scatter - 0.25).abs() < 1e-3, "{reading:?}");
}

/// A sensor with a time constant of 6 s that goes from 0 to 1 is not offered before it arrives.
#[test]
fn a_slow_sensor_is_not_taken_early() {
    for (step, noise, every_ms) in [
        (0.01, 0.0, 100),
        (0.01, 0.0, 250),
        (0.1, 0.0, 250),
        (0.01, 0.004, 100),
        (0.001, 0.0, 50),
        (0.01, 0.004, 10),
    ] {
        for from in [0.0, 0.9, 0.97, 0.98] {
            // If the noise is as large as what remains, two seconds after the port was opened show nothing.
            if noise > 0.0 && from > 0.9 {
                continue;
            }
            let mut draws = Draws::new(9);
            let mut settle = Settle::new(SettleSettings::from_instrument(step, noise));
            let first = (0..120_000_u64).step_by(every_ms).find_map(|ms| {
                let at = 1.0 + (from - 1.0) * libm::exp(-(ms as f64) / 6_000.0);
                let shown = libm::round((at + noise * draws.normal()) / step) * step;
                match settle.value(ms, shown) {
                    State::Settled { reading, .. } => Some((ms, reading.value)),
                    _ => None,
                }
            });
            let (ms, value) = first.unwrap();
            let most = step + 3.0 * noise;
            assert!((value - 1.0).abs() <= most, "{step} {noise} {every_ms} from {from}: {value} at {ms}");
        }
    }
}

/// 1 kHz with a standard deviation of 0.002 and a display of thousandths; the file does not mention noise.
#[test]
fn unstated_noise_is_learned() {
    for (step, noise, every_ms) in
        [(0.001, 0.002, 1), (0.01, 0.002, 1), (0.001, 0.003, 10), (0.01, 0.02, 100)]
    {
        let mut draws = Draws::new(5);
        let mut settle = Settle::new(SettleSettings::from_instrument(step, 0.0));
        let mut last = None;
        let mut rests = 0;
        for ms in (0..32_000_u64).step_by(every_ms) {
            // Another place every eight seconds, half a second on the way.
            let (spot, within) = (ms / 8_000, ms % 8_000);
            let at = if within < 500 { spot as f64 + within as f64 / 500.0 } else { spot as f64 + 1.0 };
            let shown = libm::round((at + noise * draws.normal()) / step) * step;
            if let State::Settled { reading, .. } = settle.value(ms, shown)
                && last != Some(spot)
            {
                assert!(
                    (reading.value - at).abs() < noise + step,
                    "{step} {noise} {every_ms} {ms}: {reading:?}"
                );
                (last, rests) = (Some(spot), rests + 1);
            }
        }
        assert_eq!(rests, 4, "{step} {noise} {every_ms}");
    }
}

#[test]
fn a_value_that_never_rests_gets_a_reason() {
    let settings =
        SettleSettings { noise: instrument::Noise::Stated, ..SettleSettings::from_instrument(0.01, 0.0) };
    let mut settle = Settle::new(settings);
    let mut draws = Draws::new(3);
    for ms in (0..15_000_u64).step_by(50) {
        settle.value(ms, libm::round(5.0 * draws.normal()) / 100.0);
        assert!(ms > 9_000 || settle.unrest().is_none());
    }
    let why = format!("{}", settle.unrest().unwrap());
    assert!(why.contains("scatters") && why.contains("noise"), "{why}");
    let mut settle = Settle::new(SettleSettings::from_instrument(0.001, 0.0));
    for ms in (0..15_000_u64).step_by(100) {
        settle.value(ms, libm::round(0.02 * ms as f64) / 1000.0);
    }
    let why = format!("{}", settle.unrest().unwrap());
    assert!(why.contains("drifts by +0.0200 each second"), "{why}");
}

/// A new value every five seconds is the instrument's own interval; it is not lost.
#[test]
fn a_slow_instrument_is_not_lost_between_its_values() {
    let mut settle = Settle::new(SettleSettings::from_instrument(0.1, 0.0));
    let states: Vec<State> = (0..8_u64).map(|n| settle.value(n * 5_000, 1.2)).collect();
    assert!(matches!(states.last(), Some(State::Settled { .. })), "{states:?}");
    assert!(!matches!(settle.at(37_000 + 9_000), State::Lost));
    assert!(matches!(settle.at(35_000 + 16_000), State::Lost));
}

/// How long settling takes after a step, against how far the noise is from the stated value. The median and the
/// slowest tenth of 41 seeded runs; a run that has not settled after 60 s counts as 60 s.
#[test]
fn settling_takes_as_long_as_the_noise_asks() {
    let mut text = String::from(
        "Milliseconds from a step of 1 degree to a reading; step of the display 0.01 degree, stated noise 0.01 degree.\n\
         Each cell: median of 41 runs / 37th of 41. Invented, seeded.\n\n\
         noise/stated      4 Hz             10 Hz            100 Hz           1000 Hz\n",
    );
    for factor in [0.25, 0.5, 1.0, 1.25, 1.5, 2.0, 3.0] {
        write!(text, "{factor:<12}").unwrap();
        for every_ms in [250, 100, 10, 1] {
            let mut times: Vec<u64> =
                (0..41).map(|seed| settle_time(factor * 0.01, every_ms, seed)).collect();
            times.sort_unstable();
            let cell = |time: u64| if time == NEVER { String::from("none") } else { format!("{time}") };
            write!(text, "{:>8} /{:>6} ", cell(times[20]), cell(times[36])).unwrap();
        }
        text.push('\n');
    }
    same_as_kept("settle_time.txt", &text);
}

const NEVER: u64 = u64::MAX;

fn settle_time(noise: f64, every_ms: u64, seed: u64) -> u64 {
    let mut draws = Draws::new(seed);
    let trace = Trace::at(0.0).step(1_000, 1.0).noise(noise);
    let mut settle = Settle::new(SettleSettings::from_instrument(0.01, 0.01));
    for now_ms in (0..61_000).step_by(every_ms as usize) {
        let shown = libm::round(trace.seen(now_ms, &mut draws).unwrap() * 100.0) / 100.0;
        if matches!(settle.value(now_ms, shown), State::Settled { .. }) && now_ms >= 1_000 {
            return now_ms - 1_000;
        }
    }
    NEVER
}
