//! One row as SQLite returns it, and whether it follows the one before.

use crate::body::{self, Decoded, Tail};
use crate::error::{Break, Unreadable, Why};
use crate::hash::{Hash, Head};
use record::{At, Entry};
use rusqlite::Row;
use rusqlite::types::ValueRef;

/// The columns a [`RawRow`] is read from, in order.
pub const COLUMNS: &str = r#"seq, at, "by", kind, body, hash"#;

/// A row with its types checked and nothing else.
pub struct RawRow<'a> {
    pub seq: u64,
    pub at_millis: i64,
    pub by: &'a [u8],
    pub kind: &'a [u8],
    pub body: &'a [u8],
    pub hash: &'a [u8],
}

impl<'a> RawRow<'a> {
    /// Reads the columns; `expected` names the entry if its own number cannot be read.
    pub fn read(row: &'a Row<'_>, expected: u64) -> Result<Self, Break> {
        let seq = match row.get_ref(0) {
            Ok(ValueRef::Integer(seq)) => u64::try_from(seq).unwrap_or(0),
            _ => return Err(unreadable(expected, Unreadable::Number)),
        };
        let text = |column, name| match row.get_ref(column) {
            Ok(ValueRef::Text(bytes)) => Ok(bytes),
            _ => Err(unreadable(seq, Unreadable::Text(name))),
        };
        Ok(Self {
            seq,
            at_millis: match row.get_ref(1) {
                Ok(ValueRef::Integer(at)) => at,
                _ => return Err(unreadable(seq, Unreadable::Time)),
            },
            by: text(2, "by")?,
            kind: text(3, "kind")?,
            body: text(4, "body")?,
            hash: match row.get_ref(5) {
                Ok(ValueRef::Blob(bytes)) => bytes,
                _ => return Err(unreadable(seq, Unreadable::Hash)),
            },
        })
    }

    /// What the journal wrote at the end of its body.
    pub fn tail(&self) -> Tail {
        let body = str::from_utf8(self.body).ok();
        body.and_then(body::take_tail).map(|parted| parted.tail).unwrap_or_default()
    }

    /// The state of the log after it, as stored.
    pub fn head(&self) -> Option<Head> {
        Some(Head { seq: self.seq, hash: Hash(self.hash.try_into().ok()?) })
    }

    pub const fn at(&self) -> At {
        At::from_millis(self.at_millis)
    }

    /// The bytes of text in it.
    pub const fn bytes(&self) -> usize {
        self.by.len() + self.kind.len() + self.body.len()
    }

    /// The head after this row, if it follows `before`.
    pub fn follow(&self, before: &Head) -> Result<Head, Break> {
        let expected = before.seq + 1;
        if self.seq != expected {
            return Err(Break { seq: expected, why: Why::Missing });
        }
        let hash = before.link(self.at_millis, self.by, self.kind, self.body);
        if self.hash != hash.0 {
            return Err(Break { seq: expected, why: Why::Changed });
        }
        if self.seq == 1 && self.kind != b"started" {
            return Err(Break { seq: 1, why: Why::NotAStart });
        }
        Ok(Head { seq: self.seq, hash })
    }

    /// The entry it holds.
    pub fn entry(&self) -> Result<Entry, Break> {
        let text =
            |bytes, name| str::from_utf8(bytes).map_err(|_| unreadable(self.seq, Unreadable::Text(name)));
        let Decoded { what, offset } = body::decode(text(self.kind, "kind")?, text(self.body, "body")?)
            .map_err(|why| unreadable(self.seq, why))?;
        let by = text(self.by, "by")?.to_owned();
        Ok(Entry { seq: self.seq, at: self.at(), offset, by, what })
    }
}

const fn unreadable(seq: u64, why: Unreadable) -> Break {
    Break { seq, why: Why::Unreadable(why) }
}
