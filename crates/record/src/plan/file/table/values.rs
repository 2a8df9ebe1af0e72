//! Numbers, quantities, words and limits of a table.

use super::super::mistake::Mistake;
use super::Table;
use crate::Limits;
use quantity::{Kind, Typed, TypedError, Unit, nearest};
use toml::Spanned;
use toml::de::DeValue;

impl<'i> Table<'_, 'i> {
    /// A number, or a text with a unit, of this quantity, in the base unit.
    pub fn quantity(&self, key: &'static str, kind: Kind) -> Option<f64> {
        self.read_quantity(self.value(key)?, key, kind)
    }

    /// The same; reported if missing.
    pub fn required(&self, key: &'static str, kind: Kind) -> Option<f64> {
        if self.value(key).is_none() {
            self.missing(
                key,
                &format!("write {key} = 0.0, in {}, or a text with its unit", kind.base_symbol()),
            );
        }
        self.quantity(key, kind)
    }

    /// The same; refused unless above zero.
    pub fn positive(&self, key: &'static str, kind: Kind) -> Option<f64> {
        self.quantity_where(key, kind, "above zero", |value| value > 0.0)
    }

    /// The same; refused if below zero.
    pub fn zero_or_more(&self, key: &'static str, kind: Kind) -> Option<f64> {
        self.quantity_where(key, kind, "zero or more", |value| value >= 0.0)
    }

    fn quantity_where(
        &self,
        key: &'static str,
        kind: Kind,
        wanted: &'static str,
        allowed: impl Fn(f64) -> bool,
    ) -> Option<f64> {
        let value = self.quantity(key, kind)?;
        if allowed(value) {
            return Some(value);
        }
        self.refuse(key, wanted);
        None
    }

    /// A plain number.
    pub fn number(&self, key: &'static str) -> Option<f64> {
        let value = self.value(key)?;
        let Some(number) = plain(value.get_ref()) else {
            self.wrong(value, key, "a finite number");
            return None;
        };
        Some(number)
    }

    /// A plain number that is refused unless it is above zero, and given back so that it does not count as left out.
    pub fn number_above_zero(&self, key: &'static str) -> Option<f64> {
        let number = self.number(key)?;
        if number <= 0.0 {
            self.refuse(key, "above zero");
        }
        Some(number)
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

    /// A plain number from 0 to `most`.
    pub fn number_within(&self, key: &'static str, most: f64) -> Option<f64> {
        let number = self.number(key)?;
        if (0.0..=most).contains(&number) {
            return Some(number);
        }
        self.refuse(key, format!("from 0 to {most}"));
        None
    }

    /// A whole number from 0.
    pub fn whole(&self, key: &'static str) -> Option<u32> {
        let value = self.value(key)?;
        let whole =
            value.get_ref().as_integer().and_then(|i| u32::from_str_radix(i.as_str(), i.radix()).ok());
        if whole.is_none() {
            self.wrong(value, key, "a whole number");
        }
        whole
    }

    /// One of a few words.
    pub fn word<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> Option<T> {
        let value = self.value(key)?;
        let text = value.get_ref().as_str();
        let found = words.iter().find(|(word, _)| Some(*word) == text).map(|(_, t)| *t);
        if found.is_none() {
            let known: Vec<String> = words.iter().map(|(w, _)| format!("\"{w}\"")).collect();
            let near = text.and_then(|given| nearest(given, words.iter().map(|(w, _)| *w)));
            let wanted = format!("one of {}", known.join(", ")).into();
            let right = near.map(|word| format!("did you mean \"{word}\"?"));
            self.mistakes.note(value.span(), Mistake::MustBe { key, wanted }, right);
        }
        found
    }

    /// The same; reported if missing.
    pub fn required_word<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> Option<T> {
        if self.value(key).is_none() {
            let known: Vec<String> = words.iter().map(|(w, _)| format!("{key} = \"{w}\"")).collect();
            self.missing(key, &format!("write {}", known.join(" or ")));
        }
        self.word(key, words)
    }

    /// A tolerance: a symmetric size, or a table with `lower`, `upper` or both.
    pub fn limits(&self, key: &'static str, kind: Kind) -> Option<Limits<f64>> {
        let value = self.value(key)?;
        let Some(inner) = value.get_ref().as_table() else {
            let size = self.read_quantity(value, key, kind)?;
            if size <= 0.0 {
                self.wrong(value, key, "above zero");
                return None;
            }
            return Some(Limits::plus_minus(size));
        };
        let table = Table::new(inner, value.span(), "a tolerance", self.mistakes);
        let limits = table.lower_upper(kind);
        if limits.is_none() && table.table.is_empty() {
            self.wrong(value, key, "a tolerance with lower, upper or both");
        }
        table.finish();
        limits
    }

    /// The same for any quantity: a bare symmetric size, or a text with its unit.
    pub fn limits_any(&self, key: &'static str) -> Option<Limits<f64>> {
        let size = self.any_quantity(key)?;
        if size > 0.0 {
            return Some(Limits::plus_minus(size));
        }
        self.refuse(key, "above zero");
        None
    }

    /// `lower` and `upper` of this table itself; `None` if neither is there.
    pub fn lower_upper(&self, kind: Kind) -> Option<Limits<f64>> {
        let limits = Limits { lower: self.quantity("lower", kind), upper: self.quantity("upper", kind) };
        if let (Some(lower), Some(upper)) = (limits.lower, limits.upper)
            && lower >= upper
        {
            self.mistakes.note(self.span(), Mistake::Limits { lower, upper }, None);
            return None;
        }
        (limits.lower.is_some() || limits.upper.is_some()).then_some(limits)
    }

    /// A list of quantities; empty if the key is absent.
    pub fn quantities(&self, key: &'static str, kind: Kind) -> Vec<f64> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let Some(list) = value.get_ref().as_array() else {
            self.wrong(value, key, "a list of numbers");
            return Vec::new();
        };
        list.iter().filter_map(|item| self.read_quantity(item, key, kind)).collect()
    }

    fn read_quantity(&self, value: &Spanned<DeValue<'i>>, key: &'static str, kind: Kind) -> Option<f64> {
        self.read_typed(value, key, kind.base_symbol(), |text| quantity::typed(text, kind))
    }

    /// A number or text of any quantity: a bare number as it is, a text in its unit.
    pub fn any_quantity(&self, key: &'static str) -> Option<f64> {
        let value = self.value(key)?;
        match plain(value.get_ref()) {
            Some(number) => Some(number),
            None => self.read_typed(value, key, "the unit of what it reads", quantity::typed_any),
        }
    }

    /// The unit that a text's value is written in; `None` for a bare number or a text that cannot be read.
    pub fn written_unit(&self, key: &'static str) -> Option<Unit> {
        let text = self.value(key)?.get_ref().as_str()?;
        quantity::typed_any(text).ok().map(|typed| typed.unit)
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
        let (text, quote) = match value.get_ref() {
            DeValue::Integer(n) if n.radix() == 10 => (n.as_str(), 0),
            DeValue::Float(n) => (n.as_str(), 0),
            DeValue::String(text) => (text.as_ref(), 1),
            _ => {
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
        let as_it_is = self.mistakes.text().get(inside.clone()) == Some(text);
        let at = if quote > 0 && as_it_is && why.at > 0 { inside.start + why.at..inside.end } else { span };
        self.mistakes.note(at, Mistake::Value { key, why }, None);
        None
    }
}

/// A finite number, written as integer or float.
fn plain(value: &DeValue<'_>) -> Option<f64> {
    let text = match value {
        DeValue::Float(float) => float.as_str(),
        DeValue::Integer(integer) if integer.radix() == 10 => integer.as_str(),
        _ => return None,
    };
    quantity::typed::decimal(text)
}
