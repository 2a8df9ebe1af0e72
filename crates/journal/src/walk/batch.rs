//! Rows as found, copied out of the file.

use crate::error::Break;
use crate::hash::Head;
use crate::row::RawRow;
use rusqlite::Rows;

/// A batch ends at this number of rows, or of bytes.
const ROWS: usize = 512;
const BYTES: usize = 1 << 20;

/// Rows, one after the other.
#[derive(Debug, Default)]
pub struct Batch {
    bytes: Vec<u8>,
    rows: Vec<Result<Place, Break>>,
    last: u64,
    followed: Option<Followed>,
}

/// How many rows from the start are known to follow from a head.
#[derive(Clone, Copy, Debug)]
struct Followed {
    from: Head,
    rows: usize,
}

/// The position of a row in the bytes.
#[derive(Clone, Copy, Debug)]
struct Place {
    seq: u64,
    at_millis: i64,
    start: usize,
    by: usize,
    kind: usize,
    body: usize,
    hash: usize,
}

impl Batch {
    /// Forgets the rows and keeps the memory.
    pub fn clear(&mut self) {
        self.bytes.clear();
        self.rows.clear();
        self.followed = None;
    }

    /// The head after the last row, as stored.
    pub fn end(&self) -> Option<Head> {
        self.rows().last()?.ok()?.head()
    }

    /// Counts the rows that follow from a head, which is the most expensive part of checking them.
    pub fn follow(&mut self, from: Head) {
        let mut head = from;
        let follows = |row: Result<RawRow<'_>, Break>| {
            head = row.ok()?.follow(&head).ok()?;
            Some(())
        };
        let rows = self.rows().map_while(follows).count();
        self.followed = Some(Followed { from, rows });
    }

    /// How many rows are known to follow from a head.
    pub fn known(&self, from: &Head) -> usize {
        self.followed.filter(|followed| followed.from == *from).map_or(0, |followed| followed.rows)
    }

    /// Takes rows until it is full; false if there are no more.
    pub fn fill(&mut self, rows: &mut Rows<'_>) -> rusqlite::Result<bool> {
        while self.rows.len() < ROWS && self.bytes.len() < BYTES {
            let Some(row) = rows.next()? else { return Ok(false) };
            let raw = RawRow::read(row, self.last + 1);
            let place = raw.map(|raw| self.copy(&raw));
            self.last = place.as_ref().map_or(self.last + 1, |place| place.seq);
            self.rows.push(place);
        }
        Ok(true)
    }

    fn copy(&mut self, raw: &RawRow<'_>) -> Place {
        let start = self.bytes.len();
        let parts = [raw.by, raw.kind, raw.body, raw.hash];
        parts.iter().for_each(|part| self.bytes.extend_from_slice(part));
        let [by, kind, body, hash] = parts.map(<[u8]>::len);
        Place { seq: raw.seq, at_millis: raw.at_millis, start, by, kind, body, hash }
    }

    pub fn rows(&self) -> impl Iterator<Item = Result<RawRow<'_>, Break>> {
        self.rows.iter().map(|place| {
            let place = place.as_ref().map_err(Clone::clone)?;
            let mut rest = self.bytes.get(place.start..).unwrap_or_default();
            let mut part = |length: usize| {
                let (part, after) = rest.split_at_checked(length).unwrap_or_default();
                rest = after;
                part
            };
            Ok(RawRow {
                seq: place.seq,
                at_millis: place.at_millis,
                by: part(place.by),
                kind: part(place.kind),
                body: part(place.body),
                hash: part(place.hash),
            })
        })
    }
}
