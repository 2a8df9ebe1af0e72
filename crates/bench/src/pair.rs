//! What the axes showed, and what is known about the instrument.

use crate::{Seat, Zero};
use instrument::Settled;

/// What the two axes showed at a rest, or show now, in degrees, as displayed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pair {
    pub main: f64,
    pub second: Option<f64>,
    /// Standard uncertainty of each, without the instrument's zero.
    pub u: f64,
}

impl Pair {
    /// From the rests of the axes.
    pub(crate) fn of(main: &Settled, second: Option<&Settled>, sign: f64, step: f64) -> Self {
        // Closely spaced samples are not independent: at most ten of them count.
        let u_of = |rest: &Settled| {
            let count = f64::from(rest.samples.clamp(1, 10));
            step * step / 12.0 + rest.scatter * rest.scatter / count
        };
        let u = second.map_or(0.0, u_of).max(u_of(main)).sqrt();
        Self { main: main.value * sign, second: second.map(|rest| rest.value), u }
    }
}

/// What the loop knows about the instrument besides its values.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Known {
    pub zero: Zero,
    pub second_zero: Zero,
    pub seat: Seat,
    /// The step of the display, in degrees.
    pub step: f64,
    /// Limit of the error in proportion to the value.
    pub scale: f64,
}
