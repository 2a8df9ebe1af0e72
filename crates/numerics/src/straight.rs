//! Straightness of a profile of offsets, and two ways to get heights along a spar: from a stretched line, and by
//! walking a level along it.
//!
//! Distances are measured along z, not square to the reference line. For the slopes of a spar in a jig the two are
//! the same: at 1 mm/m the ratio is 1 - 5e-7. ISO 12780-1 defines the reference lines (least squares and minimum
//! zone); ISO 230-1 sums the steps of a walked level and takes the largest deviation on either side of the reference
//! line.

use crate::dd::Dd;

mod hull;
mod simulate;
mod walk;

pub use simulate::{simulate, simulate_covariance};
pub use walk::{LevelWalk, line_sag};

/// Why there is no straightness.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum StraightError {
    /// Places and offsets differ in number.
    #[error("{places} places, but {offsets} offsets")]
    Lengths {
        /// Places given.
        places: usize,
        /// Offsets given.
        offsets: usize,
    },
    /// Fewer than two different places.
    #[error("straightness needs two or more different places")]
    OnePlace,
    /// A number is not finite, or a step of a level walk is not above zero, in this row (counted from 0).
    #[error("row {0} (counted from 0) is not a usable number")]
    BadNumber(usize),
}

/// A straight reference line z = `intercept` + `slope` y.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// z at y = 0.
    pub intercept: f64,
    /// Rise of z per y.
    pub slope: f64,
}

impl Line {
    /// The line at `y`.
    pub fn at(self, y: f64) -> f64 {
        self.intercept + self.slope * y
    }

    /// How far each offset is above the line.
    pub fn deviations(self, y: &[f64], z: &[f64]) -> Vec<f64> {
        let (a, b) = (Dd::new(self.intercept), Dd::new(self.slope));
        y.iter().zip(z).map(|(&y, &z)| (Dd::new(z) - a - b * y).to_f64()).collect()
    }
}

/// The minimum zone: the closest pair of parallel lines that enclose the whole profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MinimumZone {
    /// Distance of the two lines along z.
    pub straightness: f64,
    /// The line midway between them.
    pub line: Line,
    /// The three points that touch the zone, each with its weight: the sum of offset times weight is the
    /// straightness. If there are only two places, one point repeats.
    pub contacts: [Contact; 3],
}

/// A point that touches the zone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Which, counted from 0.
    pub point: usize,
    pub weight: f64,
}

impl MinimumZone {
    /// Standard uncertainty of the straightness from the covariance of the offsets (entry by entry), to first order:
    /// as long as the same three points touch the zone. Scatter can only widen a zone, which [`simulate`] shows.
    pub fn uncertainty(&self, covariance: impl Fn(usize, usize) -> f64) -> f64 {
        let mut sum = 0.0;
        for a in &self.contacts {
            for b in &self.contacts {
                sum += a.weight * b.weight * covariance(a.point, b.point);
            }
        }
        sum.max(0.0).sqrt()
    }
}

/// Straightness about the least-squares line: the largest deviation less the smallest.
///
/// # Errors
/// See [`StraightError`].
pub fn least_squares(y: &[f64], z: &[f64]) -> Result<f64, StraightError> {
    check(y, z)?;
    Ok(peak_to_valley(&fitted(y, z).above))
}

/// The same about the line through the first and the last point (least and greatest `y`; if several share it, the
/// first).
///
/// # Errors
/// See [`StraightError`].
pub fn end_points(y: &[f64], z: &[f64]) -> Result<f64, StraightError> {
    check(y, z)?;
    let (mut first, mut last) = (0, 0);
    for (i, v) in y.iter().enumerate() {
        if *v < y[first] {
            first = i;
        }
        if *v > y[last] {
            last = i;
        }
    }
    let slope = Dd::from_sum(z[last], -z[first]) / Dd::from_sum(y[last], -y[first]);
    let above = |(&yi, &zi)| (Dd::from_sum(zi, -z[first]) - slope * Dd::from_sum(yi, -y[first])).to_f64();
    let rest: Vec<f64> = y.iter().zip(z).map(above).collect();
    Ok(peak_to_valley(&rest))
}

/// Minimum-zone straightness, exact, from the convex hull.
///
/// # Errors
/// See [`StraightError`].
pub fn minimum_zone(y: &[f64], z: &[f64]) -> Result<MinimumZone, StraightError> {
    check(y, z)?;
    let Fitted { line, above } = fitted(y, z);
    let order = hull::sorted(y);
    let zone = hull::Hull::default().zone(y, &above, &order);
    Ok(MinimumZone {
        straightness: zone.width,
        line: Line { intercept: line.intercept + zone.middle, slope: line.slope + zone.slope },
        contacts: zone.contacts,
    })
}

/// The least-squares line and the residuals, both in full precision.
struct Fitted {
    line: Line,
    above: Vec<f64>,
}

fn fitted(y: &[f64], z: &[f64]) -> Fitted {
    let count = Dd::new(y.len() as f64);
    let mean = |v: &[f64]| v.iter().map(|x| Dd::new(*x)).sum::<Dd>() / count;
    let (middle_y, middle_z) = (mean(y), mean(z));
    let (mut along, mut across) = (Dd::ZERO, Dd::ZERO);
    for (&y, &z) in y.iter().zip(z) {
        let off = Dd::new(y) - middle_y;
        along += off.square();
        across += off * (Dd::new(z) - middle_z);
    }
    let slope = across / along;
    let intercept = middle_z - slope * middle_y;
    let above = y.iter().zip(z).map(|(&y, &z)| (Dd::new(z) - intercept - slope * y).to_f64()).collect();
    Fitted { line: Line { intercept: intercept.to_f64(), slope: slope.to_f64() }, above }
}

fn peak_to_valley(above: &[f64]) -> f64 {
    let (mut low, mut high) = (above[0], above[0]);
    for &v in above {
        high = if v > high { v } else { high };
        low = if v < low { v } else { low };
    }
    high - low
}

fn check(y: &[f64], z: &[f64]) -> Result<(), StraightError> {
    if y.len() != z.len() {
        return Err(StraightError::Lengths { places: y.len(), offsets: z.len() });
    }
    if let Some(row) = y.iter().zip(z).position(|(y, z)| !(y.is_finite() && z.is_finite())) {
        return Err(StraightError::BadNumber(row));
    }
    if y.iter().all(|v| *v == y[0]) {
        return Err(StraightError::OnePlace);
    }
    Ok(())
}
