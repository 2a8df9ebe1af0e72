//! The sign-offs of a log, and whether they are by a key.

use crate::view::wrap::wrap_hang;
use assess::view::SignView;
use quantity::shown::counted;
use record::signoff::SignOffs;
use serde::Serialize;
use session::shown;

#[derive(Serialize)]
pub struct Signed {
    #[serde(flatten)]
    view: SignView,
    /// Whether its signature fits and is by the requested key; `None` if none was requested.
    by_this_key: Option<bool>,
}

/// The signature of a sign-off with a key.
#[derive(Serialize)]
pub struct KeyView<'a> {
    entry: u64,
    who: &'a str,
    key: &'a str,
    fits: bool,
}

impl Signed {
    /// Every sign-off, oldest first.
    pub fn all(of: &SignOffs, key: Option<&str>) -> Vec<Self> {
        of.all()
            .iter()
            .map(|one| Self {
                view: SignView::of(of, one),
                by_this_key: key.map(|key| one.seal.is_keyed() && one.key() == Some(key)),
            })
            .collect()
    }

    pub const fn is_sound(&self) -> bool {
        self.view.seal.is_sound()
    }

    /// The signature, if a key was used.
    pub fn keyed(&self) -> Option<KeyView<'_>> {
        let SignView { entry, who, key, seal, .. } = &self.view;
        key.as_ref().map(|key| KeyView { entry: *entry, who, key, fits: seal.is_keyed() })
    }

    pub fn words(&self) -> String {
        let v = &self.view;
        let whose = match self.by_this_key {
            Some(true) => "; by this key",
            Some(false) if v.key.is_some() => "; by another key",
            _ => "",
        };
        let key = v.key.as_ref().map(|key| format!("\n    key {}", shown(key))).unwrap_or_default();
        let said = format!(
            "entry {}, {}: {} as {}, gate {}, {}: {}{whose}; {}",
            v.entry,
            v.when,
            shown(&v.who),
            shown(&v.capacity),
            v.gate.word(),
            counted(v.entries, "entry", "entries"),
            shown(&v.seal_words()),
            v.since_words()
        );
        wrap_hang("", "    ", &said) + &key
    }
}

/// Whether the key's owner signed, and signed nothing without it.
pub struct ByKey {
    pub fits: bool,
    pub words: String,
}

pub fn judged_by_key(all: &[Signed], key: &str) -> ByKey {
    let short = key.get(..8).unwrap_or(key);
    let theirs: Vec<&Signed> = all.iter().filter(|s| s.by_this_key == Some(true)).collect();
    let Some(one) = theirs.first() else {
        return ByKey { fits: false, words: format!("no sign-off in this log is by the key {short}") };
    };
    let without: Vec<String> = all
        .iter()
        .filter(|s| s.by_this_key != Some(true) && theirs.iter().any(|t| t.view.who == s.view.who))
        .map(|s| s.view.entry.to_string())
        .collect();
    if without.is_empty() {
        return ByKey { fits: true, words: format!("{} signed with the key {short}", shown(&one.view.who)) };
    }
    let words = format!(
        "{} signed with the key {short}, but NOT in entry {}: that can be anybody",
        shown(&one.view.who),
        without.join(", ")
    );
    ByKey { fits: false, words }
}
