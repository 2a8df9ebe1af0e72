//! Every kind of damage to every dialect: no value comes out that was not sent, and the next whole frame is read.

use crate::specs::{LINE, checked, lines, modbus, nmea, turning, unchecked};
use instrument::{Axis, Decimal, Decoder, DialectSpec, Fault, Sample, Settle, SettleSettings, State};
use quantity::Unit;
use stories::seeded::Draws;
use stories::sim::{Channel, Harm, Simulated, Trace, harmed};

const ALL: [Harm; 7] =
    [Harm::Flip, Harm::Drop, Harm::Double, Harm::Join, Harm::Cut, Harm::Repeat, Harm::Noise(300)];

/// The kinds of damage that leave the digits of a line alone: without a checksum, no more can be promised.
const WHOLE: [Harm; 4] = [Harm::Join, Harm::Cut, Harm::Repeat, Harm::Noise(300)];

fn heard(spec: &DialectSpec, bytes: &[u8], draws: &mut Draws) -> (Vec<Sample>, Vec<Fault>) {
    let mut decoder = Decoder::new(spec);
    decoder.silence();
    let (mut samples, mut faults) = (Vec::new(), Vec::new());
    let mut left = bytes;
    while !left.is_empty() {
        let (piece, after) = left.split_at(1 + draws.index(left.len().min(90)));
        decoder.each(piece, |next| match next {
            Ok(sample) => samples.push(sample),
            Err(fault) => faults.push(fault),
        });
        left = after;
    }
    (samples, faults)
}

fn key(sample: &Sample) -> (Axis, Decimal, Unit) {
    (sample.axis, sample.value, sample.unit)
}

/// Whether what was heard was sent, in the same order. With `twice`, a value may come again immediately, as when a
/// frame was repeated and the dialect does not number its frames.
fn was_sent(heard: &[Sample], sent: &[Sample], twice: bool) -> Result<(), (Axis, Decimal, Unit)> {
    let mut at = 0_usize;
    for sample in heard {
        let back = if twice { at.saturating_sub(2) } else { at };
        match sent.iter().skip(back).position(|sent| key(sent) == key(sample)) {
            Some(found) => at = back + found + 1,
            None => return Err(key(sample)),
        }
    }
    Ok(())
}

#[test]
fn damage_never_gives_a_value_that_was_not_sent() {
    let cases =
        checked().map(|spec| (spec, &ALL[..])).into_iter().chain(unchecked().map(|spec| (spec, &WHOLE[..])));
    for (spec, harms) in cases {
        for seed in 0..20 {
            let mut draws = Draws::new(seed);
            let mut simulated = turning(spec, seed);
            let frames = simulated.frames(60_000);
            let sent: Vec<Sample> = simulated.sent().iter().map(|(_, sample)| *sample).collect();
            let bytes = harmed(&frames, harms, 4, &mut draws);
            let (samples, faults) = heard(&spec, &bytes, &mut draws);
            let numbered = spec == DialectSpec::Jigtrue;
            assert_eq!(was_sent(&samples, &sent, !numbered), Ok(()), "{} seed {seed}", spec.word());
            assert!(!faults.is_empty());
            // A quarter of the frames was damaged, and each takes at most one neighbour with it.
            assert!(samples.len() * 2 > sent.len(), "{}: {} of {}", spec.word(), samples.len(), sent.len());
        }
    }
}

#[test]
fn the_next_whole_frame_is_read_after_each_harm() {
    let mut draws = Draws::new(7);
    for spec in checked().into_iter().chain(unchecked()) {
        for harm in ALL {
            for _ in 0..50 {
                let mut simulated = turning(spec, 7);
                let frames = simulated.frames(300);
                let per_frame = simulated.sent().len() / 4;
                let (first, after) = frames.split_at(frames.len() / 4);
                let bytes = [harmed(first, &[harm], 1, &mut draws), after.concat()].concat();
                let (samples, _) = heard(&spec, &bytes, &mut draws);
                // Lines without a start mark also lose the one joined to the damaged one.
                let marked = checked().contains(&spec);
                let sure = if marked { 3 } else { 2 } * per_frame;
                let last: Vec<_> =
                    simulated.sent().iter().rev().take(sure).map(|(_, sample)| key(sample)).collect();
                let got: Vec<_> = samples.iter().rev().take(sure).map(key).collect();
                assert_eq!(got, last, "{} {harm:?}", spec.word());
            }
        }
    }
}

#[test]
fn every_single_flipped_bit_of_a_checked_frame_is_caught() {
    for spec in checked() {
        let mut simulated = turning(spec, 3);
        let frames = simulated.frames(300);
        let line_end = 2;
        for (at, frame) in frames.iter().enumerate() {
            for bit in 0..(frame.len() - line_end) * 8 {
                let mut flipped = frames.clone();
                flipped[at][bit / 8] ^= 1 << (bit % 8);
                let (samples, _) = heard(&spec, &flipped.concat(), &mut Draws::new(1));
                let mut without = frames.clone();
                without.remove(at);
                let (left, _) = heard(&spec, &without.concat(), &mut Draws::new(1));
                assert_eq!(samples.len(), left.len(), "{} bit {bit} of frame {at}", spec.word());
                assert!(samples.iter().zip(&left).all(|(one, other)| key(one) == key(other)));
            }
        }
    }
}

#[test]
fn splitting_the_bytes_anywhere_changes_nothing() {
    for spec in checked().into_iter().chain(unchecked()) {
        let mut simulated = turning(spec, 5);
        let bytes = simulated.bytes(300);
        for at in 0..=bytes.len() {
            let mut decoder = Decoder::new(&spec);
            decoder.silence();
            let mut count = 0;
            let (one, other) = bytes.split_at(at);
            decoder.each(one, |next| count += usize::from(next.is_ok()));
            decoder.each(other, |next| count += usize::from(next.is_ok()));
            assert_eq!(count, simulated.sent().len(), "{} at {at}", spec.word());
        }
    }
}

#[test]
fn a_million_bytes_of_noise_give_no_value() {
    for spec in checked().into_iter().chain(unchecked()) {
        let mut draws = Draws::new(11);
        let mut simulated = turning(spec, 11);
        let frames = simulated.frames(200);
        let sent: Vec<Sample> = simulated.sent().iter().map(|(_, sample)| *sample).collect();
        let noise: Vec<u8> = (0..1_000_000).map(|_| draws.bits() as u8).collect();
        let (before, after) = frames.split_at(frames.len() / 3);
        let bytes = [before.concat(), noise, after.concat()].concat();
        let (samples, faults) = heard(&spec, &bytes, &mut draws);
        assert_eq!(was_sent(&samples, &sent, false), Ok(()), "{}", spec.word());
        let last = sent.last().map(key);
        assert_eq!(samples.last().map(key), last, "{}", spec.word());
        assert!(samples.len() + 2 >= sent.len());
        assert!(faults.len() > 100);
    }
}

/// Each answer damaged in turn: a damaged answer gives nothing or what was sent, and the next question is answered.
#[test]
fn a_polled_instrument_survives_every_kind_of_damage() {
    let spec = modbus();
    for seed in 0..20 {
        let mut draws = Draws::new(seed);
        let mut simulated = turning(spec, seed);
        let mut decoder = Decoder::new(&spec);
        for turn in 0..300_u64 {
            let mut no_answer = false;
            let mut now_ms = turn * 2_000;
            let (question, late) = loop {
                let asked = decoder.ask(now_ms);
                let mut late = false;
                decoder.each(&[], |next| late |= next.is_err());
                no_answer |= late;
                match asked {
                    Some(question) => break (question, no_answer),
                    None => now_ms += 500,
                }
            };
            let answer = simulated.hear(now_ms, &question);
            let harm = ALL[draws.index(ALL.len())];
            let on_the_way = if turn % 3 == 0 { harmed(&[answer], &[harm], 1, &mut draws) } else { answer };
            let mut samples = Vec::new();
            decoder.each(&on_the_way, |next| samples.extend(next));
            let sent: Vec<_> =
                simulated.sent().iter().rev().take(2).rev().map(|(_, sample)| key(sample)).collect();
            let got: Vec<_> = samples.iter().map(key).collect();
            assert!(got == sent || (got.is_empty() && turn % 3 == 0), "seed {seed} turn {turn} {harm:?}");
            assert!(!late || turn % 3 == 1, "turn {turn}");
        }
    }
}

#[test]
fn a_million_bytes_of_noise_do_not_answer_a_question() {
    let spec = modbus();
    let mut decoder = Decoder::new(&spec);
    let mut draws = Draws::new(13);
    let mut heard = 0;
    for turn in 0..4_000 {
        heard += usize::from(decoder.ask(turn * 1_000).is_some());
        let noise: Vec<u8> = (0..500).map(|_| draws.bits() as u8).collect();
        decoder.each(&noise, |next| {
            assert!(matches!(next, Err(Fault::OtherAnswer { .. } | Fault::Check)), "{next:?}")
        });
    }
    assert_eq!(heard, 2_000);
}

/// A changed digit does not show in a line without a checksum. It still never becomes a reading, because settling
/// restarts at a value outside the band.
#[test]
fn a_changed_digit_is_never_offered_as_a_reading() {
    let mut offered = 0;
    let mut passed_for_a_line = 0;
    for seed in 0..20 {
        let mut draws = Draws::new(seed);
        let step = Decimal { mantissa: 1, exponent: -3 };
        let channel = |axis| Channel { axis, unit: Unit::Degree, step, trace: Trace::at(1.234).noise(0.002) };
        let channels = vec![channel(Axis::Angle), channel(Axis::Cross)];
        let mut simulated = Simulated::new(lines(), channels, 50, seed).writing(LINE);
        let mut settle = Settle::new(SettleSettings::from_instrument(0.001, 0.002));
        let mut decoder = Decoder::new(&lines());
        for now_ms in (0..120_000).step_by(50) {
            let frames = simulated.frames(now_ms);
            let bytes = harmed(&frames, &[Harm::Flip, Harm::Drop, Harm::Double], 60, &mut draws);
            decoder.each(&bytes, |next| {
                let Some(sample) = next.ok().filter(|sample| sample.axis == Axis::Angle) else { return };
                passed_for_a_line += usize::from((sample.base() - 1.234).abs() > 0.02);
                if let State::Settled { reading, .. } = settle.sample(now_ms, &sample) {
                    offered += 1;
                    assert!((reading.value - 1.234).abs() < settle.settings().band, "{reading:?}");
                }
            });
        }
    }
    assert!(passed_for_a_line > 20, "the harm did not reach the digits: {passed_for_a_line}");
    assert!(offered > 1_000, "{offered}");
}

/// With a file for another dialect, nothing is read and a reason is given.
#[test]
fn another_dialect_gives_no_value_and_a_reason() {
    let all = [DialectSpec::Jigtrue, nmea(), lines(), DialectSpec::Bcd, modbus()];
    for spec in &all {
        for other in all.iter().filter(|other| *other != spec && **other != modbus()) {
            let bytes = turning(*other, 1).bytes(3_000);
            let mut decoder = Decoder::new(spec);
            decoder.ask(0);
            let (mut values, mut reasons) = (0, 0);
            for (i, piece) in bytes.chunks(50).enumerate() {
                decoder.each(piece, |next| match next {
                    Ok(_) => values += 1,
                    Err(Fault::Start) => {}
                    Err(_) => reasons += 1,
                });
                decoder.ask(200 * i as u64);
                // Asking reports the result of the previous question.
                decoder.each(&[], |next| reasons += usize::from(next.is_err()));
            }
            let which = (spec.word(), other.word());
            assert!(values == 0 && reasons > 0, "{which:?}: {values} values, {reasons} reasons");
        }
    }
}
