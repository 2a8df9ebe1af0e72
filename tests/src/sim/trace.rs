//! What an instrument is exposed to, told as a script.

use crate::seeded::Draws;

/// A value over time: straight pieces, jumps, knocks and times without samples. Values are in the unit that the
/// instrument sends.
#[derive(Clone, Debug, Default)]
pub struct Trace {
    corners: Vec<(u64, f64)>,
    knocks: Vec<(u64, u64, f64)>,
    gaps: Vec<(u64, u64)>,
    noise: f64,
}

impl Trace {
    /// At rest at a value.
    #[must_use]
    pub fn at(value: f64) -> Self {
        Self { corners: vec![(0, value)], ..Self::default() }
    }

    /// A jump to a value at a time.
    #[must_use]
    pub fn step(self, at_ms: u64, value: f64) -> Self {
        self.ramp(at_ms, at_ms, value)
    }

    /// A steady move to a value between two times.
    #[must_use]
    pub fn ramp(mut self, from_ms: u64, to_ms: u64, value: f64) -> Self {
        let before = self.level(from_ms);
        self.corners.push((from_ms, before));
        self.corners.push((to_ms, value));
        self
    }

    /// A knock: off by this much for so long.
    #[must_use]
    pub fn knock(mut self, at_ms: u64, for_ms: u64, by: f64) -> Self {
        self.knocks.push((at_ms, at_ms + for_ms, by));
        self
    }

    /// A time without samples.
    #[must_use]
    pub fn gap(mut self, from_ms: u64, to_ms: u64) -> Self {
        self.gaps.push((from_ms, to_ms));
        self
    }

    /// Normal noise of this standard deviation.
    #[must_use]
    pub fn noise(mut self, deviation: f64) -> Self {
        self.noise = deviation;
        self
    }

    /// The value without knocks and noise.
    #[must_use]
    pub fn level(&self, ms: u64) -> f64 {
        let after = self.corners.partition_point(|(at, _)| *at <= ms);
        let before = after.checked_sub(1).and_then(|at| self.corners.get(at)).copied();
        match (before, self.corners.get(after).copied()) {
            (Some((from, low)), Some((to, high))) => {
                low + (high - low) * (ms - from) as f64 / (to - from) as f64
            }
            (Some((_, value)), None) | (None, Some((_, value))) => value,
            (None, None) => 0.0,
        }
    }

    /// What the instrument sees at a time; `None` in a gap.
    pub fn seen(&self, ms: u64, draws: &mut Draws) -> Option<f64> {
        let noise = if self.noise > 0.0 { self.noise * draws.normal() } else { 0.0 };
        if self.gaps.iter().any(|(from, to)| (*from..*to).contains(&ms)) {
            return None;
        }
        let hit = self.knocks.iter().filter(|(from, to, _)| (*from..*to).contains(&ms));
        Some(self.level(ms) + hit.map(|(_, _, by)| by).sum::<f64>() + noise)
    }
}
