//! Squareness of a bay from its diagonals, and lengths corrected to a reference temperature.

/// How far a bay is from square, and how much that changes with each diagonal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lean {
    /// The angle, in radians, positive if the first diagonal is the longer.
    pub angle: f64,
    /// Its change per unit of the first diagonal, radians.
    pub per_first: f64,
    /// Its change per unit of the second diagonal, radians.
    pub per_second: f64,
}

/// The lean of a bay with sides `a` and `b` from its diagonals; `None` if no bay with these sides has them.
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

/// How badly the diagonals fit the sides: D1^2 + D2^2 - 2(a^2 + b^2), which is zero for every parallelogram, divided
/// by 2(a^2 + b^2).
pub fn misfit(a: f64, b: f64, first: f64, second: f64) -> f64 {
    let sides = 2.0 * (a * a + b * b);
    (first * first + second * second - sides) / sides
}

/// The factor that turns a length shown by a measure (expansion `measure` per kelvin) on a part (expansion `part`),
/// both `above` kelvin over the reference temperature, into the part's length at the reference temperature (ISO 1).
pub fn to_reference(measure: f64, part: f64, above: f64) -> f64 {
    (1.0 + measure * above) / (1.0 + part * above)
}
