//! What of an instrument's stream would be seen to change on the screen: only for that is the window painted again.

use bench::{Gauge, PortEvent, Standing};
use eframe::egui::Context;
use instrument::{Axis, SettleSettings};

use std::time::Duration;

/// A number that changes is painted this often at most; an eye follows no faster.
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
            Change::Value => self.pace.wait_ms(event.at_ms()),
        };
        self.ctx.request_repaint_after(Duration::from_millis(wait_ms));
    }
}

/// When a picture of a change is asked for.
#[derive(Default)]
struct Pace {
    /// When the last one asked for is painted, on the listener's clock.
    asked_ms: Option<u64>,
}

impl Pace {
    /// How long until the picture that shows a change at this time. One that is on its way already will show it too; it is
    /// asked for again, since a picture for another reason takes the wish for it away.
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
    /// It came to rest or left it, or something became of the port.
    News,
}

/// What is on the screen of a stream.
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
        let (at_ms, sample) = match event {
            PortEvent::Sample { at_ms, sample } => (*at_ms, sample),
            PortEvent::Fault { .. } | PortEvent::Missed { .. } => return Change::None,
            PortEvent::Lost { .. } => {
                self.gauge.restart();
                self.seen = None;
                return Change::News;
            }
            PortEvent::Found { .. } | PortEvent::Notice { .. } => return Change::News,
        };
        let measured = sample.axis == self.gauge.axis();
        // The screen says by now that nothing comes.
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
        // Each press of a button is seen, the same value too.
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
mod tests {
    use super::{Change, Pace, Sight};
    use bench::PortEvent;
    use instrument::{Axis, Decimal, Sample, SettleSettings};
    use quantity::Unit;

    fn event(at_ms: u64, hundredths: i64) -> PortEvent {
        let value = Decimal { mantissa: hundredths, exponent: -2 };
        PortEvent::Sample { at_ms, sample: Sample::bare(Axis::Angle, value, Unit::Degree) }
    }

    /// Changes of each kind that 20 values a second make.
    fn changes(sight: &mut Sight, from_ms: u64, to_ms: u64, of: impl Fn(u64) -> i64) -> (usize, usize) {
        let all: Vec<Change> =
            (from_ms..to_ms).step_by(50).map(|at| sight.change(&event(at, of(at)))).collect();
        let count = |kind| all.iter().filter(|c| **c == kind).count();
        (count(Change::Value), count(Change::News))
    }

    #[test]
    fn a_level_at_rest_asks_for_no_picture() {
        let mut sight = Sight::new(Axis::Angle, SettleSettings::from_instrument(0.1, 0.02), 0.1);
        // It settles: the ring closes in steps, then it is news that it stands still.
        let (values, news) = changes(&mut sight, 0, 5_000, |_| 20);
        assert!(values <= 24 && news == 2, "{values} {news}");
        // Noise below the display's step is not seen.
        assert_eq!(changes(&mut sight, 5_000, 65_000, |at| 20 + i64::from(at % 100 == 0)), (0, 0));
        // It is moved: news at once.
        let (_, news) = changes(&mut sight, 65_000, 65_500, |_| 140);
        assert_eq!(news, 1);
    }

    #[test]
    fn what_becomes_of_the_port_is_news() {
        let mut sight = Sight::new(Axis::Angle, SettleSettings::from_instrument(0.1, 0.02), 0.1);
        changes(&mut sight, 0, 5_000, |_| 20);
        assert_eq!(sight.change(&PortEvent::Lost { at_ms: 5_000, why: String::new() }), Change::News);
        assert_eq!(sight.change(&PortEvent::Found { at_ms: 6_000 }), Change::News);
        assert_eq!(sight.change(&event(6_010, 20)), Change::News, "the first value after it");
        changes(&mut sight, 6_050, 9_000, |_| 20);
        assert_eq!(sight.change(&event(12_000, 20)), Change::News, "the first value after a silence");
    }

    #[test]
    fn each_press_is_seen() {
        let settings = SettleSettings { hold_ms: 0, samples: 1, ..SettleSettings::from_instrument(0.1, 0.0) };
        let mut sight = Sight::new(Axis::Angle, settings, 0.1);
        for press in 0..3 {
            let seen = sight.change(&event(press * 400, 20));
            assert_eq!(seen, if press == 0 { Change::News } else { Change::Value });
        }
    }

    #[test]
    fn a_stream_is_painted_ten_times_a_second_and_a_single_value_at_once() {
        for every_ms in [1, 7, 10, 47, 50, 53] {
            let mut pace = Pace::default();
            let mut painted: Vec<u64> = Vec::new();
            for at_ms in (0..10_000).step_by(every_ms) {
                let shown = at_ms + pace.wait_ms(at_ms);
                assert!(shown > at_ms && shown <= at_ms + 100, "{every_ms}: {at_ms} is shown at {shown}");
                painted.push(shown);
            }
            painted.dedup();
            assert!(painted.len() <= 101, "every {every_ms} ms: {} pictures", painted.len());
            assert_eq!(pace.wait_ms(20_000), 1, "after a while without any");
        }
    }
}
