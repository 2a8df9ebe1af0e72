//! What the wing should be: geometry, tolerances, stages, supports.
//!
//! Lengths are in millimetres and angles in degrees; axes as for the whole program: x aft, y outboard from the
//! root datum, z up in the design attitude, incidence positive nose up.

mod along;
mod by_name;
mod changes;
mod file;
mod geometry;
mod named;
mod points;
mod rigging;
mod stage;
mod support;
mod tolerance;
mod too_fine;
mod warnings;
mod wing;

pub use by_name::ByName;
pub use changes::{PlanChange, PlanText, changes, claims};
pub use file::{Mistake, PlanErrors};
pub use geometry::{Bay, Bush, Line, Post, RowPlace, Sag, Shaft, Spar, Spot};
pub use named::Named;
pub use rigging::{
    AngleOf, Bolt, Cable, ChartRow, Control, Datum, Difference, Distance, DragRule, Fuselage, Laid, LengthBy,
    Mark, RigAngle, RigCheck, RigStation, RigValue, RigWing, Rigging, Share, SinceJig, Symmetry,
    SymmetryPair, TapeHeld, Tension, Tilted, TravelBy, Weight, WeightBy, WrenchExtension,
};
pub use stage::{ReworkRule, Stage};
pub use support::{Adjust, Clockwise, Direction, Foot, Support, Travel};
pub use tolerance::{Acceptance, Rule, Tolerances};
pub use too_fine::EARLIER;
pub use warnings::{PlanWarning, one_a_rib};
pub use wing::{Attitude, Identity, Material, PlumbSide, Side, Station, Wing};

use crate::{Instrument, Point};
use quantity::Units;
use std::collections::BTreeSet;

/// What one wing should be.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The wing as a whole.
    pub wing: Wing,
    /// How verdicts are reached.
    pub rule: Rule,
    /// The tolerances; a value without one gets no verdict.
    pub tolerances: Tolerances,
    /// The stations, by growing span; at least two, at different places.
    pub stations: Vec<Station>,
    pub spars: Vec<Spar>,
    /// The supports that carry the spars in the jig.
    pub supports: Vec<Support>,
    /// The posts of the jig with their feet.
    pub posts: Vec<Post>,
    /// Stretched lines.
    pub lines: Vec<Line>,
    /// Bays whose squareness is checked by diagonals.
    pub bays: Vec<Bay>,
    /// The shaft that must turn in the bushes, if there is one.
    pub shaft: Option<Shaft>,
    /// The bushes, by growing span.
    pub bushes: Vec<Bush>,
    /// Spot checks.
    pub spots: Vec<Spot>,
    /// The rigged aeroplane.
    pub rigging: Rigging,
    /// The stages of the build, in order.
    pub stages: Vec<Stage>,
    /// Required points that are recorded and not judged, because they have no limit.
    pub record_only: Vec<Point>,
    /// What a rework makes stale.
    pub reworks: Vec<ReworkRule>,
    /// The instruments known from the start.
    pub instruments: Vec<Instrument>,
    /// The units that people work in on this wing: a bare number is in these if its instrument has none.
    pub units: Units,
    /// The units in which values are shown: those of the plan unless the person asked for others.
    pub shown_in: Units,
    /// What would be refused in a new plan, in a plan held by a log.
    pub remarks: Vec<String>,
    /// Where each station is in its list.
    pub station_places: ByName,
    /// Where each spot check is in its list.
    pub spot_places: ByName,
}

impl Plan {
    #[must_use]
    pub fn station(&self, name: &str) -> Option<&Station> {
        self.station_places.find(&self.stations, name, |s| &s.name)
    }

    /// The stations with these names, with their positions, in the order of the plan.
    pub fn stations_among<'n>(
        &self,
        names: impl Iterator<Item = &'n str>,
    ) -> impl Iterator<Item = (usize, &Station)> {
        let place = |name| self.station_places.place(&self.stations, name, |s| &s.name);
        let places: BTreeSet<usize> = names.filter_map(place).collect();
        places.into_iter().filter_map(|i| Some((i, self.stations.get(i)?)))
    }

    /// The spot check with this name.
    #[must_use]
    pub fn spot(&self, name: &str) -> Option<&Spot> {
        self.spot_places.find(&self.spots, name, |s| &s.name)
    }

    #[must_use]
    pub fn spar(&self, name: &str) -> Option<&Spar> {
        self.spars.iter().find(|s| s.name == name)
    }

    #[must_use]
    pub fn support(&self, name: &str) -> Option<&Support> {
        self.supports.iter().find(|s| s.name == name)
    }

    #[must_use]
    pub fn stage(&self, name: &str) -> Option<&Stage> {
        self.stages.iter().find(|s| s.name == name)
    }

    /// The position of a stage in the order.
    #[must_use]
    pub fn stage_place(&self, name: &str) -> Option<usize> {
        self.stages.iter().position(|s| s.name == name)
    }

    /// The stage that closes the wing: the one marked so, else the last.
    #[must_use]
    pub fn closing_stage(&self) -> Option<&Stage> {
        self.stages.get(self.closing_place()?)
    }

    /// The position of the closing stage in the order.
    #[must_use]
    pub fn closing_place(&self) -> Option<usize> {
        self.stages.iter().position(|s| s.closes).or_else(|| self.stages.len().checked_sub(1))
    }

    /// Every point whose readings a rework of `points` makes stale: those points, those that the plan's rules add,
    /// and, if a fuselage was levelled again, everything read against its tilt.
    #[must_use]
    pub fn staled_by(&self, points: &[Point]) -> Vec<Point> {
        let hang = self.reworks.iter().filter(|rule| rule.of.iter().any(|p| points.contains(p)));
        let mut all: Vec<Point> = points.iter().chain(hang.flat_map(|rule| &rule.stales)).cloned().collect();
        all.extend(self.tilted().into_iter().filter(|t| points.contains(&t.tilt)).map(|t| t.read));
        all.sort();
        all.dedup();
        all
    }
}
