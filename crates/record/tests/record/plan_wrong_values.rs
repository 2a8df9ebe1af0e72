//! One wrong value in a plan that has every key: the mistake is reported there, and no existing key is called
//! unknown or lacking.
#![allow(clippy::unwrap_used, reason = "a test stops where something is missing")]

use record::Plan;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The plan that `jigtrue plan --full` prints.
const FULL: &str = include_str!("../../../cli/src/verbs/plan-full.toml");

/// The position of every value of a table, including tables inside it.
fn values(table: &DeTable<'_>, found: &mut Vec<std::ops::Range<usize>>) {
    fn value(of: &Spanned<DeValue<'_>>, found: &mut Vec<std::ops::Range<usize>>) {
        match of.get_ref() {
            DeValue::Table(inner) => values(inner, found),
            DeValue::Array(items) => items.iter().for_each(|item| value(item, found)),
            _ => found.push(of.span()),
        }
    }
    table.iter().for_each(|(_, of)| value(of, found));
}

/// The key whose value begins at this place; `None` inside a list.
fn key_before(at: usize) -> Option<&'static str> {
    FULL[..at]
        .trim_end()
        .strip_suffix('=')?
        .trim_end()
        .rsplit(|c: char| !c.is_alphanumeric() && c != '_')
        .next()
}

#[test]
fn a_wrong_value_makes_no_key_unknown_or_lacking() {
    assert!(Plan::parse(FULL).is_ok());
    let mut found = Vec::new();
    values(DeTable::parse(FULL).unwrap().get_ref(), &mut found);
    assert!(found.len() > 250, "{}", found.len());
    for span in found {
        let value = &FULL[span.clone()];
        for wrong in ["[[1]]", "\"x y\""].iter().take(if value.starts_with('"') { 2 } else { 1 }) {
            let text = format!("{}{wrong}{}", &FULL[..span.start], &FULL[span.end..]);
            let Err(why) = Plan::parse(&text) else { continue };
            let said = why.to_string();
            assert!(!said.contains("has no key"), "{value} as {wrong}: {said}");
            if let Some(key) = key_before(span.start) {
                assert!(!said.contains(&format!("lacks `{key}`")), "{value} as {wrong}: {said}");
            }
        }
    }
}
