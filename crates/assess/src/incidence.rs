//! The incidence of each station: read directly, or from the heights of two spars, or from their plumb distances.

use crate::estimate::{Estimate, Measured};
use crate::view::IncidenceFrom;
use record::plan::{Attitude, Plan, Station};
use record::{Point, PointKind};
use std::collections::BTreeMap;

/// The incidence of a station and where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Incidence {
    /// In degrees.
    pub estimate: Estimate,
    /// What it was taken from.
    pub from: IncidenceFrom,
    /// True for a reversal pair.
    pub reversed: bool,
    /// The points used.
    pub points: Vec<Point>,
}

/// The incidence of a station, if its points were measured: an angle reading first, else by the spars.
pub fn of_station(plan: &Plan, station: &Station, measured: &BTreeMap<Point, Measured>) -> Option<Incidence> {
    let direct = Point::at(PointKind::Incidence, &station.name);
    if let Some(m) = measured.get(&direct) {
        return Some(Incidence {
            estimate: m.estimate.clone(),
            from: IncidenceFrom::Incidence,
            reversed: m.reversed,
            points: vec![direct],
        });
    }
    let kind = across(plan.wing.attitude);
    let from = if kind == PointKind::Height { IncidenceFrom::Heights } else { IncidenceFrom::Plumb };
    from_spars(plan, station, measured, kind, from)
}

/// What two spars are measured by across the section: heights while it lies, plumb distances while it stands.
pub const fn across(attitude: Attitude) -> PointKind {
    match attitude {
        Attitude::ChordLevel => PointKind::Height,
        Attitude::LeadingEdgeDown | Attitude::LeadingEdgeUp => PointKind::Plumb,
    }
}

/// incidence = asin((front - rear)/L), L the distance of the two spars; both distances are positive toward the design's up.
fn from_spars(
    plan: &Plan,
    station: &Station,
    measured: &BTreeMap<Point, Measured>,
    kind: PointKind,
    from: IncidenceFrom,
) -> Option<Incidence> {
    let mut spars: Vec<(f64, Point, &Measured)> = Vec::new();
    for spar in &plan.spars {
        let point = Point::on(kind, &spar.name, &station.name);
        if let Some(m) = measured.get(&point) {
            spars.push((plan.spar_aft(spar, station.span).value(), point, m));
        }
    }
    spars.sort_by(|a, b| a.0.total_cmp(&b.0));
    let ((front_aft, front, zf), (rear_aft, rear, zr)) = match spars.as_slice() {
        [first, .., last] => (first.clone(), last.clone()),
        _ => return None,
    };
    let apart = rear_aft - front_aft;
    let sine = (zf.estimate.value - zr.estimate.value) / apart;
    if !(apart > 0.0 && sine.abs() < 1.0) {
        return None;
    }
    let angle = libm::asin(sine);
    let per_mm = (1.0 / (apart * libm::cos(angle))).to_degrees();
    Some(Incidence {
        estimate: Estimate::propagate(
            angle.to_degrees() - station.height_angle.value(),
            &[(per_mm, &zf.estimate), (-per_mm, &zr.estimate)],
        ),
        from,
        reversed: false,
        points: vec![front, rear],
    })
}
