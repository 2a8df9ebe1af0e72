//! A drift watch: values summed up span by span, and a shift named with its time and size. Constant memory, however long
//! it lasts.

use numerics::cusum::Cusum;
use std::collections::VecDeque;

/// The level and its scatter are learnt from so many spans.
const LEARN: u32 = 10;
/// Beginnings of spans that are kept, to say when a shift began.
const KEPT: usize = 256;

/// A span that is over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// When its first value came, in the milliseconds passed in.
    pub start_ms: u64,
    /// Mean, in the unit used inside.
    pub mean: f64,
    /// Smallest value.
    pub least: f64,
    /// Largest value.
    pub most: f64,
    /// Values in it.
    pub samples: u32,
    /// Seconds from its first value to its last, rounded up.
    pub seconds: u32,
    /// The shift found with it, if one was: its size, and when the span began that first had it.
    pub shift: Option<(f64, u64)>,
}

/// Sums values up and watches for shifts.
///
/// The first ten spans give the level and the scatter (never taken below the display's step over √12, which is what a
/// display that stands on one digit may hide); after that a two-sided cumulative sum (allowance 0.5, limit 5 standard
/// deviations) looks at the mean of each span.
#[derive(Clone, Debug)]
pub struct DriftWatch {
    span_ms: u64,
    least_sd: f64,
    open: Option<Open>,
    learnt: (u32, f64, f64),
    cusum: Option<Cusum>,
    starts: VecDeque<u64>,
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
    /// One that has seen nothing yet; `resolution` is the step of the display, in the unit used inside.
    #[must_use]
    pub fn new(span_ms: u64, resolution: f64) -> Self {
        Self {
            span_ms: span_ms.max(1),
            least_sd: resolution / 12.0_f64.sqrt(),
            open: None,
            learnt: (0, 0.0, 0.0),
            cusum: None,
            starts: VecDeque::new(),
        }
    }

    /// True while the level is still being learnt.
    #[must_use]
    pub const fn learning(&self) -> bool {
        self.cusum.is_none()
    }

    /// The level it compares with, once it is known.
    #[must_use]
    pub fn level(&self) -> Option<f64> {
        self.cusum.as_ref().map(Cusum::level)
    }

    /// Takes a value at its time; the span that is over by it, if one is.
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

    /// Throws the span under way away, as when its values turn out to be another instrument's.
    pub const fn discard(&mut self) {
        self.open = None;
    }

    /// Ends the span that is under way, if there is one.
    pub fn end(&mut self) -> Option<Span> {
        let open = self.open.take()?;
        let mean = open.base + open.sum / f64::from(open.samples);
        let seconds = (open.last_ms - open.start_ms).div_ceil(1000).max(1);
        if self.starts.len() == KEPT {
            self.starts.pop_front();
        }
        self.starts.push_back(open.start_ms);
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

    fn watch(&mut self, mean: f64) -> Option<(f64, u64)> {
        let Some(cusum) = &mut self.cusum else {
            self.learn(mean);
            return None;
        };
        let change = cusum.add(mean)?;
        let back = usize::try_from(change.found - change.first).unwrap_or(usize::MAX);
        let newest_first = self.starts.len().saturating_sub(1).saturating_sub(back);
        let since_ms = self.starts.get(newest_first).or(self.starts.front()).copied()?;
        Some((change.size, since_ms))
    }

    /// Mean and sum of squares as they come (B. P. Welford, Technometrics 4, 1962).
    fn learn(&mut self, mean: f64) {
        let (count, level, squares) = &mut self.learnt;
        *count += 1;
        let before = mean - *level;
        *level += before / f64::from(*count);
        *squares += before * (mean - *level);
        if *count >= LEARN {
            let sd = (*squares / f64::from(*count - 1)).sqrt().max(self.least_sd);
            self.cusum = Some(Cusum::new(*level, sd, 0.5, 5.0));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::DriftWatch;

    #[test]
    fn a_shift_is_named_with_its_time_and_size() {
        let mut watch = DriftWatch::new(60_000, 0.01);
        let mut spans = Vec::new();
        for second in 0..7_200_u32 {
            let level = if second < 3_600 { 1.0 } else { 1.05 };
            let flicker = if second % 2 == 0 { 0.0 } else { 0.01 };
            spans.extend(watch.value(u64::from(second) * 1000, level + flicker));
        }
        assert_eq!(spans.len(), 119);
        assert!(spans.iter().all(|s| s.samples == 60 && s.seconds == 59));
        let shifts: Vec<(f64, u64)> = spans.iter().filter_map(|s| s.shift).collect();
        let [(size, since_ms)] = shifts[..] else { panic!("one shift, not {shifts:?}") };
        assert!((size - 0.05).abs() < 0.005, "{size}");
        assert_eq!(since_ms, 3_600_000);
    }

    #[test]
    fn a_value_at_rest_has_no_shift() {
        let mut watch = DriftWatch::new(1_000, 0.1);
        let spans: Vec<_> = (0..10_000_u64).filter_map(|i| watch.value(i * 100, 0.3)).collect();
        assert!(spans.len() > 900);
        assert!(spans.iter().all(|s| s.shift.is_none()));
        assert!(watch.level().is_some_and(|l| (l - 0.3).abs() < 1e-12));
    }
}
