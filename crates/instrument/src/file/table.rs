//! Reads a table of the file: each key is asked for by name, every mistake is noted, and the rest are reported as
//! unknown.

use super::{FileError, FileErrors, FileFault, Right};
use crate::Axis;
use quantity::Kind;
use quantity::typed::decimal;
use std::cell::RefCell;
use std::ops::{Range, RangeInclusive};
use std::string::{String, ToString};
use std::vec::Vec;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The mistakes found so far.
pub(super) struct Mistakes<'t> {
    text: &'t str,
    found: RefCell<Vec<FileError>>,
}

impl<'t> Mistakes<'t> {
    pub(super) const fn of(text: &'t str) -> Self {
        Self { text, found: RefCell::new(Vec::new()) }
    }

    /// The file.
    pub(super) const fn text(&self) -> &'t str {
        self.text
    }

    pub(super) fn note(&self, span: &Range<usize>, what: FileFault, right: Option<Right>) {
        self.found.borrow_mut().push(FileError::at(self.text, span, what, right));
    }

    /// The result, if there are no mistakes.
    pub(super) fn or<T>(self, read: Option<T>) -> Result<T, FileErrors> {
        let mut found = self.found.into_inner();
        found.sort_by_key(|error| (error.line, error.column));
        match read {
            Some(read) if found.is_empty() => Ok(read),
            _ => Err(FileErrors(found)),
        }
    }
}

/// A text and where it is written.
pub(super) struct Written {
    pub text: String,
    pub span: Range<usize>,
}

/// A list of tables and where it is written.
pub(super) struct Tables<'a, 'i> {
    pub each: Vec<Table<'a, 'i>>,
    pub span: Range<usize>,
}

/// A table being read.
pub(super) struct Table<'a, 'i> {
    pub table: &'a DeTable<'i>,
    pub span: Range<usize>,
    pub mistakes: &'a Mistakes<'i>,
    asked: RefCell<Vec<&'static str>>,
}

impl<'a, 'i> Table<'a, 'i> {
    pub(super) fn new(table: &'a DeTable<'i>, span: Range<usize>, mistakes: &'a Mistakes<'i>) -> Self {
        Self { table, span, mistakes, asked: RefCell::default() }
    }

    /// The value of a key, if it is there.
    pub(super) fn value(&self, key: &'static str) -> Option<&'a Spanned<DeValue<'i>>> {
        self.asked.borrow_mut().push(key);
        self.table.get(key)
    }

    /// Notes what is wrong with a value.
    pub(super) fn wrong<T>(&self, span: &Range<usize>, what: FileFault) -> Option<T> {
        self.mistakes.note(span, what, None);
        None
    }

    /// A required value; `right` says what to write.
    pub(super) fn required<T>(&self, key: &'static str, read: Option<T>, right: &'static str) -> Option<T> {
        self.or_missing(key, read, FileFault::Missing(key), right)
    }

    /// A value that a dialect requires.
    pub(super) fn needed<T>(
        &self,
        speaks: &'static str,
        key: &'static str,
        read: Option<T>,
        right: &'static str,
    ) -> Option<T> {
        self.or_missing(key, read, FileFault::Needs { speaks, key }, right)
    }

    fn or_missing<T>(&self, key: &str, read: Option<T>, what: FileFault, right: &'static str) -> Option<T> {
        if read.is_none() && !self.table.contains_key(key) {
            self.mistakes.note(&self.span, what, Some(Right::Write(right)));
        }
        read
    }

    /// Reports every key that was not asked for.
    pub(super) fn finish(&self) {
        let asked = self.asked.borrow();
        for (key, _) in self.table {
            let word = key.get_ref().as_ref();
            if !asked.contains(&word) {
                let right = Right::of(word, &asked);
                self.mistakes.note(&key.span(), FileFault::UnknownKey(word.into()), Some(right));
            }
        }
    }

    /// Notes a value not written as `is`.
    fn other<T>(&self, key: &'static str, value: &Spanned<DeValue<'_>>, is: &'static str) -> Option<T> {
        self.wrong(&value.span(), FileFault::Form { key, is })
    }

    /// A table inside.
    pub(super) fn table(&self, key: &'static str) -> Option<Table<'a, 'i>> {
        let value = self.value(key)?;
        match value.get_ref().as_table() {
            Some(inner) => Some(Table::new(inner, value.span(), self.mistakes)),
            None => self.wrong(&value.span(), FileFault::NoTable(key)),
        }
    }

    /// A list of tables.
    pub(super) fn tables(&self, key: &'static str) -> Option<Tables<'a, 'i>> {
        let value = self.value(key)?;
        let items = value.get_ref().as_array().and_then(|items| {
            let table = |item: &'a Spanned<DeValue<'i>>| {
                Some(Table::new(item.get_ref().as_table()?, item.span(), self.mistakes))
            };
            items.iter().map(table).collect::<Option<Vec<_>>>()
        });
        match items {
            Some(each) => Some(Tables { each, span: value.span() }),
            None => self.other(key, value, "a list of tables"),
        }
    }

    pub(super) fn text(&self, key: &'static str) -> Option<Written> {
        let value = self.value(key)?;
        match value.get_ref().as_str() {
            Some(text) => Some(Written { text: text.to_string(), span: value.span() }),
            None => self.other(key, value, "a text in quotes"),
        }
    }

    /// A text of one line.
    pub(super) fn name(&self, key: &'static str) -> Option<String> {
        let Written { text, span } = self.text(key)?;
        let fits = !text.is_empty()
            && text.trim() == text
            && text.chars().count() <= 80
            && !text.contains(char::is_control);
        if fits {
            return Some(text);
        }
        self.wrong(
            &span,
            FileFault::Form { key, is: "one line of 1 to 80 characters, without spaces around it" },
        )
    }

    /// One of a few words.
    pub(super) fn word<T: Copy>(
        &self,
        key: &'static str,
        noun: &'static str,
        all: &[(&str, T)],
    ) -> Option<T> {
        let written = self.text(key)?;
        self.one_of(&written, noun, all)
    }

    /// The same for a text already read.
    fn one_of<T: Copy>(&self, word: &Written, noun: &'static str, all: &[(&str, T)]) -> Option<T> {
        let found = all.iter().find(|(known, _)| *known == word.text);
        if found.is_none() {
            let known: Vec<&str> = all.iter().map(|(word, _)| *word).collect();
            let what = FileFault::UnknownWord { noun, word: word.text.clone() };
            self.mistakes.note(&word.span, what, Some(Right::of(&word.text, &known)));
        }
        found.map(|(_, it)| *it)
    }

    /// The axis that a text means.
    pub(super) fn axis(&self, word: &Written) -> Option<Axis> {
        let all: Vec<_> = Axis::ALL.iter().map(|axis| (axis.word(), *axis)).collect();
        self.one_of(word, "axis", &all)
    }

    /// Yes or no.
    pub(super) fn flag(&self, key: &'static str) -> Option<bool> {
        let value = self.value(key)?;
        match value.get_ref().as_bool() {
            Some(flag) => Some(flag),
            None => self.other(key, value, "true or false"),
        }
    }

    /// A whole number.
    pub(super) fn whole(&self, key: &'static str, within: RangeInclusive<u64>) -> Option<u64> {
        let value = self.value(key)?;
        let number =
            value.get_ref().as_integer().and_then(|it| u64::from_str_radix(it.as_str(), it.radix()).ok());
        match number.filter(|number| within.contains(number)) {
            Some(number) => Some(number),
            None => {
                let (least, most) = within.into_inner();
                self.wrong(&value.span(), FileFault::Range { key, least, most })
            }
        }
    }

    /// A plain number, as it is written.
    pub(super) fn number(&self, key: &'static str) -> Option<Written> {
        let value = self.value(key)?;
        let text = match value.get_ref() {
            DeValue::Float(number) => number.as_str(),
            DeValue::Integer(number) if number.radix() == 10 => number.as_str(),
            _ => return self.other(key, value, "a number"),
        };
        Some(Written { text: text.to_string(), span: value.span() })
    }

    /// A number in the base unit, or a text with a unit; above zero, or with `zero` also zero.
    pub(super) fn size(&self, key: &'static str, kind: Kind, zero: Zero) -> Option<f64> {
        let value = self.value(key)?;
        let span = value.span();
        let number = match value.get_ref() {
            DeValue::String(typed) => match quantity::typed(typed, kind) {
                Ok(typed) => typed.amount.base(),
                Err(why) => return self.wrong(&span, FileFault::Typed { key, why }),
            },
            DeValue::Float(number) => decimal(number.as_str()).unwrap_or(f64::NAN),
            DeValue::Integer(number) if number.radix() == 10 => decimal(number.as_str()).unwrap_or(f64::NAN),
            _ => return self.wrong(&span, FileFault::NoSize { key, kind }),
        };
        let (fits, least) = match zero {
            Zero::Allowed => (number >= 0.0, "zero or more"),
            Zero::Refused => (number > 0.0, "above zero"),
        };
        if number.is_finite() && fits {
            return Some(number);
        }
        self.wrong(&span, FileFault::TooSmall { key, least })
    }

    /// A calendar date, as a text or as a TOML date.
    pub(super) fn date(&self, key: &'static str) -> Option<Written> {
        let value = self.value(key)?;
        let text = match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Datetime(date) => date.to_string(),
            _ => String::new(),
        };
        // TOML's own date parser knows the calendar.
        let date = text.parse::<toml::value::Datetime>().ok();
        if date.is_some_and(|date| date.date.is_some() && date.time.is_none() && date.offset.is_none()) {
            return Some(Written { text, span: value.span() });
        }
        self.other(key, value, "a date, such as 2031-04-05")
    }
}

/// Whether a size may be zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Zero {
    /// It may.
    Allowed,
    /// It may not.
    Refused,
}
