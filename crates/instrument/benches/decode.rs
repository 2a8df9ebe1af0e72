//! How fast bytes become samples, as ratios: against a split into lines by `memchr` (which does nothing with them: the
//! limit) and, for lines of a form, against the `regex` crate with the numbers parsed by the standard library. Each
//! pair is measured interleaved in one run; the medians of many rounds are printed.
//!
//! `cargo bench -p instrument`

use instrument::{Axis, Decimal, Decoder, DialectSpec, NmeaSpec, Template, Text};
use std::hint::black_box;
use std::time::{Duration, Instant};

const ROUNDS: usize = 41;
const PIECE: usize = 4096;

#[expect(clippy::disallowed_methods, reason = "a benchmark measures time")]
fn timed(work: &mut dyn FnMut() -> usize) -> (Duration, usize) {
    let start = Instant::now();
    let count = black_box(work());
    (start.elapsed(), count)
}

/// Medians of both, run in turns.
fn interleaved(one: &mut dyn FnMut() -> usize, other: &mut dyn FnMut() -> usize) -> (Duration, Duration) {
    let (mut ones, mut others) = (Vec::new(), Vec::new());
    let wanted = (one(), other());
    for _ in 0..ROUNDS {
        let (time, count) = timed(one);
        assert_eq!(count, wanted.0);
        ones.push(time);
        let (time, count) = timed(other);
        assert_eq!(count, wanted.1);
        others.push(time);
    }
    ones.sort_unstable();
    others.sort_unstable();
    (ones[ROUNDS / 2], others[ROUNDS / 2])
}

fn split_lines(bytes: &[u8]) -> usize {
    let mut from = 0;
    let mut count = 0;
    for end in memchr::memchr_iter(b'\n', bytes) {
        count += usize::from(!black_box(&bytes[from..end]).is_empty());
        from = end + 1;
    }
    count
}

fn decode(decoder: &mut Decoder, bytes: &[u8]) -> usize {
    let mut count = 0;
    for piece in bytes.chunks(PIECE) {
        decoder.each(piece, |next| count += usize::from(black_box(next).is_ok()));
    }
    count
}

fn by_regex(regex: &regex::bytes::Regex, bytes: &[u8]) -> usize {
    let mut count = 0;
    let mut from = 0;
    for end in memchr::memchr_iter(b'\n', bytes) {
        let line = bytes[from..end].strip_suffix(b"\r").unwrap_or(&bytes[from..end]);
        from = end + 1;
        let Some(found) = regex.captures(line) else { continue };
        for hole in 1..=2 {
            let number = found.get(hole).and_then(|it| core::str::from_utf8(it.as_bytes()).ok());
            count += usize::from(black_box(number.and_then(|it| it.parse::<f64>().ok())).is_some());
        }
    }
    count
}

fn lines_of(count: usize, mut line: impl FnMut(usize) -> String) -> Vec<u8> {
    (0..count).map(|n| line(n) + "\r\n").collect::<String>().into_bytes()
}

fn wobble(n: usize) -> i32 {
    ((n * 7919) % 4000) as i32 - 2000
}

fn framed(n: usize) -> String {
    use jigtrue_protocol as protocol;
    let line = protocol::Message::Sample(protocol::Sample {
        stamp: protocol::Stamp { sequence: n as u32, device_ms: 10 * n as u32 },
        quantity: protocol::Quantity::Angle,
        value: protocol::Decimal { mantissa: wobble(n), exponent: -3 },
        unit: protocol::Unit::Degrees,
        flags: protocol::Flags::NONE,
    })
    .encode();
    line.map(|line| line.as_str().trim_end().to_owned()).unwrap_or_default()
}

fn two_axes(n: usize) -> String {
    let of = |n| Decimal { mantissa: wobble(n).into(), exponent: -2 };
    format!("X={},Y={}", of(n), of(n + 17))
}

fn sentence(n: usize) -> String {
    let of = |n| Decimal { mantissa: wobble(n).into(), exponent: -2 };
    let payload = format!("IIXDR,A,{},D,PITCH,A,{},D,ROLL", of(n), of(n + 17));
    let check = payload.bytes().fold(0, |sum, byte| sum ^ byte);
    format!("${payload}*{check:02X}")
}

fn nibbles(n: usize) -> String {
    let value = wobble(n);
    format!("FFFF{}{:06}20", if value < 0 { 8 } else { 0 }, value.unsigned_abs())
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let count = 20_000;
    let template = Template::new("X={angle deg},Y={cross deg}")?;
    let mut nmea = NmeaSpec::default();
    nmea.names[0] = Text::new("PITCH").map(|name| (name, Axis::Angle));
    nmea.names[1] = Text::new("ROLL").map(|name| (name, Axis::Cross));
    let cases = [
        ("our frames", DialectSpec::Jigtrue, lines_of(count, framed)),
        ("lines of a form", DialectSpec::Lines(template), lines_of(count, two_axes)),
        ("NMEA XDR", DialectSpec::Nmea(nmea), lines_of(count, sentence)),
        ("13 nibbles", DialectSpec::Bcd, lines_of(count, nibbles)),
    ];
    println!("{:<18} {:>10} {:>12} {:>12}", "dialect", "MB/s", "limit MB/s", "of limit");
    for (name, spec, bytes) in &cases {
        // A fresh decoder each round: one that numbers its frames would take a second round for repeats.
        let mut ours = || decode(&mut Decoder::new(spec), bytes);
        let (time, limit) = interleaved(&mut ours, &mut || split_lines(bytes));
        let speed = |time: Duration| bytes.len() as f64 / time.as_secs_f64() / 1e6;
        println!(
            "{name:<18} {:>10.0} {:>12.0} {:>11.1}%",
            speed(time),
            speed(limit),
            100.0 * speed(time) / speed(limit)
        );
    }
    let lines = &cases[1].2;
    let number = r"([-+]?[0-9]+(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?)";
    let regex = regex::bytes::Regex::new(&format!("^X={number},Y={number}$"))?;
    let mut ours = || decode(&mut Decoder::new(&DialectSpec::Lines(template)), lines);
    let (time, rival) = interleaved(&mut ours, &mut || by_regex(&regex, lines));
    println!(
        "lines of a form against the regex crate: {:.1} times as fast",
        rival.as_secs_f64() / time.as_secs_f64()
    );
    Ok(())
}
