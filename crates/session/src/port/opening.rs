//! A port that is being opened, which may take a while: a radio link, a cable that is half in.

use super::{Listener, PortFault};
use crate::SessionError;
use crate::gauges::Connected;
use bench::PortEvent;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// A port that is opened on a thread of its own. Dropped, the port is closed as soon as it is open.
#[derive(Debug)]
pub struct Opening {
    path: String,
    device: Connected,
    done: Receiver<Result<Listener, SessionError>>,
}

impl Opening {
    /// Begins; `told` hears what comes over the port from then on, and `over` is called once it is open or cannot be.
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
            // Nobody may wait for it any more; the port is closed with the answer.
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

    /// The open port or why it cannot be opened, once that is known.
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
