//! The instrument on a port: the bench that it feeds, and the drift watch.

use super::glance::Glance;
use bench::{Came, Key, PortEvent, Said, Target, View};
use eframe::egui::Context;
use quantity::Celsius;
use record::{Facing, Point};
use session::gauges::Connected;
use session::port::{Driver, Opening};
use session::{Session, SessionError};
use thiserror::Error;
use window::trace::{Shift, Trace, Warmth};

/// Length of an interval of the drift watch.
const SPAN_MS: u64 = 60_000;
/// Least time between two temperatures kept beside a trace.
const TEMPERATURE_EVERY_S: f64 = 10.0;

/// Why nothing is recorded from the port.
#[derive(Debug, Error)]
enum NotTaken {
    #[error("No instrument is on a port; not recorded.")]
    NoPort,
    #[error(
        "The level lies{}. Not recorded: take it again.",
        .point.as_ref().map_or_else(
            || format!(" facing {}", .facing.word()),
            |point| format!(" at {point}, facing {}", point.kind().toward(*.facing))
        )
    )]
    LiesOtherwise { point: Option<Point>, facing: Facing },
}

#[derive(Default)]
pub struct PortSide {
    open: Option<Open>,
    opening: Option<Opening>,
}

struct Open {
    driver: Driver,
    /// What a watch has seen, for its picture.
    seen: Option<Seen>,
}

struct Fresh {
    seconds: f64,
    value: f64,
}

struct Seen {
    began_ms: u64,
    /// Samples since they were last collected.
    fresh: Vec<Fresh>,
    shifts: Vec<Shift>,
}

impl PortSide {
    /// Begins to open a port; wakes `ctx` when that has ended and whenever something comes in that changes the
    /// picture.
    pub fn open(&mut self, path: &str, device: Connected, ctx: &Context) {
        self.close();
        let mut glance = Glance::new(ctx.clone(), device.measures, device.settle, device.facts.resolution);
        let ctx = ctx.clone();
        let told = move |event: &PortEvent| glance.event(event);
        self.opening = Some(Opening::begin(path, device, told, move || ctx.request_repaint()));
    }

    /// Collects the opened port.
    ///
    /// # Errors
    /// If it could not be opened.
    pub fn opened(&mut self) -> Result<(), SessionError> {
        let Some(opening) = self.opening.take() else { return Ok(()) };
        let Some(opened) = opening.opened() else {
            self.opening = Some(opening);
            return Ok(());
        };
        self.open = Some(Open::new(Driver::new(opening.device(), opened?)));
        Ok(())
    }

    /// Closes it; intervals of a watch that are not written yet are lost, so end the watch first.
    pub fn close(&mut self) {
        self.open = None;
        self.opening = None;
    }

    pub fn watching(&self) -> bool {
        self.open.as_ref().is_some_and(|open| open.driver.bench().watched().is_some())
    }

    /// True while values come in or the program waits for the port.
    pub fn listening(&self) -> bool {
        self.open.is_some() || self.opening.is_some()
    }

    /// Takes in what came; returns what is to be said about it.
    ///
    /// # Errors
    /// If something was to be written and the log cannot be written.
    pub fn poll(&mut self, session: &mut Session) -> Result<Vec<Said>, SessionError> {
        let Some(open) = &mut self.open else { return Ok(Vec::new()) };
        let mut said = Vec::new();
        for event in open.driver.poll() {
            said.extend(open.event(session, &event)?);
        }
        said.extend(open.driver.tick(session)?);
        Ok(said)
    }

    /// Does what a person asks of the bench.
    ///
    /// # Errors
    /// If something was to be written and the log cannot be written; if no port is open.
    pub fn key(&mut self, session: &mut Session, key: Key) -> Result<Vec<Said>, SessionError> {
        let Some(open) = &mut self.open else {
            return Err(SessionError::because(NotTaken::NoPort));
        };
        open.driver.key(session, key)
    }

    pub fn view(&self, session: &Session) -> View {
        if let Some(opening) = &self.opening {
            return View { port: bench::PortView::Opening(opening.path().to_owned()), ..View::default() };
        }
        self.open.as_ref().map_or_else(View::default, |open| open.driver.view(session))
    }

    /// Records the live value at this target.
    ///
    /// # Errors
    /// As for [`PortSide::key`].
    pub fn take(
        &mut self,
        session: &mut Session,
        target: Target,
        temperature: Option<Celsius>,
    ) -> Result<Vec<Said>, SessionError> {
        self.key(session, Key::Temperature(temperature))?;
        // While a move is measured the bench knows how the level lies; if the screen shows it otherwise nothing is
        // recorded.
        if let Some(level) = self.view(session).level
            && (level.point.as_ref() != Some(&target.point) || Some(level.facing) != target.facing)
        {
            return Err(SessionError::because(NotTaken::LiesOtherwise {
                point: level.point,
                facing: level.facing,
            }));
        }
        self.key(session, Key::Go(target))?;
        self.key(session, Key::Take)
    }

    pub fn watch(&mut self, point: Point) {
        let Some(open) = &mut self.open else { return };
        open.seen = Some(Seen { began_ms: open.driver.now_ms(), fresh: Vec::new(), shifts: Vec::new() });
        open.driver.watch(point, SPAN_MS);
    }

    /// Ends the watch; the interval begun is completed.
    pub fn end_watch(&mut self, session: &mut Session) -> Result<(), SessionError> {
        let Some(open) = &mut self.open else { return Ok(()) };
        open.driver.end_span(session)?;
        open.driver.leave_watch();
        open.seen = None;
        Ok(())
    }

    /// Writes the intervals that are over; true if there were any.
    pub fn write_spans(&mut self, session: &mut Session) -> Result<bool, SessionError> {
        let Some(open) = &mut self.open else { return Ok(false) };
        let written = open.driver.write_spans(session)?;
        if let Some(seen) = &mut open.seen {
            for assess::drift::Shift { size, since_ms: since } in
                written.iter().filter_map(|one| one.span.shift)
            {
                let seconds = seen.seconds(since);
                seen.shifts.push(Shift { seconds, size });
            }
        }
        Ok(!written.is_empty())
    }

    /// Adds what the watch saw since the last call.
    pub fn add_to(&mut self, trace: &mut Option<Trace>) {
        let Some(open) = &mut self.open else { return };
        let (Some(seen), Some(point)) = (&mut open.seen, open.driver.bench().watched()) else { return };
        let trace = trace.get_or_insert_with(|| Trace::of(point.clone()));
        for Fresh { seconds, value } in seen.fresh.drain(..) {
            trace.push(seconds, value);
        }
        trace.shifts.append(&mut seen.shifts);
        let due =
            |last: f64| trace.temperature.last().is_none_or(|w| last >= w.seconds + TEMPERATURE_EVERY_S);
        if let (Some(now), Some(&last)) = (open.driver.bench().own_temperature(), trace.seconds().last())
            && due(last)
        {
            trace.temperature.push(Warmth { seconds: last, celsius: now.value() });
        }
    }
}

impl Open {
    fn new(driver: Driver) -> Self {
        Self { driver, seen: None }
    }

    fn event(&mut self, session: &mut Session, event: &PortEvent) -> Result<Vec<Said>, SessionError> {
        let said = self.driver.event(session, event)?;
        if let Came::Sample(sample) = &event.what
            && let Some(value) = self.driver.bench().measured(sample)
            && let Some(seen) = &mut self.seen
        {
            seen.fresh.push(Fresh { seconds: seen.seconds(event.at_ms), value });
        }
        Ok(said)
    }
}

impl Seen {
    /// Seconds since the watch began.
    fn seconds(&self, at_ms: u64) -> f64 {
        at_ms.saturating_sub(self.began_ms) as f64 / 1000.0
    }
}

#[cfg(test)]
mod tests;
