//! The thread that reads a port.

use super::asking::Asking;
use super::outlet::{Done, Outlet};
use super::{PortFault, PortSettings, settings};
use bench::{Came, Gone, PortEvent};
use instrument::{Decoder, DialectSpec, Notice, Request};
use serialport::SerialPort;
use std::io::{self, ErrorKind};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::Receiver;
use std::time::{Duration, Instant};

/// The time between two attempts to open a lost port.
const LOOK_AGAIN: Duration = Duration::from_millis(250);
/// After this many milliseconds without a byte, the next one starts a line.
const SILENCE_MS: u64 = 1000;

/// The value of [`Shared::heard_ms`] while there is no port.
pub(super) const GONE: u64 = u64::MAX;

/// What a listener and its thread share.
#[derive(Clone, Debug)]
pub(super) struct Shared {
    pub began: Instant,
    /// The time up to which the port was heard and every event was passed on; [`GONE`] while there is no port.
    pub heard_ms: Arc<AtomicU64>,
    pub stop: Arc<AtomicBool>,
}

impl Shared {
    pub(super) fn begin() -> Self {
        Self { began: Instant::now(), heard_ms: Arc::default(), stop: Arc::default() }
    }

    /// Milliseconds since the listener began.
    pub(super) fn now_ms(&self) -> u64 {
        millis_since(self.began)
    }
}

pub(super) struct Reader {
    path: String,
    settings: PortSettings,
    decoder: Decoder,
    events: Outlet,
    asking: Asking,
    /// Whether it is the project's own protocol, in which boards can be asked.
    can_ask: bool,
    shared: Shared,
}

impl Reader {
    pub(super) fn new(
        path: &str,
        settings: PortSettings,
        dialect: &DialectSpec,
        events: Outlet,
        requests: Receiver<Request>,
        shared: Shared,
    ) -> Self {
        let first = u16::try_from(crate::now().millis() & 0xffff).unwrap_or_default();
        Self {
            path: path.to_owned(),
            settings,
            decoder: Decoder::new(dialect),
            events,
            asking: Asking::new(requests, first),
            can_ask: matches!(dialect, DialectSpec::Jigtrue),
            shared,
        }
    }

    pub(super) fn run(mut self, port: Box<dyn SerialPort>) {
        // The listener was dropped, and there is nothing else to do.
        let _ = self.until_stopped(port);
    }

    fn until_stopped(&mut self, mut port: Box<dyn SerialPort>) -> Result<(), Done> {
        loop {
            let why = self.read(&mut *port)?;
            drop(port);
            let why = Gone::because(PortFault::Gone(why));
            self.tell(Came::Lost(why))?;
            self.shared.heard_ms.store(GONE, Ordering::Release);
            port = loop {
                self.go_on()?;
                std::thread::sleep(LOOK_AGAIN);
                if let Ok(port) = settings::open(&self.settings, &self.path) {
                    break port;
                }
            };
            self.decoder.forget();
            self.asking.opened();
            self.tell(Came::Found)?;
            self.shared.heard_ms.store(self.now_ms(), Ordering::Release);
        }
    }

    /// Reads until the port fails; returns why.
    fn read(&mut self, port: &mut dyn SerialPort) -> Result<io::Error, Done> {
        let mut bytes = [0; 1024];
        let mut heard_ms = self.now_ms();
        loop {
            self.go_on()?;
            if let Err(why) = self.speak(&mut *port, heard_ms) {
                return Ok(why);
            }
            let came = match port.read(&mut bytes) {
                // An open line gives a byte or a time-out; nothing at all means that it was closed.
                Ok(0) => return Ok(ErrorKind::UnexpectedEof.into()),
                Ok(count) => count,
                Err(why) if matches!(why.kind(), ErrorKind::TimedOut | ErrorKind::Interrupted) => 0,
                Err(why) => return Ok(why),
            };
            let now_ms = self.now_ms();
            if came == 0 {
                if now_ms.saturating_sub(heard_ms) >= SILENCE_MS {
                    self.decoder.silence();
                    heard_ms = now_ms;
                }
            } else {
                heard_ms = now_ms;
            }
            self.take(bytes.get(..came).unwrap_or_default(), now_ms)?;
            self.shared.heard_ms.store(now_ms, Ordering::Release);
        }
    }

    /// Asks an instrument that answers only when asked, and passes questions on to a board.
    fn speak(&mut self, port: &mut dyn SerialPort, heard_ms: u64) -> io::Result<()> {
        let now_ms = self.now_ms();
        if let Some(ask_in_ms) = self.decoder.ask_in_ms(now_ms) {
            // The line must be silent between two frames.
            let silent_ms = now_ms.saturating_sub(heard_ms);
            let wait_ms = ask_in_ms.max(settings::silence_ms(&self.settings).saturating_sub(silent_ms));
            if wait_ms == 0
                && let Some(question) = self.decoder.ask(now_ms)
            {
                port.write_all(&question)?;
            }
            port.set_timeout(Duration::from_millis(wait_ms.max(1)).min(settings::WAIT))?;
        }
        if self.can_ask {
            self.asking.send(now_ms, port)?;
        }
        Ok(())
    }

    fn take(&mut self, bytes: &[u8], at_ms: u64) -> Result<(), Done> {
        let mut came = Vec::new();
        self.decoder.each(bytes, |it| came.push(Came::from(it)));
        while let Some(notice) = self.decoder.notice() {
            // The identity question is our own, and another program's answers do not concern us.
            if let Notice::Answer { command, .. } = notice
                && !self.asking.is_answer(command)
            {
                continue;
            }
            came.push(Came::Notice(notice));
        }
        came.into_iter().try_for_each(|what| self.events.offer(PortEvent { at_ms, what }))
    }

    fn tell(&mut self, what: Came) -> Result<(), Done> {
        let at_ms = self.now_ms();
        self.events.tell(PortEvent { at_ms, what })
    }

    fn go_on(&self) -> Result<(), Done> {
        if self.shared.stop.load(Ordering::Relaxed) { Err(Done) } else { Ok(()) }
    }

    fn now_ms(&self) -> u64 {
        self.shared.now_ms()
    }
}

pub(super) fn millis_since(began: Instant) -> u64 {
    u64::try_from(began.elapsed().as_millis()).unwrap_or(u64::MAX)
}
