//! Numbers, quantities, words and units of a table.

use super::fault::TableFault;
use super::{Table, Written};
use crate::{Kind, Millimetres, Typed, TypedError, Unit, nearest};
use alloc::borrow::ToOwned;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::Display;
use core::ops::RangeInclusive;
use toml::Spanned;
use toml::de::DeValue;

impl<'i, W: Display + From<TableFault>> Table<'_, 'i, W> {
    /// A number, or a text with a unit, of this quantity, in the base unit.
    pub fn quantity(&self, key: &'static str, kind: Kind) -> Option<f64> {
        self.read_quantity(self.value(key)?, key, kind)
    }

    /// The same; reported if missing.
    pub fn required(&self, key: &'static str, kind: Kind) -> Option<f64> {
        let right = format!("write {key} = 0.0, in {}, or a text with its unit", kind.base_symbol());
        self.wants(key, &right).quantity(key, kind)
    }

    /// The same; refused unless above zero.
    pub fn positive(&self, key: &'static str, kind: Kind) -> Option<f64> {
        self.above_zero(key, self.quantity(key, kind)?)
    }

    /// The same; refused if below zero.
    pub fn zero_or_more(&self, key: &'static str, kind: Kind) -> Option<f64> {
        self.not_below_zero(key, self.quantity(key, kind)?)
    }

    /// A length; the same as a number of mm.
    pub fn length(&self, key: &'static str) -> Option<Millimetres> {
        self.quantity(key, Kind::Length).map(Millimetres::new)
    }

    /// The same; reported if missing.
    pub fn required_length(&self, key: &'static str) -> Option<Millimetres> {
        self.required(key, Kind::Length).map(Millimetres::new)
    }

    /// The same; refused unless above zero.
    pub fn positive_length(&self, key: &'static str) -> Option<Millimetres> {
        self.positive(key, Kind::Length).map(Millimetres::new)
    }

    /// The value of a key if it is above zero; otherwise it is refused.
    pub fn above_zero(&self, key: &'static str, value: f64) -> Option<f64> {
        if value > 0.0 {
            return Some(value);
        }
        self.refuse(key, "above zero");
        None
    }

    /// The value of a key if it is zero or more; otherwise it is refused.
    pub fn not_below_zero(&self, key: &'static str, value: f64) -> Option<f64> {
        if value >= 0.0 {
            return Some(value);
        }
        self.refuse(key, "zero or more");
        None
    }

    /// A plain number.
    pub fn number(&self, key: &'static str) -> Option<f64> {
        let value = self.value(key)?;
        let number = plain(value.get_ref()).and_then(crate::typed::decimal);
        if number.is_none() {
            self.wrong(value, key, "a finite number");
        }
        number
    }

    /// A plain number that is refused unless it is above zero, and given back so that it does not count as left out.
    pub fn number_above_zero(&self, key: &'static str) -> Option<f64> {
        let number = self.number(key)?;
        _ = self.above_zero(key, number);
        Some(number)
    }

    /// A plain number from 0 to `most`.
    pub fn number_within(&self, key: &'static str, most: f64) -> Option<f64> {
        let number = self.number(key)?;
        if (0.0..=most).contains(&number) {
            return Some(number);
        }
        self.refuse(key, format!("from 0 to {most}"));
        None
    }

    /// The digits of a plain number, as they are written.
    pub fn digits(&self, key: &'static str) -> Option<Written> {
        self.number(key)?;
        let value = self.value(key)?;
        Some(Written { text: plain(value.get_ref())?.to_owned(), span: value.span() })
    }

    /// `true` or `false`.
    pub fn flag(&self, key: &'static str) -> Option<bool> {
        let value = self.value(key)?;
        let flag = value.get_ref().as_bool();
        if flag.is_none() {
            self.wrong(value, key, "true or false");
        }
        flag
    }

    /// A whole number from 0.
    pub fn whole(&self, key: &'static str) -> Option<u32> {
        let value = self.value(key)?;
        let whole = value.get_ref().as_integer();
        let whole = whole.and_then(|i| u32::from_str_radix(i.as_str(), i.radix()).ok());
        if whole.is_none() {
            self.wrong(value, key, "a whole number");
        }
        whole
    }

    /// A whole number between these, both included.
    pub fn whole_within<T: TryFrom<u32> + Display + PartialOrd>(
        &self,
        key: &'static str,
        within: RangeInclusive<T>,
    ) -> Option<T> {
        let whole = self.whole(key)?;
        let fits = T::try_from(whole).ok().filter(|whole| within.contains(whole));
        if fits.is_none() {
            self.refuse(key, format!("from {} to {}", within.start(), within.end()));
        }
        fits
    }

    /// One of a few words.
    pub fn word<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> Option<T> {
        let value = self.value(key)?;
        self.one_of(value, key, words)
    }

    /// The word that a value is, if it is one of these.
    pub fn one_of<T: Copy>(
        &self,
        value: &Spanned<DeValue<'i>>,
        key: &'static str,
        words: &[(&str, T)],
    ) -> Option<T> {
        let text = value.get_ref().as_str();
        let found = words.iter().find(|(word, _)| Some(*word) == text).map(|(_, t)| *t);
        if found.is_none() {
            let known: Vec<String> = words.iter().map(|(w, _)| format!("\"{w}\"")).collect();
            let near = text.and_then(|given| nearest(given, words.iter().map(|(w, _)| *w)));
            let wanted = format!("one of {}", known.join(", ")).into();
            let right = near.map(|word| format!("did you mean \"{word}\"?"));
            self.mistakes().note(value.span(), TableFault::MustBe { key, wanted }, right);
        }
        found
    }

    /// The same; reported if missing.
    pub fn required_word<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> Option<T> {
        let known: Vec<String> = words.iter().map(|(w, _)| format!("{key} = \"{w}\"")).collect();
        self.wants(key, &format!("write {}", known.join(" or "))).word(key, words)
    }

    /// A list of quantities; empty if the key is absent.
    pub fn quantities(&self, key: &'static str, kind: Kind) -> Vec<f64> {
        self.items(key, "numbers").iter().filter_map(|item| self.read_quantity(item, key, kind)).collect()
    }

    /// A number, or a text with a unit, of this quantity, in the base unit.
    pub fn read_quantity(&self, value: &Spanned<DeValue<'i>>, key: &'static str, kind: Kind) -> Option<f64> {
        self.read_typed(value, key, kind.base_symbol(), |text| crate::typed(text, kind))
    }

    /// A number or text of any quantity: a bare number as it is, a text in its unit.
    pub fn any_quantity(&self, key: &'static str) -> Option<f64> {
        let value = self.value(key)?;
        match plain(value.get_ref()).and_then(crate::typed::decimal) {
            Some(number) => Some(number),
            None => self.read_typed(value, key, "the unit of what it reads", crate::typed_any),
        }
    }

    /// The unit that an instrument shows: from `unit`, else the unit of its resolution. A display in degrees and minutes does not mean
    /// that a bare number is minutes.
    pub fn shown_unit(&self, quantity: Option<Kind>) -> Option<Unit> {
        if let Some(word) = self.text("unit") {
            let unit = crate::unit_named(&word.text);
            let unit = unit.filter(|unit| quantity.is_none_or(|q| q == unit.kind()));
            if unit.is_none() {
                self.refuse(
                    "unit",
                    "one that it can read, such as \"deg\", \"mm/m\", \"mm\", \"in\" or \"in-lb\"",
                );
            }
            return unit;
        }
        let text = self.value("resolution")?.get_ref().as_str()?;
        let unit = crate::typed_any(text).ok()?.unit;
        (!matches!(unit, Unit::ArcMinute | Unit::ArcSecond | Unit::Ratio)).then_some(unit)
    }

    /// What should be a calendar date: a text, or a date of TOML.
    pub fn date(&self, key: &'static str) -> Option<Written> {
        let value = self.value(key)?;
        match value.get_ref().as_datetime() {
            Some(stamp) => Some(Written { text: stamp.to_string(), span: value.span() }),
            None => self.text(key),
        }
    }

    /// Reads numbers through the same grammar as texts, so that the same values are refused.
    fn read_typed(
        &self,
        value: &Spanned<DeValue<'i>>,
        key: &'static str,
        unit: &str,
        read: impl Fn(&str) -> Result<Typed, TypedError>,
    ) -> Option<f64> {
        let span = value.span();
        let (text, quote) = match (plain(value.get_ref()), value.get_ref().as_str()) {
            (Some(number), _) => (number, 0),
            (None, Some(text)) => (text, 1),
            (None, None) => {
                self.wrong(value, key, format!("a number in {unit}, or a text with its unit"));
                return None;
            }
        };
        let why = match read(text) {
            Ok(typed) => return Some(typed.amount.base()),
            Err(why) => why,
        };
        // Inside the quotes, if the source has the text without escapes.
        let inside = span.start + quote..span.end.saturating_sub(quote).max(span.start + quote);
        let as_it_is = self.mistakes().text().get(inside.clone()) == Some(text);
        let at = if quote > 0 && as_it_is && why.at > 0 { inside.start + why.at..inside.end } else { span };
        self.mistakes().note(at, TableFault::Value { key, why }, None);
        None
    }
}

/// A number as it is written, integer or float; not every float is finite.
fn plain<'v>(value: &'v DeValue<'_>) -> Option<&'v str> {
    match value {
        DeValue::Float(float) => Some(float.as_str()),
        DeValue::Integer(integer) if integer.radix() == 10 => Some(integer.as_str()),
        _ => None,
    }
}
