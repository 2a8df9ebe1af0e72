//! A shaft through bushes: the straight line with the largest least clearance, and what to move if the shaft does not
//! fit.
//!
//! Bush i is at y_i, with its centre at (x_i, z_i); the line passes it at (a + b y_i, c + d y_i). The clearance there
//! is half the difference of bore and shaft, less the distance from line to centre: the gap on the closest side.
//! Maximising the smallest clearance is a second-order cone programme. The shaft crosses a bush at a slight angle;
//! its section is treated as round (at 1 mm/m that is right to 5e-7 of the diameter).

use crate::conic::{ConicError, Expression, Programme};
use crate::straight::Line;

mod certificate;
mod shift;

pub use shift::{Shift, freeing_shift};

/// One bush: its place along the shaft, the centre of its bore, and the bore's diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bore {
    /// Distance along the shaft.
    pub y: f64,
    /// Centre, in the first direction across.
    pub x: f64,
    /// Centre, in the second direction across.
    pub z: f64,
    /// Diameter of the bore.
    pub diameter: f64,
}

/// Why there is no line.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BoresError {
    /// Fewer than two different places.
    #[error("a shaft line needs bores at two or more different places")]
    OnePlace,
    #[error("the shaft diameter must be above zero")]
    BadShaft,
    /// A number is not finite, or a diameter is not above zero.
    #[error("bore {0} (counted from 0) is not usable")]
    BadBore(usize),
    /// There is no bore of this number.
    #[error("there is no bore {0} (counted from 0)")]
    NoSuchBore(usize),
    /// The solver failed.
    #[error(transparent)]
    Solver(#[from] ConicError),
}

/// The best line.
#[derive(Clone, Debug, PartialEq)]
pub struct ShaftLine {
    /// Least gap between shaft and bore, on the closest side. If negative, the shaft binds by this much.
    pub clearance: f64,
    /// Clearance at each bore.
    pub clearances: Vec<f64>,
    /// The line in the first direction across, as a function of y.
    pub x: Line,
    /// The line in the second direction across, as a function of y.
    pub z: Line,
    /// Proven bound: no line leaves more than `clearance + gap` (weak duality, from the multipliers).
    pub gap: f64,
    /// Change of the clearance per unit of each bore's centre and diameter.
    pub sensitivity: Vec<Sensitivity>,
}

/// Change of the best clearance per unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sensitivity {
    /// Per unit of the centre, first direction.
    pub x: f64,
    /// Per unit of the centre, second direction.
    pub z: f64,
    /// Per unit of the bore's diameter.
    pub diameter: f64,
}

impl ShaftLine {
    /// Whether the shaft passes without force.
    pub fn passes(&self) -> bool {
        self.clearance > 0.0
    }
}

/// The line with the largest least clearance for a shaft of this diameter.
///
/// # Errors
/// See [`BoresError`].
pub fn shaft_line(bores: &[Bore], shaft: f64) -> Result<ShaftLine, BoresError> {
    let frame = Frame::new(bores, shaft)?;
    // Unknowns: a, b, c, d, clearance.
    let mut programme = Programme::minimise(vec![0.0, 0.0, 0.0, 0.0, -1.0]);
    for bore in &frame.bores {
        let head = Expression::from(bore.room).plus(-1.0, 4);
        programme.length_at_most(head, bore.offset());
    }
    let solution = programme.solve()?;
    Ok(frame.finish(&solution.unknowns, &solution.multipliers))
}

/// The bores scaled so that the solver's numbers are near one: y from -1 to 1, lengths across divided by the mean
/// free play.
struct Frame {
    middle: f64,
    half_span: f64,
    centre: (f64, f64),
    unit: f64,
    bores: Vec<Scaled>,
}

struct Scaled {
    y: f64,
    x: f64,
    z: f64,
    /// Half of (bore less shaft).
    room: f64,
}

impl Scaled {
    /// Centre less line.
    fn offset(&self) -> [Expression; 2] {
        [
            Expression::from(self.x).plus(-1.0, 0).plus(-self.y, 1),
            Expression::from(self.z).plus(-1.0, 2).plus(-self.y, 3),
        ]
    }
}

impl Frame {
    fn new(bores: &[Bore], shaft: f64) -> Result<Self, BoresError> {
        let usable = |b: &Bore| [b.y, b.x, b.z, b.diameter].iter().all(|v| v.is_finite()) && b.diameter > 0.0;
        if let Some(i) = bores.iter().position(|b| !usable(b)) {
            return Err(BoresError::BadBore(i));
        }
        if !(shaft > 0.0 && shaft.is_finite()) {
            return Err(BoresError::BadShaft);
        }
        let range = |of: fn(&Bore) -> f64| {
            bores.iter().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)))
        };
        let (low, high) = range(|b| b.y);
        if low.is_nan() || low >= high {
            return Err(BoresError::OnePlace);
        }
        let (x, z) = (range(|b| b.x), range(|b| b.z));
        let room = bores.iter().map(|b| (0.5 * (b.diameter - shaft)).abs()).fold(0.0, f64::max);
        let unit = room.max(0.5 * (x.1 - x.0)).max(0.5 * (z.1 - z.0));
        let mut frame = Self {
            middle: 0.5 * (low + high),
            half_span: 0.5 * (high - low),
            centre: (0.5 * (x.0 + x.1), 0.5 * (z.0 + z.1)),
            unit: if unit > 0.0 { unit } else { 1.0 },
            bores: Vec::new(),
        };
        let scaled = |b: &Bore| Scaled {
            y: (b.y - frame.middle) / frame.half_span,
            x: (b.x - frame.centre.0) / frame.unit,
            z: (b.z - frame.centre.1) / frame.unit,
            room: 0.5 * (b.diameter - shaft) / frame.unit,
        };
        frame.bores = bores.iter().map(scaled).collect();
        Ok(frame)
    }

    /// The line's value at y = 0 and its slope, in the caller's units.
    fn given_line(&self, at_middle: f64, per_half_span: f64, centre: f64) -> Line {
        let slope = per_half_span * self.unit / self.half_span;
        Line { intercept: centre + at_middle * self.unit - slope * self.middle, slope }
    }

    fn finish(&self, line: &[f64], multipliers: &[f64]) -> ShaftLine {
        let clearances: Vec<f64> = self
            .bores
            .iter()
            .map(|b| {
                let (x, z) = (b.x - line[0] - line[1] * b.y, b.z - line[2] - line[3] * b.y);
                (b.room - (x * x + z * z).sqrt()) * self.unit
            })
            .collect();
        let clearance = clearances.iter().copied().fold(f64::INFINITY, f64::min);
        let proof = certificate::of(&self.bores, multipliers);
        ShaftLine {
            clearance,
            clearances,
            x: self.given_line(line[0], line[1], self.centre.0),
            z: self.given_line(line[2], line[3], self.centre.1),
            gap: (proof.bound * self.unit - clearance).max(0.0),
            sensitivity: proof.sensitivity,
        }
    }
}
