//! Detects when an instrument is at rest, and what it then reads.
//!
//! A reading is offered when all samples of a hold time are inside a band. The band comes from the step of the
//! display and the noise, so that a display flickering between two digits, or a sensor at rest, counts as still. The
//! value is the mean over the hold time; the scatter about it is given for the uncertainty. The two halves of the
//! hold time must not differ by more than a quarter of the band. The trend since the value entered the band, over at
//! most four hold times, must not carry it further than half a step and its scatter: a sensor still approaching its
//! value, and a slow creep, are not at rest.
//!
//! The noise of an instrument that states none is learned from its first seconds at rest ([`Noise::Learned`]).
//!
//! Samples are summed in at most [`BUCKETS`] pieces of equal time, so that an instrument of 1 kHz needs no more
//! memory than one of 4 Hz.

mod bucket;
mod learn;
mod settings;

pub use learn::Unrest;
pub use settings::{Noise, SettleSettings};

use crate::{Flags, Sample};
use arrayvec::ArrayVec;
use bucket::{Bucket, Whole, creep, whole};
use learn::Learn;

/// The number of pieces that four hold times are divided into.
pub const BUCKETS: usize = 64;
/// The trend is examined over this many hold times.
const TREND_WHILES: u64 = 4;
/// The trend must not carry the value far within this time: a sensor with a time constant of 6 s is then within half
/// a step of its end, and a creep of 0.0005 a second is no trend on a display of hundredths.
const TREND_MS: f64 = 8_000.0;

/// A value at rest. Its uncertainty has two parts that are not in `scatter`: that of the display's step (step / √12,
/// which a display that shows one constant digit hides), and that of the instrument.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settled {
    /// The mean over the hold time.
    pub value: f64,
    /// The standard deviation of the samples about it; 0 for a display that shows one constant digit.
    pub scatter: f64,
    /// The number of samples.
    pub samples: u32,
    /// Since when they are inside the band, in the milliseconds passed in; not before the hold time began.
    pub since_ms: u64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum State {
    /// No sample has come for too long, or none yet.
    Lost,
    /// Moving, or not still for long enough.
    Settling {
        /// The last value.
        latest: f64,
        /// From 0 to 1: the share of the hold time spent inside the band.
        progress: f32,
    },
    /// At rest.
    Settled {
        /// The last value.
        latest: f64,
        /// The reading that can be taken.
        reading: Settled,
    },
}

/// Watches the samples of one axis.
#[derive(Clone, Debug)]
pub struct Settle {
    settings: SettleSettings,
    /// The newest last.
    buckets: ArrayVec<Bucket, { BUCKETS + 1 }>,
    latest: Option<(u64, f64)>,
    learn: Learn,
    /// The value from which it entered the band; `None` if that is longer ago than the trend is examined.
    came_from: Option<f64>,
    /// The last gaps between samples; the smallest is the instrument's own interval.
    gaps_ms: [u64; 3],
}

impl Settle {
    /// A watch that has seen nothing yet.
    #[must_use]
    pub const fn new(settings: SettleSettings) -> Self {
        let buckets = ArrayVec::new_const();
        Self { settings, buckets, latest: None, learn: Learn::NEW, came_from: None, gaps_ms: [0; 3] }
    }

    /// What counts as at rest.
    #[must_use]
    pub const fn settings(&self) -> &SettleSettings {
        &self.settings
    }

    /// The band in force: from the settings, or from the learned noise.
    #[must_use]
    pub fn band(&self) -> f64 {
        match self.settings.noise {
            Noise::Stated => self.settings.band,
            Noise::Learned => self.settings.band.max(self.learn.band(self.settings.step)),
        }
    }

    /// Why it has not come to rest, once ten seconds have passed.
    #[must_use]
    pub fn unrest(&self) -> Option<Unrest> {
        let (now_ms, _) = self.latest?;
        match self.at(now_ms) {
            State::Settling { .. } => self.learn.unrest(now_ms, self.band()),
            State::Lost | State::Settled { .. } => None,
        }
    }

    /// Starts again, for example after a reading was taken or the point changed.
    pub fn restart(&mut self) {
        self.buckets.clear();
        self.came_from = None;
        self.learn.restart();
    }

    /// The instrument's own interval: the smallest of the last gaps; 0 until there are some.
    fn interval_ms(&self) -> u64 {
        self.gaps_ms.iter().min().copied().unwrap_or(0)
    }

    /// Without a sample for longer than this, the instrument is lost. For a slow instrument, three of its own
    /// intervals.
    fn lost_after_ms(&self) -> u64 {
        self.settings.lost_after_ms.max(3 * self.interval_ms())
    }

    /// The hold time. For a slow instrument, as long as its samples take.
    fn hold_ms(&self) -> u64 {
        let samples = u64::from(self.settings.samples.saturating_sub(1)).min(16);
        self.settings.hold_ms.max(samples * self.interval_ms())
    }

    /// Takes a sample with its time. A sample barred by its flags, one that the instrument reports as moving, or one
    /// that is not a finite number restarts the hold time.
    pub fn sample(&mut self, now_ms: u64, sample: &Sample) -> State {
        if sample.flags.bars() {
            self.restart();
            return self.at(now_ms);
        }
        let state = self.value(now_ms, sample.base());
        if sample.flags.contains(Flags::MOVING) {
            self.restart();
            return self.at(now_ms);
        }
        state
    }

    /// Takes a value with its time. Times never go backwards; an earlier one counts as the last one.
    pub fn value(&mut self, now_ms: u64, value: f64) -> State {
        if !value.is_finite() {
            self.restart();
            return self.at(now_ms);
        }
        let mut at_ms = now_ms;
        if let Some((last_ms, _)) = self.latest {
            let gap_ms = now_ms.saturating_sub(last_ms);
            if gap_ms > self.lost_after_ms() {
                self.restart();
            }
            self.gaps_ms.rotate_left(1);
            self.gaps_ms[2] = gap_ms;
            at_ms = now_ms.max(last_ms);
        }
        let now_ms = at_ms;
        self.latest = Some((now_ms, value));
        self.learn.value(now_ms, value);
        self.put(now_ms, value);
        self.keep_inside_band();
        self.keep_the_while(now_ms);
        let state = self.at(now_ms);
        if matches!(state, State::Settled { .. }) {
            self.learn.at_rest(now_ms);
        }
        state
    }

    /// Its state at a time without a sample.
    #[must_use]
    pub fn at(&self, now_ms: u64) -> State {
        let Some((last_ms, latest)) = self.latest else { return State::Lost };
        if now_ms.saturating_sub(last_ms) > self.lost_after_ms() {
            return State::Lost;
        }
        let Some(first) = self.buckets.first() else { return State::Settling { latest, progress: 0.0 } };
        let all = self.buckets.as_slice();
        let passed_ms = last_ms - first.first_ms;
        let recent = self.recent(last_ms);
        let samples = recent.iter().map(|bucket| bucket.count).sum::<u32>();
        let time = ratio(passed_ms, self.hold_ms());
        let count = ratio(u64::from(samples), u64::from(self.settings.samples));
        if time < 1.0 || count < 1.0 {
            return State::Settling { latest, progress: time.min(count) };
        }
        let Whole { mean: value, scatter } = whole(recent);
        if creep(recent) > self.band() / 4.0 || self.still_going(all, scatter) || self.stepping(all, last_ms)
        {
            return State::Settling { latest, progress: 0.99 };
        }
        let since_ms = recent.first().map_or(first.first_ms, |bucket| bucket.first_ms);
        State::Settled { latest, reading: Settled { value, scatter, samples, since_ms } }
    }

    /// The buckets of the last hold time.
    fn recent(&self, last_ms: u64) -> &[Bucket] {
        let all = self.buckets.as_slice();
        let from = all.iter().rposition(|bucket| last_ms - bucket.first_ms >= self.hold_ms());
        all.get(from.unwrap_or(0)..).unwrap_or(all)
    }

    /// Whether the trend since the value entered the band would still carry it too far.
    fn still_going(&self, all: &[Bucket], scatter: f64) -> bool {
        let third = all.len() / 3;
        let (Some(old), Some(new)) = (all.get(..third), all.get(all.len() - third..)) else { return false };
        let (Some(began), Some(ended)) = (old.first(), new.first()) else { return false };
        let apart_ms = ended.first_ms - began.first_ms;
        if apart_ms == 0 {
            return false;
        }
        let count = |part: &[Bucket]| f64::from(part.iter().map(|bucket| bucket.count).sum::<u32>().max(1));
        let moved = (whole(new).mean - whole(old).mean).abs();
        // A trend is not noise: subtract from the scatter what the trend causes within the hold time.
        let trend = moved * self.hold_ms() as f64 / apart_ms as f64;
        let scatter = libm::sqrt((scatter * scatter - trend * trend / 12.0).max(0.0));
        let unsure = scatter * libm::sqrt(1.0 / count(old) + 1.0 / count(new));
        let carries = TREND_MS / apart_ms as f64;
        // What noise alone could cause is not a trend.
        let may = moved - 2.0 * unsure;
        may * carries > self.settings.step / 2.0 + scatter
    }

    /// Whether the display moves step by step in one direction, until it has shown the last step twice as long as the
    /// one before.
    fn stepping(&self, all: &[Bucket], last_ms: u64) -> bool {
        let (Some(from), Some(first), Some(last)) = (self.came_from, all.first(), all.last()) else {
            return false;
        };
        let way = if first.mean() > from { 1.0 } else { -1.0 };
        let one_way = all.windows(2).all(|pair| (pair[1].mean() - pair[0].mean()) * way >= 0.0);
        if !one_way {
            return false;
        }
        let flat = |bucket: &&Bucket| bucket.low == last.high && bucket.high == last.high;
        let stands = all.iter().rev().take_while(flat).last().map_or(last_ms, |bucket| bucket.first_ms);
        last_ms - stands < 2 * (stands - first.first_ms)
    }

    /// How long a bucket is filled.
    fn piece_ms(&self) -> u64 {
        (TREND_WHILES * self.hold_ms()).div_ceil(BUCKETS as u64 - 1).max(1)
    }

    /// Adds to the newest bucket, or starts another one when its time is over.
    fn put(&mut self, now_ms: u64, value: f64) {
        let piece_ms = self.piece_ms();
        if let Some(newest) = self.buckets.last_mut().filter(|newest| now_ms - newest.first_ms < piece_ms) {
            newest.add(value);
            return;
        }
        if self.buckets.is_full() {
            self.buckets.pop_at(0);
        }
        self.buckets.push(Bucket::of(now_ms, value));
    }

    /// Drops everything older than the last sample outside the band about the newest ones.
    fn keep_inside_band(&mut self) {
        let limit = self.band() * (1.0 + 1e-9);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let kept = self
            .buckets
            .iter()
            .rev()
            .take_while(|bucket| {
                low = low.min(bucket.low);
                high = high.max(bucket.high);
                high - low <= limit
            })
            .count();
        let dropped = self.buckets.len() - kept;
        if let Some(last) = dropped.checked_sub(1).and_then(|last| self.buckets.get(last)) {
            self.came_from = Some(last.mean());
        }
        self.buckets.drain(..dropped);
        if kept > 0 {
            return;
        }
        if let Some((now_ms, value)) = self.latest {
            // The newest bucket itself contains samples from both sides of a jump.
            self.buckets.push(Bucket::of(now_ms, value));
        }
    }

    /// Drops the oldest bucket once the others fill the time over which the trend is examined.
    fn keep_the_while(&mut self, now_ms: u64) {
        while let Some(second) = self.buckets.get(1)
            && now_ms - second.first_ms >= TREND_WHILES * self.hold_ms()
        {
            self.came_from = None;
            self.buckets.pop_at(0);
        }
    }
}

fn ratio(part: u64, whole: u64) -> f32 {
    if whole == 0 { 1.0 } else { (part as f32 / whole as f32).min(1.0) }
}
