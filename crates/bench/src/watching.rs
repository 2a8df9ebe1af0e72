//! A drift watch: the instrument is left on a point, and its values are summed span by span.

use crate::Bench;
use crate::watch::{NewSpan, Watching};
use assess::drift::DriftWatch;
use instrument::{Axis, Sample};
use quantity::Celsius;
use record::Point;
use std::collections::VecDeque;

impl Bench {
    /// Begins to watch a point. Nothing is taken automatically meanwhile.
    pub fn begin_watch(&mut self, point: Point, span_ms: u64) {
        let spans = DriftWatch::new(span_ms, self.device().facts.resolution);
        self.watching = Some(Watching { point, spans, over: VecDeque::new() });
    }

    /// Ends the present span. Write what is due, then leave the watch.
    pub fn end_span(&mut self) {
        if let Some(watching) = &mut self.watching {
            watching.over.extend(watching.spans.end());
        }
    }

    /// Leaves the watch; unwritten spans are lost.
    pub fn leave_watch(&mut self) {
        self.watching = None;
    }

    pub fn watched(&self) -> Option<&Point> {
        self.watching.as_ref().map(|watching| &watching.point)
    }

    /// The level that a watch compares with, once known.
    pub fn watched_level(&self) -> Option<f64> {
        self.watching.as_ref()?.spans.level()
    }

    /// The oldest finished span not yet in the log; it stays until [`Bench::wrote_span`].
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

    /// The measured value of a sample, in the base unit and with the log's sign; `None` if the sample is barred, of
    /// another axis or from a wrong instrument.
    pub fn measured(&self, sample: &Sample) -> Option<f64> {
        let counts = self.signal.wrong.is_none() && !sample.flags.bars() && sample.axis == self.main.axis();
        counts.then(|| sample.base() * self.device().sign)
    }

    /// The instrument's own temperature, if it sends one.
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
