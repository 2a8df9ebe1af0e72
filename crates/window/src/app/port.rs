//! The instrument on a port: the bench it is driven by, and the drift watch.

use super::glance::Glance;
use bench::{Key, PortEvent, Said, Target, View};
use eframe::egui::Context;
use instrument::{Axis, Notice};
use quantity::Celsius;
use record::Point;
use session::gauges::Connected;
use session::port::{DriftWatch, Driver, Listener, Span};
use session::{Session, SessionError};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use window::trace::Trace;

/// Length of a span of the drift watch.
const SPAN_MS: u64 = 60_000;
/// Temperatures beside a trace are kept this far apart.
const TEMPERATURE_EVERY_S: f64 = 10.0;

/// The port, if one is open.
#[derive(Default)]
pub struct PortSide {
    open: Option<Open>,
    opening: Option<Opening>,
}

/// A port that is being opened, which may take a while: a radio link, a cable that is half in.
struct Opening {
    path: String,
    device: Connected,
    done: Receiver<Result<Listener, SessionError>>,
}

struct Open {
    driver: Driver,
    device: Connected,
    temperature: Option<f64>,
    /// True while the instrument there is another than the one wanted.
    wrong: bool,
    watch: Option<Watch>,
}

struct Watch {
    point: Point,
    spans: DriftWatch,
    began_ms: u64,
    /// Samples since they were last taken: seconds and value.
    fresh: Vec<(f64, f64)>,
    shifts: Vec<(f64, f64, String)>,
    done: Vec<Span>,
}

impl PortSide {
    /// Begins to open a port, on a thread of its own; `ctx` is woken when that is over and whenever something comes in
    /// that changes the picture.
    pub fn open(&mut self, path: &str, device: Connected, ctx: &Context) {
        self.close();
        let (tell, done) = channel();
        let (settings, dialect, to) = (device.settings, device.dialect, path.to_owned());
        let mut glance = Glance::new(ctx.clone(), device.measures, device.settle, device.facts.resolution);
        let ctx = ctx.clone();
        // Detached: whoever closes the window does not wait for a port.
        let _ = std::thread::Builder::new().name("opening".to_owned()).spawn(move || {
            let opened = Listener::open_telling(&to, settings, dialect, move |event| glance.event(event));
            // The window may have been closed meanwhile; the port is closed with the answer.
            let _ = tell.send(opened);
            ctx.request_repaint();
        });
        self.opening = Some(Opening { path: path.to_owned(), device, done });
    }

    /// Collects the opened port.
    ///
    /// # Errors
    /// When it could not be opened.
    pub fn opened(&mut self) -> Result<(), SessionError> {
        let Some(opening) = self.opening.take() else { return Ok(()) };
        let listener = match opening.done.try_recv() {
            Ok(opened) => opened?,
            Err(TryRecvError::Empty) => {
                self.opening = Some(opening);
                return Ok(());
            }
            Err(TryRecvError::Disconnected) => {
                return Err(SessionError::Port {
                    port: opening.path,
                    why: "it could not be opened".to_owned(),
                });
            }
        };
        self.open = Some(Open::new(Driver::new(&opening.device, listener), opening.device));
        Ok(())
    }

    /// Plays a recording in place of a port.
    #[cfg(test)]
    pub fn play(&mut self, device: Connected) {
        self.open = Some(Open::new(Driver::recording(&device), device));
    }

    /// Closes it; the spans of a watch that were not written yet are lost with it, so end the watch first.
    pub fn close(&mut self) {
        self.open = None;
        self.opening = None;
    }

    /// True while a drift watch goes on.
    pub fn watching(&self) -> bool {
        self.open.as_ref().is_some_and(|open| open.watch.is_some())
    }

    /// True while values come in or the port is waited for.
    pub fn listening(&self) -> bool {
        self.open.is_some() || self.opening.is_some()
    }

    /// Takes in what came; what is said about it.
    ///
    /// # Errors
    /// When something was to be written and the log cannot be.
    pub fn poll(&mut self, session: &mut Session) -> Result<Vec<Said>, SessionError> {
        let Some(open) = &mut self.open else { return Ok(Vec::new()) };
        let mut said = Vec::new();
        for event in open.driver.poll() {
            said.extend(open.event(session, &event)?);
        }
        said.extend(open.driver.tick(session)?);
        Ok(said)
    }

    /// Takes in one event of a recording.
    #[cfg(test)]
    pub fn play_event(
        &mut self,
        session: &mut Session,
        event: &PortEvent,
    ) -> Result<Vec<Said>, SessionError> {
        self.open.as_mut().map_or(Ok(Vec::new()), |open| open.event(session, event))
    }

    /// Moves a recording's present on.
    #[cfg(test)]
    pub fn play_to(&mut self, at_ms: u64) {
        if let Some(open) = &mut self.open {
            open.driver.play_to(at_ms);
        }
    }

    /// Does what a person asks of the bench.
    ///
    /// # Errors
    /// When something was to be written and the log cannot be; when no port is open.
    pub fn key(&mut self, session: &mut Session, key: Key) -> Result<Vec<Said>, SessionError> {
        let Some(open) = &mut self.open else {
            return Err(SessionError::Refused("No instrument is on a port; not recorded.".to_owned()));
        };
        open.driver.key(session, key)
    }

    /// Takes note of entries that came from elsewhere.
    #[cfg(test)]
    pub fn look(&mut self, session: &Session) {
        if let Some(open) = &mut self.open {
            open.driver.look(session);
        }
    }

    /// What the bench shows.
    pub fn view(&self, session: &Session) -> View {
        if let Some(opening) = &self.opening {
            return View { port: bench::PortView::Opening(opening.path.clone()), ..View::default() };
        }
        self.open.as_ref().map_or_else(View::default, |open| open.driver.view(session))
    }

    /// Takes the value that is live, at this target.
    ///
    /// # Errors
    /// As for [`PortSide::key`].
    pub fn take(
        &mut self,
        session: &mut Session,
        target: Target,
        temperature: Option<Celsius>,
        unsettled: bool,
    ) -> Result<Vec<Said>, SessionError> {
        self.key(session, Key::Temperature(temperature))?;
        self.key(session, Key::Go(target))?;
        self.key(session, if unsettled { Key::TakeAnyway } else { Key::Take })
    }

    /// Begins a drift watch.
    pub fn watch(&mut self, point: Point) {
        let Some(open) = &mut self.open else { return };
        open.watch = Some(Watch {
            point,
            spans: DriftWatch::new(SPAN_MS, open.device.facts.resolution),
            began_ms: open.driver.now_ms(),
            fresh: Vec::new(),
            shifts: Vec::new(),
            done: Vec::new(),
        });
    }

    /// Ends it; the span begun is finished.
    pub fn end_watch(&mut self, session: &mut Session) -> Result<(), SessionError> {
        let Some(open) = &mut self.open else { return Ok(()) };
        if let Some(watch) = &mut open.watch {
            let last = watch.spans.end();
            watch.done.extend(last);
        }
        self.write_spans(session)?;
        if let Some(open) = &mut self.open {
            open.watch = None;
        }
        Ok(())
    }

    /// Writes the spans that are over; true if there were any.
    pub fn write_spans(&mut self, session: &mut Session) -> Result<bool, SessionError> {
        let Some(open) = &mut self.open else { return Ok(false) };
        let Some(watch) = &mut open.watch else { return Ok(false) };
        let any = !watch.done.is_empty();
        while let Some(span) = watch.done.first().copied() {
            let now = open.driver.now_ms();
            session.drift(&watch.point, &span, now, open.temperature.map(Celsius::new))?;
            watch.done.remove(0);
        }
        Ok(any)
    }

    /// Adds what the watch saw since this was last asked.
    pub fn add_to(&mut self, trace: &mut Option<Trace>) {
        let Some(open) = &mut self.open else { return };
        let Some(watch) = &mut open.watch else { return };
        let trace = trace.get_or_insert_with(|| Trace::of(watch.point.clone()));
        for (seconds, value) in watch.fresh.drain(..) {
            trace.push(seconds, value);
        }
        trace.shifts.append(&mut watch.shifts);
        let due = |last: f64| trace.temperature.last().is_none_or(|(at, _)| last >= at + TEMPERATURE_EVERY_S);
        if let (Some(now), Some(&last)) = (open.temperature, trace.seconds().last())
            && due(last)
        {
            trace.temperature.push((last, now));
        }
    }
}

impl Open {
    fn new(driver: Driver, device: Connected) -> Self {
        Self { driver, device, temperature: None, wrong: false, watch: None }
    }

    fn event(&mut self, session: &mut Session, event: &PortEvent) -> Result<Vec<Said>, SessionError> {
        match event {
            PortEvent::Sample { at_ms, sample } if !self.wrong && !sample.flags.bars() => {
                let base = sample.base();
                match sample.axis {
                    axis if axis == self.device.measures => {
                        if let Some(watch) = &mut self.watch {
                            watch.sample(*at_ms, base * self.device.sign);
                        }
                    }
                    Axis::Temperature => self.temperature = Some(base),
                    _ => {}
                }
            }
            PortEvent::Notice { notice: Notice::Identity { number, .. }, .. } => {
                self.wrong = self.device.wanted_instead_of(number.as_str()).is_some();
                if let Some(watch) = self.watch.as_mut().filter(|_| self.wrong) {
                    // Its first values came before it said who it is.
                    watch.spans.discard();
                }
            }
            _ => {}
        }
        self.driver.event(session, event)
    }
}

impl Watch {
    fn sample(&mut self, at_ms: u64, value: f64) {
        let seconds = |ms: u64| ms.saturating_sub(self.began_ms) as f64 / 1000.0;
        self.fresh.push((seconds(at_ms), value));
        if let Some(span) = self.spans.value(at_ms, value) {
            if let Some((size, since)) = span.shift {
                self.shifts.push((seconds(since), size, "The level moved and stayed.".to_owned()));
            }
            self.done.push(span);
        }
    }
}
