//! The write-ahead log beside a database, as far as a story needs to know it (SQLite's file format, section 4).

use rusqlite::Connection;
use std::path::{Path, PathBuf};

const HEADER: usize = 32;
const FRAME_HEADER: usize = 24;

/// Where the WAL of a database is.
#[must_use]
pub fn beside(database: &Path) -> PathBuf {
    let mut name = database.as_os_str().to_owned();
    name.push("-wal");
    PathBuf::from(name)
}

/// Another program that reads a log: until it is dropped nothing is merged into the log, so what is written stays
/// beside it.
///
/// # Panics
/// If there is no log.
#[must_use]
pub fn looked_at(log: &Path) -> Connection {
    let other = Connection::open(log).expect("a database");
    other
        .execute_batch("PRAGMA journal_mode = wal; BEGIN; SELECT count(*) FROM entry")
        .expect("it can be looked at");
    other
}

/// Offsets at which a commit ends: if at least this many bytes of the WAL are on disk, the commit is.
///
/// # Panics
/// If the bytes are not a WAL.
#[must_use]
pub fn commit_ends(wal: &[u8]) -> Vec<usize> {
    let frame = frame_bytes(wal);
    (HEADER..wal.len())
        .step_by(frame)
        .filter(|start| start + frame <= wal.len())
        .filter(|start| wal[start + 8..start + 16] == wal[16..24])
        .filter(|start| number(wal, start + 4) > 0)
        .map(|start| start + frame)
        .collect()
}

/// The size of a frame: its header and a page.
///
/// # Panics
/// If the bytes are not a WAL.
#[must_use]
pub fn frame_bytes(wal: &[u8]) -> usize {
    FRAME_HEADER + number(wal, 8)
}

fn number(bytes: &[u8], at: usize) -> usize {
    let four = bytes[at..at + 4].try_into().expect("four bytes");
    u32::from_be_bytes(four) as usize
}
