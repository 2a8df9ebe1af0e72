//! A small seeded generator whose draws never change: xoshiro256++ (D. Blackman and S. Vigna, 2019), seeded by SplitMix64.
//!
//! Our own code, because the draws are part of what the program promises: same seed, same bytes, in every version.

/// A seeded generator of uniform and normal draws.
#[derive(Clone, Debug)]
pub struct Rng {
    state: [u64; 4],
    spare: Option<f64>,
}

impl Rng {
    /// A generator for this seed.
    pub fn new(seed: u64) -> Self {
        let mut z = seed;
        let state = core::array::from_fn(|_| {
            z = z.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut x = z;
            x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            x ^ (x >> 31)
        });
        Self { state, spare: None }
    }

    /// The next 64 bits.
    #[inline]
    pub fn bits(&mut self) -> u64 {
        let [a, b, c, d] = self.state;
        let result = a.wrapping_add(d).rotate_left(23).wrapping_add(a);
        let (c, d) = (c ^ a, d ^ b);
        self.state = [a ^ d, b ^ c, c ^ (b << 17), d.rotate_left(45)];
        result
    }

    /// Uniform from 0 up to but not including 1, in steps of 2^-53.
    #[inline]
    pub fn uniform(&mut self) -> f64 {
        (self.bits() >> 11) as f64 * (1.0 / 9_007_199_254_740_992.0)
    }

    /// Standard normal (Marsaglia's polar method).
    #[inline]
    pub fn normal(&mut self) -> f64 {
        if let Some(z) = self.spare.take() {
            return z;
        }
        loop {
            let x = 2.0 * self.uniform() - 1.0;
            let y = 2.0 * self.uniform() - 1.0;
            let s = x * x + y * y;
            if s < 1.0 && s > 0.0 {
                let f = (-2.0 * libm::log(s) / s).sqrt();
                self.spare = Some(y * f);
                return x * f;
            }
        }
    }
}

/// How many normal draws of one seed are kept in memory.
const KEPT: usize = 1 << 15;

/// The normal draws of one seed, for callers that need the same draws repeatedly; each is computed once.
#[derive(Clone, Debug)]
pub struct Normals {
    rng: Rng,
    drawn: Vec<f64>,
}

impl Normals {
    /// The draws that [`Rng::normal`] gives for this seed.
    pub fn new(seed: u64) -> Self {
        Self { rng: Rng::new(seed), drawn: Vec::new() }
    }

    /// Calls `see` with the first `times` blocks of `size` draws each, in order; nothing if `size` is zero.
    pub fn lots(&mut self, times: usize, size: usize, mut see: impl FnMut(&[f64])) {
        if size == 0 {
            return;
        }
        let kept = (times * size).min(KEPT);
        while self.drawn.len() < kept {
            self.drawn.push(self.rng.normal());
        }
        let whole = self.drawn.chunks_exact(size).take(times);
        let seen = whole.len();
        whole.for_each(&mut see);
        // Draws beyond what is kept are made again each time.
        let mut rng = self.rng.clone();
        let mut rest = self.drawn[seen * size..].iter();
        let mut lot = Vec::new();
        for _ in seen..times {
            lot.clear();
            lot.extend((0..size).map(|_| rest.next().copied().unwrap_or_else(|| rng.normal())));
            see(&lot);
        }
    }
}
