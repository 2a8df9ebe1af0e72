//! Draws that are the same on every run and every machine.

/// A generator of 64-bit numbers (xorshift64*: Vigna 2016, doi 10.1145/2845077).
#[derive(Clone, Debug)]
pub struct Draws(u64);

impl Draws {
    /// The draws of a seed.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// The next 64 bits.
    pub const fn bits(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// A whole number from 0 up to but not including `end`; 0 if `end` is 0.
    pub const fn below(&mut self, end: u64) -> u64 {
        ((self.bits() as u128 * end as u128) >> 64) as u64
    }

    /// A place in something that long; 0 if it is empty.
    pub const fn index(&mut self, length: usize) -> usize {
        self.below(length as u64) as usize
    }

    /// A number from 0 up to but not including 1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A draw from the normal distribution with mean 0 and standard deviation 1 (Box and Muller).
    pub fn normal(&mut self) -> f64 {
        let radius = libm::sqrt(-2.0 * libm::log(1.0 - self.unit()));
        radius * libm::cos(core::f64::consts::TAU * self.unit())
    }
}
