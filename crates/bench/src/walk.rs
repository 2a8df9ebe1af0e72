//! Which point comes next.

use crate::Log;
use assess::view::PointView;
use quantity::Kind;
use record::{Facing, Point};
use std::collections::BTreeSet;

/// A point and the facing of the instrument for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    pub point: Point,
    pub quantity: Kind,
    /// The facing, for a point that reverses.
    pub facing: Option<Facing>,
}

impl Target {
    pub fn words(&self) -> String {
        match self.facing {
            Some(facing) => format!("{}, facing {}", self.point, self.point.kind().toward(facing)),
            None => self.point.to_string(),
        }
    }
}

/// Goes along the points still wanted, in plan order. A point taken or skipped in this run is not asked for again
/// automatically. After a pair, the next point is asked for with the facing that the instrument already has.
#[derive(Clone, Debug)]
pub(crate) struct Walk {
    /// One facing for everything; otherwise both are asked for.
    only: Option<Facing>,
    reads: Kind,
    done: BTreeSet<(Point, Option<Facing>)>,
    target: Option<Target>,
    before: Vec<Target>,
}

impl Walk {
    pub(crate) const fn new(reads: Kind) -> Self {
        Self { only: None, reads, done: BTreeSet::new(), target: None, before: Vec::new() }
    }

    pub(crate) const fn target(&self) -> Option<&Target> {
        self.target.as_ref()
    }

    /// One facing for every point, or none.
    pub(crate) fn only(&mut self, facing: Option<Facing>, log: &Log<'_>) {
        self.only = facing;
        if self.before.is_empty() {
            self.target = self.first(log);
        }
    }

    pub(crate) fn go(&mut self, target: Target) {
        let facing =
            target.point.kind().reverses().then(|| target.facing.or(self.only).unwrap_or(Facing::Forward));
        self.target = Some(Target { facing, ..target });
    }

    /// Chooses the first point if there is no target, for example after a stage began.
    pub(crate) fn begin(&mut self, log: &Log<'_>) {
        if self.target.is_none() {
            self.target = self.first(log);
        }
    }

    pub(crate) fn face(&mut self, facing: Facing) -> bool {
        match self.target.as_mut().and_then(|target| target.facing.as_mut()) {
            Some(now) => {
                *now = facing;
                true
            }
            None => false,
        }
    }

    /// The target was taken, with its companions: continue with its other facing if a pair is wanted, else with the
    /// next point.
    pub(crate) fn took(&mut self, with_it: impl Iterator<Item = (Point, Option<Facing>)>, log: &Log<'_>) {
        self.done.extend(with_it);
        let Some(taken) = self.target.take() else { return };
        self.done.insert((taken.point.clone(), taken.facing));
        self.before.push(taken.clone());
        self.target = self.after(&taken, log);
    }

    /// Skips the target and returns it.
    pub(crate) fn skip(&mut self, log: &Log<'_>) -> Option<Target> {
        let left_out = self.target.take()?;
        self.done.insert((left_out.point.clone(), left_out.facing));
        self.target = self.first(log);
        self.before.push(left_out.clone());
        Some(left_out)
    }

    pub(crate) fn back(&mut self) -> bool {
        let Some(before) = self.before.pop() else { return false };
        self.done.remove(&(before.point.clone(), before.facing));
        self.target = Some(before);
        true
    }

    /// Back to a target whose reading was withdrawn.
    pub(crate) fn again(&mut self, target: Target) {
        self.done.remove(&(target.point.clone(), target.facing));
        self.target = Some(target);
    }

    fn after(&self, taken: &Target, log: &Log<'_>) -> Option<Target> {
        let turned = taken.facing.filter(|_| self.only.is_none()).map(Facing::turned);
        let wanted = |facing: &Facing| {
            let view = log.assessment.points.iter().find(|view| view.point == taken.point);
            view.is_some_and(|view| view.facing_wanted == Some(*facing))
                && !self.done.contains(&(taken.point.clone(), Some(*facing)))
        };
        match turned.filter(wanted) {
            Some(facing) => Some(Target { facing: Some(facing), ..taken.clone() }),
            None => self.first(log),
        }
    }

    fn first(&self, log: &Log<'_>) -> Option<Target> {
        self.left(log).into_iter().next()
    }

    /// Every point still wanted that this instrument can measure and that was not skipped; for a pair begun, the
    /// other half.
    pub(crate) fn left(&self, log: &Log<'_>) -> Vec<Target> {
        let wanted: BTreeSet<&Point> = log.assessment.wanted.iter().collect();
        let fits = |view: &&PointView| view.required;
        log.assessment
            .points
            .iter()
            .filter(fits)
            .filter_map(|view| {
                let point = view.point.clone();
                let quantity = log.plan.quantity_of(&point).filter(|quantity| *quantity == self.reads)?;
                let facing = self.facing_of(&point, view, wanted.contains(&point))?;
                Some(Target { point, quantity, facing })
            })
            .collect()
    }

    /// The facing to ask a point for: `Some(None)` if it has no facing, `None` if the point is no longer wanted.
    #[expect(clippy::option_option, reason = "not wanted, wanted without a facing, wanted with one")]
    fn facing_of(&self, point: &Point, view: &PointView, missing: bool) -> Option<Option<Facing>> {
        let passed = self.done.iter().any(|(done, _)| done == point);
        if !point.kind().reverses() {
            return (missing && !passed).then_some(None);
        }
        if missing && !passed {
            return Some(Some(self.only.or_else(|| self.carried(point)).unwrap_or(Facing::Forward)));
        }
        // Half of the pair is there.
        let other = view.facing_wanted.filter(|_| self.only.is_none() && !missing && !passed)?;
        Some(Some(other))
    }

    /// The instrument's facing from the previous point, if that was of the same kind.
    fn carried(&self, point: &Point) -> Option<Facing> {
        let last = self.before.last().filter(|last| last.point.kind() == point.kind())?;
        last.facing
    }
}
