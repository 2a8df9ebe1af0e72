//! Whether an entry has a place in the chain, beyond its hash.

use crate::body;
use crate::error::{Break, Target, Why};
use record::{What, Withdrawable};
use rusqlite::{Connection, OptionalExtension};

/// What is wrong with `what` as entry `seq`: a second start, or a withdrawal of something that is missing or
/// permanent.
pub fn fault(conn: &Connection, seq: u64, what: &What) -> rusqlite::Result<Option<Break>> {
    let why = match what {
        What::Started { .. } if seq > 1 => Some(Why::SecondStart),
        What::Withdrawn { seq: target, .. } => {
            target_fault(conn, seq, *target)?.map(|t| Why::Withdraws(*target, t))
        }
        _ => None,
    };
    Ok(why.map(|why| Break { seq, why }))
}

fn target_fault(conn: &Connection, seq: u64, target: u64) -> rusqlite::Result<Option<Target>> {
    if target == 0 || target >= seq {
        return Ok(Some(Target::NotEarlier));
    }
    let mut query = conn.prepare_cached("SELECT kind, body FROM entry WHERE seq = ?1")?;
    let target = query
        .query_row([target.cast_signed()], |row| Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?)));
    let Some((kind, body)) = target.optional()? else { return Ok(Some(Target::NotEarlier)) };
    // An entry that cannot be read is a break of its own.
    let lasting = body::decode(&kind, &body)
        .is_ok_and(|decoded| matches!(decoded.what.withdrawable(), Withdrawable::Never(_)));
    Ok(lasting.then_some(Target::Lasting))
}
