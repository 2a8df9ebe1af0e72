//! Writes a message as a line.

use crate::fields::is_text;
use crate::{
    Answer, Command, Decimal, Fault, Flags, Identify, MAX_DETAIL, MAX_FIRMWARE, MAX_LINE, MAX_NAME,
    MAX_NUMBER, Message, Request, Sample, Stamp, Status, VERSION, crc,
};
use core::fmt;

/// A line ready to be sent, with its end (carriage return and line feed).
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Line {
    bytes: [u8; MAX_LINE],
    length: usize,
}

/// Why a message has no line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unsayable {
    /// A text is empty, too long, or has a character that a line cannot carry.
    Text,
    /// The exponent is outside -9 to 9.
    Exponent,
    /// The unit does not measure the quantity.
    Unit,
    /// A flag of a later version, whose letter this version does not know.
    Flag,
    /// A request of a later version, whose word this version does not know.
    Request,
}

impl Line {
    /// The bytes to send.
    #[must_use]
    pub fn as_bytes(&self) -> &[u8] {
        self.bytes.get(..self.length).unwrap_or_default()
    }

    /// The same as text, which every line is.
    #[must_use]
    pub fn as_str(&self) -> &str {
        core::str::from_utf8(self.as_bytes()).unwrap_or_default()
    }
}

impl fmt::Debug for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.as_str(), f)
    }
}

impl fmt::Display for Unsayable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Text => {
                "a text is empty, too long, or has a comma, a star, a tilde or a character beyond ASCII"
            }
            Self::Exponent => "the exponent is not between -9 and 9",
            Self::Unit => "the unit does not measure the quantity",
            Self::Flag => "a flag has no letter in this version",
            Self::Request => "the request has no word in this version",
        })
    }
}

impl core::error::Error for Unsayable {}

impl Message<'_> {
    /// The line that says this.
    ///
    /// # Errors
    ///
    /// [`Unsayable`] for what would not come back the same from [`decode`](crate::decode).
    pub fn encode(&self) -> Result<Line, Unsayable> {
        let mut line = Writer::new();
        match self {
            Self::Identify(it) => line.identify(it)?,
            Self::Sample(it) => line.sample(it)?,
            Self::Status(it) => line.status(it)?,
            Self::Fault(it) => line.fault(it)?,
            Self::Answer(it) => line.answer(it)?,
            Self::Command(it) => line.command(*it)?,
        }
        Ok(line.finish())
    }
}

/// Writes fields one after another. A line that would be too long is cut; the limits on every field rule that out,
/// and a test builds the longest of each kind.
struct Writer {
    line: Line,
    crc: u16,
}

impl Writer {
    fn new() -> Self {
        let mut writer = Self { line: Line { bytes: [0; MAX_LINE], length: 0 }, crc: crc::START };
        writer.raw(b"~");
        writer.crc = crc::START;
        writer.put(b'0' + VERSION);
        writer
    }

    fn raw(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.put(byte);
        }
    }

    fn put(&mut self, byte: u8) {
        if let Some(slot) = self.line.bytes.get_mut(self.line.length) {
            *slot = byte;
            self.line.length += 1;
            self.crc = crc::step(self.crc, byte);
        }
    }

    fn field(&mut self, word: &str) {
        self.put(b',');
        self.raw(word.as_bytes());
    }

    fn text(&mut self, text: &str, longest: usize) -> Result<(), Unsayable> {
        if text.len() > longest || !is_text(text.as_bytes()) {
            return Err(Unsayable::Text);
        }
        self.field(text);
        Ok(())
    }

    fn digits(&mut self, number: u32) {
        let mut place = 1_000_000_000;
        while place > 1 && number < place {
            place /= 10;
        }
        while place > 0 {
            self.put(b'0' + (number / place % 10) as u8);
            place /= 10;
        }
    }

    fn number(&mut self, number: u32) {
        self.put(b',');
        self.digits(number);
    }

    fn stamp(&mut self, stamp: Stamp) {
        self.number(stamp.sequence);
        self.number(stamp.device_ms);
    }

    fn decimal(&mut self, value: Decimal) -> Result<(), Unsayable> {
        if !(-9..=9).contains(&value.exponent) {
            return Err(Unsayable::Exponent);
        }
        self.put(b',');
        if value.mantissa < 0 {
            self.put(b'-');
        }
        self.digits(value.mantissa.unsigned_abs());
        self.put(b'e');
        if value.exponent < 0 {
            self.put(b'-');
        }
        self.put(b'0' + value.exponent.unsigned_abs());
        Ok(())
    }

    fn flags(&mut self, flags: Flags) -> Result<(), Unsayable> {
        if flags.contains(Flags::UNKNOWN_BAR) || flags.contains(Flags::UNKNOWN_NOTE) {
            return Err(Unsayable::Flag);
        }
        self.put(b',');
        if flags == Flags::NONE {
            self.put(b'-');
        }
        for letter in flags.letters() {
            self.put(letter);
        }
        Ok(())
    }

    fn identify(&mut self, it: &Identify<'_>) -> Result<(), Unsayable> {
        self.field("identify");
        self.stamp(it.stamp);
        self.text(it.name, MAX_NAME)?;
        self.text(it.number, MAX_NUMBER)?;
        self.text(it.firmware, MAX_FIRMWARE)
    }

    fn sample(&mut self, it: &Sample) -> Result<(), Unsayable> {
        if !it.unit.measures(it.quantity) {
            return Err(Unsayable::Unit);
        }
        self.field("sample");
        self.stamp(it.stamp);
        self.field(it.quantity.word());
        self.decimal(it.value)?;
        self.field(it.unit.word());
        self.flags(it.flags)
    }

    fn status(&mut self, it: &Status) -> Result<(), Unsayable> {
        self.field("status");
        self.stamp(it.stamp);
        self.number(it.interval_ms.into());
        self.number(it.dropped);
        self.flags(it.flags)
    }

    fn fault(&mut self, it: &Fault<'_>) -> Result<(), Unsayable> {
        self.field("fault");
        self.stamp(it.stamp);
        self.field(it.code.word());
        self.text(it.detail, MAX_DETAIL)
    }

    fn answer(&mut self, it: &Answer<'_>) -> Result<(), Unsayable> {
        self.field("answer");
        self.stamp(it.stamp);
        self.number(it.command.into());
        self.field(it.outcome.word());
        self.text(it.detail, MAX_DETAIL)
    }

    fn command(&mut self, it: Command) -> Result<(), Unsayable> {
        self.field("command");
        self.number(it.number.into());
        match it.request {
            Request::Identify => self.field("identify"),
            Request::Zero => self.field("zero"),
            Request::Rate { interval_ms } => {
                self.field("rate");
                self.number(interval_ms.into());
            }
            Request::Unknown => return Err(Unsayable::Request),
        }
        Ok(())
    }

    fn finish(mut self) -> Line {
        let check = self.crc;
        self.put(b'*');
        for shift in [12, 8, 4, 0] {
            let nibble = (check >> shift & 0xF) as u8;
            self.put(if nibble < 10 { b'0' + nibble } else { b'A' + nibble - 10 });
        }
        self.raw(b"\r\n");
        self.line
    }
}
