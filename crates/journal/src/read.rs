//! Reading entries.

use crate::append;
use crate::error::{Break, Fault, JournalError, Why};
use crate::hash::{Hash, Head};
use crate::open::Journal;
use crate::rounds::{Highest, round_of};
use crate::row::{COLUMNS, RawRow};
use record::Entry;
use rusqlite::OptionalExtension;
use std::collections::VecDeque;

/// A page of entries ends after this many rows, or this many bytes of text.
const PAGE_ROWS: usize = 512;
const PAGE_BYTES: usize = 4 << 20;

impl Journal {
    /// Every entry, in order, each checked to follow from the one before.
    ///
    /// The first that does not fit is an error, and the last item; a log whose guards were altered ends in an error
    /// too.
    pub fn entries(&self) -> Entries<'_> {
        self.entries_since(0)
    }

    /// Every entry after number `seq`, as [`Journal::entries`].
    pub fn entries_since(&self, seq: u64) -> Entries<'_> {
        let (highest, page) = (Highest::unread(seq), VecDeque::new());
        Entries { journal: self, after: seq, head: None, highest, checked: true, page, ended: false }
    }

    /// Every entry as found, unchecked: for looking into a broken log, never for judging a wing. An entry that cannot
    /// be read is an error, and the rest follow.
    pub fn entries_as_found(&self) -> Entries<'_> {
        self.entries_as_found_since(0)
    }

    /// Every entry after number `seq`, as [`Journal::entries_as_found`].
    pub fn entries_as_found_since(&self, seq: u64) -> Entries<'_> {
        Entries { checked: false, ..self.entries_since(seq) }
    }

    /// The number of the last entry. It takes microseconds: call it to learn whether another program wrote something.
    ///
    /// # Errors
    /// If the log cannot be read.
    pub fn last_seq(&self) -> Result<u64, JournalError> {
        self.conn
            .prepare_cached("SELECT coalesce(max(seq), 0) FROM entry")
            .and_then(|mut query| query.query_row([], |row| row.get::<_, i64>(0)))
            .map(i64::cast_unsigned)
            .map_err(|e| self.sqlite(e))
    }

    /// A number that changes whenever another program changes anything in the file, entry or not (SQLite, `PRAGMA
    /// data_version`).
    ///
    /// # Errors
    /// If the log cannot be read.
    pub fn version(&self) -> Result<i64, JournalError> {
        self.conn
            .prepare_cached("PRAGMA data_version")
            .and_then(|mut query| query.query_row([], |row| row.get(0)))
            .map_err(|e| self.sqlite(e))
    }

    /// Refuses a log that is no longer where it was opened, or has not continued from this head.
    ///
    /// # Errors
    /// If it was deleted, moved or replaced, or the entry with that number is missing or different.
    pub fn goes_on_from(&self, head: &Head) -> Result<(), JournalError> {
        self.still_there()?;
        let why = match self.hash_at(head.seq)? {
            Some(hash) if hash == head.hash => return Ok(()),
            Some(_) => Why::Changed,
            None => Why::Missing,
        };
        Err(self.error(Fault::Broken(Break { seq: head.seq, why })))
    }

    /// The number and hash of the last entry, as stored.
    ///
    /// # Errors
    /// If the log cannot be read, or entries are missing from its end.
    pub fn head(&self) -> Result<Head, JournalError> {
        append::head(&self.conn).map_err(|e| e.at(&self.path))
    }

    /// The entry in `row`, if it follows `head`, which then moves on; a sign-off must name a state the log had, and
    /// its highest round must follow from `highest`.
    pub(crate) fn next_entry(
        &self,
        row: &RawRow<'_>,
        head: &mut Head,
        highest: &mut Highest,
    ) -> rusqlite::Result<Result<Entry, Break>> {
        let found = row.follow(head).and_then(|next| Ok((next, row.entry()?)));
        let (next, entry) = match found {
            Ok(found) => found,
            Err(at) => return Ok(Err(at)),
        };
        if let Some(at) = self.out_of_place(&entry)? {
            return Ok(Err(at));
        }
        match highest.after(entry.seq, round_of(&entry.what), row.tail()) {
            Ok(after) => (*head, *highest) = (next, after),
            Err(at) => return Ok(Err(at)),
        }
        Ok(Ok(entry))
    }

    /// The hash of entry `seq` as stored; `None` if there is no such entry.
    ///
    /// # Errors
    /// If the log cannot be read.
    pub fn hash_at(&self, seq: u64) -> Result<Option<Hash>, JournalError> {
        self.head_at(seq).map(|head| head.map(|h| h.hash)).map_err(|e| self.sqlite(e))
    }

    /// The head of the part of the log up to entry `seq`, as stored; `None` if there is no such entry.
    pub(crate) fn head_at(&self, seq: u64) -> rusqlite::Result<Option<Head>> {
        if seq == 0 {
            return Ok(Some(Head::genesis()));
        }
        let mut query = self.conn.prepare_cached("SELECT hash FROM entry WHERE seq = ?1")?;
        let hash = query.query_row([seq.cast_signed()], |row| row.get(0)).optional()?;
        Ok(hash.map(|hash| Head { seq, hash: Hash(hash) }))
    }
}

/// Reads entries page by page: other programs can write meanwhile, and memory stays constant.
#[derive(Debug)]
pub struct Entries<'a> {
    journal: &'a Journal,
    after: u64,
    head: Option<Head>,
    highest: Highest,
    checked: bool,
    page: VecDeque<Result<Entry, Break>>,
    ended: bool,
}

impl Entries<'_> {
    /// How far the chain was checked and found whole; `None` before the first entry was asked for, and if nothing is
    /// checked. Once the iterator has ended without an error, this is the state of the log that was read.
    pub const fn head(&self) -> Option<Head> {
        self.head
    }

    fn fill(&mut self) -> Result<(), JournalError> {
        let journal = self.journal;
        journal.sound()?;
        if self.checked && self.head.is_none() {
            let before = journal.head_at(self.after).map_err(|e| journal.sqlite(e))?;
            self.head =
                Some(before.ok_or_else(|| {
                    journal.error(Fault::Broken(Break { seq: self.after, why: Why::Missing }))
                })?);
        }
        self.read_page().map_err(|e| journal.sqlite(e))?;
        if self.page.is_empty() {
            self.ended = true;
            if self.checked {
                // Entries missing from the end show in the file's own count; another program may have added some.
                let end = journal.head()?;
                self.ended = end.seq <= self.after;
                if !self.ended {
                    // Such entries are there on a second look; missing ones are where the tree of the file does not
                    // lead.
                    self.read_page().map_err(|e| journal.sqlite(e))?;
                    if self.page.is_empty() {
                        let at = Break { seq: self.after + 1, why: Why::Missing };
                        return Err(journal.error(Fault::Broken(at)));
                    }
                }
                if let Some(alteration) = journal.alteration.as_ref().filter(|_| self.ended) {
                    return Err(journal.error(Fault::Altered(alteration.clone())));
                }
            }
        }
        Ok(())
    }

    fn read_page(&mut self) -> rusqlite::Result<()> {
        let sql = format!("SELECT {COLUMNS} FROM entry WHERE seq > ?1 ORDER BY seq");
        let mut query = self.journal.conn.prepare_cached(&sql)?;
        let mut rows = query.query([self.after.cast_signed()])?;
        let mut bytes = 0;
        while self.page.len() < PAGE_ROWS && bytes < PAGE_BYTES {
            let Some(row) = rows.next()? else { break };
            let raw = RawRow::read(row, self.after + 1);
            let seq = match &raw {
                Ok(raw) => raw.seq,
                Err(at) => at.seq,
            };
            if seq <= self.after {
                // Out of order in the tree itself: continuing from here would never end.
                self.page.push_back(Err(Break { seq: self.after + 1, why: Why::Missing }));
                self.ended = true;
                break;
            }
            self.after = seq;
            let entry = match (raw, &mut self.head) {
                (Ok(raw), head) => {
                    bytes += raw.bytes();
                    match head {
                        Some(head) => self.journal.next_entry(&raw, head, &mut self.highest)?,
                        None => raw.entry(),
                    }
                }
                (Err(at), _) => Err(at),
            };
            let broken = entry.is_err();
            self.page.push_back(entry);
            if broken && self.checked {
                self.ended = true;
                break;
            }
        }
        Ok(())
    }
}

impl Iterator for Entries<'_> {
    type Item = Result<Entry, JournalError>;

    fn next(&mut self) -> Option<Self::Item> {
        while self.page.is_empty() && !self.ended {
            if let Err(error) = self.fill() {
                self.ended = true;
                return Some(Err(error));
            }
        }
        let entry = self.page.pop_front()?;
        Some(entry.map_err(|at| self.journal.error(Fault::Broken(at))))
    }
}
