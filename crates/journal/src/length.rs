//! Whether the file is as long as its pages.
//!
//! Within a transaction nobody brings newer pages into the file, and every page that was brought in belongs to the state
//! that is read. So bytes after the last page are not SQLite's. A file can be shorter only while the missing pages are
//! in the part beside it.

use crate::error::JournalError;
use crate::file;
use crate::schema::{Alteration, Change, How};
use rusqlite::Connection;
use std::fs;
use std::path::Path;

/// What is wrong with the length of the file, inside the caller's transaction, which has read something already.
pub fn alteration(conn: &Connection, real: &Path) -> Result<Option<Alteration>, JournalError> {
    let number = |pragma| {
        conn.prepare_cached(pragma)
            .and_then(|mut query| query.query_row([], |row| row.get::<_, i64>(0)))
            .map(i64::cast_unsigned)
            .map_err(|e| JournalError::sqlite(real, e))
    };
    let pages = number("PRAGMA page_count")?.saturating_mul(number("PRAGMA page_size")?);
    let found = fs::metadata(real).map_err(|e| JournalError::io(real, e))?.len();
    let how = match found.checked_sub(pages) {
        Some(0) => return Ok(None),
        Some(more) => How::Longer(more),
        None if file::is_there(real, "-wal") => return Ok(None),
        None => How::Shorter(pages - found),
    };
    let name = real.file_name().unwrap_or_default().to_string_lossy().into_owned();
    Ok(Some(Alteration { changes: vec![Change { name, how }] }))
}
