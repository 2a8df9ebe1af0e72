//! Ctrl-C, and being told to end, while something goes on.

use crate::SessionError;
use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// What a shell reports of a program that Ctrl-C ended.
const ENDED_BY_CTRL_C: i32 = 130;

/// Whether the person asked to leave with Ctrl-C, closed the terminal, or the system ends the program. Asked once, there is time to write
/// what is under way; asked again, the program ends at once.
#[derive(Clone, Debug)]
pub struct Leave(Arc<AtomicBool>);

impl Leave {
    /// From now on these signals set a flag instead of ending the program.
    ///
    /// # Errors
    /// When the system does not allow that.
    pub fn begin() -> Result<Self, SessionError> {
        let asked = Arc::new(AtomicBool::new(false));
        let signals = [
            SIGINT,
            SIGTERM,
            #[cfg(unix)]
            signal_hook::consts::SIGHUP,
        ];
        for signal in signals {
            // In this order: the first time it only finds the flag not yet set.
            flag::register_conditional_shutdown(signal, ENDED_BY_CTRL_C, Arc::clone(&asked))
                .and_then(|_| flag::register(signal, Arc::clone(&asked)))
                .map_err(SessionError::Signals)?;
        }
        Ok(Self(asked))
    }

    pub fn asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
