//! The reading thread's end of the channel to the listener.

use bench::{Came, PortEvent};
use std::sync::mpsc::{SyncSender, TrySendError};

/// The listener was dropped, or asks to stop.
pub(super) struct Done;

/// Passes events on, and signals each once it can be collected.
pub(super) struct Outlet {
    events: SyncSender<PortEvent>,
    told: Box<dyn FnMut(&PortEvent) + Send>,
    missed: u64,
}

impl Outlet {
    pub fn new(events: SyncSender<PortEvent>, told: impl FnMut(&PortEvent) + Send + 'static) -> Self {
        Self { events, told: Box::new(told), missed: 0 }
    }

    /// Passes a value on, or counts it as dropped if there is no room: an old value must never be taken for the
    /// present one.
    pub fn offer(&mut self, event: PortEvent) -> Result<(), Done> {
        if self.missed > 0 {
            let missed = PortEvent { at_ms: event.at_ms, what: Came::Missed(self.missed) };
            if !self.try_send(missed)? {
                self.missed += 1;
                return Ok(());
            }
            self.missed = 0;
        }
        if !self.try_send(event)? {
            self.missed += 1;
        }
        Ok(())
    }

    /// Passes on what must not be lost, waiting for room.
    pub fn tell(&mut self, event: PortEvent) -> Result<(), Done> {
        self.events.send(event.clone()).map_err(|_| Done)?;
        (self.told)(&event);
        Ok(())
    }

    /// False if there is no room.
    fn try_send(&mut self, event: PortEvent) -> Result<bool, Done> {
        match self.events.try_send(event.clone()) {
            Ok(()) => {
                (self.told)(&event);
                Ok(true)
            }
            Err(TrySendError::Full(_)) => Ok(false),
            Err(TrySendError::Disconnected(_)) => Err(Done),
        }
    }
}
