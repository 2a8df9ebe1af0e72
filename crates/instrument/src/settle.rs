//! When an instrument stands still, and what it then reads.
//!
//! A reading is offered when all samples of the last while lie inside a band. The band comes from the step
//! of the display and the noise, so that a display flickering between two digits, or a sensor at rest, counts as
//! still. The value is the mean over that while; the scatter about it is given for the uncertainty. Half
//! of the while must not differ from the other half by more than a quarter of the band, so that a slow creep is not taken
//! for rest.
//!
//! Samples are summed up in at most [`BUCKETS`] pieces of equal time, so that an instrument of 1 kHz takes no
//! more room than one of 4 Hz.

use crate::Sample;

/// How many pieces the while is divided into.
pub const BUCKETS: usize = 32;

/// What counts as standing still. Values are in the unit used inside (degrees, millimetres, ..).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SettleSettings {
    /// All samples must lie within this, from the lowest to the highest.
    pub band: f64,
    /// For so long; 0 for an instrument that sends a value when its button is pressed, each of which is a reading.
    pub hold_ms: u64,
    /// And there must be this many of them.
    pub samples: u32,
    /// With no sample for so long, the instrument is lost.
    pub lost_after_ms: u64,
}

impl SettleSettings {
    /// The band for a display that steps by `resolution` and scatters with the standard deviation `noise`: one step of flicker
    /// and half a step to spare, and four standard deviations to each side, which some thousand samples stay inside of.
    #[must_use]
    pub fn from_instrument(resolution: f64, noise: f64) -> Self {
        Self { band: 1.5 * resolution + 8.0 * noise, hold_ms: 2_000, samples: 4, lost_after_ms: 1_500 }
    }

    /// True where each value that comes is a reading, and nothing has to settle.
    #[must_use]
    pub const fn each_value(&self) -> bool {
        self.hold_ms == 0
    }
}

/// A value that stood still. Its uncertainty has two parts that are not in `scatter`: that of the display's step
/// (step / √12, which a display that stands on one digit does not show), and that of the instrument.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settled {
    /// The mean over the while.
    pub value: f64,
    /// The standard deviation of the samples about it; 0 for a display that stands on one digit.
    pub scatter: f64,
    /// How many samples.
    pub samples: u32,
    /// Since when they lie inside the band, in the milliseconds passed in; not before the while began.
    pub since_ms: u64,
}

/// How it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum State {
    /// No sample has come for too long, or none at all yet.
    Lost,
    /// Moving, or not still for long enough.
    Settling {
        /// The last value.
        latest: f64,
        /// From 0 to 1: how much of the while has passed inside the band.
        progress: f32,
    },
    /// Standing still.
    Settled {
        /// The last value.
        latest: f64,
        /// What can be taken.
        reading: Settled,
    },
}

/// Watches the samples of one axis.
#[derive(Clone, Debug)]
pub struct Settle {
    settings: SettleSettings,
    buckets: [Bucket; BUCKETS + 1],
    /// How many buckets are in use, the newest last.
    used: usize,
    latest: Option<(u64, f64)>,
}

/// A few samples summed up. Sums are of differences from `base`, so that nothing is lost to rounding.
#[derive(Clone, Copy, Debug)]
struct Bucket {
    first_ms: u64,
    count: u32,
    base: f64,
    sum: f64,
    squares: f64,
    low: f64,
    high: f64,
}

impl Bucket {
    const EMPTY: Self =
        Self { first_ms: 0, count: 0, base: 0.0, sum: 0.0, squares: 0.0, low: 0.0, high: 0.0 };

    const fn of(now_ms: u64, value: f64) -> Self {
        Self { first_ms: now_ms, count: 1, base: value, sum: 0.0, squares: 0.0, low: value, high: value }
    }

    fn add(&mut self, value: f64) {
        let from_base = value - self.base;
        self.count += 1;
        self.sum += from_base;
        self.squares += from_base * from_base;
        self.low = self.low.min(value);
        self.high = self.high.max(value);
    }
}

impl Settle {
    /// One that has seen nothing yet.
    #[must_use]
    pub const fn new(settings: SettleSettings) -> Self {
        Self { settings, buckets: [Bucket::EMPTY; BUCKETS + 1], used: 0, latest: None }
    }

    /// What it counts as standing still.
    #[must_use]
    pub const fn settings(&self) -> &SettleSettings {
        &self.settings
    }

    /// Starts again, as after a reading was taken or the point has changed.
    pub const fn restart(&mut self) {
        self.used = 0;
    }

    /// Takes a sample at its time. One whose flags bar it, or that is no finite number, starts the while again.
    pub fn sample(&mut self, now_ms: u64, sample: &Sample) -> State {
        if sample.flags.bars() {
            self.restart();
            return self.at(now_ms);
        }
        self.value(now_ms, sample.base())
    }

    /// Takes a value at its time. Times do not go backwards; one that does counts as the last one.
    pub fn value(&mut self, now_ms: u64, value: f64) -> State {
        if !value.is_finite() {
            self.restart();
            return self.at(now_ms);
        }
        let now_ms = self.latest.map_or(now_ms, |(last_ms, _)| {
            if now_ms.saturating_sub(last_ms) > self.settings.lost_after_ms {
                self.used = 0;
            }
            now_ms.max(last_ms)
        });
        self.latest = Some((now_ms, value));
        self.put(now_ms, value);
        self.keep_inside_band();
        self.keep_the_while(now_ms);
        self.at(now_ms)
    }

    /// How it stands at a time at which no sample came.
    #[must_use]
    pub fn at(&self, now_ms: u64) -> State {
        let Some((last_ms, latest)) = self.latest else { return State::Lost };
        if now_ms.saturating_sub(last_ms) > self.settings.lost_after_ms {
            return State::Lost;
        }
        let Some(first) = self.buckets().first() else { return State::Settling { latest, progress: 0.0 } };
        let samples = self.buckets().iter().map(|bucket| bucket.count).sum::<u32>();
        let passed_ms = last_ms - first.first_ms;
        let time = ratio(passed_ms, self.settings.hold_ms);
        let count = ratio(u64::from(samples), u64::from(self.settings.samples));
        if time < 1.0 || count < 1.0 {
            return State::Settling { latest, progress: time.min(count) };
        }
        if self.creep() > self.settings.band / 4.0 {
            return State::Settling { latest, progress: 0.99 };
        }
        let (value, scatter) = mean_and_scatter(self.buckets());
        State::Settled { latest, reading: Settled { value, scatter, samples, since_ms: first.first_ms } }
    }

    fn buckets(&self) -> &[Bucket] {
        self.buckets.get(..self.used).unwrap_or_default()
    }

    /// Adds to the newest bucket, or begins another one when that has had its time.
    fn put(&mut self, now_ms: u64, value: f64) {
        let piece_ms = self.settings.hold_ms.div_ceil(BUCKETS as u64 - 1).max(1);
        let newest = self.used.checked_sub(1).and_then(|at| self.buckets.get_mut(at));
        if let Some(newest) = newest.filter(|newest| now_ms - newest.first_ms < piece_ms) {
            newest.add(value);
            return;
        }
        if self.used == self.buckets.len() {
            self.drop_oldest(1);
        }
        if let Some(free) = self.buckets.get_mut(self.used) {
            *free = Bucket::of(now_ms, value);
            self.used += 1;
        }
    }

    fn drop_oldest(&mut self, count: usize) {
        self.buckets.copy_within(count..self.used, 0);
        self.used -= count;
    }

    /// Drops what is older than the last sample outside the band about the newest ones.
    fn keep_inside_band(&mut self) {
        let limit = self.settings.band * (1.0 + 1e-9);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let kept = self
            .buckets()
            .iter()
            .rev()
            .take_while(|bucket| {
                low = low.min(bucket.low);
                high = high.max(bucket.high);
                high - low <= limit
            })
            .count();
        if kept > 0 {
            self.drop_oldest(self.used - kept);
        } else if let Some((now_ms, value)) = self.latest {
            // The newest bucket itself has samples on both sides of a jump.
            self.buckets[0] = Bucket::of(now_ms, value);
            self.used = 1;
        }
    }

    /// Drops the oldest piece once the while is full without it.
    fn keep_the_while(&mut self, now_ms: u64) {
        while let Some(second) = self.buckets().get(1)
            && now_ms - second.first_ms >= self.settings.hold_ms
        {
            self.drop_oldest(1);
        }
    }

    /// How far the mean of the newer half lies from that of the older.
    fn creep(&self) -> f64 {
        let (older, newer) = self.buckets().split_at(self.used / 2);
        if older.is_empty() {
            return 0.0;
        }
        (mean_and_scatter(newer).0 - mean_and_scatter(older).0).abs()
    }
}

fn ratio(part: u64, whole: u64) -> f32 {
    if whole == 0 { 1.0 } else { (part as f32 / whole as f32).min(1.0) }
}

/// Mean and standard deviation of all samples, by differences from one base.
fn mean_and_scatter(buckets: &[Bucket]) -> (f64, f64) {
    let base = buckets.first().map_or(0.0, |bucket| bucket.base);
    let (mut count, mut sum, mut squares) = (0.0, 0.0, 0.0);
    for bucket in buckets {
        let shift = bucket.base - base;
        let n = f64::from(bucket.count);
        count += n;
        sum += bucket.sum + n * shift;
        squares += bucket.squares + 2.0 * shift * bucket.sum + n * shift * shift;
    }
    let mean = sum / count;
    let variance = if count > 1.0 { ((squares - sum * mean) / (count - 1.0)).max(0.0) } else { 0.0 };
    (base + mean, libm::sqrt(variance))
}
