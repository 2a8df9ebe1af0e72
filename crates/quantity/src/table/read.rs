//! A table, its keys and the texts in it.

use super::fault::{BadName, BadText, TableFault};
use super::{MOST_ITEMS, Mistakes, quoted};
use crate::nearest;
use alloc::borrow::{Cow, ToOwned};
use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::cell::RefCell;
use core::fmt::Display;
use core::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A table being read.
#[derive(Debug)]
pub struct Table<'a, 'i, W> {
    table: &'a DeTable<'i>,
    span: Range<usize>,
    name: &'static str,
    mistakes: &'a Mistakes<'a, W>,
    asked: RefCell<BTreeSet<&'static str>>,
}

/// A text and where it is written.
#[derive(Clone, Debug)]
pub struct Written {
    pub text: String,
    pub span: Range<usize>,
}

/// The most characters of a text.
const LONGEST_TEXT: usize = 400;
/// The most characters of a name.
const LONGEST_NAME: usize = 80;

impl<'a, 'i, W: Display + From<TableFault>> Table<'a, 'i, W> {
    /// Begins to read a table.
    #[must_use]
    pub fn new(
        table: &'a DeTable<'i>,
        span: Range<usize>,
        name: &'static str,
        mistakes: &'a Mistakes<'a, W>,
    ) -> Self {
        Self { table, span, name, mistakes, asked: RefCell::default() }
    }

    /// The mistakes' list.
    #[must_use]
    pub const fn mistakes(&self) -> &'a Mistakes<'a, W> {
        self.mistakes
    }

    /// Where the table is.
    #[must_use]
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// The keys and values as they are, for a table whose keys are not known beforehand.
    #[must_use]
    pub const fn contents(&self) -> &'a DeTable<'i> {
        self.table
    }

    /// The value of a key, if it is there.
    pub fn value(&self, key: &'static str) -> Option<&'a Spanned<DeValue<'i>>> {
        self.known(key);
        self.table.get(key)
    }

    /// Where the value of a key is; the whole table if it is not there.
    #[must_use]
    pub fn span_at(&self, key: &str) -> Range<usize> {
        self.table.get(key).map_or(self.span(), Spanned::span)
    }

    /// Whether a key is there.
    pub fn has(&self, key: &'static str) -> bool {
        self.value(key).is_some()
    }

    /// Marks a key as known, though it is read later or not at all.
    pub fn known(&self, key: &'static str) {
        self.asked.borrow_mut().insert(key);
    }

    /// Reports a missing key.
    pub fn missing(&self, key: &'static str, right: &str) {
        self.mistakes.note(self.span(), TableFault::Lacks { table: self.name, key }, Some(right.to_owned()));
    }

    /// Reports a key if it is missing.
    pub fn wants(&self, key: &'static str, right: &str) -> &Self {
        if !self.has(key) {
            self.missing(key, right);
        }
        self
    }

    /// Two values that go together: `None` without either; one without the other is reported, and `right` says what to write.
    pub fn both<A, B>(
        &self,
        (first, a): (&'static str, Option<A>),
        (second, b): (&'static str, Option<B>),
        right: &str,
    ) -> Option<(A, B)> {
        match (self.has(first), self.has(second)) {
            (true, false) => self.missing(second, right),
            (false, true) => self.missing(first, right),
            (true, true) | (false, false) => {}
        }
        a.zip(b)
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
            let right = match nearest(word, asked.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("known here: {}", asked.iter().copied().collect::<Vec<_>>().join(", ")),
            };
            let unknown = TableFault::NoKey { table: self.name, key: quoted(word) };
            self.mistakes.note(key.span(), unknown, Some(right));
        }
    }

    /// Says that a key, where it is there, has no effect here.
    pub fn unused(&self, key: &'static str, wanted: &'static str) {
        if let Some(value) = self.value(key) {
            let unused = TableFault::MustBe { key, wanted: wanted.into() };
            self.mistakes.accepted_once(value.span(), unused, None);
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
        self.mistakes.note(value.span(), TableFault::MustBe { key, wanted: wanted.into() }, None);
    }

    /// A text of one line.
    pub fn text(&self, key: &'static str) -> Option<Written> {
        self.read_text(self.value(key)?, key)
    }

    /// The same without its position.
    pub fn string(&self, key: &'static str) -> Option<String> {
        self.text(key).map(|text| text.text)
    }

    /// The same; reported if missing.
    pub fn required_text(&self, key: &'static str) -> Option<Written> {
        self.wants(key, &format!("write {key} = \"...\"")).text(key)
    }

    /// A name: required, one to 80 characters, without characters used in writing points.
    pub fn name(&self, key: &'static str) -> Option<Written> {
        self.checked_name(self.required_text(key)?)
    }

    /// The name if it is valid; otherwise its mistake is noted.
    pub fn checked_name(&self, name: Written) -> Option<Written> {
        let name = self.label(name)?;
        let Some(c) = name.text.chars().find(|c| "@:*".contains(*c)) else { return Some(name) };
        self.mistakes.note(name.span, TableFault::Name(BadName::OfAPoint(c)), None);
        None
    }

    /// The same for a name that is in no point.
    pub fn label(&self, name: Written) -> Option<Written> {
        let why = if name.text.trim() != name.text {
            BadName::Space
        } else if name.text.chars().count() > LONGEST_NAME {
            BadName::TooLong(LONGEST_NAME)
        } else {
            return Some(name);
        };
        self.mistakes.note(name.span, TableFault::Name(why), None);
        None
    }

    /// Reads a table inside, if there is one.
    pub fn inside<T>(
        &self,
        key: &'static str,
        name: &'static str,
        read: impl FnOnce(&Self) -> T,
    ) -> Option<T> {
        self.whole_of(self.value(key)?, key, name, read)
    }

    /// Reads a table and reports the keys in it that were not asked for.
    fn whole_of<T>(
        &self,
        value: &'a Spanned<DeValue<'i>>,
        key: &'static str,
        name: &'static str,
        read: impl FnOnce(&Self) -> T,
    ) -> Option<T> {
        let Some(inner) = value.get_ref().as_table() else {
            self.wrong(value, key, "a table");
            return None;
        };
        let table = Self::new(inner, value.span(), name, self.mistakes);
        let found = read(&table);
        table.finish();
        Some(found)
    }

    /// The items of a list; none if the key is absent.
    pub(super) fn items(&self, key: &'static str, of: &str) -> &'a [Spanned<DeValue<'i>>] {
        let Some(value) = self.value(key) else { return &[] };
        let Some(list) = value.get_ref().as_array() else {
            self.wrong(value, key, format!("a list of {of}"));
            return &[];
        };
        list
    }

    /// Reads every table of a list. Tables that could not be read are left out; their mistakes are noted.
    pub fn list<T>(
        &self,
        key: &'static str,
        name: &'static str,
        mut read: impl FnMut(&Self) -> Option<T>,
    ) -> Vec<T> {
        let items = self.items(key, &format!("tables, each headed [[{key}]]"));
        if items.len() > MOST_ITEMS {
            self.refuse(key, format!("a list of at most {MOST_ITEMS}"));
            return Vec::new();
        }
        items.iter().filter_map(|item| self.whole_of(item, key, name, &mut read)?).collect()
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
    pub fn texts(&self, key: &'static str) -> Vec<Written> {
        self.items(key, "texts").iter().filter_map(|item| self.read_text(item, key)).collect()
    }

    /// Any text, with whatever characters.
    pub fn any_text(&self, key: &'static str) -> Option<Written> {
        self.quoted(self.value(key)?, key)
    }

    fn quoted(&self, value: &Spanned<DeValue<'i>>, key: &'static str) -> Option<Written> {
        let Some(text) = value.get_ref().as_str() else {
            self.wrong(value, key, "a text in quotes");
            return None;
        };
        Some(Written { text: text.to_owned(), span: value.span() })
    }

    fn read_text(&self, value: &Spanned<DeValue<'i>>, key: &'static str) -> Option<Written> {
        let written = self.quoted(value, key)?;
        let why = if written.text.trim().is_empty() {
            BadText::Empty
        } else if written.text.chars().any(char::is_control) {
            BadText::Control
        } else if written.text.chars().count() > LONGEST_TEXT {
            BadText::TooLong(LONGEST_TEXT)
        } else {
            return Some(written);
        };
        self.mistakes.note(written.span, TableFault::Text { key, why }, None);
        None
    }
}
