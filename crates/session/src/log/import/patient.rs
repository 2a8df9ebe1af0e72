//! A table's file, with an end to how long one line may be.

use std::fs::File;
use std::io::{self, Read};

/// The longest line of a table, in bytes (a little more may pass, as much as is read at a time).
pub(super) const MOST_LINE_BYTES: u64 = 1 << 20;

/// Hands out so much of a file between two lines, and then refuses: a quote that is never closed would otherwise be read
/// into memory to the end of the file.
#[derive(Debug)]
pub(super) struct Patient {
    file: File,
    left: u64,
}

impl Patient {
    pub(super) const fn new(file: File) -> Self {
        Self { file, left: MOST_LINE_BYTES }
    }

    /// A line begins.
    pub(super) const fn begin(&mut self) {
        self.left = MOST_LINE_BYTES;
    }
}

impl Read for Patient {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.left == 0 {
            return Err(io::Error::other(
                "this line has no end within 1 MB; look for a quote that is never closed",
            ));
        }
        let most = buffer.len().min(usize::try_from(self.left).unwrap_or(usize::MAX));
        let got = self.file.read(&mut buffer[..most])?;
        self.left -= got as u64;
        Ok(got)
    }
}
