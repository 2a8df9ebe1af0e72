//! The least that the terminal program could be: a command line by clap and a log opened by SQLite, with every row
//! read.

use clap::{Parser, Subcommand};
use rusqlite::{Connection, OpenFlags};
use std::path::PathBuf;

/// Reads a log
#[derive(Debug, Parser)]
struct Bare {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    /// Opens it and reads every row
    Read {
        /// The log
        log: PathBuf,
    },
}

fn main() -> rusqlite::Result<()> {
    let Verb::Read { log } = Bare::parse().verb;
    let conn = Connection::open_with_flags(log, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
    let mut query = conn.prepare("SELECT seq, at, \"by\", kind, body, hash FROM entry ORDER BY seq")?;
    let mut rows = query.query([])?;
    let mut bytes = 0;
    while let Some(row) = rows.next()? {
        bytes += row.get_ref("body")?.as_str().map_or(0, str::len);
    }
    println!("{bytes}");
    Ok(())
}
