//! The zero shown by reversal pairs.

use super::Question;
use super::words::Say;
use quantity::shown::{K95, WithU};
use record::Reading;

/// The zeros of the round's pairs so far: their number, mean and sum of squares about it (Welford's recurrence).
#[derive(Clone, Debug, Default)]
pub struct Zeros {
    count: f64,
    mean: f64,
    squares: f64,
}

/// With this many pairs, a further pair can be called odd.
const FEWEST: f64 = 2.0;

impl Zeros {
    /// Adds one pair.
    pub fn push(&mut self, zero: f64) {
        self.count += 1.0;
        let step = zero - self.mean;
        self.mean += step / self.count;
        self.squares += step * (zero - self.mean);
    }

    /// Their mean.
    pub fn mean(&self) -> Option<f64> {
        (self.count > 0.0).then_some(self.mean)
    }

    /// A reading whose pair has a zero more than three standard uncertainties from that of the round.
    pub fn question(
        &self,
        reading: &Reading,
        opposite: f64,
        repeatability: Option<f64>,
        say: Say,
    ) -> Option<Question> {
        if self.count < FEWEST {
            return None;
        }
        let seating = repeatability.unwrap_or(reading.resolution / 2.0);
        let scatter = reading.scatter.unwrap_or(0.0);
        let one = seating * seating + scatter * scatter + reading.resolution * reading.resolution / 12.0;
        // A pair's zero is half the sum of two readings; if the pairs really scatter more, that counts.
        let seen = if self.count > FEWEST { self.squares / (self.count - 1.0) } else { 0.0 };
        let variance = (one / 2.0).max(seen);
        let zero = (reading.value + opposite) / 2.0;
        let u = libm::sqrt(variance * (1.0 + 1.0 / self.count));
        // Zeros come in halves of a step.
        if (zero - self.mean).abs() <= 3.0 * u + reading.resolution / 4.0 {
            return None;
        }
        let half = K95 * libm::sqrt(variance / self.count);
        Some(Question::OtherZero {
            value: reading.value,
            zero,
            before: WithU::of_half(self.mean, half),
            shows: 2.0 * self.mean - opposite,
            point: reading.point.clone(),
            facing: reading.facing,
            say,
        })
    }
}
