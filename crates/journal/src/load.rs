//! Writing many entries at once.

use crate::append::{self, End, Row, Trouble};
use crate::error::{Fault, JournalError};
use crate::hash::Head;
use crate::open::Journal;
use crate::{place, rounds, schema};
use record::{What, When};
use rusqlite::{Connection, Statement, TransactionBehavior};
use std::sync::mpsc::{Receiver, Sender, SyncSender, channel, sync_channel};
use std::thread;

/// Entries handed over at a time, and how many hand-overs may wait: what bounds the memory.
const ROWS: usize = 256;
const WAITING: usize = 4;

/// Rows written by one statement: each statement looks the file's own count up and writes it back.
const AT_ONCE: usize = 32;

/// An entry on its way.
type Given = (When, String, What);

/// To the side that writes. Without the second nothing stays.
enum Message {
    Entries(Vec<Given>),
    Commit,
}

impl Journal {
    /// Appends any number of entries, all or none, in memory that does not grow with their number. Returns the last.
    ///
    /// One side makes the entries, the other their text and hashes and writes them; each waits for the other.
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
        let (ready_out, ready) = channel();
        let (out, given) = sync_channel(WAITING);
        let conn = &mut self.conn;
        let (made, written) = thread::scope(|scope| {
            let writer = scope.spawn(move || write(conn, &ready_out, &given));
            // A side that could not begin to write says why.
            let made = ready.recv().map_or(Ok(()), |()| make(entries, &out));
            drop(out);
            (made, writer.join())
        });
        let written = match written {
            Ok(written) => written.map_err(|e| e.at(&self.path)),
            Err(_) => Err(self.error(Fault::System)),
        };
        self.still_there()?;
        match (made, written) {
            // Where nothing else stopped the writer, the caller's own error did.
            (Err(error), Ok(_)) => Err(error),
            (_, written) => Ok(written?),
        }
    }
}

/// Sends the entries and, if every one was sound, the word to keep them.
fn make<W: Into<When>, S: AsRef<str>, E>(
    entries: impl IntoIterator<Item = Result<(W, S, What), E>>,
    out: &SyncSender<Message>,
) -> Result<(), E> {
    let mut some = Vec::with_capacity(ROWS);
    for entry in entries {
        let (when, by, what) = entry?;
        some.push((when.into(), by.as_ref().to_owned(), what));
        if some.len() == ROWS
            && out.send(Message::Entries(std::mem::replace(&mut some, Vec::with_capacity(ROWS)))).is_err()
        {
            // The other side has stopped, and says why.
            return Ok(());
        }
    }
    let _ = out.send(Message::Entries(some)).and_then(|()| out.send(Message::Commit));
    Ok(())
}

fn write(conn: &mut Connection, ready: &Sender<()>, given: &Receiver<Message>) -> Result<Head, Trouble> {
    let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let mut end = End { head: append::head(&tx)?, highest_round: rounds::highest(&tx)? };
    let _ = ready.send(());
    schema::unguard(&tx)?;
    let mut insert =
        Insert { one: tx.prepare(&append::insertion(1))?, many: tx.prepare(&append::insertion(AT_ONCE))? };
    let (mut whole, mut format) = (false, 1);
    for message in given {
        match message {
            Message::Entries(entries) => {
                entries.chunks(AT_ONCE).try_for_each(|some| insert.entries(&tx, &mut end, some))?;
                format = entries.iter().fold(format, |format, (_, _, what)| format.max(what.format()));
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
    Ok(end.head)
}

/// The statements that write rows.
struct Insert<'c> {
    one: Statement<'c>,
    many: Statement<'c>,
}

impl Insert<'_> {
    /// Writes at most [`AT_ONCE`] entries.
    fn entries(&mut self, conn: &Connection, end: &mut End, some: &[Given]) -> Result<(), Trouble> {
        let doubtful = |what: &What| matches!(what, What::Started { .. } | What::Withdrawn { .. });
        if some.len() == AT_ONCE && !some.iter().any(|(_, _, what)| doubtful(what)) {
            let rows = some.iter().map(|(when, by, what)| end.follow(*when, by, what));
            let rows: Vec<Row> = rows.collect::<Result<_, _>>().map_err(Trouble::Refused)?;
            return Ok(Row::insert(&mut self.many, &rows)?);
        }
        for (when, by, what) in some {
            let row = end.follow(*when, by, what).map_err(Trouble::Refused)?;
            // What it withdraws may be the entry before it.
            if let Some(at) = place::fault(conn, row.head.seq, what)? {
                return Err(Trouble::Fault(Fault::OutOfPlace(at)));
            }
            Row::insert(&mut self.one, [&row])?;
        }
        Ok(())
    }
}
