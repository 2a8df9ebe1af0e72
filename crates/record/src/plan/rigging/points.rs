//! The points of a rigged aeroplane, and the design value of each.

use super::checks::kind_of;
use super::{AngleOf, Control, RigAngle, Rigging, Tension, TravelBy};
use crate::{Limits, Point, PointKind};
use quantity::Kind;

impl Rigging {
    /// The names at which a kind of point can be.
    pub(crate) fn places(&self, kind: PointKind) -> Vec<&str> {
        let controls = |has: fn(&Control) -> bool| {
            self.controls.iter().filter(|c| has(c)).map(|c| c.name.as_str()).collect()
        };
        match kind {
            PointKind::Pitch | PointKind::Roll => self.fuselage.iter().map(|f| f.name.as_str()).collect(),
            PointKind::Neutral => controls(|c| matches!(c.by, TravelBy::Level { .. })),
            PointKind::TravelUp | PointKind::TravelDown => controls(|_| true),
            PointKind::Play => controls(|c| c.play.is_some()),
            PointKind::Tension => self.cables.iter().map(|c| c.name.as_str()).collect(),
            PointKind::Torque => self.bolts.iter().map(|b| b.name.as_str()).collect(),
            PointKind::Drag => {
                let dragged = self.bolts.iter().filter(|b| b.drag_rule.is_some() || b.drag.is_some());
                dragged.map(|b| b.name.as_str()).collect()
            }
            PointKind::Distance => self.distances.iter().map(|d| d.name.as_str()).collect(),
            kind => self.angles.iter().filter(|a| kind_of(a.of) == kind).map(|a| a.name.as_str()).collect(),
        }
    }

    /// The quantity read at a point; `None` if it is not in the plan. A travel is read as the control's table says.
    pub(crate) fn quantity_of(&self, point: &Point) -> Option<Kind> {
        if !self.places(point.kind()).contains(&point.place()) {
            return None;
        }
        point.kind().quantity().or_else(|| {
            let control = self.controls.iter().find(|c| c.name == point.place())?;
            Some(match control.by {
                TravelBy::Level { .. } => Kind::Angle,
                TravelBy::Length { .. } => Kind::Length,
            })
        })
    }

    /// What the instrument should show at a point with the fuselage level, if the plan says.
    pub(crate) fn design_of(&self, point: &Point) -> Option<f64> {
        let place = point.place();
        match point.kind() {
            PointKind::Pitch | PointKind::Roll => Some(0.0),
            PointKind::Distance => self.nominal(self.distances.iter().find(|d| d.name == place)?),
            kind => {
                let angle = self.angles.iter().find(|a| a.name == place && kind_of(a.of) == kind)?;
                let design = angle.design.to_radians();
                match angle.base {
                    Some(base) if kind == PointKind::Rise => Some(base.value() * libm::sin(design)),
                    Some(base) => Some(base.value() * libm::tan(design)),
                    None => Some(angle.design),
                }
            }
        }
    }

    /// The length, in mm, over which a tilted fuselage raises what is read at a point; `None` if it does not.
    #[must_use]
    pub fn raised_over(&self, point: &Point) -> Option<f64> {
        let at = |a: &&RigAngle| a.name == point.place() && a.of == AngleOf::Rise;
        let angle = self.angles.iter().filter(|_| point.kind() == PointKind::Rise).find(at)?;
        angle.base.map(|base| base.value())
    }

    /// What a level should roughly show of a control at a point, trailing edge up, in degrees: the middle of its
    /// limits; `None` without limits.
    #[must_use]
    pub fn level_shows(&self, point: &Point) -> Option<f64> {
        let control = self.controls.iter().find(|c| c.name == point.place())?;
        let middle = |limits: Option<Limits<f64>>| {
            let limits = limits?;
            Some(f64::midpoint(limits.lower.or(limits.upper)?, limits.upper.or(limits.lower)?))
        };
        match point.kind() {
            PointKind::Neutral => Some(middle(control.neutral).unwrap_or(0.0)),
            PointKind::TravelUp => middle(control.up),
            PointKind::TravelDown => middle(control.down).map(|down| -down),
            _ => None,
        }
    }

    /// The limits of the reading at a point itself, if it has some: play, a cable without a chart, a bolt without an
    /// extension.
    #[must_use]
    pub fn limits_of(&self, point: &Point) -> Option<Limits<f64>> {
        let place = point.place();
        match point.kind() {
            PointKind::Play => self.controls.iter().find(|c| c.name == place)?.play,
            PointKind::Tension => match &self.cables.iter().find(|c| c.name == place)?.tension {
                Tension::Fixed(limits) => *limits,
                Tension::Chart { rows, tolerance } => {
                    let least = rows.iter().map(|r| r.tension).reduce(f64::min)?;
                    let most = rows.iter().map(|r| r.tension).reduce(f64::max)?;
                    Some(Limits {
                        lower: tolerance.lower.map(|l| least + l),
                        upper: tolerance.upper.map(|u| most + u),
                    })
                }
            },
            PointKind::Torque => self.bolts.iter().find(|b| b.name == place)?.limits,
            _ => None,
        }
    }
}
