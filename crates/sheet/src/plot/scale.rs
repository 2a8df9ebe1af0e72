//! Linear scales and round values on them.

use quantity::shown;

/// Round values, and the decimals they need.
pub(super) struct Ticks {
    pub values: Vec<f64>,
    pub decimals: usize,
}

#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    pub(super) low: f64,
    pub(super) high: f64,
    from: f64,
    to: f64,
}

impl Scale {
    /// A scale over these values, in any order. Its width is never zero.
    pub(super) fn over(values: impl IntoIterator<Item = f64>, spare: f64, least: f64) -> Self {
        let finite = values.into_iter().filter(|v| v.is_finite());
        let (low, high) = finite.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        let (low, high) = if low <= high { (low, high) } else { (0.0, 0.0) };
        let pad = ((high - low) * spare).max((least - (high - low)) / 2.0).max(0.0);
        Self { low: low - pad, high: high + pad, from: 0.0, to: 1.0 }
    }

    /// The same from one place to another.
    pub(super) const fn onto(mut self, from: f64, to: f64) -> Self {
        self.from = from;
        self.to = to;
        self
    }

    pub(super) fn at(self, value: f64) -> f64 {
        let value = value.clamp(self.low, self.high);
        self.from + (self.to - self.from) * (value - self.low) / (self.high - self.low)
    }

    /// About this many values of minutes, at parts and multiples of a degree.
    pub(super) fn minutes(self, about: f64) -> Ticks {
        let raw = (self.high - self.low) / about.max(1.0);
        let part = [5.0, 10.0, 15.0, 20.0, 30.0].into_iter().find(|part| *part >= raw * 0.8);
        match part {
            _ if raw <= 2.5 => self.ticks(about),
            Some(part) => self.every(part, 0),
            None => {
                let degrees = Self { low: self.low / 60.0, high: self.high / 60.0, ..self }.ticks(about);
                Ticks { values: degrees.values.into_iter().map(|v| v * 60.0).collect(), decimals: 0 }
            }
        }
    }

    /// About this many round values.
    pub(super) fn ticks(self, about: f64) -> Ticks {
        let raw = (self.high - self.low) / about.max(1.0);
        let step = shown::round_step(raw * 0.8);
        self.every(step, shown::step_decimals(step))
    }

    /// The multiples of a step.
    fn every(self, step: f64, decimals: usize) -> Ticks {
        let first = (self.low / step - 1e-9).ceil();
        let values =
            (0..60).map(|i| (first + f64::from(i)) * step).take_while(|v| *v <= self.high + step * 1e-9);
        Ticks { values: values.collect(), decimals }
    }
}

#[cfg(test)]
mod tests;
