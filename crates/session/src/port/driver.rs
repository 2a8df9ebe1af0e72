//! Drives a bench: port events and a person's keys go in, what it wants written goes into the log, what it wants
//! asked goes to the board. Both faces use this loop.

use super::Listener;
use super::reader::millis_since;
use crate::gauges::Connected;
use crate::log::Taken;
use crate::refusal::Refusal;
use crate::{Session, SessionError};
use assess::drift::Span;
use bench::{Bench, Came, Key, Log, NewMove, Out, PortEvent, PortView, Said, View, Write, Wrote};
use instrument::{Decoder, DialectSpec, Marks};
use quantity::Millimetres;
use record::{Instrument, Move, MoveKnown, Point, What};
use std::time::{Duration, Instant};

/// A span of a watch that is in the log.
#[derive(Clone, Debug)]
pub struct Watched {
    pub span: Span,
    pub taken: Taken,
}

/// A bench with its port, or with a recording in its place.
#[derive(Debug)]
pub struct Driver {
    bench: Bench,
    source: Source,
}

#[derive(Debug)]
enum Source {
    Port(Listener),
    /// Lines that an instrument types on standard input.
    Typed(Box<Typed>),
    /// A recording being played; the present is that of the last event or key.
    Recording {
        now_ms: u64,
    },
}

#[derive(Debug)]
struct Typed {
    decoder: Decoder,
    marks: Marks,
    began: Instant,
}

impl Driver {
    /// For an open port.
    pub fn new(device: &Connected, listener: Listener) -> Self {
        Self { bench: Bench::new(device.at_bench()), source: Source::Port(listener) }
    }

    /// For an instrument that types like a keyboard: its lines come in through [`Driver::line`].
    pub fn typed(device: &Connected) -> Self {
        let marks = match &device.dialect {
            DialectSpec::Lines(form) => form.marks(),
            _ => Marks::LINES,
        };
        let typed = Typed { decoder: Decoder::new(&device.dialect), marks, began: Instant::now() };
        Self { bench: Bench::new(device.at_bench()), source: Source::Typed(Box::new(typed)) }
    }

    /// A typed line: the instrument's events for it, or nothing if it is not one of its values.
    pub fn line(&mut self, line: &str) -> Option<Vec<PortEvent>> {
        let Source::Typed(typed) = &mut self.source else { return None };
        let at_ms = millis_since(typed.began);
        let mut bytes: Vec<u8> = typed.marks.begins.into_iter().collect();
        bytes.extend(line.bytes());
        bytes.push(typed.marks.ends.unwrap_or(b'\n'));
        let mut events = Vec::new();
        typed.decoder.forget();
        typed.decoder.silence();
        typed.decoder.each(&bytes, |next| events.push(PortEvent { at_ms, what: next.into() }));
        let valued = events.iter().any(|event| matches!(event.what, Came::Sample(_)));
        (valued || line.contains(|c: char| c.is_ascii_digit())).then_some(events)
    }

    pub const fn is_typed(&self) -> bool {
        matches!(self.source, Source::Typed(_))
    }

    /// Without a port: events are played with [`Driver::event`].
    pub fn recording(device: &Connected) -> Self {
        Self { bench: Bench::new(device.at_bench()), source: Source::Recording { now_ms: 0 } }
    }

    pub const fn bench(&self) -> &Bench {
        &self.bench
    }

    const fn listener(&self) -> Option<&Listener> {
        match &self.source {
            Source::Port(listener) => Some(listener),
            Source::Typed(_) | Source::Recording { .. } => None,
        }
    }

    /// What the bench says; with the port's name if it is lost or found.
    pub fn words(&self, said: &Said) -> String {
        let port = self.listener().map(Listener::path).unwrap_or_default();
        match said {
            Said::Lost { .. } => format!("port {port}: {said}"),
            Said::Found => format!("port {port} is back"),
            _ => said.to_string(),
        }
    }

    /// Milliseconds on the clock of the events.
    pub fn now_ms(&self) -> u64 {
        match &self.source {
            Source::Port(listener) => listener.now_ms(),
            Source::Typed(typed) => millis_since(typed.began),
            Source::Recording { now_ms } => *now_ms,
        }
    }

    /// The port events since the last call, waiting at most this long for the first.
    pub fn wait(&self, at_most: Duration) -> Vec<PortEvent> {
        match &self.source {
            Source::Port(listener) => listener.wait(at_most),
            Source::Typed(_) => {
                std::thread::sleep(at_most);
                Vec::new()
            }
            Source::Recording { .. } => Vec::new(),
        }
    }

    pub fn poll(&self) -> Vec<PortEvent> {
        self.listener().map(Listener::poll).unwrap_or_default()
    }

    /// Advances a recording's present.
    pub const fn play_to(&mut self, at_ms: u64) {
        if let Source::Recording { now_ms } = &mut self.source {
            *now_ms = at_ms;
        }
    }

    /// Takes in an event; returns what to say about it.
    ///
    /// # Errors
    /// If the log cannot be read or written. A refusal is returned as something to say.
    pub fn event(&mut self, session: &mut Session, event: &PortEvent) -> Result<Vec<Said>, SessionError> {
        self.play_to(event.at_ms);
        let out = with_log(session, |log| self.bench.event(event, log));
        self.carry_out(session, out)
    }

    /// Handles the passing of time.
    ///
    /// # Errors
    /// As for [`Driver::event`].
    pub fn tick(&mut self, session: &mut Session) -> Result<Vec<Said>, SessionError> {
        let now_ms = self.now_ms();
        let out = with_log(session, |log| self.bench.tick(now_ms, log));
        self.carry_out(session, out)
    }

    /// Handles a key.
    ///
    /// # Errors
    /// As for [`Driver::event`].
    pub fn key(&mut self, session: &mut Session, key: Key) -> Result<Vec<Said>, SessionError> {
        let now_ms = self.now_ms();
        let out = with_log(session, |log| self.bench.key(key, now_ms, log));
        self.carry_out(session, out)
    }

    /// Notes entries that came from elsewhere.
    pub fn look(&mut self, session: &Session) {
        with_log(session, |log| self.bench.look(log));
    }

    pub fn watch(&mut self, point: Point, span_ms: u64) {
        self.bench.begin_watch(point, span_ms);
    }

    /// Writes the pending spans of a watch. What cannot be written stays pending until the next call.
    ///
    /// # Errors
    /// If the log cannot be written now.
    pub fn write_spans(&mut self, session: &mut Session) -> Result<Vec<Watched>, SessionError> {
        let mut written = Vec::new();
        while let Some(due) = self.bench.span_due() {
            let taken = session.drift(&due.point, &due.span, self.now_ms(), due.temperature)?;
            self.bench.wrote_span();
            written.push(Watched { span: due.span, taken });
        }
        Ok(written)
    }

    /// Ends the current span of a watch and writes it.
    ///
    /// # Errors
    /// As for [`Driver::write_spans`].
    pub fn end_span(&mut self, session: &mut Session) -> Result<Vec<Watched>, SessionError> {
        self.bench.end_span();
        self.write_spans(session)
    }

    /// Leaves the watch; unwritten spans are lost.
    pub fn leave_watch(&mut self) {
        self.bench.leave_watch();
    }

    pub fn view(&self, session: &Session) -> View {
        let name = match &self.source {
            Source::Port(listener) => listener.path(),
            Source::Typed(_) => "standard input",
            Source::Recording { .. } => "a recording",
        };
        let port = PortView::Open(name.to_owned());
        let view = with_log(session, |log| self.bench.view(self.now_ms(), log));
        View { port, ..view }
    }

    fn carry_out(&mut self, session: &mut Session, out: Vec<Out>) -> Result<Vec<Said>, SessionError> {
        let mut said = Vec::new();
        let mut waiting = std::collections::VecDeque::from(out);
        while let Some(one) = waiting.pop_front() {
            match one {
                Out::Say(words) => said.push(words),
                Out::Ask(request) => {
                    if let Source::Port(listener) = &self.source {
                        listener.ask(request);
                    }
                }
                Out::Write(write) => {
                    let now_ms = self.now_ms();
                    let next = match written(session, &write) {
                        Ok(wrote) => with_log(session, |log| self.bench.wrote(&write, &wrote, now_ms, log)),
                        Err(SessionError::Asks(question)) => {
                            self.bench.asks(&write, &question.expected(), &question.to_string());
                            Vec::new()
                        }
                        Err(why) if why.is_refusal() => self.bench.not_written(&write, &why.to_string()),
                        Err(why) => return Err(why),
                    };
                    for next in next.into_iter().rev() {
                        waiting.push_front(next);
                    }
                }
            }
        }
        Ok(said)
    }
}

fn with_log<T>(session: &Session, see: impl FnOnce(&Log<'_>) -> T) -> T {
    let assessment = session.assessment();
    see(&Log {
        plan: session.plan(),
        entries: session.entries(),
        assessment: &assessment,
        now: session.present(),
    })
}

fn written(session: &mut Session, write: &Write) -> Result<Wrote, SessionError> {
    match write {
        Write::Readings(readings) => {
            // Nothing of a take is written before all of it is known to be writable.
            for reading in readings {
                known(session, &reading.instrument)?;
                session.would_take(reading)?;
            }
            let mut first: Option<Wrote> = None;
            for reading in readings {
                let taken = session.take_settled(reading)?;
                match &mut first {
                    None => first = Some(Wrote { seq: taken.entry.seq, line: taken.ack }),
                    Some(first) => first.line = format!("{}; {}", first.line, taken.ack),
                }
            }
            Ok(first.ok_or(Refusal::NothingToWrite)?)
        }
        Write::Move(NewMove { support, mm, u_mm, text, seen }) => {
            let known = Some(MoveKnown::Measured { u: Millimetres::new(*u_mm) });
            let typed = Move::typed(support, Millimetres::new(*mm), text);
            let taken = session.measured_move(Move { known, seen: seen.clone(), ..typed })?;
            Ok(Wrote { seq: taken.entry.seq, line: format!("{} {}", taken.entry.seq, taken.ack) })
        }
        Write::Withdraw { seq, reason } => {
            let taken = session.withdraw(*seq, reason)?;
            Ok(Wrote { seq: taken.entry.seq, line: taken.ack })
        }
    }
}

/// Enters an instrument that is new to the log: the second axis of a known one. A withdrawn one stays unknown.
fn known(session: &mut Session, instrument: &Instrument) -> Result<(), SessionError> {
    if session.instruments().contains_key(&instrument.name) {
        return Ok(());
    }
    let ever = session.entries().iter().any(|entry| match &entry.what {
        What::Instrument(entered) => entered.name == instrument.name,
        _ => false,
    });
    if !ever {
        session.add_instrument(instrument.clone())?;
    }
    Ok(())
}
