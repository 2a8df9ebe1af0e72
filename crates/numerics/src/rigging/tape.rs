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

#[cfg(test)]
mod tests {
    use super::{Stretch, pull, sag, weight};
    use crate::lengths::to_reference;

    /// A university's taping lecture: 368.50 ft at 22 F with 6.5e-6 per F, standard 68 F, are 368.39; sag of 2.8 lb per 100 ft at 12
    /// and 18 lb in three spans of 100 and one of 48.75 ft, and in six of 50 and that one; pull of 18 lb against 12 over 100 ft.
    #[test]
    fn published_corrections() {
        let near = |found: f64, expected: f64, within: f64| {
            assert!((found - expected).abs() <= within, "{found} {expected}");
        };
        near(368.5 * to_reference(6.5e-6, 0.0, 22.0 - 68.0), 368.39, 5e-3);
        near(368.5 * to_reference(6.5e-6, 0.0, 22.0 - 68.0) - 368.5, -0.1102, 5e-5);
        near(sag(0.028, [100.0, 100.0, 100.0, 48.75], 12.0), -0.7068, 5e-4);
        near(sag(0.028, [100.0, 100.0, 100.0, 48.75], 18.0), -0.3142, 5e-4);
        near(sag(0.028, [50.0, 50.0, 50.0, 50.0, 50.0, 50.0, 48.75], 12.0), -0.1964, 5e-4);
        near(pull(Stretch { standard: 12.0, stiffness: 0.015 * 29e6 }, 100.0, 18.0), 0.001_379, 1e-6);
    }

    /// Derived, no publisher: 20 g/m over 4.5 m at 22.24 N and at 50 N, in mm; a catenary of one span of 100 ft is longer than its
    /// chord by 0.22857 where the parabola says 0.22685.
    #[test]
    fn derived_sags() {
        let weight = weight(20.0);
        assert!((sag(weight, [4500.0], 22.24) + 0.2953).abs() < 5e-5);
        assert!((sag(weight, [4500.0], 50.0) + 0.0584).abs() < 5e-5);
        let parabola = sag(0.028, [100.0], 12.0);
        assert!((parabola + 0.226_85).abs() < 5e-5);
        // By the catenary: the arc over a chord c is 2 a sinh(c / 2a), a = P / w at the bottom.
        let a = 12.0 / 0.028;
        let arc = 2.0 * a * libm::sinh(100.0 / (2.0 * a));
        assert!(((arc - 100.0) + parabola).abs() < 2e-3, "{arc}");
    }
}
