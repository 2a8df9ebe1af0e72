//! The supports that affect the incidence, and what a mm at each does at a place, by geometry alone.

use super::influence;
use record::plan::{Adjust, Direction, Plan};

/// The most supports used. With more, movable ones are picked evenly along the list.
const MOST_SUPPORTS: usize = 48;

/// The supports that affect the incidence, with their effect at root, tip and mid-span.
#[derive(Clone, Debug)]
pub struct Field {
    /// Their positions in the plan's list.
    pub supports: Vec<usize>,
    /// Influence of each at mid-span, in degrees per mm.
    middle: Vec<f64>,
    /// Influence of each at the tip less that at the root.
    twist: Vec<f64>,
}

/// What a mm at each support does at a place along the span, by geometry, or at one place less another.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Influence of each support of the field, in degrees per mm.
    pub by_geometry: Vec<f64>,
    /// 1 for a place, 0 for a difference: the share of the mid-span influence in it.
    pub whole: f64,
    /// The shape of the bow there: 4 η (1 - η).
    pub bulge: f64,
}

impl Place {
    /// This place less another.
    #[must_use]
    pub fn less(&self, other: &Self) -> Self {
        let less = |(a, b): (&f64, &f64)| a - b;
        Self {
            by_geometry: self.by_geometry.iter().zip(&other.by_geometry).map(less).collect(),
            whole: self.whole - other.whole,
            bulge: self.bulge - other.bulge,
        }
    }
}

impl Field {
    /// The field of a plan; empty if fewer than two spars are carried.
    pub fn of(plan: &Plan) -> Self {
        let (root, tip) = (plan.wing.root.value(), plan.wing.tip.value());
        let mut field = Self { supports: acting(plan), middle: vec![], twist: vec![] };
        let [root, middle, tip] =
            [root, f64::midpoint(root, tip), tip].map(|s| field.places(plan, &[s]).remove(0).by_geometry);
        field.twist = tip.iter().zip(&root).map(|(t, r)| t - r).collect();
        field.middle = middle;
        field
    }

    /// Supports alone, without a wing that they twist.
    pub fn bare(supports: Vec<usize>) -> Self {
        let nothing = vec![0.0; supports.len()];
        Self { supports, middle: nothing.clone(), twist: nothing }
    }

    /// The places at these spans.
    pub fn places(&self, plan: &Plan, spans_mm: &[f64]) -> Vec<Place> {
        let rows = influence::of_supports(plan, &self.supports, spans_mm);
        let eta = |mm: f64| plan.eta(quantity::Millimetres::new(mm));
        let place = |(by_geometry, span): (Vec<f64>, &f64)| Place {
            by_geometry,
            whole: 1.0,
            bulge: 4.0 * eta(*span) * (1.0 - eta(*span)),
        };
        rows.into_iter().zip(spans_mm).map(place).collect()
    }

    /// The twisting part of the influence at a place: the geometric influence less the part that only tilts the wing.
    pub(super) fn twisting(&self, place: &Place, support: usize) -> f64 {
        place.by_geometry[support] - place.whole * self.middle[support]
    }

    /// The bow's part at a place, if all twist arrived as bow.
    pub(super) fn bowing(&self, place: &Place, support: usize) -> f64 {
        place.bulge * self.twist[support]
    }

    /// The part at a place that only tilts the wing.
    pub(super) fn tilting(&self, place: &Place, support: usize) -> f64 {
        place.whole * self.middle[support]
    }
}

/// Supports that carry, in its direction, one of the spars that set the incidence.
fn acting(plan: &Plan) -> Vec<usize> {
    let spars = influence::carried(plan);
    let acts = |i: &usize| {
        let s = &plan.supports[*i];
        s.direction == Direction::Up && spars.iter().any(|spar| spar.name == s.spar)
    };
    if spars.len() < 2 {
        return vec![];
    }
    let all: Vec<usize> = (0..plan.supports.len()).filter(acts).collect();
    if all.len() <= MOST_SUPPORTS {
        return all;
    }
    let moves = |i: &usize| !matches!(plan.supports[*i].adjust, Adjust::Fixed);
    let moving: Vec<usize> = all.into_iter().filter(moves).collect();
    let count = moving.len().min(MOST_SUPPORTS);
    (0..count).map(|k| moving[k * moving.len() / count]).collect()
}
