//! Yaw and offset from the distances to both sides.
//!
//! The uncertainty comes from what a small change of each distance does to the fit, so shared errors (a tape's zero,
//! its scale, the temperature) count only as far as they do not cancel.

use super::{Contradiction, Given, LeftOver, RigFault, Value};
use crate::estimate::Estimate;
use crate::parts::Values;
use crate::view::{ClosureRow, RigClosure};
use numerics::rigging::symmetry::{Pair, Turned, fit};
use quantity::shown::significance;
use quantity::{Kind, Units};
use record::Point;
use record::plan::{Plan, RigCheck, RigValue, Symmetry};

/// Which of the two results.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// Degrees, right side aft.
    Yaw,
    /// Millimetres, the fuselage's line right of the middle.
    Offset,
}

/// The change applied to a distance to see its effect, in mm.
const STEP: f64 = 0.01;

/// The fit of a symmetry with its inputs.
struct Fitted<'v> {
    pairs: Vec<Pair>,
    distances: Vec<&'v Estimate>,
    turned: Turned,
}

fn turned<'v>(
    of: &Symmetry,
    points: &[Point],
    values: &'v Values,
    units: Units,
) -> Result<Fitted<'v>, RigFault> {
    let distances: Vec<&Estimate> =
        points.iter().filter_map(|p| values.get(p)).map(|m| &m.estimate).collect();
    if distances.len() != 2 * of.pairs.len() {
        return Err(RigFault::NoDistance);
    }
    let pairs: Vec<Pair> = of
        .pairs
        .iter()
        .zip(distances.chunks(2))
        .map(|(pair, two)| Pair {
            aft: pair.aft,
            out: pair.out,
            up: pair.up,
            left: two[0].value,
            right: two[1].value,
            u: Some(libm::hypot(two[0].own, two[1].own) / core::f64::consts::SQRT_2),
        })
        .collect();
    if let Some(i) = pairs.iter().position(|pair| !pair.fits()) {
        return Err(misplaced(&pairs[i], points.get(2 * i), units));
    }
    let turned = fit(&pairs).map_err(|source| RigFault::Symmetry { source, units })?;
    Ok(Fitted { pairs, distances, turned })
}

/// Distances that check each other: those of every fully measured symmetry.
pub fn rig_closures(plan: &Plan, checks: &[RigCheck<'_>], values: &Values, level: f64) -> Vec<RigClosure> {
    let of = |check: &RigCheck<'_>| {
        let RigValue::Yaw(of) = check.value else { return None };
        let Fitted { turned, .. } = turned(of, &check.points, values, plan.shown_in).ok()?;
        let place = |i: usize| check.points.get(i).map_or_else(String::new, |p| p.place().to_owned());
        let row = |(i, left_over): (usize, &f64)| ClosureRow {
            left: place(2 * i),
            right: place(2 * i + 1),
            left_over_mm: *left_over,
        };
        let contradicts = turned.p.is_some_and(|p| p < level);
        let words = match turned.p {
            None => "two pairs leave nothing over: a third would check them".to_owned(),
            Some(p) if contradicts => {
                format!("the distances contradict each other ({})", significance(p))
            }
            Some(_) => "the distances agree with each other".to_owned(),
        };
        let rows = turned.left_over.iter().enumerate().map(row).collect();
        Some(RigClosure { name: of.name.clone(), rows, p: turned.p, contradicts, words })
    };
    checks.iter().filter_map(of).collect()
}

/// The fitted value.
pub fn fitted(
    of: &Symmetry,
    check: &RigCheck<'_>,
    given: Given<'_>,
    wanted: Wanted,
) -> Result<Value, RigFault> {
    let Given { values, level, units, .. } = given;
    let Fitted { pairs, distances, turned } = turned(of, &check.points, values, units)?;
    let read = |t: &Turned| match wanted {
        Wanted::Yaw => t.yaw.to_degrees(),
        Wanted::Offset => t.offset,
    };
    let mut parts = Vec::new();
    for (i, distance) in distances.iter().enumerate() {
        let mut other = pairs.clone();
        let to = if i % 2 == 0 { &mut other[i / 2].left } else { &mut other[i / 2].right };
        *to += STEP;
        let moved = fit(&other).map_err(|source| RigFault::Symmetry { source, units })?;
        parts.push(((read(&moved) - read(&turned)) / STEP, *distance));
    }
    let length = units.scale(Kind::Length);
    let contradicted = turned.p.filter(|p| *p < level).map(|_| {
        let worst =
            (0..pairs.len()).max_by(|a, b| turned.left_over[*a].abs().total_cmp(&turned.left_over[*b].abs()));
        let worst = worst.and_then(|i| {
            let place = check.points.get(2 * i)?.place().to_owned();
            Some(LeftOver { place, left_mm: turned.left_over[i], length })
        });
        Contradiction { worst }
    });
    Ok(Value { estimate: Estimate::propagate(read(&turned), &parts), contradicted })
}

fn misplaced(pair: &Pair, point: Option<&Point>, units: Units) -> RigFault {
    RigFault::Misplaced {
        place: point.map_or("a distance", Point::place).to_owned(),
        both: pair.both(),
        apart: pair.expected(),
        length: units.scale(Kind::Length),
    }
}
