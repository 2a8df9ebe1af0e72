//! Watches for a shift with the two-sided tabular cumulative sum (E. S. Page, Biometrika 41, 1954), in constant
//! memory.

/// Watches values that should stay at one level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cusum {
    level: f64,
    sd: f64,
    allowance: f64,
    limit: f64,
    seen: u64,
    up: Side,
    down: Side,
}

#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Side {
    sum: f64,
    /// Values since the sum was last zero.
    run: u64,
}

impl Side {
    fn add(&mut self, excess: f64) {
        self.sum = (self.sum + excess).max(0.0);
        self.run = if self.sum > 0.0 { self.run + 1 } else { 0 };
    }
}

/// A shift that was detected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// The first value that belongs to the new level, counted from 0.
    pub first: u64,
    /// The value at which it was detected, counted from 0.
    pub found: u64,
    /// Estimated size of the shift, with sign.
    pub size: f64,
}

impl Cusum {
    /// Watches a level with scatter `sd` (above zero) for shifts of about two `allowance` standard deviations; it
    /// reports when the sum passes `limit` standard deviations. With the usual allowance 0.5 and limit 5, a shift of
    /// one standard deviation is found after about ten values, and a false alarm comes about every 465.
    pub fn new(level: f64, sd: f64, allowance: f64, limit: f64) -> Self {
        Self { level, sd, allowance, limit, seen: 0, up: Side::default(), down: Side::default() }
    }

    /// Takes the next value. A shift is reported once; after that the new level is watched. A value that is not
    /// finite is counted and skipped.
    pub fn add(&mut self, value: f64) -> Option<Change> {
        let at = self.seen;
        self.seen += 1;
        let z = (value - self.level) / self.sd;
        if !z.is_finite() {
            return None;
        }
        self.up.add(z - self.allowance);
        self.down.add(-z - self.allowance);
        let (side, sign) = if self.up.sum >= self.down.sum { (self.up, 1.0) } else { (self.down, -1.0) };
        if side.sum <= self.limit {
            return None;
        }
        let size = sign * self.sd * (self.allowance + side.sum / side.run as f64);
        self.level += size;
        (self.up, self.down) = (Side::default(), Side::default());
        Some(Change { first: at + 1 - side.run, found: at, size })
    }
}
