//! Which changes of an instrument's stream can be seen on the screen: the window is repainted only for those.

use bench::{Came, Gauge, PortEvent, Standing};
use eframe::egui::Context;
use instrument::{Axis, SettleSettings};

use std::time::Duration;

/// A changing number is painted at most this often; an eye follows no faster.
const EYE_MS: u64 = 100;
/// Not zero: a request for this very moment is answered with two pictures.
const NOW_MS: u64 = 1;
/// Steps of the ring that an eye tells apart.
const RING_STEPS: f32 = 24.0;

/// Wakes the window.
pub struct Glance {
    ctx: Context,
    sight: Sight,
    pace: Pace,
}

impl Glance {
    pub fn new(ctx: Context, measures: Axis, settle: SettleSettings, resolution: f64) -> Self {
        Self { ctx, sight: Sight::new(measures, settle, resolution), pace: Pace::default() }
    }

    /// Asks for a picture if this event changes it.
    pub fn event(&mut self, event: &PortEvent) {
        let wait_ms = match self.sight.change(event) {
            Change::None => return,
            Change::News => NOW_MS,
            Change::Value => self.pace.wait_ms(event.at_ms),
        };
        self.ctx.request_repaint_after(Duration::from_millis(wait_ms));
    }
}

/// When a picture of a change is asked for.
#[derive(Default)]
struct Pace {
    /// When the last picture that was asked for is painted, on the listener's clock.
    asked_ms: Option<u64>,
}

impl Pace {
    /// How long until the picture that shows a change at this time. A picture already requested will show it too, but
    /// it is requested again: a picture painted for another reason cancels the request.
    fn wait_ms(&mut self, now_ms: u64) -> u64 {
        let soonest = now_ms + NOW_MS;
        let at = match self.asked_ms {
            Some(asked) if asked > now_ms => asked,
            Some(asked) => soonest.max(asked + EYE_MS),
            None => soonest,
        };
        self.asked_ms = Some(at);
        at - now_ms
    }
}

/// How an event changes the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Change {
    None,
    /// A number or the ring.
    Value,
    /// It settled or began to move, or the port was lost or found.
    News,
}

/// What the screen shows of a stream.
struct Sight {
    gauge: Gauge,
    resolution: f64,
    seen: Option<Seen>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Seen {
    still: bool,
    ring: i32,
    shown: f64,
    cross: f64,
}

impl Sight {
    const fn new(measures: Axis, settle: SettleSettings, resolution: f64) -> Self {
        Self { gauge: Gauge::new(measures, settle), resolution, seen: None }
    }

    fn change(&mut self, event: &PortEvent) -> Change {
        let at_ms = event.at_ms;
        let sample = match &event.what {
            Came::Sample(sample) => sample,
            Came::Fault(_) | Came::Missed(_) => return Change::None,
            Came::Lost(_) => {
                self.gauge.restart();
                self.seen = None;
                return Change::News;
            }
            Came::Found | Came::Notice(_) => return Change::News,
        };
        let measured = sample.axis == self.gauge.axis();
        // By now the screen says that there is no signal.
        let silent = measured && self.gauge.standing(at_ms) == Standing::Silent;
        self.gauge.sample(at_ms, sample);
        let step = |value: f64| (value / self.resolution).round();
        let before = self.seen;
        let mut now = before.unwrap_or_default();
        let (value, settled, still) = match self.gauge.standing(at_ms) {
            Standing::Silent => (None, 0.0, false),
            Standing::Moving { latest, progress } => (Some(latest), progress, false),
            Standing::Taken { latest } => (Some(latest), 1.0, true),
            Standing::Ready { reading } => (Some(reading.value), 1.0, true),
        };
        if let Some(value) = value {
            #[expect(clippy::cast_possible_truncation, reason = "a share of a ring, 0 to 1")]
            let ring = (settled * RING_STEPS) as i32;
            (now.still, now.ring, now.shown) = (still, ring, step(value));
        }
        if sample.axis == Axis::Cross {
            now.cross = step(sample.base());
        }
        self.seen = Some(now);
        // Each press of a button is shown, even of the same value.
        let press = measured && self.gauge.each_value();
        match before {
            _ if silent => Change::News,
            None => Change::News,
            Some(before) if before.still != now.still => Change::News,
            Some(before) if press || before != now => Change::Value,
            Some(_) => Change::None,
        }
    }
}

#[cfg(test)]
mod tests;
