//! How the step of a display affects several readings of one thing.

use core::f64::consts::PI;

/// How alike a display of step `step` rounds two readings of one thing, from 0 to 1, if each has a standard deviation
/// `sd` before rounding. It is the largest correlation that the two rounding errors can have.
///
/// (6/pi^2) sum over k of k^-2 exp(-4 pi^2 k^2 sd^2/step^2): the Fourier series of a rounding error (a sawtooth),
/// each term damped by the normal error before it. It is the correlation for two true values that differ by a
/// multiple of the step.
pub fn alike(step: f64, sd: f64) -> f64 {
    if step <= 0.0 {
        return 0.0;
    }
    let damping = 4.0 * PI * PI * (sd / step) * (sd / step);
    if damping == 0.0 {
        return 1.0;
    }
    let mut sum = 0.0;
    for k in 1..=2000 {
        let square = f64::from(k) * f64::from(k);
        let term = libm::exp(-damping * square) / square;
        sum += term;
        if term < 1e-17 {
            break;
        }
    }
    (6.0 / (PI * PI) * sum).min(1.0)
}
