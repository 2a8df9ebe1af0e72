//! A reversal pair: the combined result of a reading and its counterpart.

use assess::expect::{Say, place};
use quantity::Units;
use record::{Entry, Facing, Instrument, Reading, What};

#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    pub other: u64,
    pub name: String,
    /// Its value without the zero, with its sign and unit: `+2.050°`.
    pub value: String,
    /// The instrument's zero, with its sign: `+0.150`.
    pub zero: String,
}

impl Pair {
    /// The pair formed by a reading and its counterpart.
    pub(crate) fn of(one: &Reading, other: &Entry, instrument: Option<&Instrument>) -> Option<Self> {
        let What::Reading(half) = &other.what else { return None };
        let (forward, aft) = if one.facing == Some(Facing::Forward) { (one, half) } else { (half, one) };
        let say = Say::of(one.quantity, instrument, Units::INSIDE);
        Some(Self {
            other: other.seq,
            name: place(&one.point, None),
            value: say.with_unit(&say.between((forward.value - aft.value) / 2.0)),
            zero: say.between((forward.value + aft.value) / 2.0),
        })
    }
}
