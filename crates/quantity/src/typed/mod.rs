//! Reads what a person types for a quantity: `0.35`, `0°21'`, `6.1 mm/m`, `1:164`, `5/64 in`, `60 in-lb`, `70 lbf`,
//! `21 °C`.

mod error;
mod grammar;
mod limits;
mod number;
mod parsed;
mod unit_word;

pub use error::{Fault, TypedError};
pub use limits::{possible, possible_words};

use crate::{Amount, Kind, Unit};
use grammar::{Context, Shape};
use parsed::Fail;

/// The longest text read, in bytes; no single value is longer.
pub const MAX_BYTES: usize = 80;

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Typed {
    /// The value, in the base unit.
    pub amount: Amount,
    /// The step of the last digit typed, in the base unit; always positive.
    pub resolution: f64,
    /// The unit of the last digit typed.
    pub unit: Unit,
}

/// Reads a value of the expected quantity; a bare number is in the base unit (degrees, mm, N·m, N, °C).
///
/// # Errors
/// If the text is not one value of that quantity. The error says where, and what to write instead.
pub fn typed(text: &str, expect: Kind) -> Result<Typed, TypedError> {
    read(text, Context { expect: Some(expect), bare: Some(expect.base_unit()) })
}

/// Reads a value where a bare number is in this unit, as in a column whose head states it.
///
/// # Errors
/// As for [`typed`].
pub fn typed_in(text: &str, bare: Unit) -> Result<Typed, TypedError> {
    read(text, Context { expect: Some(bare.kind()), bare: Some(bare) })
}

/// Reads a value of the expected quantity; a bare number is in this unit, if one is given, otherwise in the base unit.
///
/// # Errors
/// As for [`typed`].
pub fn typed_or_in(text: &str, expect: Kind, bare: Option<Unit>) -> Result<Typed, TypedError> {
    bare.map_or_else(|| typed(text, expect), |unit| typed_in(text, unit))
}

/// Reads a value of any quantity. It must have a unit, and `"` alone is refused because it can mean inches or
/// seconds.
///
/// # Errors
/// As for [`typed`], and if the unit is missing.
pub fn typed_any(text: &str) -> Result<Typed, TypedError> {
    read(text, Context { expect: None, bare: None })
}

/// Reads a unit on its own, as in a column's head: `mm`, `deg`, `mm/m`, `in-lb`, `°C`.
pub fn unit_named(text: &str) -> Option<Unit> {
    unit_word::named(number::trim(text).1)
}

/// Reads a plain decimal number as written in tables and TOML (`-1.25e-3`): no unit, no space; `None` if it is not
/// finite.
pub fn decimal(text: &str) -> Option<f64> {
    text.parse().ok().filter(|number: &f64| number.is_finite())
}

fn read(text: &str, context: Context) -> Result<Typed, TypedError> {
    let wrong = |at, fault| TypedError { fault, at, expected: context.expect };
    if text.len() > MAX_BYTES {
        return Err(wrong(0, Fault::TooLong));
    }
    let (lead, body) = number::trim(text);
    let shape = grammar::read(body, context)
        .map_err(|Fail { rest, fault }| wrong(lead + body.len().saturating_sub(rest.len()), fault))?;
    let Shape { value, step, unit } = shape;
    let kind = unit.kind();
    if let Some(expected) = context.expect.filter(|&e| e != kind) {
        return Err(wrong(lead, Fault::WrongQuantity { expected, found: kind }));
    }
    let base = unit.to_base(value);
    let resolution = resolution(unit, value, step);
    if !limits::possible(kind, base) {
        return Err(wrong(lead, Fault::OutOfRange { kind }));
    }
    if !(resolution > 0.0 && resolution.is_finite()) {
        return Err(wrong(lead, Fault::TooFine));
    }
    Ok(Typed { amount: Amount::from_base(kind, base), resolution, unit })
}

/// The step of the last digit in the base unit, at this value (a slope is not proportional to its angle).
fn resolution(unit: Unit, value: f64, step: f64) -> f64 {
    match unit {
        Unit::MillimetrePerMetre | Unit::Ratio => {
            (unit.to_base(value + step / 2.0) - unit.to_base(value - step / 2.0)).abs()
        }
        Unit::Fahrenheit => step / 1.8,
        _ => unit.to_base(step),
    }
}
