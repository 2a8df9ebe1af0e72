//! NMEA 0183 XDR sentences: transducer measurements, with a checksum.
//!
//! `$ttXDR,type,value,unit,name,type,value,unit,name,..*hh`: `tt` is the talker, then groups of four fields, one for
//! each transducer, then the XOR of everything between `$` and `*` in two hexadecimal digits. Types read here: `A` an
//! angle in `D` degrees, `C` a temperature in `C` degrees Celsius, `D` a length in `M` metres. A sentence without a
//! checksum is refused.

use crate::values::{MAX_VALUES, Values};
use crate::{Axis, Decimal, Fault, Sample, Text};
use jigtrue_protocol::Held;
use nom::branch::alt;
use nom::bytes::complete::{tag, take, take_while};
use nom::character::complete::char;
use nom::combinator::{eof, verify};
use nom::sequence::{preceded, terminated};
use nom::{IResult, Parser};
use quantity::Unit;

/// Which transducer measures what.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct NmeaSpec {
    pub names: [Option<NamedAxis>; MAX_VALUES],
}

/// A transducer and what it measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NamedAxis {
    /// Its name in the sentence.
    pub name: Text<12>,
    pub axis: Axis,
}

/// One group of four fields, as sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Transducer<'a> {
    /// The type: `A`, `C`, `D`, or one that is not read here.
    pub kind: &'a str,
    /// The value; empty if the transducer has none.
    pub value: &'a str,
    /// The unit: `D`, `C`, `M`, ..
    pub unit: &'a str,
    pub name: &'a str,
}

const HELD: usize = 1024;

/// Longer than the 82 characters of the standard (from memory), because two-axis talkers exceed them.
const MAX_SENTENCE: usize = 164;

/// Reads XDR sentences.
#[derive(Clone, Debug)]
pub struct Nmea {
    spec: NmeaSpec,
    held: Held<HELD>,
    values: Values,
    /// Inside a run of bytes without an end, already reported.
    astray: bool,
}

impl Nmea {
    /// A decoder that has received nothing yet.
    #[must_use]
    pub(crate) const fn new(spec: NmeaSpec) -> Self {
        Self { spec, held: Held::new(), values: Values::new_const(), astray: false }
    }

    /// See [`Decoder::received`](crate::Decoder::received).
    pub(crate) fn received(&mut self, bytes: &[u8]) -> usize {
        self.held.received(bytes)
    }

    /// See [`Decoder::forget`](crate::Decoder::forget).
    pub(crate) fn forget(&mut self) {
        self.held.clear();
        self.values.clear();
        self.astray = false;
    }

    /// See [`Decoder::next`](crate::Decoder::next).
    pub(crate) fn next(&mut self) -> Option<Result<Sample, Fault>> {
        loop {
            if let Some(sample) = self.values.pop_at(0) {
                return Some(Ok(sample));
            }
            let held = self.held.bytes();
            let (first, after) = held.split_first()?;
            if *first != b'$' {
                let skipped = held.iter().take_while(|byte| **byte != b'$');
                let (length, noise) = skipped.fold((0, 0), |(length, noise), byte| {
                    (length + 1, noise + usize::from(!matches!(byte, b'\r' | b'\n')))
                });
                self.held.pass(length);
                if noise > 0 && !self.astray {
                    return Some(Err(Fault::Noise { bytes: noise }));
                }
                continue;
            }
            self.astray = false;
            let within = after.get(..MAX_SENTENCE).unwrap_or(after);
            let Some(length) = memchr::memchr3(b'\r', b'\n', b'$', within) else {
                if within.len() < MAX_SENTENCE {
                    return None;
                }
                self.astray = true;
                self.held.pass(1 + MAX_SENTENCE);
                return Some(Err(Fault::TooLong));
            };
            let (sentence, ending) = within.split_at(length);
            let read = if ending.first() == Some(&b'$') { Err(Fault::Cut) } else { self.spec.read(sentence) };
            self.held.pass(1 + length);
            match read {
                Ok(values) => self.values = values,
                Err(fault) => return Some(Err(fault)),
            }
        }
    }
}

impl NmeaSpec {
    /// The values of a sentence (between `$` and its end) with names that this instrument has. Other sentences and
    /// other transducers give none.
    fn read(&self, sentence: &[u8]) -> Result<Values, Fault> {
        let has_check = matches!(sentence, [.., b'*', _, _]);
        let why = if has_check { Fault::Check } else { Fault::NoCheck };
        let payload = checked_sentence(sentence).ok_or(why)?;
        let mut values = Values::new();
        if payload.get(2..5) != Some(b"XDR") {
            return Ok(values);
        }
        let mut all_there = true;
        for transducer in transducers(payload) {
            let transducer = transducer?;
            let named = |entry: &&NamedAxis| entry.name.as_str() == transducer.name;
            let Some(NamedAxis { axis, .. }) = self.names.iter().flatten().find(named) else { continue };
            if transducer.value.is_empty() {
                all_there = false;
                continue;
            }
            let number = number(transducer.value).ok_or(Fault::Form)?;
            let unit =
                unit(&transducer).filter(|unit| unit.kind() == crate::kind_of(*axis)).ok_or(Fault::Form)?;
            if values.try_push(Sample::bare(*axis, number, unit)).is_err() {
                return Err(Fault::Form);
            }
        }
        if all_there { Ok(values) } else { Err(Fault::NoValue) }
    }
}

/// A number as in NMEA: digits, perhaps with a point and a minus sign.
fn number(value: &str) -> Option<Decimal> {
    let plain = value.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'.' | b'-'));
    Decimal::whole(value.as_bytes()).filter(|_| plain)
}

fn unit(transducer: &Transducer<'_>) -> Option<Unit> {
    match (transducer.kind, transducer.unit) {
        ("A", "D") => Some(Unit::Degree),
        ("C", "C") => Some(Unit::Celsius),
        ("D", "M") => Some(Unit::Metre),
        _ => None,
    }
}

/// The text before `*`, if the two digits after it are its checksum.
pub(crate) fn checked_sentence(sentence: &[u8]) -> Option<&[u8]> {
    let (payload, check) = sentence.split_last_chunk::<3>()?;
    let sum = payload.iter().fold(0, |sum, byte| sum ^ byte);
    let hex = b"0123456789ABCDEF";
    let digits = [hex.get(usize::from(sum >> 4))?, hex.get(usize::from(sum & 15))?];
    (*check == [b'*', *digits[0], *digits[1]]).then_some(payload)
}

/// The groups of an XDR sentence, given between `$` and `*`, as sent and of any type.
///
/// # Errors
///
/// [`Fault::Form`] once, if the sentence does not consist of whole groups.
pub fn transducers(payload: &[u8]) -> impl Iterator<Item = Result<Transducer<'_>, Fault>> {
    let mut left = address(payload).map(|(groups, _)| groups).ok();
    let mut failed = left.is_none();
    core::iter::from_fn(move || {
        if core::mem::take(&mut failed) {
            return Some(Err(Fault::Form));
        }
        match group(left.filter(|left| !left.is_empty())?) {
            Ok((after, transducer)) => {
                left = Some(after);
                Some(Ok(transducer))
            }
            Err(_) => {
                left = None;
                Some(Err(Fault::Form))
            }
        }
    })
}

fn address(payload: &[u8]) -> IResult<&[u8], &[u8]> {
    let talker = verify(take(2_usize), |talker: &[u8]| talker.iter().all(u8::is_ascii_uppercase));
    terminated(talker, tag("XDR")).parse(payload)
}

fn group(left: &[u8]) -> IResult<&[u8], Transducer<'_>> {
    let field = || {
        preceded(char(','), take_while(|byte: u8| matches!(byte, b' '..=b'~') && byte != b','))
            .map_opt(|field: &[u8]| core::str::from_utf8(field).ok())
    };
    // The last name may be missing, as in published sentences.
    let name = alt((field(), eof.map(|_| "")));
    (field(), field(), field(), name)
        .map(|(kind, value, unit, name)| Transducer { kind, value, unit, name })
        .parse(left)
}
