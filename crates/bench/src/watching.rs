//! A watch for drift: the instrument is left on a point, and what it shows is summed up span by span.

use crate::Bench;
use crate::watch::{NewSpan, Watching};
use assess::drift::DriftWatch;
use instrument::{Axis, Sample};
use quantity::Celsius;
use record::Point;
use std::collections::VecDeque;

impl Bench {
    /// Begins to watch a point. Nothing is taken by itself meanwhile.
    pub fn begin_watch(&mut self, point: Point, span_ms: u64) {
        let spans = DriftWatch::new(span_ms, self.device().facts.resolution);
        self.watching = Some(Watching { point, spans, over: VecDeque::new() });
    }

    /// The span that is under way is over. Write what is due, then leave the watch.
    pub fn end_span(&mut self) {
        if let Some(watching) = &mut self.watching {
            watching.over.extend(watching.spans.end());
        }
    }

    /// Leaves the watch; what was not written is lost.
    pub fn leave_watch(&mut self) {
        self.watching = None;
    }

    pub fn watched(&self) -> Option<&Point> {
        self.watching.as_ref().map(|watching| &watching.point)
    }

    /// The level that a watch compares with, once it is known.
    pub fn watched_level(&self) -> Option<f64> {
        self.watching.as_ref()?.spans.level()
    }

    /// The oldest span that is over and not in the log; it stays until [`Bench::wrote_span`].
    pub fn span_due(&self) -> Option<NewSpan> {
        let watching = self.watching.as_ref()?;
        let span = *watching.over.front()?;
        Some(NewSpan { point: watching.point.clone(), span, temperature: self.own_temperature })
    }

    /// The span that was due is in the log.
    pub fn wrote_span(&mut self) {
        if let Some(watching) = &mut self.watching {
            watching.over.pop_front();
        }
    }

    /// The measured value that a sample brings, in the base unit and counted as the log counts; nothing where it bars
    /// itself, is of another axis or of a wrong instrument.
    pub fn measured(&self, sample: &Sample) -> Option<f64> {
        let counts = self.signal.wrong.is_none() && !sample.flags.bars() && sample.axis == self.main.axis();
        counts.then(|| sample.base() * self.device().sign)
    }

    /// The instrument's own temperature, where it sends one.
    pub const fn own_temperature(&self) -> Option<Celsius> {
        self.own_temperature
    }

    pub(crate) fn watch(&mut self, at_ms: u64, sample: &Sample) {
        if sample.axis == Axis::Temperature && !sample.flags.bars() {
            self.own_temperature = Some(Celsius::new(sample.base()));
        }
        let measured = self.measured(sample);
        if let (Some(watching), Some(value)) = (&mut self.watching, measured) {
            watching.over.extend(watching.spans.value(at_ms, value));
        }
    }
}
