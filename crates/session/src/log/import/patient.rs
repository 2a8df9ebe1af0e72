//! A table's file, with a limit on the length of a line.

use memchr::memchr_iter;
use std::collections::VecDeque;
use std::io::{self, Read};

/// The longest line of a table, in bytes (slightly more may pass, by the amount read at a time).
pub(super) const MOST_LINE_BYTES: u64 = 1 << 20;

/// Returns at most this much of a file between two line ends, then refuses: otherwise a quote that is never closed
/// would be read into memory to the end of the file.
pub(super) struct Patient {
    from: Box<dyn Read>,
    left: u64,
    read: u64,
    /// Positions of the line ends read but not yet passed.
    ends: VecDeque<u64>,
    passed: u64,
}

impl Patient {
    pub(super) fn new(from: Box<dyn Read>) -> Self {
        Self { from, left: MOST_LINE_BYTES, read: 0, ends: VecDeque::new(), passed: 0 }
    }

    pub(super) const fn begin(&mut self) {
        self.left = MOST_LINE_BYTES;
    }

    /// The number, from 1, of the line with the byte at `offset`; offsets must be asked for in rising order. The CSV
    /// reader counts neither blank lines nor both characters of a CR LF line end.
    pub(super) fn line_of(&mut self, offset: u64) -> u64 {
        while self.ends.front().is_some_and(|end| *end < offset) {
            self.ends.pop_front();
            self.passed += 1;
        }
        self.passed + 1
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
        let got = self.from.read(&mut buffer[..most])?;
        self.ends.extend(memchr_iter(b'\n', &buffer[..got]).map(|at| self.read + at as u64));
        self.left -= got as u64;
        self.read += got as u64;
        Ok(got)
    }
}
