//! Turns received bytes into messages: finds where lines begin and end, whatever comes between.

use crate::{Damage, Held, MAX_LINE, Message, decode, straight};

/// Collects bytes and returns the messages of whole lines. Holds `N` bytes, twice [`MAX_LINE`] or more.
///
/// ```
/// use jigtrue_protocol::{Damage, Message, Receiver};
///
/// let mut receiver: Receiver = Receiver::new();
/// receiver.received(b"~1,sam~1,sample,7,1250,angle,-25e-2,deg,-*4F16\r\n");
/// assert_eq!(receiver.next(), Some(Err(Damage::Cut)));
/// let Some(Ok(Message::Sample(sample))) = receiver.next() else { panic!("a sample") };
/// assert_eq!((sample.value.mantissa, sample.value.exponent), (-25, -2));
/// assert_eq!(receiver.next(), None);
/// ```
#[derive(Clone, Debug)]
pub struct Receiver<const N: usize = 1024> {
    held: Held<N>,
    /// Inside something without an end that has been reported already.
    astray: bool,
}

/// What stands at the front of the buffer.
enum Front {
    /// A line of this length with its end; the check's last digit is before `of`.
    Line { of: usize, with_end: usize },
    /// Something to drop and report.
    Bad { bytes: usize, damage: Damage },
}

impl<const N: usize> Receiver<N> {
    const HOLDS_TWO_LINES: () = assert!(N >= 2 * MAX_LINE, "a receiver must hold two lines");

    /// One that has received nothing yet.
    #[must_use]
    pub const fn new() -> Self {
        let () = Self::HOLDS_TWO_LINES;
        Self { held: Held::new(), astray: false }
    }

    /// Appends bytes; returns how many there was room for. After [`next`](Self::next) has returned `None`, there is
    /// always room for `N` - [`MAX_LINE`].
    pub fn received(&mut self, bytes: &[u8]) -> usize {
        self.held.received(bytes)
    }

    /// Forgets all that came in and was not returned, as when a port is opened again.
    pub const fn forget(&mut self) {
        self.held.clear();
        self.astray = false;
    }

    /// The next message, or what was wrong with bytes that are now gone; `None` if what came in is not yet a whole
    /// line.
    #[expect(clippy::should_implement_trait, reason = "what it gives borrows from the receiver")]
    pub fn next(&mut self) -> Option<Result<Message<'_>, Damage>> {
        if let Some((sample, taken)) = straight::sample(self.held.bytes()) {
            self.held.pass(taken);
            self.astray = false;
            return Some(Ok(Message::Sample(sample)));
        }
        let (line, taken) = match self.front()? {
            Front::Line { of, with_end } => (Ok(of), with_end),
            Front::Bad { bytes, damage } => (Err(damage), bytes),
        };
        let from = self.held.pass(taken).start;
        Some(match line {
            Ok(length) => decode(self.held.passed(from..from + length)),
            Err(damage) => Err(damage),
        })
    }

    #[inline]
    fn front(&mut self) -> Option<Front> {
        loop {
            let held = self.held.bytes();
            let (&first, rest) = held.split_first()?;
            if first == b'~' {
                self.astray = false;
                let within = rest.get(..MAX_LINE - 1).unwrap_or(rest);
                return match within.iter().position(|&byte| byte == b'\n' || byte == b'~') {
                    Some(at) if within.get(at) == Some(&b'~') => {
                        Some(Front::Bad { bytes: at + 1, damage: Damage::Cut })
                    }
                    Some(at) => {
                        let ended_by_two = at > 0 && within.get(at - 1) == Some(&b'\r');
                        Some(Front::Line { of: at + 1 - usize::from(ended_by_two), with_end: at + 2 })
                    }
                    None if within.len() < MAX_LINE - 1 => None,
                    None => {
                        self.astray = true;
                        Some(Front::Bad { bytes: MAX_LINE, damage: Damage::TooLong })
                    }
                };
            }
            let until = held.iter().position(|&byte| byte == b'~').unwrap_or(held.len());
            let skipped = held.get(..until).unwrap_or_default();
            let noise = skipped.iter().filter(|byte| !matches!(byte, b'\r' | b'\n')).count();
            if noise > 0 && !self.astray {
                return Some(Front::Bad { bytes: until, damage: Damage::Noise { bytes: noise } });
            }
            self.held.pass(until);
        }
    }
}

impl<const N: usize> Default for Receiver<N> {
    fn default() -> Self {
        Self::new()
    }
}
