//! A value as the instrument shows it, without digits that it did not send.

use instrument::Sample;
use quantity::{Kind, Unit, shown};

/// A value as the instrument shows it, in the base unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shown {
    pub value: f64,
    pub kind: Kind,
    pub step: f64,
}

impl Shown {
    /// The number with its sign and the decimals of its step.
    pub fn figure(&self) -> String {
        shown::signed(self.value, shown::step_decimals(self.step))
    }

    /// The same with its unit.
    pub fn words(&self) -> String {
        shown::with_unit(&self.figure(), self.kind.base_symbol())
    }
}

/// A number as sent: digits, unit, and the value they mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Sent {
    /// The number with its unit, as text.
    pub text: String,
    /// Its value in the base unit.
    pub value: f64,
    /// The last digit sent, in the base unit.
    pub step: f64,
}

/// The mean of samples like `like` in the digits and the unit that the instrument sends; further digits of the mean
/// were never sent. `sign` is -1 for an instrument that counts the other way.
pub fn sent(mean: f64, like: &Sample, sign: f64) -> Sent {
    let (unit, places) = (like.unit, usize::try_from(-i32::from(like.value.exponent)).unwrap_or(0));
    let step = libm::exp10(like.value.exponent.into());
    let number = (in_unit(mean, unit, like.value.to_f64(), step) / step).round() * step;
    // Through text, so that the value is exactly what typing it would give.
    let text = format!("{:.places$}", sign * number);
    let typed: f64 = text.parse().unwrap_or(sign * number);
    let value = unit.to_base(typed);
    let text = if typed == 0.0 { text.trim_start_matches('-').to_owned() } else { text };
    let near = (unit.to_base(step) - unit.to_base(0.0)).abs();
    let symbol = if unit == Unit::Degree { "°" } else { unit.symbol() };
    Sent { text: format!("{text} {symbol}"), value: if typed == 0.0 { 0.0 } else { value }, step: near }
}

/// The number in a unit whose value is `base`, starting from a number close to it: units of slope are not
/// proportional to the angle.
fn in_unit(base: f64, unit: Unit, near: f64, step: f64) -> f64 {
    let mut at = near;
    for _ in 0..8 {
        let here = unit.to_base(at);
        let slope = (unit.to_base(at + step) - here) / step;
        if slope == 0.0 || !slope.is_finite() {
            return at;
        }
        at += (base - here) / slope;
    }
    at
}

#[cfg(test)]
mod tests;
