//! Modbus over serial line, RTU: registers are read by asking for them.
//!
//! After "Modbus over Serial Line, Specification and Implementation Guide V1.02" (2006): a frame is the address, the
//! function, data and a CRC-16 sent low byte first; the questions used here are functions 3 (holding registers) and 4
//! (input registers). The answer to the last question may be anywhere in the bytes that follow it, so an echo of the
//! question or noise before the answer does no harm.

mod frame;
mod master;
mod number;

pub use frame::{REQUEST_BYTES, modbus_crc};
pub use master::Modbus;

use crate::values::MAX_VALUES;
use crate::{Axis, Decimal};
use quantity::Unit;

/// The most registers one question may ask for.
pub const MAX_REGISTERS: u16 = 125;

quantity::words! {
    /// Which registers.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Table {
        /// Function 3.
        Holding = "holding",
        /// Function 4.
        Input = "input",
    }
}

quantity::words! {
    /// How a number is stored: signed, unsigned or floating point (IEEE 754); 32 bits take two registers.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum RegisterForm {
        I16 = "i16",
        U16 = "u16",
        I32 = "i32",
        U32 = "u32",
        F32 = "f32",
    }
}

quantity::words! {
    /// Which of two registers comes first.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum WordOrder {
        HighFirst = "high-first",
        LowFirst = "low-first",
    }
}

/// One value in the registers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Register {
    pub axis: Axis,
    /// The unit, after scaling.
    pub unit: Unit,
    pub table: Table,
    /// The address of its first register, from 0 as in the frame.
    pub address: u16,
    /// How the number is stored.
    pub form: RegisterForm,
    /// Which register comes first, if there are two.
    pub order: WordOrder,
    /// The value of one count; for a floating-point number, its factor.
    pub scale: Decimal,
    /// Decimals of a floating-point number, in `unit`: those of the instrument's step. Further digits are rounding
    /// noise.
    pub places: Option<u8>,
}

/// A slave and what to read from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ModbusSpec {
    /// The slave's address, 1 to 247.
    pub slave: u8,
    /// How often to ask for all values; never before the last answer or its time-out.
    pub every_ms: u16,
    /// How long to wait for an answer.
    pub answer_ms: u16,
    /// The values. Adjacent registers are read in one question, others in one each.
    pub values: [Option<Register>; MAX_VALUES],
}

impl RegisterForm {
    /// How many registers it occupies.
    pub(crate) const fn registers(self) -> u16 {
        match self {
            Self::I16 | Self::U16 => 1,
            Self::I32 | Self::U32 | Self::F32 => 2,
        }
    }
}

impl Table {
    /// The function that reads it.
    pub(crate) const fn function(self) -> u8 {
        match self {
            Self::Holding => 3,
            Self::Input => 4,
        }
    }
}

/// One question for consecutive registers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Question {
    /// Which registers.
    pub table: Table,
    /// The first of them.
    pub first: u16,
    /// How many.
    pub count: u16,
}

impl Question {
    const fn end(&self) -> u32 {
        self.first as u32 + self.count as u32
    }

    /// Whether it asks for the whole value.
    fn holds(&self, value: &Register) -> bool {
        let end = u32::from(value.address) + u32::from(value.form.registers());
        self.table == value.table && self.first <= value.address && end <= self.end()
    }

    /// This question extended by a value's registers, if they are adjacent.
    fn with(&self, value: &Register) -> Option<Self> {
        let (from, to) =
            (u32::from(value.address), u32::from(value.address) + u32::from(value.form.registers()));
        if self.table != value.table || to < u32::from(self.first) || from > self.end() {
            return None;
        }
        let first = self.first.min(value.address);
        let count = u16::try_from(self.end().max(to) - u32::from(first)).ok()?;
        (count <= MAX_REGISTERS).then_some(Self { first, count, ..*self })
    }
}

impl ModbusSpec {
    /// The questions that read all values. Only registers that hold a value are asked for, because a slave may refuse
    /// a question for one it does not have.
    #[must_use]
    pub fn questions(&self) -> [Option<Question>; MAX_VALUES] {
        let mut values = self.values;
        // By address, so that adjacent registers are found in any order of the file.
        values.sort_unstable_by_key(|value| value.map(|value| (value.table.function(), value.address)));
        let mut questions: [Option<Question>; MAX_VALUES] = [None; MAX_VALUES];
        let mut used = 0_usize;
        for value in values.iter().flatten() {
            let last = used.checked_sub(1).and_then(|at| questions.get_mut(at));
            if let Some(Some(last)) = last
                && let Some(wider) = last.with(value)
            {
                *last = wider;
                continue;
            }
            if let Some(free) = questions.get_mut(used) {
                let count = value.form.registers();
                *free = Some(Question { table: value.table, first: value.address, count });
                used += 1;
            }
        }
        questions
    }

    /// The values that a question reads.
    pub(crate) fn read_by(&self, question: Question) -> impl Iterator<Item = &Register> {
        self.values.iter().flatten().filter(move |value| question.holds(value))
    }
}
