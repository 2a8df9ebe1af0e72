//! The tone at "taken".

use std::io::{Write, stdout};

/// The bell of a terminal.
const BELL: &[u8] = b"\x07";

/// Where tones go: the bell of the terminal the window was started in. Nothing is promised without a device.
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

    /// Sounds once. An output that is closed is silent: no reading is lost over it.
    pub fn tone(&mut self) {
        let _ = self.out.write_all(BELL).and_then(|()| self.out.flush());
    }
}
