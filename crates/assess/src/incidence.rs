//! The incidence of each station: read directly, from the heights of two spars, or from their plumb distances.

use crate::estimate::{Estimate, Measured};
use crate::parts::Values;
use crate::view::{IncidenceFrom, NoValue};
use record::plan::{Attitude, Plan, Station};
use record::point::Judgement;
use record::{Point, PointKind};
use std::collections::BTreeMap;

/// The incidence of a station and its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Incidence {
    /// In degrees.
    pub estimate: Estimate,
    /// What it was taken from.
    pub from: IncidenceFrom,
    /// Whether it is a reversal pair.
    pub reversed: bool,
    /// The points used.
    pub points: Vec<Point>,
}

/// The incidence of a station if its points were measured: an angle reading if there is one, else from the spars.
pub fn of_station(plan: &Plan, station: &Station, measured: &BTreeMap<Point, Measured>) -> Option<Incidence> {
    direct(station, measured).or_else(|| section(plan, station, measured))
}

/// The incidence in each way it was measured.
pub fn ways(plan: &Plan, station: &Station, measured: &BTreeMap<Point, Measured>) -> Vec<Incidence> {
    direct(station, measured).into_iter().chain(section(plan, station, measured)).collect()
}

/// The stations with a value that shows the twist, with their positions, in the order of the plan.
pub fn measured<'p>(plan: &'p Plan, values: &Values) -> impl Iterator<Item = (usize, &'p Station)> {
    let shows = |p: &&Point| p.kind().row().judgement == Judgement::Twist;
    plan.stations_among(values.keys().filter(shows).map(Point::place))
}

/// The incidence of the station as read by a level, if one was on it.
pub fn read_at<'m>(station: &Station, measured: &'m BTreeMap<Point, Measured>) -> Option<&'m Measured> {
    measured.get(&Point::at(PointKind::Incidence, &station.name))
}

fn direct(station: &Station, measured: &BTreeMap<Point, Measured>) -> Option<Incidence> {
    let point = Point::at(PointKind::Incidence, &station.name);
    let m = measured.get(&point)?;
    Some(Incidence {
        estimate: m.estimate.clone(),
        from: IncidenceFrom::Incidence,
        reversed: m.reversed,
        points: vec![point],
    })
}

/// What is measured across the section at two spars: heights while the wing lies flat, plumb distances while it
/// stands on edge.
pub const fn across(attitude: Attitude) -> PointKind {
    match attitude {
        Attitude::ChordLevel => PointKind::Height,
        Attitude::LeadingEdgeDown | Attitude::LeadingEdgeUp => PointKind::Plumb,
    }
}

/// The sign of the two distances of a section: a distance from a plumb line beside the upper surface grows toward the
/// design's down.
pub const fn sense(plan: &Plan) -> f64 {
    match (plan.wing.attitude, plan.wing.plumb) {
        (Attitude::ChordLevel, _) | (_, None) => 1.0,
        (Attitude::LeadingEdgeDown | Attitude::LeadingEdgeUp, Some(side)) => side.sign(),
    }
}

/// How far a station can be from its design incidence, in degrees; beyond it the two distances are not from one
/// datum.
const FARTHEST: f64 = 40.0;

/// Why the two distances of a station give no incidence; `None` if they do, or if one is missing.
pub fn impossible(plan: &Plan, station: &Station, measured: &BTreeMap<Point, Measured>) -> Option<NoValue> {
    let kind = across(plan.wing.attitude);
    let spars: Vec<&Measured> = plan
        .spars
        .iter()
        .filter_map(|spar| measured.get(&Point::on(kind, &spar.name, &station.name)))
        .collect();
    (spars.len() >= 2 && of_station(plan, station, measured).is_none()).then(|| NoValue::NoIncidence {
        station: station.name.clone(),
        design: station.incidence.value(),
        measured: kind,
    })
}

fn angle(front: f64, rear: f64, apart: f64, station: &Station) -> Option<f64> {
    let sine = (front - rear) / apart;
    let angle = (apart > 0.0 && sine.abs() < 1.0).then(|| libm::asin(sine))?;
    let incidence = angle.to_degrees() - station.height_angle.value();
    ((incidence - station.incidence.value()).abs() <= FARTHEST).then_some(angle)
}

/// incidence = asin((front - rear)/L), with L the distance between the two spars and both distances positive toward
/// the design's up, which [`sense`] ensures.
fn section(plan: &Plan, station: &Station, measured: &BTreeMap<Point, Measured>) -> Option<Incidence> {
    let kind = across(plan.wing.attitude);
    let from = if kind == PointKind::Height { IncidenceFrom::Heights } else { IncidenceFrom::Plumb };
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
    let sense = sense(plan);
    let angle = angle(sense * zf.estimate.value, sense * zr.estimate.value, apart, station)?;
    let per_mm = sense * (1.0 / (apart * libm::cos(angle))).to_degrees();
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
