//! Lines typed while something else is in progress.

use crate::SessionError;
use std::cell::Cell;
use std::io::BufRead;
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};
use std::time::Instant;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TypedLine {
    /// Without surrounding blanks.
    pub text: String,
    /// Whether it can be an answer.
    pub typed: Typed,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Typed {
    /// Before the last question was on the screen: it answers something else.
    BeforeAsked,
    /// With the last question on the screen, or before any question.
    Seeing,
}

/// Reads typed lines on a thread of its own, which lasts until the input ends.
#[derive(Debug)]
pub struct TypedLines {
    lines: Receiver<(Instant, String)>,
    ended: Cell<bool>,
    asked: Cell<Option<Instant>>,
}

impl TypedLines {
    /// Begins to read standard input.
    ///
    /// # Errors
    /// If no thread can be started.
    pub fn begin() -> Result<Self, SessionError> {
        let (to_us, lines) = sync_channel(64);
        std::thread::Builder::new()
            .name("typed".to_owned())
            .spawn(move || {
                let mut input = std::io::stdin().lock();
                let mut bytes = Vec::new();
                while input.read_until(b'\n', &mut bytes).is_ok_and(|count| count > 0) {
                    let line = String::from_utf8_lossy(&bytes).trim().to_owned();
                    bytes.clear();
                    if to_us.send((Instant::now(), line)).is_err() {
                        return;
                    }
                }
            })
            .map_err(SessionError::Input)?;
        Ok(Self { lines, ended: Cell::new(false), asked: Cell::new(None) })
    }

    /// A question is on the screen from now on.
    pub fn asked(&self) {
        self.asked.set(Some(Instant::now()));
    }

    pub fn next(&self) -> Option<TypedLine> {
        match self.lines.try_recv() {
            Ok((at, text)) => {
                let before = self.asked.get().is_some_and(|asked| at < asked);
                Some(TypedLine { text, typed: if before { Typed::BeforeAsked } else { Typed::Seeing } })
            }
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                self.ended.set(true);
                None
            }
        }
    }

    /// Whether the input has ended and every line was returned.
    pub const fn ended(&self) -> bool {
        self.ended.get()
    }
}
