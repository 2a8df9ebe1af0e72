//! Draws that are the same on every run.

/// A generator of 64-bit numbers (SplitMix64: Steele, Lea, Flood 2014, doi 10.1145/2660193.2660195).
#[derive(Clone, Debug)]
pub struct Draws(u64);

impl Draws {
    /// The run of draws of a seed.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next number.
    pub const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `limit`.
    pub const fn below(&mut self, limit: u64) -> u64 {
        self.next() % limit
    }
}
