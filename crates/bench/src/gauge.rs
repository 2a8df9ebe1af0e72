//! One axis of an instrument while readings are taken with it: whether it is at rest, and whether it was moved since
//! the last reading.

use instrument::{Axis, Flags, Sample, Settle, SettleSettings, Settled, State, Unrest};

/// The value must stay away from the last reading this long before it counts as having left; a knock does not count.
const AWAY_MS: u64 = 600;
/// How long a rest lasts after it was last seen, while the value stays in its band.
const STILL_MS: u64 = 700;

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Standing {
    Silent,
    /// It is moving, or has not been still long enough.
    Moving {
        /// The last value, in the base unit.
        latest: f64,
        /// How far it has settled, 0 to 1.
        progress: f32,
    },
    /// It is still at the rest where the last reading was taken.
    Taken {
        latest: f64,
    },
    /// It is at rest and can be taken.
    Ready {
        reading: Settled,
    },
}

/// Watches one axis of an instrument.
///
/// An instrument that sends a value when its button is pressed ([`SettleSettings::each_value`]) offers each value
/// once, however long ago it came; the same value again is another press and another reading. For all others, the
/// same rest is never offered twice: after a reading was taken, the value must **leave** that rest, that is, be
/// outside the band about it for more than half a second. A slow drift does not count as leaving: while the value is
/// at rest, the rest follows it. This also holds across a lost and found port.
#[derive(Clone, Debug)]
pub struct Gauge {
    axis: Axis,
    settle: Settle,
    latest: Option<Sample>,
    /// The finest last digit received: an instrument may leave out trailing zeros.
    finest: Option<i8>,
    /// Where the last reading was taken, and where that rest has drifted to since.
    rest: Option<f64>,
    /// Since when the value is away from it.
    away_ms: Option<u64>,
    /// The present rest, and when it was last seen: a flickering digit does not end it immediately.
    still: Option<(u64, Settled)>,
    /// The value of the last press, for an instrument that sends when its button is pressed.
    pressed: Option<Settled>,
}

impl Gauge {
    pub const fn new(axis: Axis, settings: SettleSettings) -> Self {
        Self {
            axis,
            settle: Settle::new(settings),
            latest: None,
            finest: None,
            rest: None,
            away_ms: None,
            still: None,
            pressed: None,
        }
    }

    pub const fn axis(&self) -> Axis {
        self.axis
    }

    /// How far values may lie apart and still be one rest.
    pub fn band(&self) -> f64 {
        self.settle.band()
    }

    /// Whether the instrument sends a value when its button is pressed.
    pub const fn each_value(&self) -> bool {
        self.settle.settings().each_value()
    }

    /// Takes a sample of this axis with its time; samples of other axes are ignored.
    pub fn sample(&mut self, at_ms: u64, sample: &Sample) {
        if sample.axis != self.axis {
            return;
        }
        let state = self.settle.sample(at_ms, sample);
        if sample.flags.bars() {
            return;
        }
        let finest = self.finest.map_or(sample.value.exponent, |finest| finest.min(sample.value.exponent));
        self.finest = Some(finest);
        self.latest = Some(*sample);
        if !self.settle.settings().each_value() {
            self.latest = Some(Sample { value: sample.value.ending_at(finest), ..*sample });
        }
        if self.settle.settings().each_value() {
            // Sent while it was moving, as the instrument itself says: not a press.
            if sample.flags.contains(Flags::MOVING) {
                return;
            }
            self.rest = None;
            self.pressed = Some(Settled { value: sample.base(), scatter: 0.0, samples: 1, since_ms: at_ms });
            return;
        }
        let band = self.settle.band();
        match state {
            State::Settled { reading, .. } => self.still = Some((at_ms, reading)),
            _ => {
                let near = |still: &Settled| (sample.base() - still.value).abs() <= band;
                self.still = self.still.filter(|(seen_ms, still)| at_ms - seen_ms <= STILL_MS && near(still));
            }
        }
        let Some(rest) = self.rest else { return };
        // Noise below one step does not show on a display with a constant digit.
        if (sample.base() - rest).abs() <= band {
            self.away_ms = None;
            if let State::Settled { reading, .. } = state
                && (reading.value - rest).abs() <= band
            {
                self.rest = Some(reading.value);
            }
        } else if at_ms.saturating_sub(*self.away_ms.get_or_insert(at_ms)) >= AWAY_MS {
            (self.rest, self.away_ms) = (None, None);
        }
    }

    /// Restarts the hold time, for example after the port was lost. What was taken stays taken.
    pub fn restart(&mut self) {
        self.settle.restart();
        (self.away_ms, self.still) = (None, None);
    }

    /// A reading of this value was taken.
    pub const fn took(&mut self, value: f64) {
        self.rest = Some(value);
        self.away_ms = None;
    }

    /// The last sample with a value.
    pub const fn latest(&self) -> Option<&Sample> {
        self.latest.as_ref()
    }

    /// Why it does not come to rest, once known.
    pub fn unrest(&self) -> Option<Unrest> {
        self.settle.unrest()
    }

    pub fn standing(&self, now_ms: u64) -> Standing {
        if self.settle.settings().each_value() {
            return match self.pressed {
                None => Standing::Silent,
                Some(reading) if self.rest.is_some() => Standing::Taken { latest: reading.value },
                Some(reading) => Standing::Ready { reading },
            };
        }
        match self.settle.at(now_ms) {
            State::Lost => Standing::Silent,
            State::Settling { latest, .. } if self.rest.is_some() && self.away_ms.is_none() => {
                Standing::Taken { latest }
            }
            State::Settling { latest, progress } => match self.still {
                Some(_) if self.rest.is_some() => Standing::Taken { latest },
                Some((_, reading)) => Standing::Ready { reading },
                None => Standing::Moving { latest, progress },
            },
            State::Settled { latest, .. } if self.rest.is_some() => Standing::Taken { latest },
            State::Settled { reading, .. } => Standing::Ready { reading },
        }
    }

    /// The rest at this time, taken before or not.
    pub fn settled(&self, now_ms: u64) -> Option<Settled> {
        if self.settle.settings().each_value() {
            return self.pressed;
        }
        match self.settle.at(now_ms) {
            State::Settled { reading, .. } => Some(reading),
            State::Settling { .. } => self.still.map(|(_, reading)| reading),
            State::Lost => None,
        }
    }
}

#[cfg(test)]
mod tests;
