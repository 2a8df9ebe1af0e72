//! Power cuts, played back from a record of file changes: which bytes and names a disk may hold when the power fails.
//!
//! Only what DISK.md says is assumed: what was flushed is there; a sector of 512 bytes holds its old bytes, its new
//! ones or a part of the new ones; and of everything else any part may be there or not, in any order: each sector
//! written, each length, each name made, moved or removed. Flushing a file says nothing about its name; flushing its
//! folder does.

mod disk;
mod record;

pub use disk::Disk;
pub use record::{Change, read};

use crate::seeded::Draws;

/// What a written file holds, by its number; long enough to have many sectors.
#[must_use]
pub fn content(n: u64) -> Vec<u8> {
    let mut draws = Draws::new(n + 100);
    (0..9000).map(|_| draws.bits().to_le_bytes()[0]).collect()
}
