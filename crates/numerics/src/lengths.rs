//! Lengths: a bay out of square by its diagonals, and lengths brought to a reference temperature.

/// How far a bay leans from square, and by how much that changes with each diagonal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lean {
    /// The angle, in radians, positive where the first diagonal is the longer.
    pub angle: f64,
    /// Its change per unit of the first diagonal, radians.
    pub per_first: f64,
    /// Its change per unit of the second diagonal, radians.
    pub per_second: f64,
}

/// The lean of a bay of sides `a` and `b` from its diagonals; `None` where no bay of these sides has them.
///
/// For a parallelogram leaning by t, D1^2 - D2^2 = 4ab sin t (law of cosines, twice).
pub fn lean(a: f64, b: f64, first: f64, second: f64) -> Option<Lean> {
    let four_ab = 4.0 * a * b;
    let sine = (first * first - second * second) / four_ab;
    if sine.is_nan() || sine.abs() >= 1.0 {
        return None;
    }
    let angle = libm::asin(sine);
    let slope = 2.0 / (four_ab * libm::cos(angle));
    Some(Lean { angle, per_first: first * slope, per_second: -second * slope })
}

/// By how much the diagonals of a bay fail to belong to its sides: D1^2 + D2^2 - 2(a^2 + b^2), which is zero for every
/// parallelogram, as a share of 2(a^2 + b^2).
pub fn misfit(a: f64, b: f64, first: f64, second: f64) -> f64 {
    let sides = 2.0 * (a * a + b * b);
    (first * first + second * second - sides) / sides
}

/// By what a length shown by a measure (expansion `measure` per kelvin) on a part (expansion `part`), both `above` kelvin
/// over the reference temperature, must be multiplied to be the part's length at the reference temperature (ISO 1).
pub fn to_reference(measure: f64, part: f64, above: f64) -> f64 {
    (1.0 + measure * above) / (1.0 + part * above)
}

#[cfg(test)]
mod tests {
    use super::{lean, misfit, to_reference};

    /// Law of cosines: a parallelogram of 800 by 600 leaning by 1 degree; slopes against differences.
    #[test]
    fn a_leaning_bay() {
        let s = 2.0 * 800.0 * 600.0 * libm::sin(1f64.to_radians());
        let (d1, d2) = (libm::sqrt(1e6 + s), libm::sqrt(1e6 - s));
        let found = lean(800.0, 600.0, d1, d2).unwrap();
        assert!((found.angle.to_degrees() - 1.0).abs() < 1e-12);
        let at = |d1: f64, d2: f64| lean(800.0, 600.0, d1, d2).unwrap().angle;
        let step = 1e-4;
        assert!(((at(d1 + step, d2) - at(d1 - step, d2)) / (2.0 * step) - found.per_first).abs() < 1e-10);
        assert!(((at(d1, d2 + step) - at(d1, d2 - step)) / (2.0 * step) - found.per_second).abs() < 1e-10);
        assert!(misfit(800.0, 600.0, d1, d2).abs() < 1e-12);
        assert!(misfit(800.0, 600.0, 100.0, 1000.0) < -0.4);
        assert_eq!(lean(1.0, 1.0, 9.0, 1.0), None);
        assert_eq!(lean(0.0, 1.0, 1.0, 1.0), None);
    }

    /// A steel tape (11.5e-6, JCGM 100 H.1) on 3000 mm of 2024 (22.9e-6, Callister) at 30 degrees shows 0.3420 mm too much.
    #[test]
    fn a_warm_part() {
        let shown = 3000.0 / to_reference(11.5e-6, 22.9e-6, 10.0);
        assert!((shown - 3000.342).abs() < 5e-5);
        assert_eq!(to_reference(11.5e-6, 22.9e-6, 0.0), 1.0);
    }
}
