//! Learns the behaviour of an instrument at rest while it is watched: consecutive seconds that look alike.

use super::bucket::Bucket;

/// Length of a piece.
const PIECE_MS: u64 = 1_000;
/// The fewest samples in a piece.
const LEAST: u32 = 4;
/// The number of pieces that must look alike.
const ALIKE: usize = 3;
/// After this long without rest, a reason is given.
const RESTLESS_MS: u64 = 10_000;
/// The band is this many times the range seen at rest.
const MARGIN: f64 = 1.25;
/// A range of more steps than this is not noise at rest.
const MOST_STEPS: f64 = 60.0;

/// Why a value does not come to rest; in the base unit.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Unrest {
    /// From its lowest value to its highest, and the largest range that counts as rest.
    #[error(
        "it scatters by {range:.4}, but at rest at most {band:.4} is expected; give its noise in the instrument's file, as \
         [settle] noise"
    )]
    Noisy { range: f64, band: f64 },
    /// It moves in one direction.
    #[error("it drifts by {per_second:+.4} each second; wait for it to warm up or come to rest")]
    Drifting { per_second: f64 },
}

/// Watches a stream in pieces.
#[derive(Clone, Debug)]
pub(super) struct Learn {
    open: Option<Bucket>,
    past: [Option<Bucket>; ALIKE],
    /// The widest range seen over pieces that look alike.
    range: f64,
    /// Since when it has not been at rest.
    restless_ms: Option<u64>,
}

impl Learn {
    pub(super) const NEW: Self = Self { open: None, past: [None; ALIKE], range: 0.0, restless_ms: None };

    /// The current pieces belong to something else; what was learned stays.
    pub(super) const fn restart(&mut self) {
        (self.open, self.past, self.restless_ms) = (None, [None; ALIKE], None);
    }

    pub(super) fn at_rest(&mut self, now_ms: u64) {
        self.restless_ms = Some(now_ms);
    }

    pub(super) fn value(&mut self, now_ms: u64, value: f64) {
        self.restless_ms.get_or_insert(now_ms);
        match &mut self.open {
            Some(open) if now_ms - open.first_ms < PIECE_MS || open.count < LEAST => open.add(value),
            Some(open) => {
                let over = *open;
                self.past.rotate_left(1);
                self.past[ALIKE - 1] = Some(over);
                self.open = Some(Bucket::of(now_ms, value));
                if let Some(range) = self.alike() {
                    self.range = self.range.max(range);
                }
            }
            None => self.open = Some(Bucket::of(now_ms, value)),
        }
    }

    /// The range over the last pieces, if they look like an instrument at rest: the same scatter, the same mean.
    fn alike(&self) -> Option<f64> {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut fewest = 16;
        let (mut least, mut most, mut first, mut last) =
            (f64::INFINITY, 0.0_f64, f64::INFINITY, f64::NEG_INFINITY);
        for piece in &self.past {
            let piece = piece.as_ref()?;
            fewest = fewest.min(piece.count);
            (low, high) = (low.min(piece.low), high.max(piece.high));
            (least, most) = (least.min(piece.sd()), most.max(piece.sd()));
            (first, last) = (first.min(piece.mean()), last.max(piece.mean()));
        }
        // One second of a slow instrument has few samples, so its scatter is poorly known.
        let apart = (4.0 / libm::sqrt(f64::from(fewest))).min(1.5);
        (most <= 3.0 * least && last - first <= apart * most).then_some(high - low)
    }

    /// The band required by what was learned.
    pub(super) fn band(&self, step: f64) -> f64 {
        if self.range > MOST_STEPS * step { 0.0 } else { MARGIN * self.range }
    }

    pub(super) fn unrest(&self, now_ms: u64, band: f64) -> Option<Unrest> {
        if now_ms - self.restless_ms? < RESTLESS_MS {
            return None;
        }
        if let Some(range) = self.alike() {
            return (range > band).then_some(Unrest::Noisy { range, band });
        }
        let [Some(a), Some(b), Some(c)] = &self.past else { return None };
        let (ab, bc) = (b.mean() - a.mean(), c.mean() - b.mean());
        let seconds = (c.first_ms - a.first_ms) as f64 / 1000.0;
        (ab * bc > 0.0).then(|| Unrest::Drifting { per_second: (c.mean() - a.mean()) / seconds })
    }
}
