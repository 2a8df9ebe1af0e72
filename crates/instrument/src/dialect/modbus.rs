//! Modbus over serial line, RTU: registers read by asking for them.
//!
//! After "Modbus over Serial Line, Specification and Implementation Guide V1.02" (2006): a frame is the
//! address, the function, data and a CRC-16 sent low byte first; the questions here are functions 3 (holding registers)
//! and 4 (input registers). The answer to the last question is looked for anywhere in what came after it, so that an
//! echo of the question or noise before the answer does no harm.

use crate::values::{MAX_VALUES, Values};
use crate::{Axis, Decimal, Fault, Sample};
use quantity::Unit;

/// The bytes of a question.
pub const REQUEST_BYTES: usize = 8;

/// The most registers one question may ask for.
pub const MAX_REGISTERS: u16 = 125;

/// Which registers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Table {
    /// Holding registers, function 3.
    Holding,
    /// Input registers, function 4.
    Input,
}

/// How a number is kept in registers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RegisterForm {
    /// One register, with a sign.
    I16,
    /// One register, without.
    U16,
    /// Two registers, with a sign.
    I32,
    /// Two registers, without.
    U32,
}

/// Which of two registers comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WordOrder {
    /// The high one.
    HighFirst,
    /// The low one.
    LowFirst,
}

/// One value in the registers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Register {
    /// The axis it is.
    pub axis: Axis,
    /// The unit, after scaling.
    pub unit: Unit,
    /// The address of its first register, from 0 as it stands in the frame.
    pub address: u16,
    /// How the number stands in it.
    pub form: RegisterForm,
    /// Which register comes first, where there are two.
    pub order: WordOrder,
    /// What one count is worth.
    pub scale: Decimal,
}

/// A slave and what to read from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ModbusSpec {
    /// The slave's address, 1 to 247.
    pub slave: u8,
    /// Which registers.
    pub table: Table,
    /// How often to ask.
    pub every_ms: u16,
    /// The values; all within [`MAX_REGISTERS`] registers, read in one question.
    pub values: [Option<Register>; MAX_VALUES],
}

impl RegisterForm {
    const fn registers(self) -> u16 {
        match self {
            Self::I16 | Self::U16 => 1,
            Self::I32 | Self::U32 => 2,
        }
    }
}

impl ModbusSpec {
    /// The first register to ask for and how many; nothing if there is no value, or they lie too far apart.
    #[must_use]
    pub fn span(&self) -> Option<(u16, u16)> {
        let values = || self.values.iter().flatten();
        let first = values().map(|value| value.address).min()?;
        let last =
            values().map(|value| u32::from(value.address) + u32::from(value.form.registers())).max()?;
        let count = u16::try_from(last - u32::from(first)).ok()?;
        (count <= MAX_REGISTERS && last <= 0x1_0000).then_some((first, count))
    }

    pub(crate) const fn function(&self) -> u8 {
        match self.table {
            Table::Holding => 3,
            Table::Input => 4,
        }
    }

    /// The question.
    fn request(&self) -> [u8; REQUEST_BYTES] {
        let (first, count) = self.span().unwrap_or((0, 1));
        let [first_high, first_low] = first.to_be_bytes();
        let [count_high, count_low] = count.to_be_bytes();
        let asked = [self.slave, self.function(), first_high, first_low, count_high, count_low];
        let [low, high] = modbus_crc(&asked).to_le_bytes();
        let [a, b, c, d, e, f] = asked;
        [a, b, c, d, e, f, low, high]
    }

    /// The values in the data of an answer.
    fn values(&self, data: &[u8]) -> Result<Values, Fault> {
        let (first, _) = self.span().ok_or(Fault::Form)?;
        let mut values = Values::NONE;
        for value in self.values.iter().flatten() {
            let at = usize::from(value.address - first) * 2;
            let number = value.number(data.get(at..).unwrap_or_default()).ok_or(Fault::Form)?;
            let number = Decimal { mantissa: number, exponent: 0 }.times(value.scale).ok_or(Fault::Form)?;
            values.push(Sample::bare(value.axis, number, value.unit));
        }
        Ok(values)
    }
}

impl Register {
    fn number(&self, data: &[u8]) -> Option<i64> {
        let word = |bytes: &[u8; 2]| i64::from(u16::from_be_bytes(*bytes));
        let (first, after) = data.split_first_chunk::<2>()?;
        let long = || {
            let (second, _) = after.split_first_chunk::<2>()?;
            Some(match self.order {
                WordOrder::HighFirst => word(first) << 16 | word(second),
                WordOrder::LowFirst => word(second) << 16 | word(first),
            })
        };
        Some(match self.form {
            RegisterForm::U16 => word(first),
            RegisterForm::I16 => i64::from(i16::from_be_bytes(*first)),
            RegisterForm::U32 => long()?,
            RegisterForm::I32 => {
                let long = long()?;
                if long < 1 << 31 { long } else { long - (1 << 32) }
            }
        })
    }
}

const HELD: usize = 768;

/// Asks a slave and reads its answers.
#[derive(Clone, Debug)]
pub struct Modbus {
    spec: ModbusSpec,
    bytes: [u8; HELD],
    end: usize,
    /// A question was sent and has no answer yet.
    waiting: bool,
    values: Values,
    fault: Option<Fault>,
}

impl Modbus {
    /// One that has asked nothing yet.
    #[must_use]
    pub(crate) const fn new(spec: ModbusSpec) -> Self {
        Self { spec, bytes: [0; HELD], end: 0, waiting: false, values: Values::NONE, fault: None }
    }

    /// What it asks.
    #[must_use]
    pub(crate) const fn spec(&self) -> &ModbusSpec {
        &self.spec
    }

    /// The question to send now. One that had no whole answer is given up, and that is reported.
    pub(crate) fn poll(&mut self) -> [u8; REQUEST_BYTES] {
        if self.waiting {
            self.fault = Some(Fault::NoAnswer);
        }
        self.end = 0;
        self.waiting = true;
        self.spec.request()
    }

    /// See [`Decoder::received`](crate::Decoder::received). What comes unasked is passed over, and so is what is
    /// more than any answer.
    pub(crate) fn received(&mut self, bytes: &[u8]) -> usize {
        if self.waiting {
            let free = self.bytes.get_mut(self.end..).unwrap_or_default();
            let taken = free.len().min(bytes.len());
            if let (Some(free), Some(bytes)) = (free.get_mut(..taken), bytes.get(..taken)) {
                free.copy_from_slice(bytes);
            }
            self.end += taken;
        }
        bytes.len()
    }

    /// See [`Decoder::forget`](crate::Decoder::forget).
    pub(crate) const fn forget(&mut self) {
        self.end = 0;
        self.waiting = false;
        self.values = Values::NONE;
        self.fault = None;
    }

    /// See [`Decoder::next`](crate::Decoder::next).
    pub(crate) fn next(&mut self) -> Option<Result<Sample, Fault>> {
        if let Some(fault) = self.fault.take() {
            return Some(Err(fault));
        }
        if let Some(sample) = self.values.pop() {
            return Some(Ok(sample));
        }
        if !self.waiting {
            return None;
        }
        let answer = self.answer()?;
        self.waiting = false;
        self.end = 0;
        match answer {
            Ok(values) => {
                self.values = values;
                self.values.pop().map(Ok)
            }
            Err(fault) => Some(Err(fault)),
        }
    }

    /// The answer to the question asked, wherever it begins.
    fn answer(&self) -> Option<Result<Values, Fault>> {
        let (_, count) = self.spec.span()?;
        let function = self.spec.function();
        let held = self.bytes.get(..self.end)?;
        (0..held.len()).find_map(|at| {
            let from = held.get(at..)?;
            match from {
                [slave, code, length, ..]
                    if *slave == self.spec.slave && *code == function && u16::from(*length) == 2 * count =>
                {
                    let (_, data) = whole(from, 3 + usize::from(*length))?.split_at_checked(3)?;
                    Some(self.spec.values(data))
                }
                [slave, code, exception, ..] if *slave == self.spec.slave && *code == function | 0x80 => {
                    whole(from, 3)?;
                    Some(Err(Fault::Exception(*exception)))
                }
                _ => None,
            }
        })
    }
}

/// The first `length` bytes, if the two after them are their CRC.
fn whole(from: &[u8], length: usize) -> Option<&[u8]> {
    let (frame, after) = from.split_at_checked(length)?;
    let check = after.first_chunk::<2>()?;
    (modbus_crc(frame).to_le_bytes() == *check).then_some(frame)
}

/// The CRC of a frame (CRC-16/MODBUS): polynomial 0xA001 from the low end, preset 0xFFFF; sent low byte first.
#[must_use]
pub fn modbus_crc(bytes: &[u8]) -> u16 {
    bytes.iter().fold(0xFFFF, |crc, byte| {
        (0..8)
            .fold(crc ^ u16::from(*byte), |crc, _| if crc & 1 == 0 { crc >> 1 } else { (crc >> 1) ^ 0xA001 })
    })
}

#[cfg(any(feature = "sim", test))]
impl ModbusSpec {
    /// The registers of an instrument that shows these samples, from the first one on.
    pub(crate) fn words(&self, samples: &[Sample]) -> std::vec::Vec<u16> {
        let (first, count) = self.span().unwrap_or((0, 0));
        let mut words = std::vec![0; count.into()];
        for value in self.values.iter().flatten() {
            let shown = samples.iter().find(|sample| sample.axis == value.axis);
            let number = shown.map_or(0, |sample| sample.value.mantissa / value.scale.mantissa);
            let (high, low) = ((number >> 16) as u16, number as u16);
            let pair = match (value.form.registers(), value.order) {
                (1, _) => [low, 0],
                (_, WordOrder::HighFirst) => [high, low],
                (_, WordOrder::LowFirst) => [low, high],
            };
            let at = usize::from(value.address - first);
            for (slot, word) in words.iter_mut().skip(at).zip(pair).take(value.form.registers().into()) {
                *slot = word;
            }
        }
        words
    }
}
