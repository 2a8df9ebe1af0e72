//! The instrument on a port: what it shows now, what of it can be taken, and the drift watch.

use super::glance::Glance;
use eframe::egui::Context;
use instrument::{Axis, Flags, Notice};
use quantity::{Amount, Celsius};
use record::{Facing, Point};
use session::gauges::Connected;
use session::port::{DriftWatch, Gauge, Listener, PortEvent, Span, Standing, rounded};
use session::{Session, SessionError, TakeSettled, shown};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use window::live::{Live, Port, Value};
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
    listener: Listener,
    device: Connected,
    gauge: Gauge,
    cross: Option<f64>,
    temperature: Option<f64>,
    lost: bool,
    /// The number of another instrument than the one asked for, while such a one is there; nothing is taken from it.
    stranger: Option<String>,
    /// What the last value said of its zero.
    zeroed: Option<bool>,
    /// True where the next reading begins a round, because the zero was set or lost.
    new_round: bool,
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
            // Nobody waits any more if it was closed meanwhile; the port is closed again with the answer.
            let _ = tell.send(opened);
            ctx.request_repaint();
        });
        self.opening = Some(Opening { path: path.to_owned(), device, done });
    }

    /// Takes up the port once it is open.
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
        let device = opening.device;
        let gauge = Gauge::new(device.measures, device.settle);
        self.open = Some(Open {
            listener,
            device,
            gauge,
            cross: None,
            temperature: None,
            lost: false,
            stranger: None,
            zeroed: None,
            new_round: false,
            watch: None,
        });
        Ok(())
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

    /// Takes in what came.
    pub fn poll(&mut self) {
        let Some(open) = &mut self.open else { return };
        for event in open.listener.poll() {
            match event {
                PortEvent::Sample { .. } if open.stranger.is_some() => open.lost = false,
                PortEvent::Sample { at_ms, sample } => {
                    open.lost = false;
                    open.gauge.sample(at_ms, &sample);
                    // A board that was zeroed, or lost its zero, is a fresh set-up of the instrument.
                    let zeroed = sample.flags.contains(Flags::ZEROED);
                    open.new_round |= open.zeroed.replace(zeroed).is_some_and(|before| before != zeroed);
                    let base = sample.base();
                    match sample.axis {
                        axis if axis == open.gauge.axis() => {
                            if let Some(watch) = open.watch.as_mut().filter(|_| !sample.flags.bars()) {
                                watch.sample(at_ms, base * open.device.sign);
                            }
                        }
                        Axis::Cross => open.cross = Some(base * open.device.sign),
                        Axis::Temperature => open.temperature = Some(base),
                        _ => {}
                    }
                }
                PortEvent::Lost { .. } => {
                    open.lost = true;
                    open.gauge.restart();
                }
                PortEvent::Found { .. } => open.lost = false,
                PortEvent::Notice { notice: Notice::Identity { number, .. }, .. } => {
                    let other = open.device.wanted_instead_of(number.as_str()).is_some();
                    open.stranger = other.then(|| shown(number.as_str()).into_owned());
                    if other {
                        // Its first values came before it said who it is.
                        open.gauge.restart();
                        if let Some(watch) = &mut open.watch {
                            watch.spans.discard();
                        }
                    }
                }
                PortEvent::Fault { .. } | PortEvent::Notice { .. } | PortEvent::Missed { .. } => {}
            }
        }
    }

    /// What stands on it.
    pub fn live(&self) -> Live {
        if let Some(opening) = &self.opening {
            let instrument = Some(opening.device.facts.name.clone());
            return Live { port: Port::Opening(opening.path.clone()), instrument, value: None };
        }
        let Some(open) = &self.open else { return Live::default() };
        let name = open.listener.path().to_owned();
        let value = open.value().filter(|_| open.stranger.is_none() && !open.lost);
        let port = match (open.lost, value, &open.stranger) {
            (true, ..) => Port::Lost(name),
            (false, _, Some(number)) => Port::Stranger { port: name, number: number.clone() },
            (false, None, None) => Port::Quiet(name),
            (false, Some(_), None) => Port::Open(name),
        };
        Live { port, instrument: Some(open.device.facts.name.clone()), value }
    }

    /// Takes the value that stands on it.
    pub fn take(
        &mut self,
        session: &mut Session,
        point: Point,
        facing: Option<Facing>,
        temperature: Option<Celsius>,
        unsettled: bool,
    ) -> Result<String, SessionError> {
        let nothing = || SessionError::Refused("No value stands on the port; nothing was taken.".to_owned());
        let open = self.open.as_mut().ok_or_else(nothing)?;
        if open.stranger.is_some() {
            let words = "This is another instrument than the one asked for; nothing was taken.";
            return Err(SessionError::Refused(words.to_owned()));
        }
        let now = open.listener.now_ms();
        let settled = open.gauge.settled(now);
        let latest = open.gauge.latest().map(instrument::Sample::base).ok_or_else(nothing)?;
        let (value, scatter, samples) = match settled {
            Some(s) => (s.value, s.scatter, s.samples),
            None if unsettled => (latest, 0.0, 1),
            None => {
                return Err(SessionError::Refused(
                    "It moved before it could be taken; nothing was taken.".to_owned(),
                ));
            }
        };
        let resolution = open.device.facts.resolution;
        let taken = session.take_settled(TakeSettled {
            point,
            amount: Amount::from_base(open.device.quantity(), rounded(value * open.device.sign, resolution)),
            scatter,
            samples,
            resolution,
            unsettled: settled.is_none(),
            facing,
            instrument: Some(open.device.facts.name.clone()),
            // The instrument has its own; it says nothing of the part.
            temperature,
            new_round: open.new_round,
            sure: false,
        })?;
        open.new_round = false;
        open.gauge.took(value);
        Ok(taken.ack)
    }

    /// Begins a drift watch.
    pub fn watch(&mut self, point: Point) {
        let Some(open) = &mut self.open else { return };
        open.watch = Some(Watch {
            point,
            spans: DriftWatch::new(SPAN_MS, open.device.facts.resolution),
            began_ms: open.listener.now_ms(),
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
            let now = open.listener.now_ms();
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

/// What is shown of how an instrument stands.
pub struct Dial {
    /// The value as it came.
    pub value: f64,
    /// How far it has settled, 0 to 1.
    pub settled: f32,
    /// True once it may be taken.
    pub ready: bool,
    /// True where a reading of this very rest was taken already.
    pub taken: bool,
}

impl Dial {
    /// None while nothing comes in.
    pub fn of(standing: Standing) -> Option<Self> {
        let (value, settled, ready, taken) = match standing {
            Standing::Silent => return None,
            Standing::Moving { latest, progress } => (latest, progress, false, false),
            Standing::Taken { latest } => (latest, 1.0, true, true),
            Standing::Ready { reading } => (reading.value, 1.0, true, false),
        };
        Some(Self { value, settled, ready, taken })
    }
}

impl Open {
    fn value(&self) -> Option<Value> {
        let sign = self.device.sign;
        let Dial { value, settled, ready, taken } = Dial::of(self.gauge.standing(self.listener.now_ms()))?;
        let resolution = self.device.facts.resolution;
        let shown = (value * sign / resolution).round() * resolution;
        Some(Value {
            shown,
            kind: self.device.quantity(),
            resolution,
            cross_shown: self.cross,
            settled,
            ready,
            taken,
        })
    }
}
