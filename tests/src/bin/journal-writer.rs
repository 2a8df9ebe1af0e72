//! Appends invented readings to a log as fast as it can: `journal-writer LOG WHO FIRST COUNT [TOGETHER [long]]`.
//!
//! For each reading, or for each batch, it prints a line once they are on disk: the last entry's number and the last
//! reading's.

use journal::{Journal, JournalError, NewEntry};
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
    let mut next = || args.next().ok_or("journal-writer LOG WHO FIRST COUNT [TOGETHER [long]]");
    let (log, who) = (next()?, next()?);
    let (first, count): (u64, u64) = (next()?.parse()?, next()?.parse()?);
    let together: u64 = next().unwrap_or_else(|_| "1".to_owned()).parse()?;
    let long = next().is_ok_and(|word| word == "long");
    let mut journal = Journal::open(log.as_ref())?;
    let mut out = std::io::stdout();
    let mut n = first;
    while n < first.saturating_add(count) {
        let head = if together == 1 {
            journal.append(invented::moment(n), &who, &invented::reading(n))?
        } else {
            let some =
                (n..n + together).map(|n| Ok(NewEntry::new(invented::moment(n), &who, invented::reading(n))));
            if long {
                journal.append_long::<_, JournalError>(some)?
            } else {
                journal.append_many::<_, JournalError>(some)?
            }
        };
        n += together;
        // One write for the whole line, so that the reader sees all of it or nothing.
        out.write_all(format!("{} {}\n", head.seq, n - 1).as_bytes())?;
    }
    Ok(())
}
