//! Effective degrees of freedom of a combined uncertainty.

/// A combined standard uncertainty and its effective degrees of freedom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effective {
    /// Root sum of squares of the components.
    pub uncertainty: f64,
    /// Degrees of freedom as the formula gives them; infinite where no component has a finite number.
    pub dof: f64,
    /// The same cut down to a whole number, the one to take t with.
    pub whole_dof: f64,
}

/// Welch-Satterthwaite (JCGM 100:2008 G.4) from components (standard uncertainty, degrees of freedom), unrounded.
/// A component known for certain has infinite degrees of freedom.
pub fn welch_satterthwaite(components: &[(f64, f64)]) -> Effective {
    let square: f64 = components.iter().map(|(u, _)| u * u).sum();
    let fourth: f64 = components.iter().map(|(u, dof)| u * u * u * u / dof).sum();
    let dof = if fourth > 0.0 { square * square / fourth } else { f64::INFINITY };
    // A whole number that rounding left a hair low still counts as itself.
    let whole_dof = libm::floor(dof * (1.0 + 1e-12));
    Effective { uncertainty: square.sqrt(), dof, whole_dof }
}
