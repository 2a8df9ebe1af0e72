//! The readings of this round, by kind, spar and place along the span.

use record::plan::Plan;
use record::point::Place;
use record::{Facing, Point, PointKind, Reading};
use std::collections::BTreeMap;

/// A place along the span in thousandths of a millimetre, so that places can be sorted.
pub type Micron = i64;

/// The last values at one place, as displayed.
#[derive(Clone, Copy, Debug, Default)]
pub struct Slot {
    forward: Option<f64>,
    aft: Option<f64>,
}

impl Slot {
    const fn put(&mut self, reading: &Reading) {
        match reading.facing {
            None | Some(Facing::Forward) => self.forward = Some(reading.value),
            Some(Facing::Aft) => self.aft = Some(reading.value),
        }
    }

    /// The value of a facing; a value without a facing counts as forward.
    pub const fn of(&self, facing: Facing) -> Option<f64> {
        match facing {
            Facing::Forward => self.forward,
            Facing::Aft => self.aft,
        }
    }
}

/// A place with the value there.
#[derive(Clone, Copy, Debug)]
pub struct At {
    /// Along the span, in mm.
    pub span: f64,
    /// The value as displayed.
    pub value: f64,
}

/// The readings of a round.
#[derive(Clone, Debug, Default)]
pub struct Neighbours {
    lines: BTreeMap<(PointKind, Option<String>), BTreeMap<Micron, Slot>>,
    /// By point, including points that have no place along a span.
    pairs: BTreeMap<Point, Slot>,
}

impl Neighbours {
    /// Takes a reading in.
    pub fn push(&mut self, plan: &Plan, reading: &Reading) {
        if reading.facing.is_some() {
            match self.pairs.get_mut(&reading.point) {
                Some(slot) => slot.put(reading),
                None => self.pairs.entry(reading.point.clone()).or_default().put(reading),
            }
        }
        let Some(span) = span_of(plan, &reading.point) else { return };
        let line = self.lines.entry(line_of(&reading.point)).or_default();
        line.entry(place(span)).or_default().put(reading);
    }

    /// The reading at a point with the opposite facing.
    pub fn opposite(&self, point: &Point, facing: Option<Facing>) -> Option<f64> {
        self.pairs.get(point)?.of(facing?.turned())
    }

    /// The value at exactly this place.
    pub fn at(&self, point: &Point, span: f64, facing: Facing) -> Option<f64> {
        self.lines.get(&line_of(point))?.get(&place(span))?.of(facing)
    }

    /// The nearest values with a facing, inboard of a place (or at it), nearest first.
    pub fn inboard(&self, point: &Point, span: f64, facing: Facing) -> impl Iterator<Item = At> + '_ {
        let line = self.lines.get(&line_of(point));
        line.into_iter()
            .flat_map(move |line| line.range(..=place(span)).rev())
            .filter_map(move |(at, slot)| Some(At { span: millimetres(*at), value: slot.of(facing)? }))
    }

    /// The nearest values with a facing, outboard of a place, nearest first.
    pub fn outboard(&self, point: &Point, span: f64, facing: Facing) -> impl Iterator<Item = At> + '_ {
        let line = self.lines.get(&line_of(point));
        line.into_iter()
            .flat_map(move |line| line.range(place(span) + 1..))
            .filter_map(move |(at, slot)| Some(At { span: millimetres(*at), value: slot.of(facing)? }))
    }
}

fn line_of(point: &Point) -> (PointKind, Option<String>) {
    (point.kind(), point.spar().map(str::to_owned))
}

fn place(span: f64) -> Micron {
    libm::round(span * 1000.0) as Micron
}

fn millimetres(place: Micron) -> f64 {
    place as f64 / 1000.0
}

/// The place of a point along the span; `None` if its kind has none.
pub fn span_of(plan: &Plan, point: &Point) -> Option<f64> {
    match point.kind().row().place {
        Place::Post => Some(plan.posts.iter().find(|p| p.name == point.place())?.span.value()),
        Place::Bush => Some(plan.bushes.iter().find(|b| b.name == point.place())?.span.value()),
        Place::Station | Place::Spar => Some(plan.station(point.place())?.span.value()),
        Place::Diagonal | Place::Spot | Place::Rig => None,
    }
}
