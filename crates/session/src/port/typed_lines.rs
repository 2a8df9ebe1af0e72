//! Lines typed while something else goes on.

use crate::SessionError;
use std::cell::Cell;
use std::io::BufRead;
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};

/// What is typed, line by line, read by a thread of its own. The thread lasts until the input ends.
#[derive(Debug)]
pub struct TypedLines {
    lines: Receiver<String>,
    ended: Cell<bool>,
}

impl TypedLines {
    /// Begins to read standard input.
    ///
    /// # Errors
    /// When no thread can be had.
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
                    if to_us.send(line).is_err() {
                        return;
                    }
                }
            })
            .map_err(SessionError::Input)?;
        Ok(Self { lines, ended: Cell::new(false) })
    }

    /// The next line, if one was typed; without blanks around it.
    #[must_use]
    pub fn next(&self) -> Option<String> {
        match self.lines.try_recv() {
            Ok(line) => Some(line),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                self.ended.set(true);
                None
            }
        }
    }

    /// True once the input has ended and every line was handed out.
    #[must_use]
    pub const fn ended(&self) -> bool {
        self.ended.get()
    }
}
