//! A long trace, thinned once to the least and the most of each bucket.
//!
//! Drawing a million samples would cost seconds a frame, and a screen has some thousand columns. So the samples are
//! kept whole, and beside them a pyramid: each level holds the least and the most of four buckets of the level below.
//! A picture uses the coarsest level that still has a bucket for every column.

use record::Point;

/// Buckets of the level below that make one of the level above.
const FAN: usize = 4;
/// A bucket of the coarsest level joins 16 million samples.
const LEVELS: usize = 12;

/// Samples of a drift watch, in the order they came.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    pub point: Option<Point>,
    /// Seconds of each sample since the watch began, growing.
    seconds: Vec<f64>,
    /// The values, in the base unit.
    values: Vec<f32>,
    /// Least and most of each bucket, finest level first.
    levels: [Vec<Bucket>; LEVELS],
    pub temperature: Vec<Warmth>,
    /// Shifts found.
    pub shifts: Vec<Shift>,
}

/// A temperature beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Warmth {
    pub seconds: f64,
    pub celsius: f64,
}

/// The level moved and stayed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shift {
    pub seconds: f64,
    /// In the base unit.
    pub size: f64,
}

/// The least and the most of some samples.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Bucket {
    least: f32,
    most: f32,
}

impl Bucket {
    const fn one(value: f32) -> Self {
        Self { least: value, most: value }
    }

    fn with(self, other: Self) -> Self {
        Self { least: self.least.min(other.least), most: self.most.max(other.most) }
    }

    fn merged(all: impl Iterator<Item = Self>) -> Self {
        all.fold(Self { least: f32::INFINITY, most: f32::NEG_INFINITY }, Self::with)
    }
}

/// A column of a thinned trace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// Seconds at its middle.
    pub seconds: f64,
    pub least: f64,
    pub most: f64,
}

impl Trace {
    pub fn of(point: Point) -> Self {
        Self { point: Some(point), ..Self::default() }
    }

    pub fn samples(&self) -> usize {
        self.values.len()
    }

    /// Seconds from the first sample to the last.
    pub fn span_s(&self) -> f64 {
        match (self.seconds.first(), self.seconds.last()) {
            (Some(a), Some(b)) => b - a,
            _ => 0.0,
        }
    }

    pub fn seconds(&self) -> &[f64] {
        &self.seconds
    }

    pub fn last(&self) -> Option<f64> {
        self.values.last().map(|&v| f64::from(v))
    }

    /// Adds a sample; one earlier than the last is put at the last's time.
    pub fn push(&mut self, seconds: f64, value: f64) {
        let value = value as f32;
        let seconds = self.seconds.last().map_or(seconds, |&last| seconds.max(last));
        let mut index = self.values.len();
        self.seconds.push(seconds);
        self.values.push(value);
        for buckets in &mut self.levels {
            index /= FAN;
            match buckets.get_mut(index) {
                Some(bucket) => *bucket = bucket.with(Bucket::one(value)),
                None => buckets.push(Bucket::one(value)),
            }
        }
    }

    /// The trace in at most `columns` columns of equally many samples, and in more than half as many if there are
    /// samples enough.
    pub fn columns(&self, columns: usize) -> Vec<Column> {
        let columns = columns.max(1);
        let fine_enough = (1..).zip(&self.levels).filter(|(_, buckets)| buckets.len() >= columns);
        match fine_enough.last() {
            Some((level, buckets)) => self.thinned(buckets, FAN.pow(level), columns, |&bucket| bucket),
            None => self.thinned(&self.values, 1, columns, |&value| Bucket::one(value)),
        }
    }

    /// Joins buckets of `width` samples each into at most `columns`.
    fn thinned<T>(
        &self,
        buckets: &[T],
        width: usize,
        columns: usize,
        bucket: impl Fn(&T) -> Bucket,
    ) -> Vec<Column> {
        let together = buckets.len().div_ceil(columns).max(1);
        let samples = self.seconds.chunks(width * together);
        let column = |(some, seconds): (&[T], &[f64])| {
            let Bucket { least, most } = Bucket::merged(some.iter().map(&bucket));
            let first = seconds.first().copied().unwrap_or_default();
            let last = seconds.last().copied().unwrap_or(first);
            Column { seconds: (first + last) / 2.0, least: f64::from(least), most: f64::from(most) }
        };
        buckets.chunks(together).zip(samples).map(column).collect()
    }
}
