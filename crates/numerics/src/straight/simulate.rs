//! The minimum zone under measurement scatter, by seeded simulation (the method of JCGM 101).

use super::hull::{Hull, sorted};
use super::{StraightError, check};
use crate::gls::Covariance;
use crate::rng::Rng;
use crate::simulate::Spread;

/// Minimum-zone straightness over `draws` profiles at the places `y`; `profile` fills one with offsets. The mean is
/// above the straightness of the measured profile, because scatter only adds.
///
/// # Errors
/// See [`StraightError`]; at least two draws are made.
pub fn simulate(
    y: &[f64],
    draws: usize,
    seed: u64,
    mut profile: impl FnMut(&mut Rng, &mut [f64]),
) -> Result<Spread, StraightError> {
    let mut z = vec![0.0; y.len()];
    check(y, &z)?;
    let mut rng = Rng::new(seed);
    let mut hull = Hull::default();
    let order = sorted(y);
    let results: Vec<f64> = (0..draws.max(2))
        .map(|_| {
            profile(&mut rng, &mut z);
            hull.zone(y, &z, &order).width
        })
        .collect();
    Spread::of(results).ok_or(StraightError::OnePlace)
}

/// [`simulate`] for offsets `z` whose errors are normal with this covariance.
///
/// # Errors
/// See [`StraightError`].
pub fn simulate_covariance(
    y: &[f64],
    z: &[f64],
    covariance: &Covariance,
    draws: usize,
    seed: u64,
) -> Result<Spread, StraightError> {
    check(y, z)?;
    if covariance.count() != y.len() {
        return Err(StraightError::Lengths { places: y.len(), offsets: covariance.count() });
    }
    simulate(y, draws, seed, |rng, out| {
        for ((o, &z), s) in out.iter_mut().zip(z).zip(covariance.own()) {
            *o = z + s * rng.normal();
        }
        for part in covariance.shared() {
            let error = rng.normal();
            for (o, c) in out.iter_mut().zip(part) {
                *o += c * error;
            }
        }
    })
}
