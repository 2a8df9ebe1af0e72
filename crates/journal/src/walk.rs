//! Reads the whole log once: one thread takes rows out of the file, another checks that each follows from the one
//! before and passes it on.
//!
//! A reading is passed on as stored, because most readings of a long log no longer count; it is looked through first,
//! so that nothing unreadable is skipped.

mod batch;
mod check;
mod stored;

use crate::append;
use crate::error::{Break, Fault, JournalError, Why};
use crate::hash::Head;
use crate::open::{self, Journal};
use crate::place;
use crate::row::COLUMNS;
use crate::schema::{self, Alteration};
pub(crate) use batch::Batch;
use check::Check;
use record::{Entry, What};
use rusqlite::Rows;
use std::sync::mpsc::{Receiver, SyncSender, TrySendError, channel, sync_channel};
use std::thread;
pub use stored::{StoredReading, TakesIn};

/// Batches that may wait to be checked.
const WAITING: usize = 4;

/// A log that was checked and found whole.
#[derive(Debug)]
pub struct Walked<W> {
    /// Its end.
    pub head: Head,
    /// What took its entries in.
    pub into: W,
}

impl Journal {
    /// Reads the present whole log into `into`, with each entry checked to follow from the one before.
    ///
    /// # Errors
    /// The first entry that does not fit; entries missing from the end; a log whose guards were altered.
    pub fn read_into<W: TakesIn>(&self, into: W) -> Result<Walked<W>, JournalError> {
        self.sound()?;
        // All of it is one state; writers continue meanwhile.
        let tx = if self.conn.is_autocommit() {
            Some(self.conn.unchecked_transaction().map_err(|e| self.sqlite(e))?)
        } else {
            None
        };
        let found = self.walk_into(into)?;
        append::head(&self.conn).map_err(|e| e.at(&self.path))?;
        let alteration = open::altered(&self.conn, &self.path, &self.real)?;
        drop(tx);
        match alteration {
            Some(alteration) => Err(self.error(Fault::Altered(alteration))),
            None => Ok(found),
        }
    }

    /// The same within the caller's transaction, without checking the rest of the file.
    pub(crate) fn walk_into<W: TakesIn>(&self, into: W) -> Result<Walked<W>, JournalError> {
        let mut query = self
            .conn
            .prepare_cached(&format!("SELECT {COLUMNS} FROM entry ORDER BY seq"))
            .map_err(|e| self.sqlite(e))?;
        let mut rows = query.query([]).map_err(|e| self.sqlite(e))?;
        let mut check = Check::new(into);
        let mut first = Batch::default();
        // What fits into one batch is not worth a thread.
        let read = match first.fill(&mut rows) {
            Ok(true) => {
                let read;
                (read, check) =
                    side_by_side(&mut rows, first, check).ok_or_else(|| self.error(Fault::System))?;
                read
            }
            done => {
                let _ = check.all(&first);
                done.map(|_| ())
            }
        };
        let broken = self.first_broken(&check)?;
        match (broken, read) {
            (Some(at), _) => Err(self.error(Fault::Broken(at))),
            (None, Err(why)) => Err(self.sqlite(why)),
            (None, Ok(())) if check.head.seq == 0 => {
                Err(self.error(Fault::Broken(Break { seq: 1, why: Why::Missing })))
            }
            (None, Ok(())) if schema::format(&self.conn).map_err(|e| self.sqlite(e))? < check.format => {
                Err(self.error(Fault::Altered(Alteration::of_format())))
            }
            (None, Ok(())) => Ok(Walked { head: check.head, into: check.into }),
        }
    }

    /// The first entry that does not fit, including what only the file itself can answer: the target of a withdrawal,
    /// and the state that a sign-off names.
    fn first_broken<W>(&self, check: &Check<W>) -> Result<Option<Break>, JournalError> {
        for entry in &check.to_ask {
            if let Some(at) = self.out_of_place(entry).map_err(|e| self.sqlite(e))? {
                return Ok(Some(at));
            }
        }
        Ok(check.broken.clone())
    }

    /// What is wrong with an entry's place in the chain if its hash fits.
    pub(crate) fn out_of_place(&self, entry: &Entry) -> rusqlite::Result<Option<Break>> {
        if let Some(at) = place::fault(&self.conn, entry.seq, &entry.what)? {
            return Ok(Some(at));
        }
        if let What::Signed(signed) = &entry.what {
            let named = if signed.entries < entry.seq { self.head_at(signed.entries)? } else { None };
            if named.is_none_or(|named| named.hash.to_string() != signed.head) {
                return Ok(Some(Break { seq: entry.seq, why: Why::SignedElsewhere }));
            }
        }
        Ok(None)
    }
}

/// Reads rows here and checks them on another thread; `None` if that thread failed.
fn side_by_side<W: TakesIn>(
    rows: &mut Rows<'_>,
    first: Batch,
    check: Check<W>,
) -> Option<(rusqlite::Result<()>, Check<W>)> {
    let (out, batches) = sync_channel(WAITING);
    let (back, used) = channel();
    thread::scope(|scope| {
        let end = first.end();
        let checking = scope.spawn(move || {
            let mut check = check;
            let _ = check.all(&first);
            for batch in batches {
                if check.all(&batch).is_break() {
                    break;
                }
                let _ = back.send(batch);
            }
            check
        });
        let read = hand_over(rows, end, &out, &used);
        drop(out);
        Some((read, checking.join().ok()?))
    })
}

/// Hands batches over. If the other side cannot keep up, its most expensive work is done here.
fn hand_over(
    rows: &mut Rows<'_>,
    mut before: Option<Head>,
    out: &SyncSender<Batch>,
    used: &Receiver<Batch>,
) -> rusqlite::Result<()> {
    loop {
        let mut batch: Batch = used.try_recv().unwrap_or_default();
        batch.clear();
        let filled = batch.fill(rows);
        let end = batch.end();
        let sent = match out.try_send(batch) {
            Err(TrySendError::Full(mut batch)) => {
                before.into_iter().for_each(|before| batch.follow(before));
                out.send(batch).is_ok()
            }
            sent => sent.is_ok(),
        };
        before = end;
        // What was read before something went wrong is still checked: it may be broken earlier.
        if !sent || !filled? {
            return Ok(());
        }
    }
}
