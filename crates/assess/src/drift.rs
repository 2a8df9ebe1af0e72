//! A drift watch: values summed up span by span, and shifts reported with time and size. Constant memory, however
//! long it runs.

use numerics::cusum::Cusum;
use numerics::dist::{normal_quantile, t_sf};
use std::collections::VecDeque;

/// Number of spans after which a shift can be reported.
const LEAST: usize = 10;
/// The most spans from which the level and the instrument's behaviour at rest are learned.
const LEARN: usize = 60;
/// A span further from the level than this is not learned from.
const STRANGE: f64 = 3.0;
/// In standard deviations: the cumulative sum ignores this much per span, and reports above the limit.
const ALLOWANCE: f64 = 0.5;
const LIMIT: f64 = 10.0;
/// Spans kept to tell when a shift began and how large it is.
const KEPT: usize = 256;

/// A finished span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Time of its first value, in the milliseconds passed in.
    pub start_ms: u64,
    /// Mean, in the base unit.
    pub mean: f64,
    /// Smallest value.
    pub least: f64,
    /// Largest value.
    pub most: f64,
    /// Values in it.
    pub samples: u32,
    /// Seconds from its first value to its last, rounded up.
    pub seconds: u32,
    /// The shift found with it, if any.
    pub shift: Option<Shift>,
}

/// A shift of the level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shift {
    pub size: f64,
    /// Start of the first span that had it.
    pub since_ms: u64,
}

/// Sums up values and watches for shifts.
///
/// The behaviour at rest is learned from the first ten to sixty spans: their level, their scatter (at least the
/// display's step over √12, which a display stuck on one digit may hide) and how much each resembles the one before.
/// Each span is compared with what was learned before it, using the t distribution for that many spans, and a
/// two-sided cumulative sum (allowance 0.5, limit 10 standard deviations) examines the result: D. M. Hawkins,
/// "Self-starting cusum charts", The Statistician 36, 1987.
#[derive(Clone, Debug)]
pub struct DriftWatch {
    span_ms: u64,
    least_sd: f64,
    open: Option<Open>,
    learned: Vec<f64>,
    cusum: Cusum,
    kept: VecDeque<Kept>,
}

#[derive(Clone, Copy, Debug)]
struct Kept {
    start_ms: u64,
    mean: f64,
}

#[derive(Clone, Copy, Debug)]
struct Open {
    start_ms: u64,
    last_ms: u64,
    base: f64,
    sum: f64,
    least: f64,
    most: f64,
    samples: u32,
}

impl DriftWatch {
    /// A watch without values; `resolution` is the step of the display, in the base unit.
    pub fn new(span_ms: u64, resolution: f64) -> Self {
        Self {
            span_ms: span_ms.max(1),
            least_sd: resolution / 12.0_f64.sqrt(),
            open: None,
            learned: Vec::new(),
            cusum: Cusum::new(0.0, 1.0, ALLOWANCE, LIMIT),
            kept: VecDeque::new(),
        }
    }

    /// Whether too little is known yet to report a shift.
    pub fn learning(&self) -> bool {
        self.learned.len() < LEAST
    }

    /// The level it compares with, once known.
    pub fn level(&self) -> Option<f64> {
        (!self.learning()).then(|| mean(&self.learned))
    }

    /// Takes a value with its time; returns the span that it ends, if any.
    pub fn value(&mut self, at_ms: u64, value: f64) -> Option<Span> {
        if !value.is_finite() {
            return None;
        }
        let over = match self.open {
            Some(open) if at_ms.saturating_sub(open.start_ms) >= self.span_ms => self.end(),
            _ => None,
        };
        let open = self.open.get_or_insert(Open {
            start_ms: at_ms,
            last_ms: at_ms,
            base: value,
            sum: 0.0,
            least: value,
            most: value,
            samples: 0,
        });
        open.last_ms = at_ms.max(open.last_ms);
        open.sum += value - open.base;
        open.least = open.least.min(value);
        open.most = open.most.max(value);
        open.samples = open.samples.saturating_add(1);
        over
    }

    /// Discards the current span, for example if its values came from another instrument.
    pub const fn discard(&mut self) {
        self.open = None;
    }

    /// Learns everything again, for example after the instrument was zeroed: the new level is not a shift.
    pub fn forget(&mut self) {
        *self = Self { least_sd: self.least_sd, ..Self::new(self.span_ms, 0.0) };
    }

    /// Ends the current span, if there is one.
    pub fn end(&mut self) -> Option<Span> {
        let open = self.open.take()?;
        let mean = open.base + open.sum / f64::from(open.samples);
        let seconds = (open.last_ms - open.start_ms).div_ceil(1000).max(1);
        if self.kept.len() == KEPT {
            self.kept.pop_front();
        }
        self.kept.push_back(Kept { start_ms: open.start_ms, mean });
        Some(Span {
            start_ms: open.start_ms,
            mean,
            least: open.least,
            most: open.most,
            samples: open.samples,
            seconds: u32::try_from(seconds).unwrap_or(u32::MAX),
            shift: self.watch(mean),
        })
    }

    fn watch(&mut self, mean: f64) -> Option<Shift> {
        let Some(level) = self.level() else {
            self.learned.push(mean);
            return None;
        };
        let away = self.away(mean);
        let Some(change) = self.cusum.add(away) else {
            if self.learned.len() < LEARN && away.abs() < STRANGE {
                self.learned.push(mean);
            }
            return None;
        };
        // The values since then are the new level, and all there is to learn from.
        let spans = usize::try_from(change.found - change.first + 1).unwrap_or(KEPT);
        let since = self.kept.iter().skip(self.kept.len().saturating_sub(spans));
        let since_ms = since.clone().next()?.start_ms;
        self.learned = since.map(|span| span.mean).collect();
        self.learned.truncate(LEARN);
        self.cusum = Cusum::new(0.0, 1.0, ALLOWANCE, LIMIT);
        Some(Shift { size: self::mean(&self.learned) - level, since_ms })
    }

    /// How far a span is from what was learned, as a standard normal value if nothing has shifted.
    fn away(&self, mean: f64) -> f64 {
        let n = self.learned.len() as f64;
        let level = self::mean(&self.learned);
        let squares: f64 = self.learned.iter().map(|it| (it - level).powi(2)).sum();
        let products: f64 = self.learned.windows(2).map(|pair| (pair[0] - level) * (pair[1] - level)).sum();
        // A slowly wandering value scatters more over a long time than from one span to the next.
        let alike = if squares > 0.0 { (products / squares + 1.0 / n).clamp(0.0, 0.9) } else { 0.0 };
        let sd = (squares / (n - 1.0)).sqrt().max(self.least_sd) * ((1.0 + alike) / (1.0 - alike)).sqrt();
        let t = (mean - level) / (sd * (1.0 + 1.0 / n).sqrt());
        let tail = t_sf(t.abs(), n - 1.0).max(f64::MIN_POSITIVE);
        -normal_quantile(tail) * t.signum()
    }
}

fn mean(all: &[f64]) -> f64 {
    all.iter().sum::<f64>() / all.len() as f64
}
