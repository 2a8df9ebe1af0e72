//! What is kept of a log in memory: everything except the readings of a long log that can no longer count.
//!
//! The whole chain is still checked, every entry of it. A log with fewer readings than [`NEWEST`] is kept whole.

use assess::history::{Handle, Recall};
use journal::{StoredReading, TakesIn, Unreadable};
use record::{At, Entry, What, Withdrawn};
use std::collections::VecDeque;

/// The newest readings are kept whether they count or not, because people look back at them.
pub(super) const NEWEST: usize = 2048;

/// Takes a log in and keeps what can count.
#[derive(Debug)]
pub(super) struct Kept {
    /// Entries after this one are ignored.
    until: u64,
    newest: usize,
    /// The withdrawals as looked up beforehand.
    withdrawn: Withdrawn,
    withdrawals: Withdrawals,
    recall: Recall,
    forgotten: Vec<Handle>,
    slots: Vec<Slot>,
    free: Vec<usize>,
    tail: VecDeque<usize>,
    used: Vec<Used>,
    last: Option<Last>,
    others: Vec<Entry>,
    count: u64,
}

/// Withdrawals looked up before the walk, and how many of them the walk met.
#[derive(Debug)]
struct Withdrawals {
    known: Vec<u64>,
    met: usize,
    all_known: bool,
}

/// A kept reading, as stored; a dropped one has no text.
#[derive(Debug, Default)]
struct Slot {
    seq: u64,
    at_millis: i64,
    by: usize,
    text: String,
    holds: u8,
    for_good: bool,
}

/// An instrument that readings were taken with: its first and last reading give the times.
#[derive(Debug)]
struct Used {
    name: Option<Box<str>>,
    last: usize,
}

#[derive(Clone, Copy, Debug)]
struct Last {
    at: At,
    slot: Option<usize>,
}

impl Kept {
    /// Keeps entries up to `until`. `withdrawals` are all withdrawals up to there, as looked up; the `newest` newest
    /// readings are always kept.
    pub(super) fn new(withdrawals: &[Entry], until: u64, newest: usize) -> Self {
        let known: Vec<&Entry> = withdrawals.iter().filter(|e| e.seq <= until).collect();
        Self {
            until,
            newest,
            withdrawn: Withdrawn::of(known.iter().copied()),
            withdrawals: Withdrawals {
                known: known.iter().map(|e| e.seq).collect(),
                met: 0,
                all_known: true,
            },
            recall: Recall::default(),
            forgotten: Vec::new(),
            slots: Vec::new(),
            free: Vec::new(),
            tail: VecDeque::new(),
            used: Vec::new(),
            last: None,
            others: Vec::new(),
            count: 0,
        }
    }

    /// The number of entries dropped, and the rest in order. `None` if the withdrawals were not the ones looked up.
    pub(super) fn finish(self) -> Result<Option<(Vec<Entry>, u64)>, Unreadable> {
        let Withdrawals { known, met, all_known } = self.withdrawals;
        if !all_known || met != known.len() {
            return Ok(None);
        }
        let mut entries = self.others;
        let held = || self.slots.iter().filter(|slot| !slot.text.is_empty());
        entries.reserve_exact(held().count());
        for slot in held() {
            let (by, body) = slot.text.split_at_checked(slot.by).unwrap_or_default();
            entries.push(StoredReading::read(slot.seq, At::from_millis(slot.at_millis), by, body)?);
        }
        entries.sort_unstable_by_key(|e| e.seq);
        let passed = self.count - entries.len() as u64;
        Ok(Some((entries, passed)))
    }

    /// Counts an entry. An entry dated before the one preceding it is reported, so both are kept.
    fn comes(&mut self, at: At) -> bool {
        self.count += 1;
        let back = self.last.is_some_and(|last| at < last.at);
        if back && let Some(slot) = self.last.and_then(|last| last.slot) {
            self.slots[slot].for_good = true;
        }
        back
    }

    fn put(&mut self, reading: &StoredReading<'_>) -> usize {
        let slot = self.free.pop().unwrap_or_else(|| {
            self.slots.push(Slot::default());
            self.slots.len() - 1
        });
        let into = &mut self.slots[slot];
        (into.seq, into.at_millis, into.by) = (reading.seq, reading.at.millis(), reading.by.len());
        into.text.push_str(reading.by);
        into.text.push_str(reading.body);
        (into.holds, into.for_good) = (1, false);
        slot
    }

    fn let_go(&mut self, slot: usize) {
        let held = &mut self.slots[slot];
        held.holds -= 1;
        if held.holds == 0 && !held.for_good {
            held.text.clear();
            self.free.push(slot);
        }
    }

    /// Keeps the first and the last reading with an instrument.
    fn note_instrument(&mut self, name: Option<&str>, slot: usize) {
        self.slots[slot].holds += 1;
        match self.used.iter_mut().find(|used| used.name.as_deref() == name) {
            Some(used) => {
                let before = std::mem::replace(&mut used.last, slot);
                self.let_go(before);
            }
            None => {
                self.slots[slot].for_good = true;
                self.used.push(Used { name: name.map(Into::into), last: slot });
            }
        }
    }
}

impl TakesIn for Kept {
    fn reading(&mut self, reading: &StoredReading<'_>) {
        if reading.seq > self.until {
            return;
        }
        let back = self.comes(reading.at);
        let slot = self.put(reading);
        self.slots[slot].for_good = back || reading.says.told;
        if self.withdrawn.contains(reading.seq) {
            self.slots[slot].for_good = true;
        } else {
            self.slots[slot].holds += 1;
            let mut forgotten = std::mem::take(&mut self.forgotten);
            self.recall.reading(&reading.says, Handle { seq: reading.seq, slot }, &mut forgotten);
            forgotten.drain(..).for_each(|held| self.let_go(held.slot));
            self.forgotten = forgotten;
            self.note_instrument(reading.says.instrument, slot);
        }
        self.tail.push_back(slot);
        if self.tail.len() > self.newest
            && let Some(oldest) = self.tail.pop_front()
        {
            self.let_go(oldest);
        }
        self.last = Some(Last { at: reading.at, slot: Some(slot) });
    }

    fn entry(&mut self, entry: Entry) {
        if entry.seq > self.until {
            return;
        }
        self.comes(entry.at);
        self.last = Some(Last { at: entry.at, slot: None });
        if Recall::looks_back(&entry.what) {
            self.recall.seal(entry.seq);
        }
        if matches!(entry.what, What::Withdrawn { .. }) {
            self.withdrawals.all_known &=
                self.withdrawals.known.get(self.withdrawals.met) == Some(&entry.seq);
            self.withdrawals.met += 1;
        }
        self.others.push(entry);
    }
}

#[cfg(test)]
mod tests;
