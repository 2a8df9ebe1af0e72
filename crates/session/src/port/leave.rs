//! Handles Ctrl-C and termination while something is in progress.

use crate::SessionError;
use crate::refusal::Refusal;
use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// The exit code that a shell reports for a program ended by Ctrl-C.
const ENDED_BY_CTRL_C: i32 = 130;

/// Whether the person pressed Ctrl-C, closed the terminal, or the system is ending the program. The first time, there
/// is time to finish writing; the second time, the program ends immediately.
#[derive(Clone, Debug)]
pub struct Leave(Arc<AtomicBool>);

impl Leave {
    /// From now on these signals set a flag instead of ending the program.
    ///
    /// # Errors
    /// If the system does not allow that.
    pub fn begin() -> Result<Self, SessionError> {
        let asked = Arc::new(AtomicBool::new(false));
        let signals = [
            SIGINT,
            SIGTERM,
            #[cfg(unix)]
            signal_hook::consts::SIGHUP,
        ];
        for signal in signals {
            // In this order: the first time, it finds the flag not yet set.
            flag::register_conditional_shutdown(signal, ENDED_BY_CTRL_C, Arc::clone(&asked))
                .and_then(|_| flag::register(signal, Arc::clone(&asked)))
                .map_err(Refusal::Signals)?;
        }
        Ok(Self(asked))
    }

    pub fn asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
