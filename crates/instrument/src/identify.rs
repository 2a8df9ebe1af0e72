//! Recognises an unknown stream.

use crate::dialect::{bcd_frame, transducers};
use crate::{Decimal, modbus_crc};
use jigtrue_protocol::Receiver;

/// How many frames of each dialect were found in part of a stream.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Heard {
    /// Bytes looked at.
    pub bytes: usize,
    /// Lines of the project's own protocol, whole and with the right checksum.
    pub jigtrue: usize,
    /// NMEA 0183 sentences of any kind with the right checksum.
    pub nmea: usize,
    /// XDR sentences among them that consist of whole groups.
    pub nmea_xdr: usize,
    /// NMEA 0183 sentences without a checksum, which are refused.
    pub nmea_unchecked: usize,
    /// 13-nibble frames.
    pub bcd: usize,
    /// Modbus RTU answers to questions for registers, with the right CRC; heard when another master asks.
    pub modbus: usize,
    /// Other lines of printable text that contain a number.
    pub lines: usize,
}

/// Examines part of a stream, which may begin and end anywhere.
#[must_use]
pub fn identify_stream(bytes: &[u8]) -> Heard {
    let mut heard =
        Heard { bytes: bytes.len(), jigtrue: framed(bytes), modbus: answers(bytes), ..Heard::default() };
    for line in whole_lines(bytes) {
        match line {
            [b'~', ..] => {}
            [b'$', sentence @ ..] => count_sentence(sentence, &mut heard),
            _ if bcd_frame(line).is_some() => heard.bcd += 1,
            _ if is_line_with_number(line) => heard.lines += 1,
            _ => {}
        }
    }
    heard
}

/// The first whole line that contains a number and is of no known dialect: a person needs it to write its form into
/// an instrument file.
#[must_use]
pub fn example_line(bytes: &[u8]) -> Option<&str> {
    let unknown = |line: &&[u8]| !matches!(line, [b'~' | b'$', ..]) && bcd_frame(line).is_none();
    let line = whole_lines(bytes).filter(unknown).find(|line| is_line_with_number(line))?;
    core::str::from_utf8(line).ok()
}

/// Lines with an end before and after them.
fn whole_lines(bytes: &[u8]) -> impl Iterator<Item = &[u8]> {
    let is_end = |byte: &u8| matches!(byte, b'\r' | b'\n');
    let from = bytes.iter().position(is_end).unwrap_or(bytes.len());
    let to = bytes.iter().rposition(is_end).unwrap_or(from);
    bytes.get(from..to).unwrap_or_default().split(is_end).filter(|line| !line.is_empty())
}

fn framed(mut bytes: &[u8]) -> usize {
    let mut receiver: Receiver = Receiver::new();
    let mut count = 0;
    while !bytes.is_empty() {
        let taken = receiver.received(bytes);
        bytes = bytes.get(taken..).unwrap_or_default();
        while let Some(next) = receiver.next() {
            count += usize::from(next.is_ok());
        }
    }
    count
}

fn count_sentence(sentence: &[u8], heard: &mut Heard) {
    if let Some(payload) = crate::dialect::checked_sentence(sentence) {
        heard.nmea += 1;
        heard.nmea_xdr += usize::from(transducers(payload).all(|group| group.is_ok()));
    } else if !matches!(sentence, [.., b'*', _, _]) && is_line_with_number(sentence) {
        heard.nmea_unchecked += 1;
    }
}

fn is_line_with_number(line: &[u8]) -> bool {
    let printable = line.iter().all(|byte| matches!(byte, b' '..=b'~' | b'\t'));
    printable && (0..line.len()).any(|at| line.get(at..).and_then(Decimal::leading).is_some())
}

/// Frames `slave, 3 or 4, byte count, data, CRC`, not overlapping.
fn answers(bytes: &[u8]) -> usize {
    let mut left = bytes;
    let mut count = 0;
    while !left.is_empty() {
        let length = match left {
            [1..=247, 3 | 4, length, ..] if *length >= 2 && length % 2 == 0 => usize::from(*length) + 5,
            _ => 0,
        };
        let fits = length > 0 && left.get(..length).is_some_and(|frame| modbus_crc(frame) == 0);
        count += usize::from(fits);
        left = left.get(if fits { length } else { 1 }..).unwrap_or_default();
    }
    count
}
