//! Writing many entries at once.

use crate::append::{self, End, INSERTION, NewEntry, Unlinked};
use crate::error::{Fault, JournalError};
use crate::hash::Head;
use crate::open::Journal;
use crate::trouble::Trouble;
use crate::{place, rounds, schema};
use record::{What, When};
use rusqlite::{Connection, Statement, TransactionBehavior};
use std::path::Path;
use std::sync::mpsc::{Receiver, Sender, SyncSender, channel, sync_channel};
use std::thread;

/// Entries handed over at a time, and how many hand-overs may wait; together they bound the memory.
const ROWS: usize = 256;
const WAITING: usize = 4;

/// Readings written by one statement: each statement looks up the file's own count and writes it back.
const AT_ONCE: usize = 32;

/// An entry on its way to the writer.
#[derive(Debug)]
struct Given {
    when: When,
    /// Who wrote it; `None` if it is the same person as before.
    by: Option<String>,
    entry: Unlinked,
    /// The entry, if its place in the log could be wrong.
    doubtful: Option<What>,
}

/// To the writing side. Without the second message nothing is kept.
enum Message {
    Entries(Vec<Given>),
    Commit,
}

impl Journal {
    /// Appends any number of entries, all or none, in memory that does not grow with their number. Returns the last.
    ///
    /// One thread makes the entries and their text, the other their hashes, and writes them; each waits for the
    /// other.
    ///
    /// # Errors
    /// The first error among the entries, or if the log cannot be written; then nothing is written.
    pub fn append_many<S: AsRef<str>, E: From<JournalError>>(
        &mut self,
        entries: impl IntoIterator<Item = Result<NewEntry<S>, E>>,
    ) -> Result<Head, E> {
        self.may_write()?;
        self.append_all(entries, TransactionBehavior::Immediate)
    }

    /// The same with this kind of transaction, if the log is known to be writable.
    pub(crate) fn append_all<S: AsRef<str>, E: From<JournalError>>(
        &mut self,
        entries: impl IntoIterator<Item = Result<NewEntry<S>, E>>,
        begin: TransactionBehavior,
    ) -> Result<Head, E> {
        let (ready_out, ready) = channel();
        let (out, given) = sync_channel(WAITING);
        let (conn, path) = (&mut self.conn, &self.path);
        let (made, written) = thread::scope(|scope| {
            let writer = scope.spawn(move || write(conn, begin, &ready_out, &given));
            // If writing could not begin, the writing side says why.
            let made = ready.recv().map_or(Ok(()), |()| make(entries, path, &out));
            drop(out);
            (made, writer.join())
        });
        let written = match written {
            Ok(written) => written.map_err(|e| e.at(&self.path)),
            Err(_) => Err(self.error(Fault::System)),
        };
        self.still_there()?;
        match (made, written) {
            // If nothing else stopped the writer, the caller's own error did.
            (Err(error), Ok(_)) => Err(error),
            (_, written) => Ok(written?),
        }
    }
}

/// Sends the entries and, if every one was sound, the message to keep them.
fn make<S: AsRef<str>, E: From<JournalError>>(
    entries: impl IntoIterator<Item = Result<NewEntry<S>, E>>,
    path: &Path,
    out: &SyncSender<Message>,
) -> Result<(), E> {
    let mut some = Vec::with_capacity(ROWS);
    let mut last: Option<String> = None;
    for entry in entries {
        let NewEntry { when, by, what } = entry?;
        let by = Some(by.as_ref()).filter(|by| last.as_deref() != Some(*by)).map(str::to_owned);
        if by.is_some() {
            last.clone_from(&by);
        }
        let entry = Unlinked::new(&what).map_err(|why| why.at(path))?;
        let doubtful =
            Some(what).filter(|what| matches!(what, What::Started { .. } | What::Withdrawn { .. }));
        some.push(Given { when, by, entry, doubtful });
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

fn write(
    conn: &mut Connection,
    begin: TransactionBehavior,
    ready: &Sender<()>,
    given: &Receiver<Message>,
) -> Result<Head, Trouble> {
    let tx = conn.transaction_with_behavior(begin)?;
    let end = End { head: append::head(&tx)?, highest_round: rounds::highest(&tx)? };
    let _ = ready.send(());
    schema::unguard(&tx)?;
    let (one, many) = (tx.prepare(INSERTION)?, tx.prepare(&insertion_of_readings())?);
    let mut writer = Writer { conn: &tx, one, many, end, by: String::new() };
    let (mut whole, mut format) = (false, 1);
    for message in given {
        match message {
            Message::Entries(mut entries) => {
                format = entries.iter().fold(format, |format, given| format.max(given.entry.format));
                entries.chunks_mut(AT_ONCE).try_for_each(|some| writer.entries(some))?;
            }
            Message::Commit => whole = true,
        }
    }
    let end = writer.end;
    drop(writer);
    // Otherwise dropping the transaction rolls everything back, and the side that makes the entries says why.
    if whole {
        schema::raise_format(&tx, format)?;
        schema::guard(&tx)?;
        tx.commit()?;
    }
    Ok(end.head)
}

/// The statement that writes [`AT_ONCE`] readings by one person.
fn insertion_of_readings() -> String {
    let rows: Vec<String> = (0..AT_ONCE)
        .map(|row| {
            let [seq, at, body, hash] = places(row);
            format!("(?{seq}, ?{at}, ?1, 'reading', ?{body}, ?{hash})")
        })
        .collect();
    r#"INSERT INTO entry(seq, at, "by", kind, body, hash) VALUES "#.to_owned() + &rows.join(", ")
}

/// The parameter numbers of a row's own values in that statement; the first is the person.
fn places(row: usize) -> [usize; 4] {
    [2, 3, 4, 5].map(|first| first + 4 * row)
}

/// The growing end of the log, and the statements that write to it.
struct Writer<'c> {
    conn: &'c Connection,
    one: Statement<'c>,
    many: Statement<'c>,
    end: End,
    /// Who wrote the last entry.
    by: String,
}

impl Writer<'_> {
    /// Writes at most [`AT_ONCE`] entries.
    fn entries(&mut self, some: &mut [Given]) -> Result<(), Trouble> {
        let readings = some.iter().all(|given| given.entry.round.is_some());
        if some.len() == AT_ONCE && readings && some.iter().skip(1).all(|given| given.by.is_none()) {
            return Ok(self.readings(some)?);
        }
        for Given { when, by, entry, doubtful } in some {
            if let Some(other) = by.take() {
                self.by = other;
            }
            self.end.link(*when, &self.by, entry);
            // What it withdraws may be the entry before it.
            let out_of_place = doubtful.as_ref().map(|what| place::fault(self.conn, self.end.head.seq, what));
            if let Some(at) = out_of_place.transpose()?.flatten() {
                return Err(Trouble::Fault(Fault::OutOfPlace(at)));
            }
            self.end.insert(&mut self.one, *when, &self.by, entry)?;
        }
        Ok(())
    }

    /// Writes [`AT_ONCE`] readings by one person.
    fn readings(&mut self, some: &mut [Given]) -> rusqlite::Result<()> {
        let Self { many, end, by, .. } = self;
        for (row, given) in some.iter_mut().enumerate() {
            if let Some(other) = given.by.take() {
                *by = other;
            }
            end.link(given.when, by, &mut given.entry);
            let [seq, at, body, hash] = places(row);
            many.raw_bind_parameter(seq, end.head.seq.cast_signed())?;
            many.raw_bind_parameter(at, given.when.at.millis())?;
            many.raw_bind_parameter(body, given.entry.stored.body())?;
            many.raw_bind_parameter(hash, end.head.hash.0)?;
        }
        many.raw_bind_parameter(1, by.as_str())?;
        many.raw_execute().map(|_| ())
    }
}
