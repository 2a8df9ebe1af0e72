//! Questions to a board, repeated until they are answered.

use instrument::Request;
use jigtrue_protocol::{Command, Message};
use std::io::{self, Write};
use std::sync::mpsc::Receiver;

/// The number of attempts before a question is given up.
const TRIES: u8 = 4;
/// Milliseconds to wait for an answer before the question is sent again: two questions are given up by [`bench::NO_ANSWER_MS`].
const AGAIN_MS: u64 = bench::NO_ANSWER_MS / (2 * TRIES as u64);

/// The pending questions: one at a time, in the order they were asked. Each time the port is opened, the board is
/// first asked for its identity.
#[derive(Debug)]
pub(super) struct Asking {
    requests: Receiver<Request>,
    /// The number of the last command; a board treats the same number as the same command.
    number: u16,
    opened: bool,
    under_way: Option<(Command, u64, u8)>,
}

impl Asking {
    /// Commands are numbered from `first`, which differs each time the program runs.
    pub(super) const fn new(requests: Receiver<Request>, first: u16) -> Self {
        Self { requests, number: first, opened: true, under_way: None }
    }

    /// The port was opened again: another board may be there.
    pub(super) const fn opened(&mut self) {
        self.opened = true;
    }

    fn next(&mut self) -> Option<Request> {
        if std::mem::take(&mut self.opened) {
            return Some(Request::Identify);
        }
        self.requests.try_recv().ok()
    }

    pub(super) fn send(&mut self, now_ms: u64, to: &mut dyn Write) -> io::Result<()> {
        if let Some((_, sent_ms, tries)) = self.under_way {
            if now_ms.saturating_sub(sent_ms) < AGAIN_MS {
                return Ok(());
            }
            if tries >= TRIES {
                self.under_way = None;
            }
        }
        if self.under_way.is_none()
            && let Some(request) = self.next()
        {
            self.number = self.number.wrapping_add(1);
            self.under_way = Some((Command { number: self.number, request }, 0, 0));
        }
        let Some((command, sent_ms, tries)) = &mut self.under_way else { return Ok(()) };
        (*sent_ms, *tries) = (now_ms, *tries + 1);
        match Message::Command(*command).encode() {
            Ok(line) => to.write_all(line.as_bytes()),
            // The protocol has no way to ask this.
            Err(_) => {
                self.under_way = None;
                Ok(())
            }
        }
    }

    /// Notes an answer; returns whether it belongs to a question asked through the listener.
    pub(super) fn is_answer(&mut self, number: u16) -> bool {
        match self.under_way {
            Some((asked, ..)) if asked.number == number => {
                self.under_way = None;
                asked.request != Request::Identify
            }
            _ => false,
        }
    }
}
