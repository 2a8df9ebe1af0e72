//! Listening to an instrument on a port.

use super::outlet::Outlet;
use super::reader::{GONE, Reader, Shared};
use super::{PortFault, PortSettings, settings};
use crate::SessionError;
use bench::PortEvent;
use instrument::{DialectSpec, Request};
use std::cell::Cell;
use std::sync::atomic::Ordering;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel, sync_channel};
use std::thread::JoinHandle;
use std::time::Duration;

/// Events kept until they are collected: more than a minute of an instrument at 100 Hz.
const KEPT: usize = 8192;

/// Listens to an instrument on a port: one thread reads, and the owner collects the events from time to time.
///
/// A port that vanishes is reported immediately ([`bench::Came::Lost`]), looked for four times a second and reopened
/// when it is back ([`bench::Came::Found`]). Dropping the listener closes the port.
#[derive(Debug)]
pub struct Listener {
    path: String,
    shared: Shared,
    /// The time up to which every event was returned.
    seen_ms: Cell<u64>,
    events: Option<Receiver<PortEvent>>,
    requests: Sender<Request>,
    thread: Option<JoinHandle<()>>,
}

impl Listener {
    /// Opens the port and begins to listen. Any path may be given, listed or not.
    ///
    /// # Errors
    /// If the port cannot be opened now.
    pub fn open(path: &str, settings: PortSettings, dialect: DialectSpec) -> Result<Self, SessionError> {
        Self::open_telling(path, settings, dialect, |_| {})
    }

    /// The same, with a call for each event on the reading thread once it can be collected.
    ///
    /// # Errors
    /// If the port cannot be opened now.
    pub fn open_telling(
        path: &str,
        settings: PortSettings,
        dialect: DialectSpec,
        told: impl FnMut(&PortEvent) + Send + 'static,
    ) -> Result<Self, SessionError> {
        let port = settings::open(&settings, path).map_err(|why| SessionError::port(path, why))?;
        let (to_us, events) = sync_channel(KEPT);
        let (requests, asked) = channel();
        let shared = Shared::begin();
        let reader = Reader::new(path, settings, &dialect, Outlet::new(to_us, told), asked, shared.clone());
        let thread = std::thread::Builder::new()
            .name("port".to_owned())
            .spawn(move || reader.run(port))
            .map_err(|why| SessionError::Port { port: path.to_owned(), why: PortFault::NoThread(why) })?;
        Ok(Self {
            path: path.to_owned(),
            shared,
            seen_ms: Cell::new(0),
            events: Some(events),
            requests,
            thread: Some(thread),
        })
    }

    pub fn path(&self) -> &str {
        &self.path
    }

    /// The present of the returned events, in milliseconds since the listener began, on the clock of the events.
    ///
    /// It is the time up to which the port was heard and every event was returned, so it advances only with
    /// [`Listener::poll`] and [`Listener::wait`]: what a busy computer has not collected yet is not silence. While
    /// the port is gone, it is the real time.
    pub fn now_ms(&self) -> u64 {
        self.seen_ms.get()
    }

    /// The events since the last call, oldest first.
    pub fn poll(&self) -> Vec<PortEvent> {
        self.seen(Vec::new())
    }

    /// The same, waiting at most this long for the first event.
    pub fn wait(&self, at_most: Duration) -> Vec<PortEvent> {
        let Some(events) = &self.events else { return Vec::new() };
        match events.recv_timeout(at_most) {
            Ok(first) => self.seen(vec![first]),
            Err(RecvTimeoutError::Timeout) => self.seen(Vec::new()),
            // The thread is gone; do not spin.
            Err(RecvTimeoutError::Disconnected) => {
                std::thread::sleep(at_most);
                self.seen(Vec::new())
            }
        }
    }

    /// These and all other available events. The time up to which the port was heard is read before the events, so
    /// that none before it is missing.
    fn seen(&self, mut came: Vec<PortEvent>) -> Vec<PortEvent> {
        let gone = self.thread.as_ref().is_none_or(JoinHandle::is_finished);
        let heard_ms = match self.shared.heard_ms.load(Ordering::Acquire) {
            _ if gone => self.shared.now_ms(),
            GONE => self.shared.now_ms(),
            heard_ms => heard_ms,
        };
        came.extend(self.events.iter().flat_map(Receiver::try_iter));
        let newest_ms = came.last().map_or(0, |event| event.at_ms);
        self.seen_ms.set(self.seen_ms.get().max(heard_ms).max(newest_ms));
        came
    }

    /// Asks a board something; what becomes of it comes as a [`bench::Came::Notice`], or not at all ([`bench::NO_ANSWER_MS`]). Only the
    /// project's own lines have a way to ask; with other dialects nothing is sent. While the port is gone, it waits.
    pub fn ask(&self, request: Request) {
        // Without a thread there is nothing to ask.
        let _ = self.requests.send(request);
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        self.shared.stop.store(true, Ordering::Relaxed);
        // Drop the channel first: the thread may be waiting for room in it.
        self.events = None;
        if let Some(thread) = self.thread.take() {
            // A failed thread has nothing more to say.
            let _ = thread.join();
        }
    }
}

#[cfg(all(test, unix))]
mod tests;
