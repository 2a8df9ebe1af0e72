//! Appends invented readings to a log as fast as it can: `journal-writer LOG WHO FIRST COUNT`.
//!
//! For each it prints a line once it is on disk: the entry's number and the reading's.

use std::io::Write;
use stories::invented;

fn main() -> std::process::ExitCode {
    match write() {
        Ok(()) => std::process::ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            std::process::ExitCode::FAILURE
        }
    }
}

fn write() -> Result<(), Box<dyn std::error::Error>> {
    let mut args = std::env::args().skip(1);
    let mut next = || args.next().ok_or("journal-writer LOG WHO FIRST COUNT");
    let (log, who) = (next()?, next()?);
    let (first, count): (u64, u64) = (next()?.parse()?, next()?.parse()?);
    let mut journal = journal::Journal::open(log.as_ref())?;
    let mut out = std::io::stdout();
    for n in first..first.saturating_add(count) {
        let head = journal.append(invented::moment(n), &who, &invented::reading(n))?;
        // One write for the whole line: what the reader sees of it is all or nothing.
        out.write_all(format!("{} {n}\n", head.seq).as_bytes())?;
    }
    Ok(())
}
