//! Corrects what a tape shows for pull and sag. Lengths, forces and sections are in one set of units.
//!
//! The standard corrections of surveying, added to what the tape shows. For temperature see
//! [`crate::lengths::to_reference`].

/// Standard acceleration of gravity, m/s² (3rd CGPM, 1901).
const GRAVITY: f64 = 9.806_65;

/// A correction above this share of the distance means that something about the tape is wrong.
pub const MOST: f64 = 0.01;

/// The weight of a tape, N per mm, from its mass, g per metre.
pub fn weight(mass: f64) -> f64 {
    mass * 1e-6 * GRAVITY
}

/// How a tape stretches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// The pull at which the tape reads true.
    pub standard: f64,
    /// Section times modulus of elasticity, in the unit of force.
    pub stiffness: f64,
}

/// Correction for the pull: (P - P0) L / (A E).
pub fn pull(stretch: Stretch, length: f64, pull: f64) -> f64 {
    (pull - stretch.standard) * length / stretch.stiffness
}

/// Correction for the sag of free spans under a pull: -w^2 L^3 / (24 P^2) for each span, with w the weight per
/// length.
pub fn sag(weight: f64, spans: impl IntoIterator<Item = f64>, pull: f64) -> f64 {
    let cubes: f64 = spans.into_iter().map(|span| span * span * span).sum();
    -weight * weight * cubes / (24.0 * pull * pull)
}
