//! Reads a table of the plan: each key is asked for by name, and the rest are reported as unknown.

mod values;

use super::error::quoted;
use super::mistake::{BadName, BadText, Mistake};
use super::mistakes::Mistakes;
use quantity::nearest;
use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A table being read.
pub struct Table<'a, 'i> {
    table: &'a DeTable<'i>,
    span: Range<usize>,
    name: &'static str,
    mistakes: &'a Mistakes<'a>,
    asked: RefCell<BTreeSet<&'static str>>,
}

/// A text and where it is.
pub struct Name {
    pub text: String,
    pub span: Range<usize>,
}

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

    /// Where the table is.
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// The value of a key, if it is there.
    pub fn value(&self, key: &'static str) -> Option<&'a Spanned<DeValue<'i>>> {
        self.asked.borrow_mut().insert(key);
        self.table.get(key)
    }

    /// Marks a key as known, though it is read later or not at all.
    pub fn known(&self, key: &'static str) {
        self.asked.borrow_mut().insert(key);
    }

    /// Reports a missing key.
    pub fn missing(&self, key: &'static str, right: &str) {
        self.mistakes.note(self.span(), Mistake::Lacks { table: self.name, key }, Some(right.to_owned()));
    }

    /// Reports a key if it is missing.
    pub fn wants(&self, key: &'static str, right: &str) {
        if self.value(key).is_none() {
            self.missing(key, right);
        }
    }

    /// Reports every unknown key, with the nearest known one.
    pub fn finish(self) {
        let asked = self.asked.into_inner();
        for (key, _) in self.table {
            let word = key.get_ref().as_ref();
            if asked.contains(word) {
                continue;
            }
            if self.mistakes.full() {
                self.mistakes.one_more();
                continue;
            }
            let right = nearest(word, asked.iter().copied())
                .map(|near| format!("did you mean `{near}`?"))
                .unwrap_or_else(|| {
                    let known: Vec<&str> = asked.iter().copied().collect();
                    format!("known here: {}", known.join(", "))
                });
            let unknown = Mistake::NoKey { table: self.name, key: quoted(word) };
            self.mistakes.note(key.span(), unknown, Some(right));
        }
    }

    /// A text of one line.
    pub fn text(&self, key: &'static str) -> Option<Name> {
        self.read_text(self.value(key)?, key)
    }

    /// The same without its position.
    pub fn string(&self, key: &'static str) -> Option<String> {
        self.text(key).map(|text| text.text)
    }

    /// The same; reported if missing.
    pub fn required_text(&self, key: &'static str) -> Option<Name> {
        if self.value(key).is_none() {
            self.missing(key, &format!("write {key} = \"...\""));
        }
        self.text(key)
    }

    /// A name: required, one to 80 characters, without characters used in writing points.
    pub fn name(&self, key: &'static str) -> Option<Name> {
        self.checked_name(self.required_text(key)?)
    }

    /// The name if it is valid; otherwise its mistake is noted.
    pub fn checked_name(&self, name: Name) -> Option<Name> {
        let text = &name.text;
        let why = if text.trim() != text {
            BadName::Space
        } else if text.chars().count() > LONGEST_NAME {
            BadName::TooLong(LONGEST_NAME)
        } else if let Some(c) = text.chars().find(|c| "@:*".contains(*c)) {
            BadName::OfAPoint(c)
        } else {
            return Some(name);
        };
        self.mistakes.note(name.span, Mistake::Name(why), None);
        None
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

    /// A list of tables; empty if the key is absent. More than `most` are refused.
    pub fn tables(&self, key: &'static str, name: &'static str, most: usize) -> Vec<Table<'a, 'i>> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let Some(list) = value.get_ref().as_array() else {
            self.wrong(value, key, format!("a list of tables, each headed [[{key}]]"));
            return Vec::new();
        };
        if list.len() > most {
            self.wrong(value, key, format!("a list of at most {most}"));
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

    /// How many items a list has.
    pub fn count(&self, list: &'static str) -> usize {
        self.value(list).and_then(|v| v.get_ref().as_array()).map_or(0, |a| a.len())
    }

    /// The position of a key in one table of a list, for mistakes found later.
    pub fn span_of(&self, list: &'static str, place: usize, key: &str) -> Range<usize> {
        let item = self.value(list).and_then(|v| v.get_ref().as_array()).and_then(|a| a.get(place));
        let value = item.and_then(|item| item.get_ref().as_table()?.get(key));
        value.or(item).map_or(0..0, Spanned::span)
    }

    /// A list of texts; empty if the key is absent.
    pub fn texts(&self, key: &'static str) -> Vec<Name> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let Some(list) = value.get_ref().as_array() else {
            self.wrong(value, key, "a list of texts");
            return Vec::new();
        };
        let mut texts = Vec::with_capacity(list.len());
        for item in list.iter() {
            texts.extend(self.read_text(item, key));
        }
        texts
    }

    /// Says that a key, where it is there, has no effect here.
    pub fn unused(&self, key: &'static str, wanted: &'static str) {
        if let Some(value) = self.value(key) {
            self.mistakes.accepted_once(value.span(), Mistake::MustBe { key, wanted: wanted.into() }, None);
        }
    }

    /// Says that the value of a key, where it is there, is not what it should be.
    pub fn refuse(&self, key: &'static str, wanted: impl Into<Cow<'static, str>>) {
        if let Some(value) = self.value(key) {
            self.wrong(value, key, wanted);
        }
    }

    /// Reports a wrong value.
    pub fn wrong(
        &self,
        value: &Spanned<DeValue<'i>>,
        key: &'static str,
        wanted: impl Into<Cow<'static, str>>,
    ) {
        self.mistakes.note(value.span(), Mistake::MustBe { key, wanted: wanted.into() }, None);
    }

    fn read_text(&self, value: &Spanned<DeValue<'i>>, key: &'static str) -> Option<Name> {
        let Some(text) = value.get_ref().as_str() else {
            self.wrong(value, key, "a text in quotes");
            return None;
        };
        let why = if text.trim().is_empty() {
            BadText::Empty
        } else if text.chars().any(char::is_control) {
            BadText::Control
        } else if text.chars().count() > LONGEST_TEXT {
            BadText::TooLong(LONGEST_TEXT)
        } else {
            return Some(Name { text: text.to_owned(), span: value.span() });
        };
        self.mistakes.note(value.span(), Mistake::Text { key, why }, None);
        None
    }
}

/// The most characters of a text.
const LONGEST_TEXT: usize = 400;
/// The most characters of a name.
const LONGEST_NAME: usize = 80;

/// Reads every table of a list. Tables that could not be read are left out; their mistakes are noted.
pub fn list<'a, 'i, T>(
    root: &Table<'a, 'i>,
    key: &'static str,
    name: &'static str,
    mut read: impl FnMut(&Table<'a, 'i>) -> Option<T>,
) -> Vec<T> {
    let tables = root.tables(key, name, crate::plan::Plan::MAX_ITEMS);
    tables
        .into_iter()
        .filter_map(|table| {
            let item = read(&table);
            table.finish();
            item
        })
        .collect()
}
