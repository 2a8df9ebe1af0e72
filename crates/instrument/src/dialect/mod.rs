//! The dialects, a file each, behind one [`Decoder`].

mod bcd;
mod modbus;
mod nmea;
mod ours;
mod pattern;
mod template;

pub use bcd::{Bcd, bcd_frame};
pub use modbus::{
    MAX_REGISTERS, Modbus, ModbusSpec, Question, REQUEST_BYTES, Register, RegisterForm, Table, WordOrder,
    modbus_crc,
};
pub(crate) use nmea::checked_sentence;
pub use nmea::{NamedAxis, Nmea, NmeaSpec, Transducer, transducers};
pub use ours::Ours;
pub use pattern::LineDecoder;
pub use template::{Template, TemplateError, TemplateFault};

use crate::{Fault, Notice, Sample};

/// What an instrument speaks, with everything needed to read it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[expect(
    clippy::large_enum_variant,
    reason = "one per instrument; there is no allocator to keep it elsewhere"
)]
pub enum DialectSpec {
    /// The project's own framed lines.
    Jigtrue,
    /// Text lines of one form.
    Lines(Template),
    /// NMEA 0183 XDR sentences.
    Nmea(NmeaSpec),
    /// Modbus RTU registers, polled.
    Modbus(ModbusSpec),
    /// The 13-nibble frames of calipers, as lines of hexadecimal digits.
    Bcd,
}

quantity::words! {
    /// What an instrument speaks, as its file names it.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Speaks {
        Jigtrue = "jigtrue",
        Lines = "lines",
        Nmea = "nmea",
        Modbus = "modbus",
        Bcd = "bcd",
    }
}

impl DialectSpec {
    /// The word for it in an instrument file.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Jigtrue => Speaks::Jigtrue,
            Self::Lines(_) => Speaks::Lines,
            Self::Nmea(_) => Speaks::Nmea,
            Self::Modbus(_) => Speaks::Modbus,
            Self::Bcd => Speaks::Bcd,
        }
        .word()
    }
}

/// Decodes bytes from an instrument to samples, whatever it speaks.
///
/// ```
/// use instrument::{Axis, Decoder, DialectSpec, Template};
///
/// let template = Template::new("X={angle deg},Y={cross deg}")?;
/// let mut decoder = Decoder::new(&DialectSpec::Lines(template));
/// decoder.received(b"nd of a line\r\nX=-1.25,Y=0.30\r\n");
/// let _started_before = decoder.next();
/// let sample = decoder.next().and_then(Result::ok).map(|sample| (sample.axis, sample.base()));
/// assert_eq!(sample, Some((Axis::Angle, -1.25)));
/// # Ok::<(), instrument::TemplateError>(())
/// ```
#[derive(Clone, Debug)]
#[expect(
    clippy::large_enum_variant,
    reason = "one per port, made once and kept in place without an allocator"
)]
pub enum Decoder {
    /// The project's own framed lines.
    Jigtrue(Ours),
    /// Text lines of one form.
    Lines(LineDecoder),
    /// NMEA 0183 XDR sentences.
    Nmea(Nmea),
    /// Modbus RTU.
    Modbus(Modbus),
    /// 13-nibble frames.
    Bcd(Bcd),
}

/// The same call on whichever decoder is inside.
macro_rules! each {
    ($decoder:expr, $inner:ident => $call:expr) => {
        match $decoder {
            Self::Jigtrue($inner) => $call,
            Self::Lines($inner) => $call,
            Self::Nmea($inner) => $call,
            Self::Modbus($inner) => $call,
            Self::Bcd($inner) => $call,
        }
    };
}

impl Decoder {
    /// A decoder that has received nothing yet.
    #[must_use]
    pub fn new(spec: &DialectSpec) -> Self {
        match spec {
            DialectSpec::Jigtrue => Self::Jigtrue(Ours::new()),
            DialectSpec::Lines(template) => Self::Lines(LineDecoder::new(*template)),
            DialectSpec::Nmea(spec) => Self::Nmea(Nmea::new(*spec)),
            DialectSpec::Modbus(spec) => Self::Modbus(Modbus::new(*spec)),
            DialectSpec::Bcd => Self::Bcd(Bcd::new()),
        }
    }

    /// Takes bytes in; returns how many fitted. Once [`Decoder::next`] has returned `None`, at least half a kilobyte
    /// fits. [`Decoder::each`] does both.
    pub fn received(&mut self, bytes: &[u8]) -> usize {
        each!(self, it => it.received(bytes))
    }

    /// The next sample, or the fault of bytes that were dropped; `None` until a whole frame is in.
    #[expect(clippy::should_implement_trait, reason = "nothing now is not the end; more may be received")]
    pub fn next(&mut self) -> Option<Result<Sample, Fault>> {
        each!(self, it => it.next())
    }

    /// Takes all these bytes in and passes on every sample and fault they give.
    pub fn each(&mut self, mut bytes: &[u8], mut take: impl FnMut(Result<Sample, Fault>)) {
        loop {
            let taken = self.received(bytes);
            bytes = bytes.get(taken..).unwrap_or_default();
            while let Some(next) = self.next() {
                take(next);
            }
            if bytes.is_empty() {
                return;
            }
        }
    }

    /// Forgets what has come in, for example after a port was reopened.
    pub fn forget(&mut self) {
        each!(self, it => it.forget());
    }

    /// Tells it that nothing has come for a while (about a second). Dialects whose lines have no start mark then
    /// treat the next byte as the start of a line; otherwise they skip the first line.
    pub const fn silence(&mut self) {
        match self {
            Self::Lines(it) => it.silence(),
            Self::Bcd(it) => it.silence(),
            Self::Jigtrue(_) | Self::Nmea(_) | Self::Modbus(_) => {}
        }
    }

    /// What a board reported about itself, oldest first. Only the project's own lines carry this.
    pub fn notice(&mut self) -> Option<Notice> {
        match self {
            Self::Jigtrue(it) => it.notice(),
            Self::Lines(_) | Self::Nmea(_) | Self::Modbus(_) | Self::Bcd(_) => None,
        }
    }

    /// The question to send now, for an instrument that answers only when asked; `None` if there is none. Call it
    /// again after [`Decoder::ask_in_ms`] and after each answer; faults come from [`Decoder::next`].
    pub fn ask(&mut self, now_ms: u64) -> Option<[u8; REQUEST_BYTES]> {
        match self {
            Self::Modbus(it) => it.ask(now_ms),
            Self::Jigtrue(_) | Self::Lines(_) | Self::Nmea(_) | Self::Bcd(_) => None,
        }
    }

    /// In how many milliseconds the next question may be due, for an instrument that answers only when asked.
    #[must_use]
    pub fn ask_in_ms(&self, now_ms: u64) -> Option<u64> {
        match self {
            Self::Modbus(it) => Some(it.ask_in_ms(now_ms)),
            Self::Jigtrue(_) | Self::Lines(_) | Self::Nmea(_) | Self::Bcd(_) => None,
        }
    }
}
