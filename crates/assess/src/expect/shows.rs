//! What a point should show, from the design, the facing, the round's zero and the neighbours.

use super::neighbours::{At, span_of};
use super::{Round, Shows, rigging};
use quantity::{Degrees, Kind};
use record::plan::Plan;
use record::point::{Design, Judgement, Place};
use record::{Facing, Instrument, Limits, Point};

/// An angle this far from the expected one is questioned, in degrees; or four tolerances, if more.
const ANGLE: f64 = 1.0;
/// A value may be off by this many tolerances without a question.
const TOLERANCES: f64 = 4.0;

impl Round<'_> {
    /// What the instrument should show at a point with this facing; `None` if plan and round do not say.
    pub fn shows(
        &self,
        point: &Point,
        facing: Option<Facing>,
        instrument: Option<&Instrument>,
    ) -> Option<Shows> {
        let (plan, t) = (self.plan, &self.plan.tolerances);
        let row = point.kind().row();
        let design = plan.design_of(point);
        let accuracy = instrument.and_then(|i| i.accuracy).unwrap_or(0.0);
        let angle = |limits| self.angle(point, facing.unwrap_or(Facing::Forward), accuracy, limits);
        match row.judgement {
            Judgement::Level => angle(t.level),
            Judgement::Cross => angle(t.cross),
            Judgement::Straightness if row.quantity == Some(Kind::Angle) => angle(None),
            Judgement::Twist if design.is_some() => angle(t.station),
            Judgement::Twist => self.straight(point, ON_SPAR),
            Judgement::Straightness => {
                let least = times(t.straightness.map(|s| s.value()), FROM_LINE.least);
                self.straight(point, Straight { least, ..FROM_LINE })
            }
            Judgement::Spacing => {
                let tolerance = size(t.spacing.map(Limits::values));
                Some(Shows { value: design?, allow: times(tolerance, 5.0) })
            }
            Judgement::Square => {
                let bay = plan.bays.iter().find(|b| b.diagonals.iter().any(|d| d == point.place()))?;
                let value = libm::hypot(bay.a.value(), bay.b.value());
                Some(Shows { value, allow: (0.01 * value).max(5.0) })
            }
            Judgement::Clearance => match design {
                // A bush is reamed to fit: half a millimetre, or a fiftieth of a wide one, is another bush or a slip.
                Some(value) => Some(Shows { value, allow: (0.02 * value).max(0.5) }),
                None => self.straight(point, CENTRES),
            },
            Judgement::Rigging => {
                let opposite = self.neighbours.opposite(point, facing);
                let half = opposite.map(|value| rigging::Half { value, zero: self.zeros.mean(), accuracy });
                rigging::shows(plan, point, facing, half)
            }
            Judgement::OwnLimits => None,
        }
    }

    /// An angle: the design there, plus how far the nearest place read is off its own design.
    fn angle(
        &self,
        point: &Point,
        facing: Facing,
        accuracy: f64,
        limits: Option<Limits<Degrees>>,
    ) -> Option<Shows> {
        let allow = times(size(limits.map(Limits::values)), ANGLE);
        let span = span_of(self.plan, point)?;
        let design = |span: f64| design(self.plan, point, span);
        // How far the display was beyond the design, with the facing's sign; a post or a station has this in common.
        let beyond = |facing: Facing| {
            let off = |at: At| At { span: at.span, value: at.value - facing.sign() * design(at.span) };
            let inboard = self.neighbours.inboard(point, span, facing).next().map(off);
            let outboard = self.neighbours.outboard(point, span, facing).next().map(off);
            between(inboard, outboard, span)
        };
        // Each post leans by itself: only a reading at the same post says anything.
        let alone = point.kind().row().place == Place::Post;
        let read = |facing| if alone { self.neighbours.at(point, span, facing) } else { beyond(facing) };
        let (off, zero_unknown) = match read(facing) {
            Some(off) => (off, 0.0),
            None => match (read(facing.turned()), self.zeros.mean()) {
                (Some(off), Some(zero)) => (2.0 * zero - off, 0.0),
                (Some(off), None) => (-off, 2.0 * accuracy),
                (None, Some(zero)) => (zero, 0.0),
                (None, None) => (0.0, accuracy),
            },
        };
        Some(Shows { value: facing.sign() * design(span) + off, allow: allow + zero_unknown })
    }

    /// A place on a straight part: on the line through the two nearest places read; with only one, that value, allowing
    /// for the slope of the part (rise per run).
    fn straight(&self, point: &Point, part: Straight) -> Option<Shows> {
        let Straight { least, lean } = part;
        let span = span_of(self.plan, point)?;
        let mut inboard = self.neighbours.inboard(point, span, Facing::Forward);
        let mut outboard = self.neighbours.outboard(point, span, Facing::Forward);
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
                // A straight line is less certain the further it is extended.
                let beyond = (away / apart.abs()).max(1.0);
                Some(Shows { value, allow: least * beyond })
            }
            _ => Some(Shows { value: a.value, allow: least + lean * away }),
        }
    }
}

/// For a place without neighbours: no offset from a line, height above a shop's floor or centre of a bush is larger.
pub fn of_any_wing(point: &Point) -> Option<Shows> {
    let allow = match point.kind().row().judgement {
        Judgement::Straightness => 1000.0,
        Judgement::Twist => 3000.0,
        Judgement::Clearance => 10_000.0,
        Judgement::Level
        | Judgement::Cross
        | Judgement::Square
        | Judgement::Spacing
        | Judgement::Rigging
        | Judgement::OwnLimits => return None,
    };
    Some(Shows { value: 0.0, allow })
}

/// How far a place may be from a straight line through its neighbours, in mm, and how much a part may slope, as rise
/// per run.
#[derive(Clone, Copy, Debug)]
struct Straight {
    least: f64,
    lean: f64,
}

/// Heights and plumb distances of a spar: dihedral and sweep give it a slope.
const ON_SPAR: Straight = Straight { least: 15.0, lean: 0.2 };
/// Offsets from a line stretched along the spar.
const FROM_LINE: Straight = Straight { least: 10.0, lean: 0.05 };
/// Centres of bushes: a shaft may be swept.
const CENTRES: Straight = Straight { least: 5.0, lean: 1.0 };

/// The larger side of a tolerance.
fn size(limits: Option<Limits<f64>>) -> Option<f64> {
    let limits = limits?;
    let sides = [limits.lower, limits.upper].into_iter().flatten().map(f64::abs);
    sides.reduce(f64::max)
}

/// Four tolerances, or `least` if that is more.
fn times(tolerance: Option<f64>, least: f64) -> f64 {
    (TOLERANCES * tolerance.unwrap_or(0.0)).max(least)
}

/// What a true section reads at a place with the instrument facing forward.
fn design(plan: &Plan, point: &Point, span: f64) -> f64 {
    if point.kind().row().design != Design::Incidence {
        return 0.0;
    }
    // Stations are sorted by span.
    let first = plan.stations.partition_point(|s| s.span.value() <= span - 0.001);
    let here = plan.stations.get(first).filter(|s| s.span.value() < span + 0.001);
    here.map_or(0.0, |s| s.incidence.value() + s.fixture.value())
}

/// Linear between two neighbours; with one neighbour, its value.
fn between(inboard: Option<At>, outboard: Option<At>, span: f64) -> Option<f64> {
    match (inboard, outboard) {
        (Some(a), Some(b)) => Some(a.value + (b.value - a.value) * (span - a.span) / (b.span - a.span)),
        (Some(only), None) | (None, Some(only)) => Some(only.value),
        (None, None) => None,
    }
}
