//! Which point comes next.

use quantity::Kind;
use record::{Facing, Point};
use session::{Session, SessionError};
use std::collections::BTreeSet;

/// A point and the way the instrument is to face.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    /// The point.
    pub point: Point,
    /// The quantity measured there.
    pub quantity: Kind,
    /// The facing, for a point that reverses.
    pub facing: Option<Facing>,
}

impl Target {
    /// The point with its facing in words.
    pub fn words(&self) -> String {
        match self.facing {
            Some(facing) => format!("{}, facing {}", session::shown(&self.point.to_string()), facing.word()),
            None => session::shown(&self.point.to_string()).into_owned(),
        }
    }
}

/// Goes along the points still wanted, in the plan's order. What was taken or passed over in this run is not asked for again
/// by itself.
#[derive(Debug)]
pub struct Guide {
    /// One facing for everything; else both are asked for.
    only: Option<Facing>,
    /// What the instrument reads, where that is certain.
    reads: Option<Kind>,
    done: BTreeSet<(String, Option<Facing>)>,
}

impl Guide {
    /// A guide for an instrument.
    pub const fn new(only: Option<Facing>, reads: Option<Kind>) -> Self {
        Self { only, reads, done: BTreeSet::new() }
    }

    /// The point that a person chose.
    pub fn choose(&self, session: &Session, text: &str) -> Result<Target, SessionError> {
        let (point, quantity) = session.point_named(text)?;
        if self.reads.is_some_and(|reads| reads != quantity) {
            return Err(SessionError::Refused(format!(
                "`{}` asks for {} and this instrument reads none",
                session::shown(text),
                quantity.word()
            )));
        }
        Ok(self.target(point, quantity))
    }

    fn target(&self, point: Point, quantity: Kind) -> Target {
        let facing = point.kind().reverses().then(|| self.only.unwrap_or(Facing::Forward));
        Target { point, quantity, facing }
    }

    /// Notes that a target was taken or passed over.
    pub fn passed(&mut self, target: &Target) {
        self.done.insert((target.point.to_string(), target.facing));
    }

    /// What comes after a target that was taken: its other facing where a pair is wanted, else the next point.
    pub fn after(&self, session: &Session, taken: &Target) -> Option<Target> {
        let name = taken.point.to_string();
        let turned = session
            .assessment()
            .points
            .iter()
            .find(|p| p.point == taken.point)
            .and_then(|p| p.facing_wanted)
            .filter(|_| self.only.is_none() && taken.facing.is_some())
            .filter(|facing| !self.done.contains(&(name, Some(*facing))));
        match turned {
            Some(facing) => Some(Target { facing: Some(facing), ..taken.clone() }),
            None => self.next(session),
        }
    }

    /// The first point still wanted that this instrument can measure.
    pub fn next(&self, session: &Session) -> Option<Target> {
        self.left(session).into_iter().next()
    }

    /// Every point still wanted that this instrument can measure and that was not passed over.
    pub fn left(&self, session: &Session) -> Vec<Target> {
        let assessment = session.assessment();
        assessment
            .wanted
            .iter()
            .filter(|point| !self.done.iter().any(|(done, _)| *done == point.to_string()))
            .filter_map(|point| Some((point.clone(), session.plan().quantity_of(point)?)))
            .filter(|(_, quantity)| self.reads.is_none_or(|reads| reads == *quantity))
            .map(|(point, quantity)| self.target(point, quantity))
            .collect()
    }
}
