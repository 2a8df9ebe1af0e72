//! The number in one or two registers, with the digits that were sent.

use super::{Register, RegisterForm, WordOrder};
use crate::{Decimal, Fault, Text};
use core::fmt::Write;

/// A floating-point number smaller than this is rounding noise.
const NOTHING: f32 = 1e-9;

impl Register {
    /// The number in the data of an answer, from this value's first register on, times its scale.
    ///
    /// # Errors
    /// [`Fault::NoValue`] if a floating-point number is not a number, [`Fault::Form`] if the result cannot be stored.
    pub(super) fn number(&self, data: &[u8]) -> Result<Decimal, Fault> {
        let whole = |mantissa| Decimal { mantissa, exponent: 0 };
        let (first, after) = data.split_first_chunk::<2>().ok_or(Fault::Form)?;
        let number = match self.form {
            RegisterForm::U16 => whole(i64::from(u16::from_be_bytes(*first))),
            RegisterForm::I16 => whole(i64::from(i16::from_be_bytes(*first))),
            RegisterForm::U32 => whole(i64::from(self.long(*first, after).ok_or(Fault::Form)?)),
            RegisterForm::I32 => whole(i64::from(self.long(*first, after).ok_or(Fault::Form)?.cast_signed())),
            RegisterForm::F32 => {
                float(f32::from_bits(self.long(*first, after).ok_or(Fault::Form)?)).ok_or(Fault::NoValue)?
            }
        };
        let number = number.times(self.scale).ok_or(Fault::Form)?;
        let places = self.places.filter(|_| self.form == RegisterForm::F32);
        Ok(places.map_or(number, |places| number.ending_at(-places.cast_signed())))
    }

    fn long(&self, first: [u8; 2], after: &[u8]) -> Option<u32> {
        let (second, _) = after.split_first_chunk::<2>()?;
        let (first, second) = (u32::from(u16::from_be_bytes(first)), u32::from(u16::from_be_bytes(*second)));
        Some(match self.order {
            WordOrder::HighFirst => first << 16 | second,
            WordOrder::LowFirst => second << 16 | first,
        })
    }
}

/// The shortest decimal that reads back as this float: no digit beyond the precision of 32 bits.
fn float(number: f32) -> Option<Decimal> {
    if number.abs() < NOTHING {
        return Some(Decimal { mantissa: 0, exponent: -9 });
    }
    let mut text = Text::<32>::default();
    write!(text, "{number:e}").ok()?;
    Decimal::whole(text.as_str().as_bytes())
}
