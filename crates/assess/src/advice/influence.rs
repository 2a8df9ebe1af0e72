//! The effect of a millimetre at a support, from the plan's geometry.
//!
//! A spar on two supports is a straight line, on more an elastic beam; beyond them it is straight
//! ([`numerics::elastic`]). The incidence of a section is that of the line through its foremost and rearmost carried
//! spar, asin((z_front - z_rear)/L) less the angle of that line with the chord, with L their distance fore and aft;
//! its derivatives with respect to the heights are ±1/(L cos). How far a wing differs from this, its torsional
//! stiffness, and what one support does to the others are learned ([`super::learn`]).

use numerics::elastic;
use quantity::Millimetres;
use record::plan::{Direction, Plan, Spar};
use std::collections::{BTreeMap, BTreeSet};

/// The supports under a spar in a direction, by their positions in the plan's list.
pub fn under(plan: &Plan, spar: &str, direction: Direction) -> Vec<usize> {
    let carries = |i: &usize| plan.supports[*i].spar == spar && plan.supports[*i].direction == direction;
    (0..plan.supports.len()).filter(carries).collect()
}

/// How far a spar moves in a direction at each span when one of some supports of the plan moves by 1 mm in its own
/// direction: a row per span, a column per support. Supports of other spars and directions have zeros; a spar with one
/// support is assumed to follow it along its whole length.
pub fn on_spar(
    plan: &Plan,
    spar: &str,
    direction: Direction,
    supports: &[usize],
    spans_mm: &[f64],
) -> Vec<Vec<f64>> {
    let own = under(plan, spar, direction);
    let places: Vec<f64> = own.iter().map(|i| plan.supports[*i].span.value()).collect();
    let mut rows = vec![vec![0.0; supports.len()]; spans_mm.len()];
    let mut unit = vec![0.0; own.len()];
    for (column, support) in supports.iter().enumerate() {
        let Some(j) = own.iter().position(|i| i == support) else { continue };
        unit[j] = 1.0;
        let rise = match own.len() {
            1 => vec![1.0; spans_mm.len()],
            // Two supports at one place cannot be told apart, so neither is moved.
            _ => elastic::deflection(&places, &unit, spans_mm).unwrap_or_else(|_| vec![0.0; spans_mm.len()]),
        };
        unit[j] = 0.0;
        rows.iter_mut().zip(rise).for_each(|(row, z)| row[column] = z);
    }
    rows
}

/// The spars on supports that move up and down, in plan order.
pub fn carried(plan: &Plan) -> Vec<&Spar> {
    let names: BTreeSet<&str> =
        plan.supports.iter().filter(|s| s.direction == Direction::Up).map(|s| s.spar.as_str()).collect();
    plan.spars.iter().filter(|s| names.contains(s.name.as_str())).collect()
}

/// Derivative of the incidence at each span with respect to some supports of the plan (positions in its list), in
/// degrees per mm, at the design incidence: a row per span. All zero if fewer than two spars are carried.
pub fn of_supports(plan: &Plan, supports: &[usize], spans_mm: &[f64]) -> Vec<Vec<f64>> {
    let spars = carried(plan);
    let mut rows = vec![vec![0.0; supports.len()]; spans_mm.len()];
    let mut parts: BTreeMap<&str, Vec<(usize, f64)>> = BTreeMap::new();
    for (at, span) in spans_mm.iter().enumerate() {
        let Some(Outermost { front, rear, apart }) = outermost(plan, &spars, *span) else { continue };
        let incidence = plan.design_incidence(Millimetres::new(*span)).value();
        let slope = libm::cos((incidence + height_angle(plan, *span)).to_radians());
        let per_mm = (1.0 / (apart * slope)).to_degrees();
        parts.entry(front.name.as_str()).or_default().push((at, per_mm));
        parts.entry(rear.name.as_str()).or_default().push((at, -per_mm));
    }
    for (spar, wanted) in parts {
        let spans: Vec<f64> = wanted.iter().map(|(at, _)| spans_mm[*at]).collect();
        let rises = on_spar(plan, spar, Direction::Up, supports, &spans);
        for ((at, per_mm), rise) in wanted.iter().zip(rises) {
            rows[*at].iter_mut().zip(rise).for_each(|(to, z)| *to += per_mm * z);
        }
    }
    rows
}

/// The spars that set the incidence at a place.
#[derive(Clone, Copy, Debug)]
pub struct Outermost<'p> {
    pub front: &'p Spar,
    pub rear: &'p Spar,
    /// Their distance fore and aft, in mm.
    pub apart: f64,
}

fn outermost<'p>(plan: &Plan, spars: &[&'p Spar], span_mm: f64) -> Option<Outermost<'p>> {
    let aft = |s: &Spar| plan.spar_aft(s, Millimetres::new(span_mm)).value();
    let front = spars.iter().min_by(|a, b| aft(a).total_cmp(&aft(b)))?;
    let rear = spars.iter().max_by(|a, b| aft(a).total_cmp(&aft(b)))?;
    let apart = aft(rear) - aft(front);
    (apart > 1.0).then_some(Outermost { front, rear, apart })
}

/// The foremost and rearmost spar on supports there; `None` if fewer than two.
pub fn carrying(plan: &Plan, span_mm: f64) -> Option<Outermost<'_>> {
    outermost(plan, &carried(plan), span_mm)
}

/// Angle of the line through the spars' height points with the chord, linear between stations.
fn height_angle(plan: &Plan, span_mm: f64) -> f64 {
    let after = plan.stations.partition_point(|s| s.span.value() < span_mm);
    let at = |i: usize| plan.stations.get(i).map(|s| (s.span.value(), s.height_angle.value()));
    match (after.checked_sub(1).and_then(at), at(after)) {
        (Some((a, va)), Some((b, vb))) => va + (vb - va) * (span_mm - a) / (b - a),
        (Some((_, v)), None) | (None, Some((_, v))) => v,
        (None, None) => 0.0,
    }
}
