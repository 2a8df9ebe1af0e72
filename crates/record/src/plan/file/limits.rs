//! Limits of a value, from their keys.

use super::mistake::{Mistake, Table};
use crate::Limits;
use quantity::Kind;

/// A tolerance: a symmetric size, or a table with `lower`, `upper` or both.
pub fn tolerance(t: &Table<'_, '_>, key: &'static str, kind: Kind) -> Option<Limits<f64>> {
    let value = t.value(key)?;
    if !value.get_ref().is_table() {
        return t.positive(key, kind).map(Limits::plus_minus);
    }
    let read = |inner: &Table<'_, '_>| {
        let limits = lower_upper(inner, kind);
        if limits.is_none() && inner.contents().is_empty() {
            t.wrong(value, key, "a tolerance with lower, upper or both");
        }
        limits
    };
    t.inside(key, "a tolerance", read)?
}

/// The same for any quantity: a bare symmetric size, or a text with its unit.
pub fn tolerance_any(t: &Table<'_, '_>, key: &'static str) -> Option<Limits<f64>> {
    t.above_zero(key, t.any_quantity(key)?).map(Limits::plus_minus)
}

/// `lower` and `upper` of this table itself; `None` if neither is there.
pub fn lower_upper(t: &Table<'_, '_>, kind: Kind) -> Option<Limits<f64>> {
    let limits = Limits { lower: t.quantity("lower", kind), upper: t.quantity("upper", kind) };
    if let (Some(lower), Some(upper)) = (limits.lower, limits.upper)
        && lower >= upper
    {
        t.mistakes().note(t.span(), Mistake::Limits { lower, upper }, None);
        return None;
    }
    (limits.lower.is_some() || limits.upper.is_some()).then_some(limits)
}
