//! Bytes to samples, against a split into lines by `memchr` (which does nothing with them: the limit) and, for lines
//! of a form, against the `regex` crate with the numbers parsed by the standard library.

use crate::row::{Aim, Row, in_turns};
use crate::{Extent, Failure};
use instrument::{Axis, Decimal, Decoder, DialectSpec, NamedAxis, NmeaSpec, Template, Text};
use jigtrue_protocol as protocol;
use std::hint::black_box;

/// A reading from a port comes in pieces of about this size.
const PIECE: usize = 4096;

/// A name, an aim, a dialect, and bytes in it.
type Case = (&'static str, Aim, DialectSpec, Vec<u8>);

/// The rows of decoding.
pub fn rows(extent: Extent) -> Result<Vec<Row>, Failure> {
    let rounds = extent.of(41, 9);
    let cases = cases()?;
    let mut rows: Vec<Row> = cases
        .iter()
        .map(|(name, aim, spec, bytes)| {
            let pair = in_turns(rounds, || decode(spec, bytes), || split_lines(bytes));
            let speed = |time: f64| format!("{:.0} MB/s", bytes.len() as f64 / time / 1e6);
            Row::of(
                name,
                "a split into lines by memchr (limit)",
                (pair.0.as_secs_f64(), pair.1.as_secs_f64()),
                *aim,
                speed,
            )
        })
        .collect();
    let Some((_, _, spec, frames)) = cases.first() else { return Err("no frames".into()) };
    let pair = in_turns(rounds, || decode(spec, frames), || check_sums(frames));
    let speed = |time: f64| format!("{:.0} MB/s", frames.len() as f64 / time / 1e6);
    rows.push(Row::of(
        "our frames, decoded again",
        "their split and check sums alone",
        (pair.0.as_secs_f64(), pair.1.as_secs_f64()),
        Aim::Watched,
        speed,
    ));
    let Some((_, _, spec, lines)) = cases.get(1) else { return Err("no lines".into()) };
    let number = r"([-+]?[0-9]+(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?)";
    let regex = regex::bytes::Regex::new(&format!("^X={number},Y={number}$"))?;
    let pair = in_turns(rounds, || decode(spec, lines), || by_regex(&regex, lines));
    let speed = |time: f64| format!("{:.0} MB/s", lines.len() as f64 / time / 1e6);
    rows.push(Row::of(
        "lines of a form, decoded again",
        "the regex crate, numbers by std",
        (pair.0.as_secs_f64(), pair.1.as_secs_f64()),
        Aim::AtLeast(5.0),
        speed,
    ));
    Ok(rows)
}

fn cases() -> Result<[Case; 4], Failure> {
    let template = Template::new("X={angle deg},Y={cross deg}")?;
    let mut nmea = NmeaSpec::default();
    nmea.names[0] = Text::from("PITCH").ok().map(|name| NamedAxis { name, axis: Axis::Angle });
    nmea.names[1] = Text::from("ROLL").ok().map(|name| NamedAxis { name, axis: Axis::Cross });
    Ok([
        ("our frames, decoded", Aim::AtLeast(0.3), DialectSpec::Jigtrue, lines_of(framed)),
        ("lines of a form, decoded", Aim::Watched, DialectSpec::Lines(template), lines_of(two_axes)),
        ("NMEA XDR, decoded", Aim::Watched, DialectSpec::Nmea(nmea), lines_of(sentence)),
        ("13 nibbles, decoded", Aim::Watched, DialectSpec::Bcd, lines_of(nibbles)),
    ])
}

/// A fresh decoder each round: one that numbers its frames would take a second round for repeats.
fn decode(spec: &DialectSpec, bytes: &[u8]) {
    let mut decoder = Decoder::new(spec);
    for piece in bytes.chunks(PIECE) {
        decoder.each(piece, |next| {
            let _ = black_box(next);
        });
    }
}

fn split_lines(bytes: &[u8]) {
    let mut from = 0;
    for end in memchr::memchr_iter(b'\n', bytes) {
        black_box(&bytes[from..end]);
        from = end + 1;
    }
}

/// The least that must be done with a frame: finding its end and checking its sum.
fn check_sums(bytes: &[u8]) {
    let mut from = 0;
    for end in memchr::memchr_iter(b'\n', bytes) {
        black_box(protocol::crc::of(&bytes[from..end]));
        from = end + 1;
    }
}

fn by_regex(regex: &regex::bytes::Regex, bytes: &[u8]) {
    let mut from = 0;
    for end in memchr::memchr_iter(b'\n', bytes) {
        let line = bytes[from..end].strip_suffix(b"\r").unwrap_or(&bytes[from..end]);
        from = end + 1;
        let Some(found) = regex.captures(line) else { continue };
        for hole in 1..=2 {
            let number = found.get(hole).and_then(|it| core::str::from_utf8(it.as_bytes()).ok());
            black_box(number.and_then(|it| it.parse::<f64>().ok()));
        }
    }
}

fn lines_of(mut line: impl FnMut(usize) -> String) -> Vec<u8> {
    (0..20_000).map(|n| line(n) + "\r\n").collect::<String>().into_bytes()
}

fn wobble(n: usize) -> i32 {
    ((n * 7919) % 4000) as i32 - 2000
}

fn framed(n: usize) -> String {
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

fn hundredths(n: usize) -> Decimal {
    Decimal { mantissa: wobble(n).into(), exponent: -2 }
}

fn two_axes(n: usize) -> String {
    format!("X={},Y={}", hundredths(n), hundredths(n + 17))
}

fn sentence(n: usize) -> String {
    let payload = format!("IIXDR,A,{},D,PITCH,A,{},D,ROLL", hundredths(n), hundredths(n + 17));
    let check = payload.bytes().fold(0, |sum, byte| sum ^ byte);
    format!("${payload}*{check:02X}")
}

fn nibbles(n: usize) -> String {
    let value = wobble(n);
    format!("FFFF{}{:06}20", if value < 0 { 8 } else { 0 }, value.unsigned_abs())
}
