//! An index of the names in a long list, built once.

use std::collections::BTreeMap;
use std::sync::OnceLock;

/// Lists up to this length are searched from the front.
const SHORT: usize = 16;

/// The positions of the names in one list of a plan. It is a cache: all caches compare as equal, and a clone starts
/// empty.
#[derive(Default)]
pub struct ByName(OnceLock<BTreeMap<String, usize>>);

impl ByName {
    /// The item with this name.
    pub(super) fn find<'l, T>(&self, list: &'l [T], name: &str, named: fn(&T) -> &str) -> Option<&'l T> {
        list.get(self.place(list, name, named)?)
    }

    /// The position of the item with this name. It works even if the list has changed since the first search.
    pub(super) fn place<T>(&self, list: &[T], name: &str, named: fn(&T) -> &str) -> Option<usize> {
        let search = || list.iter().position(|item| named(item) == name);
        if list.len() <= SHORT {
            return search();
        }
        let all = || list.iter().enumerate().map(|(i, item)| (named(item).to_owned(), i)).collect();
        let found = self.0.get_or_init(all).get(name).copied();
        found.filter(|i| list.get(*i).is_some_and(|item| named(item) == name)).or_else(search)
    }
}

impl Clone for ByName {
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl PartialEq for ByName {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl std::fmt::Debug for ByName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("ByName")
    }
}
