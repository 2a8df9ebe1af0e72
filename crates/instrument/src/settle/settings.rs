//! What counts as being at rest.

/// What counts as standing still. Values are in the base unit (degrees, millimetres, ..).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SettleSettings {
    /// All samples must lie within this, from the lowest to the highest.
    pub band: f64,
    /// The step of the display.
    pub step: f64,
    /// Whether the band is wide enough for the instrument's noise, or has to be learned.
    pub noise: Noise,
    /// For so long; 0 for an instrument that sends a value when its button is pressed, each of which is a reading.
    pub hold_ms: u64,
    /// And there must be this many of them.
    pub samples: u32,
    /// With no sample for so long, the instrument is lost.
    pub lost_after_ms: u64,
}

/// Where the noise of an instrument is known from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noise {
    /// From its file: the band has room for it.
    Stated,
    /// From its first seconds at rest: the band grows to what it does there.
    Learned,
}

impl SettleSettings {
    /// The band for a display that steps by `resolution` and scatters with the standard deviation `noise`: one step of flicker
    /// and half a step to spare, and four standard deviations to each side, which some thousand samples stay inside of. A noise
    /// of 0 is one that nobody stated: it is learned.
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

    /// True where each value that comes is a reading, and nothing has to settle.
    #[must_use]
    pub const fn each_value(&self) -> bool {
        self.hold_ms == 0
    }
}
