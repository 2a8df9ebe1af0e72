//! Reading a few entries of a long log, each checked to follow from the one before it, at a cost that does not grow
//! with the log.

use crate::error::{Break, Fault, JournalError, Why};
use crate::hash::Head;
use crate::open::Journal;
use crate::rounds::{self, Highest};
use crate::row::{COLUMNS, RawRow};
use crate::walk::Batch;
use record::Entry;
use rusqlite::params;
use std::collections::VecDeque;

/// Entries fetched at a time, at first and at most.
const FIRST_PAGE: u32 = 16;
const PAGE: u32 = 512;

impl Journal {
    /// Every entry of a kind other than `reading`, in order, each checked like those of [`Journal::newest_first`].
    /// The cost grows with their number.
    ///
    /// # Errors
    /// If the log cannot be read, or one of them was changed.
    pub fn all_of_kind(&self, kind: &str) -> Result<Vec<Entry>, JournalError> {
        self.found(&of_kind("AND kind <> 'reading' ORDER BY seq"), kind, Self::checked)?
            .into_iter()
            .map(|e| e.map_err(|at| self.broken(at)))
            .collect()
    }

    /// The same without checking, leaving out those that cannot be read: for looking into a broken log.
    ///
    /// # Errors
    /// If the log cannot be read.
    pub fn all_of_kind_as_found(&self, kind: &str) -> Result<Vec<Entry>, JournalError> {
        let sql = of_kind("AND kind <> 'reading' ORDER BY seq");
        let found = self.found(&sql, kind, |_, raw| Ok(raw.entry()))?;
        Ok(found.into_iter().filter_map(Result::ok).collect())
    }

    /// The last entry of a kind (`stage`, `reading`, ...), checked in the same way.
    ///
    /// # Errors
    /// If the log cannot be read, or the entry was changed.
    pub fn latest_of_kind(&self, kind: &str) -> Result<Option<Entry>, JournalError> {
        // Readings are not in the index: the last of them is near the end anyway.
        let indexed = if kind == "reading" { "" } else { "AND kind <> 'reading' " };
        let sql = of_kind(&format!("{indexed}ORDER BY seq DESC LIMIT 1"));
        self.found(&sql, kind, Self::checked)?.pop().transpose().map_err(|at| self.broken(at))
    }

    /// The first entry, checked in the same way.
    ///
    /// # Errors
    /// If the log cannot be read, or the entry was changed.
    pub fn first(&self) -> Result<Entry, JournalError> {
        self.newest_first_within(0, 2)
            .next()
            .unwrap_or_else(|| Err(self.broken(Break { seq: 1, why: Why::Missing })))
    }

    /// The entries after number `after`, newest first, each checked to follow from the stored one before it; the
    /// first that does not is an error, and the last item.
    pub fn newest_first(&self, after: u64) -> NewestFirst<'_> {
        self.newest_first_within(after, i64::MAX.cast_unsigned())
    }

    const fn newest_first_within(&self, after: u64, below: u64) -> NewestFirst<'_> {
        NewestFirst { journal: self, after, below, page: VecDeque::new(), size: FIRST_PAGE, ended: false }
    }

    /// The highest round of any reading; 0 if there is none. If an older program continued the log, the entries since
    /// are examined too.
    ///
    /// # Errors
    /// If the log cannot be read.
    pub fn highest_round(&self) -> Result<u32, JournalError> {
        self.sound()?;
        rounds::highest(&self.conn).map_err(|e| self.sqlite(e))
    }

    /// What a query for a kind finds, row by row.
    fn found(
        &self,
        sql: &str,
        kind: &str,
        read: impl Fn(&Self, &RawRow<'_>) -> rusqlite::Result<Result<Entry, Break>>,
    ) -> Result<Vec<Result<Entry, Break>>, JournalError> {
        self.sound()?;
        let all = || -> rusqlite::Result<_> {
            let mut query = self.conn.prepare_cached(sql)?;
            let mut rows = query.query([kind])?;
            let mut all = Vec::new();
            while let Some(row) = rows.next()? {
                all.push(match RawRow::read(row, 0) {
                    Ok(raw) => read(self, &raw)?,
                    Err(at) => Err(at),
                });
            }
            Ok(all)
        };
        all().map_err(|e| self.sqlite(e))
    }

    /// The entry of the row, if it follows from the stored one before it.
    fn checked(&self, raw: &RawRow<'_>) -> rusqlite::Result<Result<Entry, Break>> {
        let missing = Break { seq: raw.seq.saturating_sub(1), why: Why::Missing };
        match self.head_at(raw.seq.saturating_sub(1))? {
            None => Ok(Err(missing)),
            Some(mut before) => {
                let mut highest = Highest::unread(before.seq);
                self.next_entry(raw, &mut before, &mut highest)
            }
        }
    }

    /// Refuses if the table is not the plain table that was made.
    pub(crate) fn sound(&self) -> Result<(), JournalError> {
        match self.alteration.as_ref().filter(|a| !a.table_is_sound()) {
            Some(alteration) => Err(self.error(Fault::Altered(alteration.clone()))),
            None => Ok(()),
        }
    }

    fn broken(&self, at: Break) -> JournalError {
        self.error(Fault::Broken(at))
    }
}

/// The query for entries of a kind.
fn of_kind(rest: &str) -> String {
    format!("SELECT {COLUMNS} FROM entry WHERE kind = ?1 {rest}")
}

/// Entries from the end of the log backward, page by page.
#[derive(Debug)]
pub struct NewestFirst<'a> {
    journal: &'a Journal,
    after: u64,
    below: u64,
    page: VecDeque<Result<Entry, Break>>,
    size: u32,
    ended: bool,
}

impl NewestFirst<'_> {
    fn fill(&mut self) -> rusqlite::Result<()> {
        let sql =
            format!("SELECT {COLUMNS} FROM entry WHERE seq > ?1 AND seq < ?2 ORDER BY seq DESC LIMIT ?3");
        let mut query = self.journal.conn.prepare_cached(&sql)?;
        let bounds = params![self.after.cast_signed(), self.below.cast_signed(), self.size];
        let mut page = Batch::default();
        page.fill(&mut query.query(bounds)?)?;
        let rows: Vec<Result<RawRow<'_>, Break>> = page.rows().collect();
        for (i, row) in rows.iter().enumerate() {
            let entry = match (row, rows.get(i + 1)) {
                (Err(at), _) => Err(at.clone()),
                // The one before is in the same page.
                (Ok(row), Some(Ok(before))) if before.seq + 1 == row.seq && before.head().is_some() => {
                    let mut head = before.head().unwrap_or_else(Head::genesis);
                    self.journal.next_entry(row, &mut head, &mut Highest::said(before.tail()))?
                }
                (Ok(row), _) => self.journal.checked(row)?,
            };
            match &entry {
                // Out of order in the tree itself: asking on from here would never end.
                Ok(entry) if entry.seq >= self.below => self.ended = true,
                Ok(entry) => self.below = entry.seq,
                Err(_) => self.ended = true,
            }
            self.page.push_back(entry);
            if self.ended {
                break;
            }
        }
        self.ended |= rows.is_empty();
        self.size = PAGE;
        Ok(())
    }
}

impl Iterator for NewestFirst<'_> {
    type Item = Result<Entry, JournalError>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.page.is_empty() && !self.ended {
            let filled = self.journal.sound().and_then(|()| self.fill().map_err(|e| self.journal.sqlite(e)));
            if let Err(error) = filled {
                self.ended = true;
                return Some(Err(error));
            }
        }
        Some(self.page.pop_front()?.map_err(|at| self.journal.broken(at)))
    }
}
