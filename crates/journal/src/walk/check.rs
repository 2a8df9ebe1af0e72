//! Whether each row follows from the one before and can be read.

use super::batch::Batch;
use super::stored::{StoredReading, TakesIn};
use crate::body::{Parted, take_tail};
use crate::error::{Break, Why};
use crate::hash::Head;
use crate::rounds::{Highest, round_of};
use crate::row::RawRow;
use record::skim::skim;
use record::{Entry, Point, What};
use std::collections::HashSet;
use std::ops::ControlFlow;

/// A check in progress.
pub struct Check<W> {
    /// The last entry that fits.
    pub head: Head,
    /// The first that does not.
    pub broken: Option<Break>,
    /// Entries whose place in the chain must still be looked up, in order.
    pub to_ask: Vec<Entry>,
    /// The newest format that an entry needs.
    pub format: i32,
    /// Whoever takes the entries in.
    pub into: W,
    highest: Highest,
    /// Texts known to be points.
    points: HashSet<Box<str>>,
}

impl<W: TakesIn> Check<W> {
    pub fn new(into: W) -> Self {
        let points = HashSet::new();
        Self {
            head: Head::genesis(),
            broken: None,
            to_ask: Vec::new(),
            format: 1,
            into,
            highest: Highest::unread(0),
            points,
        }
    }

    /// Checks the rows of a batch up to the first that does not fit.
    pub fn all(&mut self, batch: &Batch) -> ControlFlow<()> {
        if self.broken.is_some() {
            return ControlFlow::Break(());
        }
        let known = batch.known(&self.head);
        for (n, row) in batch.rows().enumerate() {
            let next = |row: &RawRow<'_>| match row.head() {
                Some(next) if n < known => Ok(next),
                _ => row.follow(&self.head),
            };
            let found = row.and_then(|row| Ok((next(&row)?, row)));
            if let Err(at) = found.and_then(|(next, row)| self.one(&row, next)) {
                self.broken = Some(at);
                break;
            }
        }
        if self.broken.is_some() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }

    /// A row after which the head is `next`.
    fn one(&mut self, row: &RawRow<'_>, next: Head) -> Result<(), Break> {
        if !self.looked_through(row)? {
            let entry = row.entry()?;
            self.format = self.format.max(entry.what.format());
            match &entry.what {
                What::Started { .. } if entry.seq > 1 => {
                    return Err(Break { seq: entry.seq, why: Why::SecondStart });
                }
                What::Withdrawn { .. } | What::Signed(_) => self.to_ask.push(entry.clone()),
                _ => {}
            }
            // A wrong place matters more than a wrong round.
            self.highest = self.highest.after(entry.seq, round_of(&entry.what), row.tail())?;
            self.into.entry(entry);
        }
        self.head = next;
        Ok(())
    }

    /// Passes on a reading written as this program writes it; false for anything else.
    fn looked_through(&mut self, row: &RawRow<'_>) -> Result<bool, Break> {
        if row.kind != b"reading" {
            return Ok(false);
        }
        let (Ok(by), Ok(stored)) = (str::from_utf8(row.by), str::from_utf8(row.body)) else {
            return Ok(false);
        };
        let Some(Parted { content, tail }) = take_tail(stored) else { return Ok(false) };
        let Some(says) = skim(content) else { return Ok(false) };
        if !self.points.contains(says.point) {
            if says.point.parse::<Point>().is_err() {
                return Ok(false);
            }
            self.points.insert(says.point.into());
        }
        self.highest = self.highest.after(row.seq, Some(says.round), tail)?;
        self.into.reading(&StoredReading { seq: row.seq, at: row.at(), by, body: stored, says });
        Ok(true)
    }
}
