//! What a tape shows against what is there: its pull and its sag. Lengths, forces and sections in one set of units.
//!
//! The standard corrections of surveying, added to what the tape shows; that for temperature is [`crate::lengths::to_reference`].

/// The acceleration by which a mass is weighed, m/s² (the standard one, 3rd CGPM 1901).
const GRAVITY: f64 = 9.806_65;

/// A correction of more than this share of a distance is no correction: something about the tape is wrong.
pub const MOST: f64 = 0.01;

/// The weight of a tape, N a mm, by its mass, g a metre.
pub fn weight(mass: f64) -> f64 {
    mass * 1e-6 * GRAVITY
}

/// How a tape stretches: by the section times the modulus, in the unit of force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// The pull under which it is right.
    pub standard: f64,
    /// Section times modulus of elasticity.
    pub stiffness: f64,
}

/// Correction for the pull: (P - P0) L / (A E).
pub fn pull(stretch: Stretch, length: f64, pull: f64) -> f64 {
    (pull - stretch.standard) * length / stretch.stiffness
}

/// Correction for the sag of free spans under a pull: -w^2 L^3 / (24 P^2) for each, w the weight a length.
pub fn sag(weight: f64, spans: impl IntoIterator<Item = f64>, pull: f64) -> f64 {
    let cubes: f64 = spans.into_iter().map(|span| span * span * span).sum();
    -weight * weight * cubes / (24.0 * pull * pull)
}
