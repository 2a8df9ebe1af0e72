//! One axis of an instrument while readings are taken with it: whether it stands still, and whether it was moved since
//! the last reading.

use instrument::{Axis, Flags, Sample, Settle, SettleSettings, Settled, State, Unrest};

/// The value must stay away from the last reading this long before it counts as having left; a knock does not.
const AWAY_MS: u64 = 600;
/// How long a rest lasts after it was last seen, while the value stays in its band.
const STILL_MS: u64 = 700;

/// How the instrument stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Standing {
    /// Nothing comes in.
    Silent,
    /// It moves, or has not been still for long enough.
    Moving {
        /// The last value, in the unit used inside.
        latest: f64,
        /// How far it has settled, 0 to 1.
        progress: f32,
    },
    /// It is still at the rest where the last reading was taken.
    Taken {
        /// The last value.
        latest: f64,
    },
    /// It is at rest and can be taken.
    Ready {
        /// What can be taken.
        reading: Settled,
    },
}

/// Watches one axis of an instrument.
///
/// An instrument that sends a value when its button is pressed ([`SettleSettings::each_value`]) offers each of them once, however long ago
/// it came; the same value again is another press and another reading. For all others the same rest is never offered twice: after a
/// reading was taken the value must **leave** that rest: be outside the band about it for more than half a second. A slow drift is
/// followed, not left: while the value is at rest, the rest goes along with it. That holds through a port that was lost and found, too.
#[derive(Clone, Debug)]
pub struct Gauge {
    axis: Axis,
    settle: Settle,
    latest: Option<Sample>,
    /// The finest last digit that came: an instrument may leave out noughts behind its last digit.
    finest: Option<i8>,
    /// Where the last reading was taken, and where that rest has drifted to since.
    rest: Option<f64>,
    /// Since when the value is away from it.
    away_ms: Option<u64>,
    /// The rest that is there, and when it was last seen: a digit that flickers does not end it at once.
    still: Option<(u64, Settled)>,
    /// The value of the last press, of an instrument that sends when its button is pressed.
    pressed: Option<Settled>,
}

impl Gauge {
    /// One that has seen nothing yet.
    #[must_use]
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

    /// The axis it watches.
    #[must_use]
    pub const fn axis(&self) -> Axis {
        self.axis
    }

    /// True for an instrument that sends a value when its button is pressed.
    #[must_use]
    pub const fn each_value(&self) -> bool {
        self.settle.settings().each_value()
    }

    /// Takes a sample of the axis at its time; others are passed over.
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
            // Sent before it stood still, as the instrument itself says: no press.
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
        // Of a display that stands on one digit a noise of one step is not seen.
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

    /// Starts the while again, as after the port was lost. What was taken stays taken.
    pub const fn restart(&mut self) {
        self.settle.restart();
        (self.away_ms, self.still) = (None, None);
    }

    /// A reading of this value was taken.
    pub const fn took(&mut self, value: f64) {
        self.rest = Some(value);
        self.away_ms = None;
    }

    /// The last sample that is a value.
    #[must_use]
    pub const fn latest(&self) -> Option<&Sample> {
        self.latest.as_ref()
    }

    /// Why it does not come to rest, once that is known.
    #[must_use]
    pub fn unrest(&self) -> Option<Unrest> {
        self.settle.unrest()
    }

    /// How it stands at this time.
    #[must_use]
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

    /// What is at rest at this time, taken before or not.
    #[must_use]
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
mod tests {
    use super::{Gauge, Standing};
    use instrument::{Axis, Decimal, Flags, Sample, SettleSettings};
    use quantity::Unit;

    /// Tenths of a degree, ten a second.
    fn feed(gauge: &mut Gauge, from_ms: u64, to_ms: u64, tenths: i64) {
        let value = Decimal { mantissa: tenths, exponent: -1 };
        let sample = Sample::bare(Axis::Angle, value, Unit::Degree);
        for at_ms in (from_ms..to_ms).step_by(100) {
            gauge.sample(at_ms, &sample);
        }
    }

    fn gauge() -> Gauge {
        Gauge::new(Axis::Angle, SettleSettings::from_instrument(0.1, 0.0))
    }

    #[test]
    fn the_same_rest_is_offered_once() {
        let mut gauge = gauge();
        feed(&mut gauge, 0, 3_000, 20);
        assert!(
            matches!(gauge.standing(3_000), Standing::Ready { reading } if (reading.value - 2.0).abs() < 1e-9)
        );
        gauge.took(2.0);
        feed(&mut gauge, 3_000, 9_000, 20);
        assert!(matches!(gauge.standing(9_000), Standing::Taken { .. }));
        // A flicker of one step is still the same rest.
        feed(&mut gauge, 9_000, 12_000, 21);
        assert!(matches!(gauge.standing(12_000), Standing::Taken { .. }));
        feed(&mut gauge, 12_000, 15_000, 25);
        assert!(matches!(gauge.standing(15_000), Standing::Ready { .. }));
    }

    #[test]
    fn each_press_is_offered_once() {
        let settings = SettleSettings { hold_ms: 0, samples: 1, ..SettleSettings::from_instrument(0.1, 0.0) };
        let mut gauge = Gauge::new(Axis::Angle, settings);
        assert_eq!(gauge.standing(0), Standing::Silent);
        for press_ms in [1_000, 90_000] {
            feed(&mut gauge, press_ms, press_ms + 100, 20);
            let standing = gauge.standing(press_ms + 60_000);
            assert!(
                matches!(standing, Standing::Ready { reading } if (reading.value - 2.0).abs() < 1e-9 && reading.samples == 1)
            );
            gauge.took(2.0);
            gauge.restart();
            assert!(matches!(gauge.standing(press_ms + 60_000), Standing::Taken { .. }));
        }
    }

    #[test]
    fn noughts_that_an_instrument_leaves_out_are_digits_of_it() {
        let mut gauge = gauge();
        for (mantissa, exponent) in [(199, -2), (2, 0), (21, -1), (2, 0)] {
            let value = Decimal { mantissa, exponent };
            gauge.sample(0, &Sample::bare(Axis::Angle, value, Unit::Degree));
        }
        assert_eq!(gauge.latest().map(|sample| sample.value), Some(Decimal { mantissa: 200, exponent: -2 }));
    }

    #[test]
    fn a_value_that_moves_as_the_instrument_says_is_no_reading() {
        let moving = |tenths| Sample {
            flags: Flags::MOVING,
            ..Sample::bare(Axis::Angle, Decimal { mantissa: tenths, exponent: -1 }, Unit::Degree)
        };
        let settings = SettleSettings { hold_ms: 0, samples: 1, ..SettleSettings::from_instrument(0.1, 0.0) };
        let mut pressed = Gauge::new(Axis::Angle, settings);
        pressed.sample(0, &moving(20));
        assert_eq!(pressed.standing(0), Standing::Silent);
        let mut level = gauge();
        for at_ms in (0..9_000).step_by(100) {
            level.sample(at_ms, &moving(20));
        }
        assert!(matches!(level.standing(9_000), Standing::Moving { .. }));
        feed(&mut level, 9_000, 12_000, 20);
        assert!(matches!(level.standing(12_000), Standing::Ready { .. }));
    }

    #[test]
    fn a_knock_does_not_make_another_spot_of_it() {
        let mut gauge = gauge();
        feed(&mut gauge, 0, 3_000, 20);
        gauge.took(2.0);
        feed(&mut gauge, 3_000, 3_300, 90);
        feed(&mut gauge, 3_300, 7_000, 20);
        assert!(matches!(gauge.standing(7_000), Standing::Taken { .. }));
    }

    /// Hundredths of a degree that creep by 0.0005 degrees a second: followed for an hour, and never another rest.
    #[test]
    fn a_creep_is_followed_and_not_taken_for_another_rest() {
        let mut gauge = Gauge::new(Axis::Angle, SettleSettings::from_instrument(0.01, 0.002));
        let mut offered = 0;
        for at_ms in (0..3_600_000_u64).step_by(100) {
            let true_deg = 0.000_5 * at_ms as f64 / 1000.0;
            let value = Decimal { mantissa: (true_deg * 100.0).round() as i64, exponent: -2 };
            gauge.sample(at_ms, &Sample::bare(Axis::Angle, value, Unit::Degree));
            if let Standing::Ready { reading } = gauge.standing(at_ms) {
                gauge.took(reading.value);
                offered += 1;
            }
        }
        assert_eq!(offered, 1);
    }

    #[test]
    fn a_lost_port_does_not_make_another_spot_of_it() {
        let mut gauge = gauge();
        feed(&mut gauge, 0, 3_000, 20);
        gauge.took(2.0);
        assert_eq!(gauge.standing(8_000), Standing::Silent);
        gauge.restart();
        feed(&mut gauge, 8_000, 12_000, 20);
        assert!(matches!(gauge.standing(12_000), Standing::Taken { .. }));
        feed(&mut gauge, 12_000, 15_000, -4);
        assert!(matches!(gauge.standing(15_000), Standing::Ready { .. }));
    }
}
