//! Values in the unit a person wants to see.

use super::decimal::{decimals_for, exact, fixed, signed, significant};
use super::uncertain::WithU;
use super::words::with_unit;
use crate::{Kind, Unit, Units};
use alloc::borrow::ToOwned;
use alloc::format;
use alloc::string::String;

/// The unit in which values of one quantity are shown. Every value passed in is in the base unit.
///
/// Degrees and minutes are written as `-0°21.6'`: the sign comes before the degrees, 60 minutes carry into a degree,
/// and the text reads back as the same value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    kind: Kind,
    unit: Unit,
}

impl Units {
    /// How values of a quantity are shown.
    pub const fn scale(self, kind: Kind) -> Scale {
        Scale { kind, unit: self.of(kind) }
    }

    /// A value with its standard uncertainty.
    pub fn with_u(self, kind: Kind, value: f64, u: f64) -> Shown {
        self.scale(kind).with_u(value, u)
    }
}

impl Scale {
    pub const fn unit(self) -> Unit {
        self.unit
    }

    /// The number in the unit; minutes where degrees and minutes are shown.
    pub fn number(self, base: f64) -> f64 {
        self.unit.from_base(base)
    }

    /// A difference of two values, in the unit.
    pub fn size(self, base: f64) -> f64 {
        match self.kind {
            Kind::Temperature => self.unit.from_base(base) - self.unit.from_base(0.0),
            _ => self.unit.from_base(base),
        }
    }

    /// How many decimals in this unit show about as much as `inside` decimals do in the base unit: 0.01 mm is about
    /// 0.001 in.
    pub fn decimals(self, inside: usize) -> usize {
        if self.unit == self.kind.base_unit() {
            return inside;
        }
        let step = self.size(libm::exp10(-(inside.min(300) as f64))).abs();
        libm::round(-libm::log10(step)).clamp(0.0, 12.0) as usize
    }

    /// The number in the unit, with this number of decimals and without the unit.
    pub fn fixed(self, base: f64, decimals: usize) -> String {
        self.marked(fixed(self.number(base), decimals))
    }

    /// The same with its sign.
    pub fn signed(self, base: f64, decimals: usize) -> String {
        self.marked(signed(self.number(base), decimals))
    }

    /// A number that is in the unit already, with this number of decimals and its sign: -21.6 minutes are `-0°21.6'`.
    pub fn signed_number(self, number: f64, decimals: usize) -> String {
        self.marked(signed(number, decimals))
    }

    /// An exact number, with no more digits than it needs; four significant digits if the conversion makes it
    /// endless.
    pub fn exact(self, base: f64) -> String {
        let number = self.number(base);
        let short = exact(number);
        let same = short.parse::<f64>().is_ok_and(|n| (n - number).abs() <= 1e-9 * number.abs());
        self.marked(if same || self.unit == self.kind.base_unit() { short } else { significant(number, 4) })
    }

    /// The unit as written at the head of a column: `°`, `° '`, `in`.
    pub const fn head(self) -> &'static str {
        match self.unit {
            Unit::Degree => "°",
            Unit::ArcMinute => "° '",
            unit => unit.symbol(),
        }
    }

    /// A number already written in this unit, with the unit after it.
    #[must_use]
    pub fn with(self, number: &str) -> String {
        if self.unit == Unit::ArcMinute { number.to_owned() } else { with_unit(number, self.unit.symbol()) }
    }

    /// A value with its unit. `inside` counts decimals in the base unit and is converted: `3.20 mm` is `0.126 in`.
    pub fn fixed_with(self, base: f64, inside: usize) -> String {
        self.with(&self.fixed(base, self.decimals(inside)))
    }

    /// The same with its sign.
    pub fn signed_with(self, base: f64, inside: usize) -> String {
        self.with(&self.signed(base, self.decimals(inside)))
    }

    /// An exact number with its unit.
    pub fn exact_with(self, base: f64) -> String {
        self.with(&self.exact(base))
    }

    /// A size with two significant digits and its unit, for use in a sentence: `0.071°`, `4.3'`, `0.035 in`.
    pub fn rough_with(self, base: f64) -> String {
        let size = self.size(base);
        let text = fixed(size, decimals_for(size, 2).min(9));
        match self.unit {
            Unit::ArcMinute if size.abs() < 59.5 => format!("{text}'"),
            Unit::ArcMinute => self.marked(text),
            _ => self.with(&text),
        }
    }

    /// A value with its standard uncertainty.
    pub fn with_u(self, value: f64, u: f64) -> Shown {
        self.with_half(value, super::K95 * u)
    }

    /// A value with the half width of its 95 % interval.
    pub fn with_half(self, value: f64, half: f64) -> Shown {
        Shown { scale: self, number: WithU::of_half(self.number(value), self.size(half)) }
    }

    /// Limits without the unit: `±0.5`, `-0.2 to +0.4`, `at most 1.5`; `None` if there is no limit.
    pub fn limits(self, lower: Option<f64>, upper: Option<f64>) -> Option<String> {
        let with_sign = |v: f64| if v > 0.0 { format!("+{}", self.exact(v)) } else { self.exact(v) };
        match (lower, upper) {
            (Some(l), Some(u)) if l == -u && u > 0.0 => Some(format!("±{}", self.exact(u))),
            // A size has no sign: between 8 and 11 N·m.
            (Some(l), Some(u)) if l >= 0.0 => Some(format!("{} to {}", self.exact(l), self.exact(u))),
            (Some(l), Some(u)) => Some(format!("{} to {}", with_sign(l), with_sign(u))),
            (None, Some(u)) => Some(format!("at most {}", self.exact(u))),
            (Some(l), None) => Some(format!("at least {}", self.exact(l))),
            (None, None) => None,
        }
    }

    /// The same with the unit.
    pub fn limits_with(self, lower: Option<f64>, upper: Option<f64>) -> Option<String> {
        self.limits(lower, upper).map(|limits| self.with(&limits))
    }

    /// Writes minutes as degrees and minutes.
    fn marked(self, text: String) -> String {
        if self.unit == Unit::ArcMinute { degrees_minutes(&text).unwrap_or(text) } else { text }
    }
}

/// A value with its 95 % half width, in the unit it is shown in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shown {
    scale: Scale,
    number: WithU,
}

impl Shown {
    /// Adds digits where the rounded value would land on one of these limits or cross it.
    #[must_use]
    pub fn against(self, limits: impl IntoIterator<Item = Option<f64>>) -> Self {
        let limits = limits.into_iter().map(|limit| limit.map(|l| self.scale.number(l)));
        Self { number: self.number.against(limits), ..self }
    }

    /// At least this many decimals, in the shown unit.
    #[must_use]
    pub fn at_least(self, decimals: usize) -> Self {
        Self { number: self.number.at_least(decimals), ..self }
    }

    /// Decimals of the value and its ±, in the shown unit.
    pub const fn decimals(&self) -> usize {
        self.number.decimals()
    }

    /// The value alone, with its sign: `-0.247`, `-0°14.8'`.
    pub fn signed(&self) -> String {
        self.scale.marked(self.number.signed())
    }

    /// The value alone, with a sign only if it is negative.
    pub fn plain(&self) -> String {
        self.scale.marked(self.number.plain())
    }

    /// The half width: `±0.07`, `±4.2'`.
    pub fn half(&self) -> String {
        let half = self.number.half();
        if self.scale.unit != Unit::ArcMinute {
            return half;
        }
        let size = half.trim_start_matches('±');
        match size.parse::<f64>() {
            Ok(minutes) if minutes < 60.0 => format!("{half}'"),
            Ok(_) => format!("±{}", self.scale.marked(size.to_owned())),
            Err(_) => half,
        }
    }

    /// Value and half width with the unit: `-0.36 ±0.07°`, `-0°21.6' ±4.2'`.
    pub fn signed_with(&self) -> String {
        self.scale.with(&format!("{} {}", self.signed(), self.half()))
    }

    /// The same for a size, which has no direction.
    pub fn plain_with(&self) -> String {
        self.scale.with(&format!("{} {}", self.plain(), self.half()))
    }
}

/// Minutes written as degrees and minutes: `-21.6` becomes `-0°21.6'`, `60.0` becomes `1°00.0'`. `None` if the text
/// is not a plain decimal.
fn degrees_minutes(text: &str) -> Option<String> {
    let digits = text.trim_start_matches(['+', '-']);
    let sign = text.get(..text.len() - digits.len())?;
    let (whole, part) = digits.split_once('.').map_or((digits, None), |(whole, part)| (whole, Some(part)));
    if part.is_some_and(|p| !p.bytes().all(|b| b.is_ascii_digit())) {
        return None;
    }
    let minutes: u64 = whole.parse().ok()?;
    let part = part.map_or_else(String::new, |part| format!(".{part}"));
    Some(format!("{sign}{}°{:02}{part}'", minutes / 60, minutes % 60))
}
