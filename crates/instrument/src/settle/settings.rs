//! What counts as at rest.

/// What counts as at rest. Values are in base units (degrees, millimetres, ..).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SettleSettings {
    /// All samples must be within this, from the lowest to the highest.
    pub band: f64,
    /// The step of the display.
    pub step: f64,
    /// Whether the band is wide enough for the instrument's noise, or must be learned.
    pub noise: Noise,
    /// For this long; 0 for an instrument that sends a value when its button is pressed, where each value is a
    /// reading.
    pub hold_ms: u64,
    /// And at least this many samples.
    pub samples: u32,
    /// Without a sample for this long, the instrument is lost.
    pub lost_after_ms: u64,
}

/// How the noise of an instrument is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noise {
    /// From its file: the band allows for it.
    Stated,
    /// From its first seconds at rest: the band grows to fit.
    Learned,
}

impl SettleSettings {
    /// The band for a display that steps by `resolution` and scatters with the standard deviation `noise`: one step
    /// of flicker and half a step to spare, and four standard deviations to each side, which about a thousand samples
    /// stay within. A noise of 0 means that none was stated: it is learned.
    #[must_use]
    pub fn from_instrument(resolution: f64, noise: f64) -> Self {
        Self {
            band: 1.5 * resolution + 8.0 * noise,
            step: resolution,
            noise: if noise > 0.0 { Noise::Stated } else { Noise::Learned },
            hold_ms: 2_000,
            samples: 4,
            lost_after_ms: 2_000,
        }
    }

    /// Whether each value is a reading and nothing has to settle.
    #[must_use]
    pub const fn each_value(&self) -> bool {
        self.hold_ms == 0
    }
}
