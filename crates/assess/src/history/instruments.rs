//! What was known about each instrument, and when.

use super::Said;
use record::plan::claims;
use record::{Instrument, InstrumentCheck};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What is known about one instrument, in the order of entry. Data hold from their entry on, never before.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Known {
    /// Its data, each with the entry from which they hold; 0 for those of the log's first plan.
    facts: Vec<(u64, Arc<Instrument>)>,
    pub checks: Vec<Said<InstrumentCheck>>,
    /// The entry of the last reading taken with it.
    pub last_reading: Option<u64>,
    /// What it claimed beyond its earlier claims when it was entered again.
    pub claims: Vec<Claim>,
}

/// Something that an instrument claims beyond what it claimed under the same name, such as a smaller accuracy limit
/// or a later due date: the same changes for which a new plan leaves an item open.
#[derive(Clone, Debug, PartialEq)]
pub struct Claim {
    /// The entry that makes the claim.
    pub seq: u64,
    /// The name of the open item: `looser: instrument.level.accuracy 0.2 -> 0.1`.
    pub item: String,
}

impl Known {
    /// Claims that some reading relied on.
    pub fn claims_used(&self) -> impl Iterator<Item = &Claim> {
        self.claims.iter().filter(|claim| self.last_reading.is_some_and(|last| last > claim.seq))
    }

    fn enter(&mut self, seq: u64, facts: &Instrument) {
        if self.facts.last().is_none_or(|(_, last)| **last != *facts) {
            self.facts.push((seq, Arc::new(facts.clone())));
        }
    }

    /// The data in force after the last entry; `None` for an instrument that was only used.
    pub fn now(&self) -> Option<&Arc<Instrument>> {
        self.facts.last().map(|(_, facts)| facts)
    }

    /// The entries of its data.
    pub fn entered(&self) -> impl Iterator<Item = u64> {
        self.facts.iter().map(|(seq, _)| *seq).filter(|seq| *seq > 0)
    }

    /// Whether a passed check is between two entries.
    pub fn passed_between(&self, one: u64, other: u64) -> bool {
        let between = one.min(other)..one.max(other);
        self.checks.iter().any(|c| c.what.passed && between.contains(&c.seq))
    }

    /// The failed check that puts a reading in doubt: the last check before it or the next one after it.
    pub fn failed_around(&self, reading: u64) -> Option<u64> {
        let before = self.checks.iter().rev().find(|c| c.seq < reading);
        let after = self.checks.iter().find(|c| c.seq > reading);
        [before, after].into_iter().flatten().find(|c| !c.what.passed).map(|c| c.seq)
    }
}

/// Every instrument by name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Instruments(BTreeMap<String, Known>);

impl Instruments {
    pub(super) fn enter(&mut self, seq: u64, facts: &Instrument) {
        self.0.entry(facts.name.clone()).or_default().enter(seq, facts);
    }

    /// Data entered alone, not in a plan; their changes are reported as such.
    pub(super) fn enter_alone(&mut self, seq: u64, facts: &Instrument) {
        let before = match self.0.get(&facts.name).and_then(Known::now) {
            Some(before) => Some(before),
            None => self.numbered(facts).find_map(|(_, known)| known.now()),
        };
        let claimed = before.map(|before| claims(before, facts)).unwrap_or_default();
        self.enter(seq, facts);
        if let Some(known) = self.0.get_mut(&facts.name) {
            known.claims.extend(claimed.into_iter().map(|change| Claim { seq, item: change.open_item() }));
        }
    }

    pub(super) fn check(&mut self, made: Said<InstrumentCheck>) {
        self.0.entry(made.what.instrument.clone()).or_default().checks.push(made);
    }

    /// Notes a reading; returns what was known about the instrument then.
    pub(super) fn read(&mut self, seq: u64, name: &str) -> Option<Arc<Instrument>> {
        let known = match self.0.get_mut(name) {
            Some(known) => known,
            None => self.0.entry(name.to_owned()).or_default(),
        };
        known.last_reading = Some(seq);
        known.now().cloned()
    }

    pub fn get(&self, name: &str) -> Option<&Known> {
        self.0.get(name)
    }

    /// Everything known about the thing that has this name, with each name it has in the log, this one first: an
    /// instrument entered a second time, under another name, has the same number.
    pub fn under_any_name<'a>(&'a self, name: &'a str) -> impl Iterator<Item = (&'a str, &'a Known)> {
        let known = self.0.get(name);
        let others = known.and_then(Known::now).map(|facts| self.numbered(facts));
        known.map(|known| (name, known)).into_iter().chain(others.into_iter().flatten())
    }

    /// What is known under other names about the instrument of this sort with this number.
    fn numbered<'a>(&'a self, facts: &'a Instrument) -> impl Iterator<Item = (&'a str, &'a Known)> {
        let same = |other: &Instrument| {
            other.number.is_some() && (&other.number, other.kind) == (&facts.number, facts.kind)
        };
        self.iter()
            .filter(move |(name, known)| *name != facts.name && known.facts.iter().any(|(_, i)| same(i)))
    }

    /// Every one by name.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Known)> {
        self.0.iter().map(|(name, known)| (name.as_str(), known))
    }
}
