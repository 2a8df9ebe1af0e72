//! The tone when something is recorded.

use std::io::{Write, stdout};

/// The bell of a terminal.
const BELL: &[u8] = b"\x07";

/// Plays tones: the bell of the terminal in which the window was started. Without a device there is no tone.
pub struct Sound {
    out: Box<dyn Write>,
}

impl Default for Sound {
    fn default() -> Self {
        Self { out: Box::new(stdout()) }
    }
}

impl Sound {
    #[cfg(test)]
    pub fn to(out: impl Write + 'static) -> Self {
        Self { out: Box::new(out) }
    }

    /// Sounds once. If the output is closed there is no tone: no reading is lost over it.
    pub fn tone(&mut self) {
        let _ = self.out.write_all(BELL).and_then(|()| self.out.flush());
    }
}
