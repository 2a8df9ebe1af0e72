//! Opening a port in the background, since it may take a while (a radio link, a loose cable).

use super::{Listener, PortFault};
use crate::SessionError;
use crate::gauges::Connected;
use bench::PortEvent;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// A port being opened on a thread of its own. If this is dropped, the port is closed as soon as it is open.
#[derive(Debug)]
pub struct Opening {
    path: String,
    device: Connected,
    done: Receiver<Result<Listener, SessionError>>,
}

impl Opening {
    /// Begins; `told` gets each event from the port from then on, and `over` is called once it is open or has failed.
    pub fn begin(
        path: &str,
        device: Connected,
        told: impl FnMut(&PortEvent) + Send + 'static,
        over: impl FnOnce() + Send + 'static,
    ) -> Self {
        let (tell, done) = channel();
        let (settings, dialect, to) = (device.settings, device.dialect, path.to_owned());
        // Detached: closing a face does not wait for a port.
        let _ = std::thread::Builder::new().name("opening".to_owned()).spawn(move || {
            // If nobody waits for it any more, the port is closed with the answer.
            let _ = tell.send(Listener::open_telling(&to, settings, dialect, told));
            over();
        });
        Self { path: path.to_owned(), device, done }
    }

    pub fn path(&self) -> &str {
        &self.path
    }

    pub const fn device(&self) -> &Connected {
        &self.device
    }

    /// Collects the opened port, or the reason it cannot be opened, once known.
    pub fn opened(&self) -> Option<Result<Listener, SessionError>> {
        match self.done.try_recv() {
            Ok(opened) => Some(opened),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                Some(Err(SessionError::Port { port: self.path.clone(), why: PortFault::OpeningEnded }))
            }
        }
    }
}
