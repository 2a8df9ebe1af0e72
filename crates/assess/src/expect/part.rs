//! A value compared with one read beside it: two spars at a station, a bore and its shaft, two diagonals.

use super::Question;
use super::neighbours::{Neighbours, span_of};
use super::words::Say;
use crate::incidence::{across, sense};
use quantity::Kind;
use record::plan::Plan;
use record::point::Design;
use record::{Facing, Limits, Point, Reading};

/// The question about a value that makes no possible section, bush or bay.
pub fn question(plan: &Plan, neighbours: &Neighbours, reading: &Reading, say: Say) -> Option<Question> {
    let kind = reading.point.kind();
    if kind == across(plan.wing.attitude) {
        return section(plan, neighbours, reading, say);
    }
    if kind.row().design == Design::Bore { bore(plan, reading, say) } else { None }
}

/// Two spars at one station whose difference is not an incidence of this wing: measured from two datums, or a slip.
fn section(plan: &Plan, neighbours: &Neighbours, reading: &Reading, say: Say) -> Option<Question> {
    let station = plan.station(reading.point.place())?;
    let spar = plan.spar(reading.point.spar()?)?;
    let span = span_of(plan, &reading.point)?;
    let aft = plan.spar_aft(spar, station.span).value();
    let limit = plan.tolerances.station.map_or(0.0, |Limits { lower, upper }| {
        [lower, upper].into_iter().flatten().map(|v| v.value().abs()).fold(0.0, f64::max)
    });
    let allow = (4.0 * limit).max(1.0);
    let design = station.incidence.value() + station.height_angle.value();
    for other in plan.spars.iter().filter(|s| s.name != spar.name) {
        let point = Point::on(reading.point.kind(), &other.name, &station.name);
        let Some(value) = neighbours.at(&point, span, Facing::Forward) else { continue };
        // Front less rear over their distance is the sine of the angle, whichever of the two is the front.
        let apart = sense(plan) * (plan.spar_aft(other, station.span).value() - aft);
        if apart == 0.0 {
            continue;
        }
        let sine = (reading.value - value) / apart;
        let angle = libm::asin(sine.clamp(-1.0, 1.0)).to_degrees();
        if sine.abs() <= 1.0 && (angle - design).abs() <= allow {
            continue;
        }
        return Some(Question::NoSection {
            value: reading.value,
            point: reading.point.clone(),
            beside: value,
            other: point,
            shows: value + apart * libm::sin(design.to_radians()),
            angle: (sine.abs() <= 1.0).then_some(angle),
            design,
            degrees: plan.units.scale(Kind::Angle),
            say,
        });
    }
    None
}

/// A bore too small for the shaft.
fn bore(plan: &Plan, reading: &Reading, say: Say) -> Option<Question> {
    let (bore, shaft) = (reading.value, plan.shaft.as_ref()?.diameter.value());
    let fits = bore > shaft;
    (!fits).then_some(Question::NotThrough { bore, shaft, say })
}
