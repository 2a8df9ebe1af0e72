//! Writing many entries at once.

use crate::append::{self, End, Row, Trouble};
use crate::body::Refused;
use crate::error::{Fault, JournalError};
use crate::hash::Head;
use crate::open::Journal;
use crate::{place, rounds, schema};
use record::{What, When};
use rusqlite::{Connection, TransactionBehavior};
use std::sync::mpsc::{Receiver, Sender, SyncSender, channel, sync_channel};
use std::thread;

/// Rows handed over at a time, and how many hand-overs may wait: what bounds the memory.
const ROWS: usize = 256;
const WAITING: usize = 4;

/// To the side that writes. Without the second nothing stays.
enum Message {
    Rows(Vec<Pending>),
    Commit,
}

impl Journal {
    /// Appends any number of entries, all or none, in memory that does not grow with their number. Returns the last.
    ///
    /// One side makes the entries and their hashes, the other writes them; each waits for the other.
    ///
    /// # Errors
    /// The first error among the entries, or if the log cannot be written; then nothing of it was.
    pub fn append_many<W, S, E>(
        &mut self,
        entries: impl IntoIterator<Item = Result<(W, S, What), E>>,
    ) -> Result<Head, E>
    where
        W: Into<When>,
        S: AsRef<str>,
        E: From<JournalError>,
    {
        self.may_write()?;
        let (head_out, head_in) = channel();
        let (out, rows) = sync_channel(WAITING);
        let conn = &mut self.conn;
        let (made, written) = thread::scope(|scope| {
            let writer = scope.spawn(move || write(conn, &head_out, &rows));
            // Without a head the other side has failed already and says why.
            let made = head_in.recv().map_or(Ok(()), |end| make(entries, end, &out));
            drop(out);
            (made, writer.join())
        });
        let written = match written {
            Ok(written) => written.map_err(|e| e.at(&self.path)),
            Err(_) => Err(self.error(Fault::System)),
        };
        self.still_there()?;
        match made {
            Err(Refusal::Entry(error)) => Err(error),
            Err(Refusal::Store(why)) => Err(why.at(&self.path).into()),
            Ok(()) => Ok(written?),
        }
    }
}

enum Refusal<E> {
    /// The caller's own error.
    Entry(E),
    /// An entry that cannot be stored.
    Store(Refused),
}

/// A row on its way, and what must be asked about it before it is written.
struct Pending {
    row: Row,
    format: i32,
    /// The whole entry, where its place in the chain is not plain.
    doubtful: Option<What>,
}

/// Sends the rows and, if every entry was sound, the word to keep them.
fn make<W: Into<When>, S: AsRef<str>, E>(
    entries: impl IntoIterator<Item = Result<(W, S, What), E>>,
    mut end: End,
    out: &SyncSender<Message>,
) -> Result<(), Refusal<E>> {
    let mut rows = Vec::with_capacity(ROWS);
    for entry in entries {
        let (when, by, what) = entry.map_err(Refusal::Entry)?;
        let row = end.follow(when.into(), by.as_ref(), &what).map_err(Refusal::Store)?;
        let format = what.format();
        let plain = !matches!(what, What::Started { .. } | What::Withdrawn { .. });
        rows.push(Pending { row, format, doubtful: if plain { None } else { Some(what) } });
        if rows.len() == ROWS
            && out.send(Message::Rows(std::mem::replace(&mut rows, Vec::with_capacity(ROWS)))).is_err()
        {
            // The other side has stopped, and says why.
            return Ok(());
        }
    }
    let _ = out.send(Message::Rows(rows)).and_then(|()| out.send(Message::Commit));
    Ok(())
}

fn write(conn: &mut Connection, head_out: &Sender<End>, rows: &Receiver<Message>) -> Result<Head, Trouble> {
    let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let mut head = append::head(&tx)?;
    let _ = head_out.send(End { head, highest_round: rounds::highest(&tx)? });
    schema::unguard(&tx)?;
    let mut insert = tx.prepare(append::INSERT)?;
    let (mut whole, mut format) = (false, 1);
    for message in rows {
        match message {
            Message::Rows(rows) => {
                for Pending { row, format: needed, doubtful } in rows {
                    if let Some(what) = doubtful
                        && let Some(at) = place::fault(&tx, row.head.seq, &what)?
                    {
                        return Err(Trouble::Fault(Fault::OutOfPlace(at)));
                    }
                    row.insert(&mut insert)?;
                    head = row.head;
                    format = format.max(needed);
                }
            }
            Message::Commit => whole = true,
        }
    }
    drop(insert);
    // Otherwise dropping the transaction takes everything back, and the side that makes the entries says why.
    if whole {
        schema::raise_format(&tx, format)?;
        schema::guard(&tx)?;
        tx.commit()?;
    }
    Ok(head)
}
