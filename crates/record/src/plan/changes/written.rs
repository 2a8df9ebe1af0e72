//! The text of a plan as a flat list of keys and values.

use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The longest value shown, in characters.
const LONGEST: usize = 120;

/// Every key with its value as written. The tables of a list are told apart by name.
pub fn keys(text: &str) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    if let Ok(table) = DeTable::parse(text) {
        for (key, value) in table.get_ref() {
            walk(key.get_ref(), value, &mut all);
        }
    }
    all
}

fn walk(path: &str, value: &Spanned<DeValue<'_>>, all: &mut BTreeMap<String, String>) {
    match value.get_ref() {
        DeValue::Table(table) if !is_one_value(path, table) => inner(path, table, all),
        DeValue::Array(items) if items.iter().any(|item| item.get_ref().is_table()) => {
            for (place, item) in items.iter().enumerate() {
                if let Some(table) = item.get_ref().as_table() {
                    inner(&format!("{path}.{}", name(table, place)), table, all);
                }
            }
        }
        other => {
            all.insert(path.to_owned(), written(other));
        }
    }
}

fn inner(path: &str, table: &DeTable<'_>, all: &mut BTreeMap<String, String>) {
    for (key, value) in table {
        walk(&format!("{path}.{}", key.get_ref()), value, all);
    }
}

/// Whether it is a small table used as one value, such as a tolerance with two sides or a screw.
fn is_one_value(path: &str, table: &DeTable<'_>) -> bool {
    path.contains('.') && !table.values().any(|v| v.get_ref().is_table() || v.get_ref().is_array())
}

/// What a table of a list is called: its name, the spar it belongs to, or its position.
fn name(table: &DeTable<'_>, place: usize) -> String {
    let text = |key| table.get(key).and_then(|v| v.get_ref().as_str()).map(str::to_owned);
    text("name").or_else(|| text("spar")).unwrap_or_else(|| (place + 1).to_string())
}

/// A value as written; a text without its quotes.
fn written(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => text.to_string(),
        DeValue::Integer(number) => number.as_str().to_owned(),
        DeValue::Float(number) => number.as_str().to_owned(),
        DeValue::Boolean(flag) => flag.to_string(),
        DeValue::Datetime(stamp) => stamp.to_string(),
        DeValue::Array(items) => {
            let all: Vec<String> = items.iter().map(|item| written(item.get_ref())).collect();
            format!("[{}]", all.join(", "))
        }
        DeValue::Table(table) => {
            let pair = |(key, value): (&Spanned<_>, &Spanned<DeValue<'_>>)| {
                let key: &std::borrow::Cow<'_, str> = key.get_ref();
                format!("{key} = {}", written(value.get_ref()))
            };
            format!("{{ {} }}", table.iter().map(pair).collect::<Vec<_>>().join(", "))
        }
    }
}

/// Shortens a long value to its two ends, so that a change at either end shows.
pub fn short(text: &str) -> String {
    if text.chars().count() <= LONGEST {
        return text.to_owned();
    }
    let head: String = text.chars().take(LONGEST / 2).collect();
    let tail: Vec<char> = text.chars().rev().take(LONGEST / 2).collect();
    format!("{head} ... {}", tail.into_iter().rev().collect::<String>())
}
