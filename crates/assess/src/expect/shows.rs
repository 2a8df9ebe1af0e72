//! What a point should show: the design, the facing, the zero that the round has shown, the neighbours.

use super::neighbours::{At, Neighbours, span_of};
use super::pair::Zeros;
use record::plan::{Plan, Tolerances};
use record::{Facing, Instrument, Limits, Point, PointKind};

/// What the display should show.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shows {
    /// The value expected on the display, in the unit used inside.
    pub value: f64,
    /// How far a value may be from it before it is asked about.
    pub allow: f64,
}

/// An angle this far from what is expected is asked about, in degrees; more where four tolerances are more.
const ANGLE: f64 = 1.0;
/// Tolerances that a value may be off before it is asked about.
const TOLERANCES: f64 = 4.0;

/// What a point should show.
pub fn shows(
    plan: &Plan,
    neighbours: &Neighbours,
    zeros: &Zeros,
    point: &Point,
    facing: Option<Facing>,
    instrument: Option<&Instrument>,
) -> Option<Shows> {
    let t = &plan.tolerances;
    match point.kind() {
        PointKind::Incidence | PointKind::Level | PointKind::Cross | PointKind::Walk => {
            angle(plan, neighbours, zeros, point, facing, instrument)
        }
        PointKind::Spacing => {
            let station = plan.station(point.place())?;
            let value = (station.span - plan.wing.root).value();
            Some(Shows { value, allow: times(size(t.spacing.map(|l| l.map(|v| v.value()))), 5.0) })
        }
        PointKind::Diagonal => {
            let bay = plan.bays.iter().find(|b| b.diagonals.iter().any(|d| d == point.place()))?;
            let value = libm::hypot(bay.a.value(), bay.b.value());
            Some(Shows { value, allow: (0.01 * value).max(5.0) })
        }
        PointKind::Bore => {
            let value = plan.bushes.iter().find(|b| b.name == point.place())?.bore.value();
            // A bush is reamed to fit: half a millimetre, or a fiftieth of a wide one, is another bush or a slip.
            Some(Shows { value, allow: (0.02 * value).max(0.5) })
        }
        PointKind::Offset => straight(plan, neighbours, point, times(straightness(t), 10.0), 0.6),
        PointKind::Height | PointKind::Plumb => straight(plan, neighbours, point, 15.0, 0.2),
        PointKind::BoreAft | PointKind::BoreUp => straight(plan, neighbours, point, 5.0, 1.0),
        PointKind::Spot => None,
    }
}

fn straightness(t: &Tolerances) -> Option<f64> {
    t.straightness.map(|s| s.value())
}

/// The larger side of a tolerance.
fn size(limits: Option<Limits<f64>>) -> Option<f64> {
    let limits = limits?;
    let sides = [limits.lower, limits.upper].into_iter().flatten().map(f64::abs);
    sides.reduce(f64::max)
}

/// Four tolerances, but at least `least`.
fn times(tolerance: Option<f64>, least: f64) -> f64 {
    (TOLERANCES * tolerance.unwrap_or(0.0)).max(least)
}

/// An angle: the design there, and by how much the nearest place that was read is off its own design.
fn angle(
    plan: &Plan,
    neighbours: &Neighbours,
    zeros: &Zeros,
    point: &Point,
    facing: Option<Facing>,
    instrument: Option<&Instrument>,
) -> Option<Shows> {
    let t = &plan.tolerances;
    let limits = match point.kind() {
        PointKind::Level => t.level,
        PointKind::Cross => t.cross,
        _ => t.station,
    };
    let allow = times(size(limits.map(|l| l.map(|v| v.value()))), ANGLE);
    let facing = facing.unwrap_or(Facing::Forward);
    let span = span_of(plan, point)?;
    let design = |span: f64| design(plan, point.kind(), span);
    let sign = facing.sign();
    // What the display showed beyond the design, with the facing's sign, as a post or a station has it in common.
    let beyond = |facing: Facing| {
        let off = |at: At| At { span: at.span, value: at.value - facing.sign() * design(at.span) };
        let inboard = neighbours.inboard(point, span, facing).next().map(off);
        let outboard = neighbours.outboard(point, span, facing).next().map(off);
        between(inboard, outboard, span)
    };
    let accuracy = instrument.and_then(|i| i.accuracy).unwrap_or(0.0);
    // Posts lean each for itself: only a reading at the same post tells.
    let alone = matches!(point.kind(), PointKind::Level | PointKind::Cross);
    let same = if alone { neighbours.at(point, span, facing) } else { beyond(facing) };
    let turned = facing.turned();
    let other = if alone { neighbours.at(point, span, turned) } else { beyond(turned) };
    let (off, zero_unknown) = match (same, other, zeros.mean()) {
        (Some(off), _, _) => (off, 0.0),
        (None, Some(off), Some(zero)) => (2.0 * zero - off, 0.0),
        (None, Some(off), None) => (-off, 2.0 * accuracy),
        (None, None, Some(zero)) => (zero, 0.0),
        (None, None, None) => (0.0, accuracy),
    };
    Some(Shows { value: sign * design(span) + off, allow: allow + zero_unknown })
}

/// What a true section reads with the instrument facing forward.
fn design(plan: &Plan, kind: PointKind, span: f64) -> f64 {
    if kind != PointKind::Incidence {
        return 0.0;
    }
    let here = |s: &&record::plan::Station| (s.span.value() - span).abs() < 0.001;
    plan.stations.iter().find(here).map_or(0.0, |s| s.incidence.value() + s.fixture.value())
}

/// Straight between two neighbours; one alone counts as it is.
fn between(inboard: Option<At>, outboard: Option<At>, span: f64) -> Option<f64> {
    match (inboard, outboard) {
        (Some(a), Some(b)) => Some(a.value + (b.value - a.value) * (span - a.span) / (b.span - a.span)),
        (Some(only), None) | (None, Some(only)) => Some(only.value),
        (None, None) => None,
    }
}

/// A place on a straight part, by the straight through the two nearest that were read; by one alone, with what the part may
/// lean (rise per run) added.
fn straight(plan: &Plan, neighbours: &Neighbours, point: &Point, least: f64, lean: f64) -> Option<Shows> {
    let span = span_of(plan, point)?;
    let mut inboard = neighbours.inboard(point, span, Facing::Forward);
    let mut outboard = neighbours.outboard(point, span, Facing::Forward);
    let (a, b) = match (inboard.next(), outboard.next()) {
        (Some(a), Some(b)) => (a, Some(b)),
        (Some(a), None) => (a, inboard.next()),
        (None, Some(a)) => (a, outboard.next()),
        (None, None) => return None,
    };
    let away = (span - a.span).abs();
    if away < 0.001 {
        return Some(Shows { value: a.value, allow: least });
    }
    match b {
        Some(b) if (b.span - a.span).abs() > 0.001 => {
            let apart = b.span - a.span;
            let value = a.value + (b.value - a.value) * (span - a.span) / apart;
            // A straight is less certain the further it is drawn out.
            let beyond = (away / apart.abs()).max(1.0);
            Some(Shows { value, allow: least * beyond })
        }
        _ => Some(Shows { value: a.value, allow: least + lean * away }),
    }
}
