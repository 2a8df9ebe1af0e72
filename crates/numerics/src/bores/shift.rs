//! Moving one bush so that the shaft goes through.

use super::{Bore, BoresError, Frame, shaft_line};
use crate::conic::{ConicError, Expression, Programme};

/// A move of one bush across the shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shift {
    /// Along the first direction across.
    pub x: f64,
    /// Along the second direction across.
    pub z: f64,
}

/// The smallest move of bore `which` (counted from 0) after which some line leaves at least `wanted` clearance
/// everywhere. Zero if one exists already; `None` if moving this bore alone cannot achieve it.
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
        let [x, z] = bore.offset();
        let offset = if i == which { [x.plus(1.0, 4), z.plus(1.0, 5)] } else { [x, z] };
        programme.length_at_most(Expression::from(bore.room - wanted), offset);
    }
    let unknown = |which| Expression::default().plus(1.0, which);
    programme.length_at_most(unknown(6), [unknown(4), unknown(5)]);
    match programme.solve() {
        Ok(found) => Ok(Some(Shift { x: found.unknowns[4] * frame.unit, z: found.unknowns[5] * frame.unit })),
        Err(ConicError::Infeasible) => Ok(None),
        Err(other) => Err(other.into()),
    }
}
