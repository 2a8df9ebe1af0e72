//! Left against right: distances from marks on the fuselage to a mark on each wing, fitted for yaw and offset.
//!
//! Two wing marks are `out` to either side of the wing's middle; a fuselage mark is `aft` of their line and `e` right
//! of the middle. With the wing turned by w, left^2 - right^2 = 4 out (aft sin w + e cos w): linear in both unknowns,
//! and independent of the height between the marks as long as both wing marks are equally high.

use crate::dd::Dd;
use crate::dist::chi2_sf;
use crate::lsq::{self, LsqError};

/// The distances from one fuselage mark to both wing marks. All lengths in one unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// How far the fuselage mark is aft of the line through the wing marks; negative if ahead.
    pub aft: f64,
    /// How far each wing mark is from the middle.
    pub out: f64,
    /// The height difference between fuselage mark and wing marks.
    pub up: f64,
    /// Distance to the left wing's mark.
    pub left: f64,
    /// Distance to the right wing's mark.
    pub right: f64,
    /// Standard uncertainty of a distance, if known.
    pub u: Option<f64>,
}

impl Pair {
    /// (left^2 - right^2)/(4 out).
    fn lean(&self) -> f64 {
        (self.left - self.right) * (self.left + self.right) / (4.0 * self.out)
    }

    /// Its standard uncertainty.
    fn lean_u(&self, u: f64) -> f64 {
        libm::hypot(self.left, self.right) * u / (2.0 * self.out)
    }

    /// The distance for marks placed so, without yaw and offset.
    pub fn expected(&self) -> f64 {
        libm::hypot(libm::hypot(self.out, self.aft), self.up)
    }

    /// False if marks placed so cannot have these distances for any yaw and offset.
    pub fn fits(&self) -> bool {
        let off = (self.both() - self.expected()).abs();
        off <= NOMINAL * self.expected() + 3.0 * self.u.unwrap_or(0.0)
    }

    /// The root mean square of both distances, in which yaw cancels.
    pub fn both(&self) -> f64 {
        libm::hypot(self.left, self.right) / core::f64::consts::SQRT_2
    }
}

/// Places of marks are nominal: distances may differ from them by this share, beyond their uncertainty.
const NOMINAL: f64 = 0.005;

/// Yaw and offset.
#[derive(Clone, Debug, PartialEq)]
pub struct Turned {
    /// Radians, positive with the right wing aft, against the line of the fuselage marks.
    pub yaw: f64,
    /// How far the line of the fuselage marks passes right of the wing's middle.
    pub offset: f64,
    /// Standard uncertainties and covariance, if the distances have uncertainties.
    pub u: Option<TurnedU>,
    /// Residual of left less right for each pair.
    pub left_over: Vec<f64>,
    /// Number of pairs beyond the two that are needed.
    pub dof: usize,
    /// Probability of residuals this large, if uncertainties are known and there are more than two pairs.
    pub p: Option<f64>,
}

/// Uncertainties of yaw and offset.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnedU {
    /// Standard uncertainty of the yaw, radians.
    pub yaw: f64,
    pub offset: f64,
}

/// All fuselage marks are equally far aft: one equation for two unknowns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneEquation {
    /// The yaw if the marks are on the middle, radians; `None` if yaw would not show.
    pub if_turned: Option<f64>,
    /// The offset if the wing is not turned.
    pub if_off_centre: f64,
}

/// Why there is no fit.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SymmetryError {
    #[error("there is no pair of distances")]
    Empty,
    #[error("one pair cannot tell a turned wing from a mark off centre")]
    One(OneEquation),
    #[error("no wing is turned this far: check the distances")]
    TooFar,
    #[error(transparent)]
    Fit(LsqError),
}

/// Fuselage marks closer together than this share of the distance between the wing marks say nothing about yaw.
const APART: f64 = 0.02;

/// Fits yaw and offset, weighted if every pair has its uncertainty.
///
/// # Errors
/// See [`SymmetryError`].
pub fn fit(pairs: &[Pair]) -> Result<Turned, SymmetryError> {
    let extreme = |f: fn(f64, f64) -> f64, v: fn(&Pair) -> f64| pairs.iter().map(v).reduce(f);
    let (Some(first), Some(last), Some(wide)) =
        (extreme(f64::min, |p| p.aft), extreme(f64::max, |p| p.aft), extreme(f64::max, |p| p.out))
    else {
        return Err(SymmetryError::Empty);
    };
    let leans: Vec<f64> = pairs.iter().map(Pair::lean).collect();
    if last - first < APART * 2.0 * wide {
        let mean = leans.iter().sum::<f64>() / leans.len() as f64;
        let share = mean / first.midpoint(last);
        return Err(SymmetryError::One(OneEquation {
            if_turned: (share.abs() < 1.0).then(|| libm::asin(share)),
            if_off_centre: mean,
        }));
    }
    let column = |values: Vec<f64>| values.into_iter().map(Dd::new).collect::<Vec<Dd>>();
    let columns = [column(pairs.iter().map(|p| p.aft).collect()), vec![Dd::ONE; pairs.len()]];
    let known: Option<Vec<f64>> = pairs.iter().map(|p| p.u.map(|u| p.lean_u(u))).collect();
    let weights: Option<Vec<f64>> = known.map(|u| u.into_iter().map(|u| 1.0 / (u * u)).collect());
    let found = lsq::fit(&columns, &column(leans), weights.as_deref()).map_err(SymmetryError::Fit)?;
    let (sine, lean) = (found.coefficients[0], found.coefficients[1]);
    if sine.abs() >= 1.0 {
        return Err(SymmetryError::TooFar);
    }
    let yaw = libm::asin(sine);
    let variance = match (&weights, found.dof) {
        (Some(_), _) => Some(&found.unscaled_covariance),
        (None, 0) => None,
        (None, _) => Some(&found.covariance),
    };
    Ok(Turned {
        yaw,
        offset: lean / libm::cos(yaw),
        u: variance.map(|v| TurnedU {
            yaw: v[0][0].sqrt() / libm::cos(yaw),
            offset: v[1][1].sqrt() / libm::cos(yaw),
        }),
        left_over: found
            .residuals
            .iter()
            .zip(pairs)
            .map(|(r, p)| r * 4.0 * p.out / (p.left + p.right))
            .collect(),
        dof: found.dof,
        p: (weights.is_some() && found.dof > 0).then(|| chi2_sf(found.sum_of_squares, found.dof as f64)),
    })
}
