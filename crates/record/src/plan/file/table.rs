//! Reading a table of the plan: each key asked for by name, whatever is left over named as unknown.

use super::error::PlanError;
use crate::Limits;
use quantity::Kind;
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Where mistakes are collected.
pub struct Mistakes<'t> {
    text: &'t str,
    found: RefCell<Vec<(usize, PlanError)>>,
}

impl<'t> Mistakes<'t> {
    /// None yet.
    pub fn in_text(text: &'t str) -> Self {
        Self { text, found: RefCell::new(Vec::new()) }
    }

    /// Notes a mistake.
    pub fn note(&self, span: Range<usize>, what: impl Into<String>, right: Option<String>) {
        let at = span.start;
        self.found.borrow_mut().push((at, PlanError::at(self.text, span, what.into(), right)));
    }

    /// All of them in the order of the text.
    pub fn finish(self) -> Vec<PlanError> {
        let mut found = self.found.into_inner();
        found.sort_by_key(|(at, _)| *at);
        found.into_iter().map(|(_, e)| e).collect()
    }

    /// True if there are none.
    pub fn none(&self) -> bool {
        self.found.borrow().is_empty()
    }
}

/// A table being read.
pub struct Table<'a, 'i> {
    table: &'a DeTable<'i>,
    span: Range<usize>,
    name: &'static str,
    mistakes: &'a Mistakes<'a>,
    asked: RefCell<BTreeSet<&'static str>>,
}

/// A name and where it stands.
pub type Name = (String, Range<usize>);

impl<'a, 'i> Table<'a, 'i> {
    /// Begins to read a table.
    pub fn new(
        table: &'a DeTable<'i>,
        span: Range<usize>,
        name: &'static str,
        mistakes: &'a Mistakes<'a>,
    ) -> Self {
        Self { table, span, name, mistakes, asked: RefCell::default() }
    }

    /// The mistakes' list.
    pub fn mistakes(&self) -> &'a Mistakes<'a> {
        self.mistakes
    }

    /// Where the table stands.
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// The value of a key, if it is there.
    pub fn value(&self, key: &'static str) -> Option<&'a Spanned<DeValue<'i>>> {
        self.asked.borrow_mut().insert(key);
        self.table.iter().find(|(k, _)| k.get_ref() == key).map(|(_, v)| v)
    }

    /// Says that a key is known here though nothing can be made of it yet.
    pub fn known(&self, key: &'static str) {
        self.asked.borrow_mut().insert(key);
    }

    /// Says that a key is missing.
    pub fn missing(&self, key: &str, right: &str) {
        self.mistakes.note(self.span(), format!("{} lacks `{key}`", self.name), Some(right.to_owned()));
    }

    /// Names every key that nobody asked for, with the nearest known one.
    pub fn finish(self) {
        let asked = self.asked.into_inner();
        for (key, _) in self.table {
            let word = key.get_ref().as_ref();
            if asked.contains(word) {
                continue;
            }
            let right = nearest(word, asked.iter().copied())
                .map(|near| format!("did you mean `{near}`?"))
                .unwrap_or_else(|| {
                    let known: Vec<&str> = asked.iter().copied().collect();
                    format!("known here: {}", known.join(", "))
                });
            self.mistakes.note(key.span(), format!("{} has no key `{word}`", self.name), Some(right));
        }
    }

    /// A text.
    pub fn text(&self, key: &'static str) -> Option<Name> {
        let value = self.value(key)?;
        let Some(text) = value.get_ref().as_str() else {
            self.wrong(value, key, "a text in quotes");
            return None;
        };
        Some((text.to_owned(), value.span()))
    }

    /// A name: required, one to 80 characters, nothing in it that points are written with.
    pub fn name(&self, key: &'static str) -> Option<Name> {
        if self.value(key).is_none() {
            self.missing(key, &format!("write {key} = \"...\""));
            return None;
        }
        let (text, span) = self.text(key)?;
        self.check_name(&text, span.clone());
        Some((text, span))
    }

    /// Says what is wrong with a name, if something is.
    pub fn check_name(&self, text: &str, span: Range<usize>) {
        let bad = |why: &str| self.mistakes.note(span.clone(), format!("a name {why}"), None);
        if text.trim().is_empty() {
            bad("must not be empty");
        } else if text.trim() != text {
            bad("must not begin or end with a space");
        } else if text.chars().count() > 80 {
            bad("has at most 80 characters");
        } else if text.chars().any(char::is_control) {
            bad("must not hold control characters");
        } else if let Some(c) = text.chars().find(|c| "@:*".contains(*c)) {
            bad(&format!("must not hold `{c}`: points are written with it"));
        }
    }

    /// A number or a text with a unit, of the given quantity, in the unit used inside.
    pub fn quantity(&self, key: &'static str, kind: Kind) -> Option<f64> {
        self.read_quantity(self.value(key)?, key, kind)
    }

    /// The same, said to be missing if it is.
    pub fn required(&self, key: &'static str, kind: Kind) -> Option<f64> {
        if self.value(key).is_none() {
            self.missing(
                key,
                &format!("write {key} = 0.0, in {}, or a text with its unit", kind.base_symbol()),
            );
        }
        self.quantity(key, kind)
    }

    /// The same, refused below zero (`zero` says whether zero itself is allowed).
    pub fn positive(&self, key: &'static str, kind: Kind, zero: bool) -> Option<f64> {
        let value = self.quantity(key, kind)?;
        if value > 0.0 || (zero && value == 0.0) {
            return Some(value);
        }
        let least = if zero { "zero or more" } else { "above zero" };
        self.wrong(self.value(key)?, key, least);
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
            self.wrong(value, key, &format!("one of {}", known.join(", ")));
        }
        found
    }

    /// A tolerance: a size that counts both ways, or a table with `lower`, `upper` or both.
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

    /// `lower` and `upper` of this table itself; `None` if neither is there.
    pub fn lower_upper(&self, kind: Kind) -> Option<Limits<f64>> {
        let limits = Limits { lower: self.quantity("lower", kind), upper: self.quantity("upper", kind) };
        if let (Some(lower), Some(upper)) = (limits.lower, limits.upper)
            && lower >= upper
        {
            self.mistakes.note(self.span(), format!("lower ({lower}) must be below upper ({upper})"), None);
            return None;
        }
        (limits.lower.is_some() || limits.upper.is_some()).then_some(limits)
    }

    /// A table inside.
    pub fn table(&self, key: &'static str, name: &'static str) -> Option<Table<'a, 'i>> {
        let value = self.value(key)?;
        let Some(inner) = value.get_ref().as_table() else {
            self.wrong(value, key, "a table");
            return None;
        };
        Some(Table::new(inner, value.span(), name, self.mistakes))
    }

    /// A list of tables; empty if the key is not there. More than `most` are refused.
    pub fn tables(&self, key: &'static str, name: &'static str, most: usize) -> Vec<Table<'a, 'i>> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let Some(list) = value.get_ref().as_array() else {
            self.wrong(value, key, &format!("a list of tables, each headed [[{key}]]"));
            return Vec::new();
        };
        if list.len() > most {
            self.wrong(value, key, &format!("a list of at most {most}"));
            return Vec::new();
        }
        let mut tables = Vec::with_capacity(list.len());
        for item in list.iter() {
            match item.get_ref().as_table() {
                Some(inner) => tables.push(Table::new(inner, item.span(), name, self.mistakes)),
                None => self.wrong(item, key, "a table"),
            }
        }
        tables
    }

    /// A list of texts; empty if the key is not there.
    pub fn texts(&self, key: &'static str) -> Vec<Name> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let Some(list) = value.get_ref().as_array() else {
            self.wrong(value, key, "a list of texts");
            return Vec::new();
        };
        let mut texts = Vec::with_capacity(list.len());
        for item in list.iter() {
            match item.get_ref().as_str() {
                Some(text) => texts.push((text.to_owned(), item.span())),
                None => self.wrong(item, key, "a text in quotes"),
            }
        }
        texts
    }

    /// A list of quantities; empty if the key is not there.
    pub fn quantities(&self, key: &'static str, kind: Kind) -> Vec<f64> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let Some(list) = value.get_ref().as_array() else {
            self.wrong(value, key, "a list of numbers");
            return Vec::new();
        };
        list.iter().filter_map(|item| self.read_quantity(item, key, kind)).collect()
    }

    /// Says that a value is not what it should be.
    pub fn wrong(&self, value: &Spanned<DeValue<'i>>, key: &str, wanted: &str) {
        self.mistakes.note(value.span(), format!("`{key}` must be {wanted}"), None);
    }

    fn read_quantity(&self, value: &Spanned<DeValue<'i>>, key: &str, kind: Kind) -> Option<f64> {
        if let Some(number) = plain(value.get_ref()) {
            return Some(number);
        }
        let Some(text) = value.get_ref().as_str() else {
            self.wrong(
                value,
                key,
                &format!("a finite number in {} or a text with its unit", kind.base_symbol()),
            );
            return None;
        };
        match quantity::typed(text, kind) {
            Ok(typed) => Some(typed.amount.base()),
            Err(why) => {
                self.mistakes.note(value.span(), format!("`{key}`: {why}"), None);
                None
            }
        }
    }
}

/// A finite number, written as integer or float.
fn plain(value: &DeValue<'_>) -> Option<f64> {
    let number = if let Some(float) = value.as_float() {
        float.as_str().parse::<f64>().ok()?
    } else {
        let integer = value.as_integer()?;
        #[expect(clippy::cast_precision_loss, reason = "a plan's whole numbers are far below 2^53")]
        let number = i64::from_str_radix(integer.as_str(), integer.radix()).ok()? as f64;
        number
    };
    number.is_finite().then_some(number)
}

/// The known word nearest to a mistyped one, if one is near.
pub fn nearest<'w>(word: &str, known: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    known
        .map(|k| (strsim::damerau_levenshtein(&word.to_lowercase(), &k.to_lowercase()), k))
        .filter(|(distance, k)| *distance <= (k.chars().count() / 3).max(2))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, k)| k)
}
