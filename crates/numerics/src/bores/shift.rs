//! Moving one bush so that the shaft goes through, and clearances under measurement scatter.

use super::{Bore, BoresError, Frame, shaft_line};
use crate::conic::{ConicError, Expression, Programme};
use crate::rng::Rng;
use crate::simulate::Spread;

/// A move of one bush across the shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shift {
    /// Along the first direction across.
    pub x: f64,
    /// Along the second direction across.
    pub z: f64,
}

impl Shift {
    /// How far.
    pub fn distance(self) -> f64 {
        (self.x * self.x + self.z * self.z).sqrt()
    }
}

/// The smallest move of bore `which` (counted from 0) after which a line exists that leaves at least `wanted` clearance
/// everywhere; zero where one exists already, `None` where moving this bore alone cannot do it.
///
/// # Errors
/// See [`BoresError`].
pub fn freeing_shift(
    bores: &[Bore],
    shaft: f64,
    which: usize,
    wanted: f64,
) -> Result<Option<Shift>, BoresError> {
    let frame = Frame::new(bores, shaft)?;
    if which >= bores.len() {
        return Err(BoresError::NoSuchBore(which));
    }
    if shaft_line(bores, shaft)?.clearance >= wanted {
        return Ok(Some(Shift { x: 0.0, z: 0.0 }));
    }
    let wanted = wanted / frame.unit;
    if frame.bores.iter().any(|b| b.room < wanted) {
        return Ok(None);
    }
    // Unknowns: a, b, c, d, shift x, shift z, its length.
    let mut programme = Programme::minimise(vec![0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0]);
    for (i, bore) in frame.bores.iter().enumerate() {
        let mut offset = bore.offset();
        if i == which {
            offset[0].terms.push((4, 1.0));
            offset[1].terms.push((5, 1.0));
        }
        programme.length_at_most(Expression::new(bore.room - wanted, &[]), offset);
    }
    let shift = [Expression::new(0.0, &[(4, 1.0)]), Expression::new(0.0, &[(5, 1.0)])];
    programme.length_at_most(Expression::new(0.0, &[(6, 1.0)]), shift);
    match programme.solve() {
        Ok(found) => Ok(Some(Shift { x: found.unknowns[4] * frame.unit, z: found.unknowns[5] * frame.unit })),
        Err(ConicError::Infeasible) => Ok(None),
        Err(other) => Err(BoresError::Solver(other)),
    }
}

/// The best clearance over `draws` simulated measurements: every centre (in x and in z), every diameter and the shaft's with
/// independent normal errors of these standard uncertainties.
///
/// # Errors
/// See [`BoresError`].
pub fn simulate(
    bores: &[Bore],
    shaft: f64,
    uncertainties: (f64, f64, f64),
    draws: usize,
    seed: u64,
) -> Result<Spread, BoresError> {
    let (centre, diameter, of_shaft) = uncertainties;
    let mut rng = Rng::new(seed);
    let mut results = Vec::with_capacity(draws);
    for _ in 0..draws.max(2) {
        let drawn: Vec<Bore> = bores
            .iter()
            .map(|b| Bore {
                y: b.y,
                x: b.x + centre * rng.normal(),
                z: b.z + centre * rng.normal(),
                diameter: b.diameter + diameter * rng.normal(),
            })
            .collect();
        results.push(shaft_line(&drawn, shaft + of_shaft * rng.normal())?.clearance);
    }
    Spread::of(results).ok_or(BoresError::OnePlace)
}
