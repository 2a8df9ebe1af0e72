//! The highest round of a log, from its end.
//!
//! Every entry gives the highest round of the readings up to it, so only the last entry must be read. The number is
//! inside its hash, and whoever checks the chain finds an entry that disagrees with the readings.

use crate::body::{Parted, Tail, take_tail};
use crate::error::{Break, Why};
use record::What;
use record::skim::skim;
use rusqlite::Connection;

/// The highest round of the readings up to an entry, as far as known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Highest(Option<u32>);

impl Highest {
    /// After the entry with that number, before it was examined: known only before the first.
    pub const fn unread(seq: u64) -> Self {
        Self(if seq == 0 { Some(0) } else { None })
    }

    /// As an entry gives it; an entry of an older program gives none.
    pub const fn said(tail: Tail) -> Self {
        Self(tail.highest_round)
    }

    /// The same after entry `seq`, which is a reading of `round` or not a reading. What it says must follow from the
    /// entry before.
    pub fn after(self, seq: u64, round: Option<u32>, tail: Tail) -> Result<Self, Break> {
        let follows = self.0.map(|before| before.max(round.unwrap_or(0)));
        match (tail.highest_round, follows) {
            (Some(said), Some(follows)) if said != follows => Err(wrong(seq, said)),
            (Some(said), None) if round.is_some_and(|round| round > said) => Err(wrong(seq, said)),
            (said, follows) => Ok(Self(follows.or(said))),
        }
    }
}

const fn wrong(seq: u64, said: u32) -> Break {
    Break { seq, why: Why::HighestRound(said) }
}

/// The round of a reading; `None` for anything else.
pub fn round_of(what: &What) -> Option<u32> {
    what.reading().map(|reading| reading.round)
}

/// From the newest entry backward to the first that gives it.
pub fn highest(conn: &Connection) -> rusqlite::Result<u32> {
    let mut query = conn.prepare_cached("SELECT kind, body FROM entry ORDER BY seq DESC")?;
    let mut rows = query.query([])?;
    let mut highest = 0;
    while let Some(row) = rows.next()? {
        let (kind, body) = (row.get_ref(0)?.as_bytes(), row.get_ref(1)?.as_bytes());
        let (Ok(kind), Ok(Ok(body))) = (kind, body.map(str::from_utf8)) else { continue };
        let Some(Parted { content, tail }) = take_tail(body) else { continue };
        if let Some(said) = tail.highest_round {
            return Ok(highest.max(said));
        }
        if kind == b"reading" {
            let round = skim(content).map(|says| says.round).or_else(|| read_round(content));
            highest = highest.max(round.unwrap_or(0));
        }
    }
    Ok(highest)
}

/// The round of a reading that is not written as this program writes it.
fn read_round(content: &str) -> Option<u32> {
    round_of(&crate::body::decode("reading", &format!("{content}}}")).ok()?.what)
}
