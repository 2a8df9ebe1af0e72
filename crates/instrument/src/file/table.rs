//! Reading a table of the file: each key asked for by name, every mistake noted, what is left over named as unknown.

use super::error::nearest_or_all;
use super::{FileError, FileErrors};
use quantity::Kind;
use quantity::typed::decimal;
use std::cell::RefCell;
use std::format;
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

    pub(super) fn note(&self, span: &Range<usize>, what: impl Into<String>, right: Option<String>) {
        self.found.borrow_mut().push(FileError::at(self.text, span, what, right));
    }

    /// What was read, if nothing is wrong with it.
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

    /// Says what is wrong at a value.
    pub(super) fn wrong<T>(&self, span: &Range<usize>, what: impl Into<String>) -> Option<T> {
        self.mistakes.note(span, what, None);
        None
    }

    /// A value that must be there.
    pub(super) fn required<T>(&self, key: &'static str, read: Option<T>, right: &str) -> Option<T> {
        if read.is_none() && !self.table.contains_key(key) {
            let right = (!right.is_empty()).then(|| right.to_string());
            self.mistakes.note(&self.span, format!("`{key}` is missing"), right);
        }
        read
    }

    /// Names every key that nobody asked for.
    pub(super) fn finish(self) {
        self.unknown();
    }

    /// The same of a table that is still in use.
    pub(super) fn unknown(&self) {
        let asked = self.asked.borrow();
        for (key, _) in self.table {
            let word = key.get_ref().as_ref();
            if !asked.contains(&word) {
                let what = format!("the key `{word}` is not known here");
                self.mistakes.note(&key.span(), what, Some(nearest_or_all(word, &asked)));
            }
        }
    }

    /// A table inside.
    pub(super) fn table(&self, key: &'static str) -> Option<Table<'a, 'i>> {
        let value = self.value(key)?;
        match value.get_ref().as_table() {
            Some(inner) => Some(Table::new(inner, value.span(), self.mistakes)),
            None => self.wrong(&value.span(), format!("`{key}` is a table, headed [{key}]")),
        }
    }

    /// A list of tables.
    pub(super) fn tables(&self, key: &'static str) -> Option<(Vec<Table<'a, 'i>>, Range<usize>)> {
        let value = self.value(key)?;
        let items = value.get_ref().as_array().and_then(|items| {
            let table = |item: &'a Spanned<DeValue<'i>>| {
                Some(Table::new(item.get_ref().as_table()?, item.span(), self.mistakes))
            };
            items.iter().map(table).collect::<Option<Vec<_>>>()
        });
        match items {
            Some(items) => Some((items, value.span())),
            None => self.wrong(&value.span(), format!("`{key}` is a list of tables")),
        }
    }

    pub(super) fn text(&self, key: &'static str) -> Option<Written> {
        let value = self.value(key)?;
        match value.get_ref().as_str() {
            Some(text) => Some(Written { text: text.to_string(), span: value.span() }),
            None => self.wrong(&value.span(), format!("`{key}` is a text in quotes")),
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
        self.wrong(&span, format!("`{key}` is one line of 1 to 80 characters, without spaces around it"))
    }

    /// One of a few words.
    pub(super) fn word<T: Copy>(&self, key: &'static str, noun: &str, all: &[(&str, T)]) -> Option<T> {
        let written = self.text(key)?;
        self.one_of(&written, noun, all)
    }

    /// The same of a text that was read.
    pub(super) fn one_of<T: Copy>(&self, word: &Written, noun: &str, all: &[(&str, T)]) -> Option<T> {
        let found = all.iter().find(|(known, _)| *known == word.text);
        if found.is_none() {
            let known: Vec<&str> = all.iter().map(|(word, _)| *word).collect();
            let what = format!("the {noun} `{}` is not known", word.text);
            self.mistakes.note(&word.span, what, Some(nearest_or_all(&word.text, &known)));
        }
        found.map(|(_, it)| *it)
    }

    /// Yes or no.
    pub(super) fn flag(&self, key: &'static str) -> Option<bool> {
        let value = self.value(key)?;
        match value.get_ref().as_bool() {
            Some(flag) => Some(flag),
            None => self.wrong(&value.span(), format!("`{key}` is true or false")),
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
                self.wrong(&value.span(), format!("`{key}` is {least} to {most}"))
            }
        }
    }

    /// A plain number, as it is written.
    pub(super) fn number(&self, key: &'static str) -> Option<Written> {
        let value = self.value(key)?;
        let text = match value.get_ref() {
            DeValue::Float(number) => number.as_str(),
            DeValue::Integer(number) if number.radix() == 10 => number.as_str(),
            _ => return self.wrong(&value.span(), format!("`{key}` is a number")),
        };
        Some(Written { text: text.to_string(), span: value.span() })
    }

    /// A number in the unit used inside, or a text with a unit; above zero, or with `zero` also that.
    pub(super) fn size(&self, key: &'static str, kind: Kind, zero: Zero) -> Option<f64> {
        let value = self.value(key)?;
        let span = value.span();
        let number = match value.get_ref() {
            DeValue::String(typed) => match quantity::typed(typed, kind) {
                Ok(typed) => typed.amount.base(),
                Err(error) => return self.wrong(&span, format!("`{key}`: {error}")),
            },
            DeValue::Float(number) => decimal(number.as_str()).unwrap_or(f64::NAN),
            DeValue::Integer(number) if number.radix() == 10 => decimal(number.as_str()).unwrap_or(f64::NAN),
            _ => {
                let what = format!("`{key}` is a number in {} or a text with its unit", kind.base_symbol());
                return self.wrong(&span, what);
            }
        };
        let (least, most) = match zero {
            Zero::Allowed => (number >= 0.0, "zero or more"),
            Zero::Refused => (number > 0.0, "above zero"),
        };
        if number.is_finite() && least {
            return Some(number);
        }
        self.wrong(&span, format!("`{key}` must be {most}"))
    }

    /// A calendar date, as a text or as TOML's own.
    pub(super) fn date(&self, key: &'static str) -> Option<Written> {
        let value = self.value(key)?;
        let text = match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Datetime(date) => date.to_string(),
            _ => String::new(),
        };
        // TOML's own reader of dates knows the calendar.
        let date = text.parse::<toml::value::Datetime>().ok();
        if date.is_some_and(|date| date.date.is_some() && date.time.is_none() && date.offset.is_none()) {
            return Some(Written { text, span: value.span() });
        }
        self.wrong(&value.span(), format!("`{key}` is a date, such as 2031-04-05"))
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
