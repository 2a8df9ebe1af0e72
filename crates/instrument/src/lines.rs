//! Splits a stream of bytes into whole lines, for dialects whose lines have no start mark.

use crate::Fault;
use core::ops::Range;
use jigtrue_protocol::Held;

/// The longest line of a text dialect, without its end.
pub const MAX_LINE: usize = 160;

const HELD: usize = 1024;

/// The marks around each line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Marks {
    /// The byte that each line begins with, such as STX (2); anything before it is skipped.
    pub begins: Option<u8>,
    /// The byte that each line ends with, such as `;` or ETX (3), if it is not carriage return, line feed or both.
    pub ends: Option<u8>,
}

impl Marks {
    /// Lines without a start mark, ended by carriage return, line feed or both.
    pub const LINES: Self = Self { begins: None, ends: None };
}

/// Collects bytes and returns whole lines, by default ended by carriage return, line feed or both.
///
/// Without a start mark, the first line is not returned, because it may have begun earlier: `2.5` may be the end of
/// `-12.5`. [`Lines::silence`] tells it that nothing came for a while, so that the next byte starts a line.
#[derive(Clone, Debug)]
pub(crate) struct Lines {
    held: Held<HELD>,
    place: Place,
    marks: Marks,
}

/// Where in a line the first held byte is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Place {
    /// Anywhere.
    Unknown,
    Beginning,
    /// Inside a line that was too long and has been reported.
    Inside,
}

impl Lines {
    pub(crate) const fn new(marks: Marks) -> Self {
        Self { held: Held::new(), place: Place::Unknown, marks }
    }

    /// Takes bytes in; returns how many fitted.
    pub(crate) fn received(&mut self, bytes: &[u8]) -> usize {
        self.held.received(bytes)
    }

    /// Drops the held bytes and the position in the line.
    pub(crate) const fn forget(&mut self) {
        self.held.clear();
        self.place = Place::Unknown;
    }

    /// Nothing came for a while: if nothing is held, the next byte starts a line. A held line without its end is
    /// dropped, and its rest, if it still comes, is not taken for a line.
    pub(crate) const fn silence(&mut self) {
        self.place = if self.held.is_empty() { Place::Beginning } else { Place::Unknown };
        self.held.clear();
    }

    /// The position of the next whole line, to be read with [`Lines::get`]; empty lines are skipped.
    #[inline]
    pub(crate) fn next(&mut self) -> Option<Result<Range<usize>, Fault>> {
        loop {
            let held = self.held.bytes();
            let found = match self.marks.ends {
                Some(end) => memchr::memchr(end, held),
                None => memchr::memchr2(b'\n', b'\r', held),
            };
            let Some(length) = found else {
                if held.len() <= MAX_LINE {
                    return None;
                }
                self.held.clear();
                if self.place != Place::Beginning {
                    continue;
                }
                self.place = Place::Inside;
                return Some(Err(Fault::TooLong));
            };
            let both = held.get(length..length + 2) == Some(b"\r\n");
            let passed = self.held.pass(length + if both { 2 } else { 1 });
            let line = passed.start..passed.start + length;
            if self.marks != Marks::LINES {
                match self.marked(line) {
                    Some(next) => return Some(next),
                    None => continue,
                }
            }
            match core::mem::replace(&mut self.place, Place::Beginning) {
                Place::Beginning if length > MAX_LINE => return Some(Err(Fault::TooLong)),
                Place::Beginning if length > 0 => return Some(Ok(line)),
                Place::Unknown if length > 0 => return Some(Err(Fault::Start)),
                Place::Beginning | Place::Unknown | Place::Inside => {}
            }
        }
    }

    /// A line with its own marks, found at its end; `None` if it is empty.
    fn marked(&mut self, line: Range<usize>) -> Option<Result<Range<usize>, Fault>> {
        let place = core::mem::replace(&mut self.place, Place::Beginning);
        let held = self.held.passed(line.clone());
        let from = match self.marks.begins {
            // If there are two starts, the later one: the first line was cut.
            Some(begin) => match memchr::memrchr(begin, held) {
                Some(at) => at + 1,
                None => {
                    let ends = held.iter().take_while(|byte| matches!(byte, b'\r' | b'\n')).count();
                    let bytes = held.len() - ends;
                    return (bytes > 0 && place == Place::Beginning).then_some(Err(Fault::Noise { bytes }));
                }
            },
            // A line break after the end mark belongs to neither line.
            None => held.iter().take_while(|byte| matches!(byte, b'\r' | b'\n')).count(),
        };
        let line = line.start + from..line.end;
        match place {
            _ if line.is_empty() => None,
            Place::Unknown if self.marks.begins.is_none() => Some(Err(Fault::Start)),
            Place::Inside => None,
            Place::Unknown | Place::Beginning if line.len() > MAX_LINE => Some(Err(Fault::TooLong)),
            Place::Unknown | Place::Beginning => Some(Ok(line)),
        }
    }

    /// All held bytes from this position on.
    #[inline]
    pub(crate) fn from(&self, start: usize) -> &[u8] {
        self.held.all_from(start)
    }

    /// The bytes of a line that [`Lines::next`] has just returned.
    #[inline]
    pub(crate) fn get(&self, line: Range<usize>) -> &[u8] {
        self.held.passed(line)
    }
}
