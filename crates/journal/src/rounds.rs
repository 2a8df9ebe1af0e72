//! The highest round of a log, from its end.
//!
//! Every entry says the highest round of the readings up to it, so the last entry is all that must be read. What it says is
//! inside its hash, and whoever walks the chain finds an entry that says something else than the readings do.

use crate::body::take_tail;
use record::skim::skim;
use rusqlite::Connection;

/// From the newest entry backward to the first that says it.
pub fn highest(conn: &Connection) -> rusqlite::Result<u32> {
    let mut query = conn.prepare_cached("SELECT kind, body FROM entry ORDER BY seq DESC")?;
    let mut rows = query.query([])?;
    let mut highest = 0;
    while let Some(row) = rows.next()? {
        let (kind, body) = (row.get_ref(0)?.as_bytes(), row.get_ref(1)?.as_bytes());
        let (Ok(kind), Ok(Ok(body))) = (kind, body.map(str::from_utf8)) else { continue };
        let Some((content, tail)) = take_tail(body) else { continue };
        if let Some(said) = tail.highest_round {
            return Ok(highest.max(said));
        }
        if kind == b"reading" {
            let round = skim(content).map(|says| says.round).or_else(|| round_of(content));
            highest = highest.max(round.unwrap_or(0));
        }
    }
    Ok(highest)
}

/// The round of a reading that is not written as this program writes it.
fn round_of(content: &str) -> Option<u32> {
    let (what, _) = crate::body::decode("reading", &format!("{content}}}")).ok()?;
    match what {
        record::What::Reading(reading) => Some(reading.round),
        _ => None,
    }
}
