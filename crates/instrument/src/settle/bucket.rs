//! Samples summed in pieces of equal time.

/// A few samples summed. The sums are of differences from `base`, so that nothing is lost to rounding.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bucket {
    pub(super) first_ms: u64,
    pub(super) count: u32,
    pub(super) base: f64,
    pub(super) sum: f64,
    pub(super) squares: f64,
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Bucket {
    pub(super) const fn of(now_ms: u64, value: f64) -> Self {
        Self { first_ms: now_ms, count: 1, base: value, sum: 0.0, squares: 0.0, low: value, high: value }
    }

    pub(super) fn mean(&self) -> f64 {
        self.base + self.sum / f64::from(self.count)
    }

    /// Standard deviation; 0 for one sample.
    pub(super) fn sd(&self) -> f64 {
        let n = f64::from(self.count);
        libm::sqrt(((self.squares - self.sum * self.sum / n) / (n - 1.0).max(1.0)).max(0.0))
    }

    pub(super) fn add(&mut self, value: f64) {
        let from_base = value - self.base;
        self.count += 1;
        self.sum += from_base;
        self.squares += from_base * from_base;
        self.low = self.low.min(value);
        self.high = self.high.max(value);
    }
}

/// How far the mean of the newer half is from that of the older.
pub(super) fn creep(buckets: &[Bucket]) -> f64 {
    let (older, newer) = buckets.split_at(buckets.len() / 2);
    if older.is_empty() {
        return 0.0;
    }
    (whole(newer).mean - whole(older).mean).abs()
}

/// All samples of some buckets together.
pub(super) struct Whole {
    pub mean: f64,
    /// Their standard deviation.
    pub scatter: f64,
}

/// Computed from differences from one base.
pub(super) fn whole(buckets: &[Bucket]) -> Whole {
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
    Whole { mean: base + mean, scatter: libm::sqrt(variance) }
}
