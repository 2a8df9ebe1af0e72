//! Straightness of the spars, from offsets or from a level walked along them.

use super::Values;
use crate::estimate::Estimate;
use crate::judge::{Spread, judged};
use crate::resolve::Makeup;
use crate::view::{JudgedBy, OffsetView, SparView, StraightnessMethod};
use numerics::straight::{end_points, least_squares, line_sag, minimum_zone};
use quantity::Kind;
use record::plan::{Direction, Plan, Spar};
use record::{Limits, Point, PointKind};

/// A spar's profile of offsets, and how each follows from what was measured.
struct Profile<'v> {
    method: StraightnessMethod,
    names: Vec<String>,
    spans: Vec<f64>,
    offsets: Vec<f64>,
    /// For every offset, the measured values it is made of and the factor of each.
    made_of: Vec<Vec<(f64, &'v Estimate)>>,
    sag: f64,
}

/// The spars with offsets at three stations or more, or with a walk of two steps or more; offsets first.
pub fn spars(plan: &Plan, values: &Values) -> Vec<SparView> {
    let of = |spar| {
        let profile = from_line(plan, spar, values).or_else(|| from_walk(plan, spar, values))?;
        view(plan, spar, &profile)
    };
    plan.spars.iter().filter_map(of).collect()
}

fn from_line<'v>(plan: &Plan, spar: &Spar, values: &'v Values) -> Option<Profile<'v>> {
    let found: Vec<(&str, f64, &Estimate)> = plan
        .stations
        .iter()
        .filter_map(|s| {
            let measured = values.get(&Point::on(PointKind::Offset, &spar.name, &s.name))?;
            Some((s.name.as_str(), s.span.value(), &measured.estimate))
        })
        .collect();
    let ([first, .., last], true) = (found.as_slice(), found.len() >= 3) else { return None };
    let sag = |span: f64| {
        let line = plan.lines.iter().find(|l| l.spar == spar.name && l.direction == Direction::Up);
        let (weight, tension) = line.and_then(|l| l.sag)?;
        // Newtons per metre of line; the sag is in millimetres.
        Some(line_sag(weight / 1000.0, last.1 - first.1, tension, span - first.1))
    };
    let sags: Vec<f64> = found.iter().map(|(_, span, _)| sag(*span).unwrap_or(0.0)).collect();
    Some(Profile {
        method: StraightnessMethod::Line,
        names: found.iter().map(|f| f.0.to_owned()).collect(),
        spans: found.iter().map(|f| f.1).collect(),
        // The line hangs below the straight between its ends, so an offset above it reads too much.
        offsets: found.iter().zip(&sags).map(|(f, sag)| f.2.value - sag).collect(),
        made_of: found.iter().map(|f| vec![(1.0, f.2)]).collect(),
        sag: sags.iter().copied().fold(0.0, f64::max),
    })
}

/// Heights by summing steps (ISO 230-1): each walk point is the slope from the station inboard of it to its own.
fn from_walk<'v>(plan: &Plan, spar: &Spar, values: &'v Values) -> Option<Profile<'v>> {
    let start = plan
        .stations
        .iter()
        .position(|s| values.contains_key(&Point::on(PointKind::Walk, &spar.name, &s.name)))?
        .checked_sub(1)?;
    let first = plan.stations.get(start)?;
    let mut profile = Profile {
        method: StraightnessMethod::Walk,
        names: vec![first.name.clone()],
        spans: vec![first.span.value()],
        offsets: vec![0.0],
        made_of: vec![Vec::new()],
        sag: 0.0,
    };
    let (mut height, mut steps) = (0.0, Vec::new());
    for pair in plan.stations.get(start..)?.windows(2) {
        let [from, to] = pair else { break };
        let Some(m) = values.get(&Point::on(PointKind::Walk, &spar.name, &to.name)) else { break };
        let length = (to.span - from.span).value();
        let slope = m.estimate.value.to_radians();
        let cosine = libm::cos(slope);
        height += length * libm::tan(slope);
        steps.push((length.to_radians() / (cosine * cosine), &m.estimate));
        profile.names.push(to.name.clone());
        profile.spans.push(to.span.value());
        profile.offsets.push(height);
        profile.made_of.push(steps.clone());
    }
    (profile.names.len() >= 3).then_some(profile)
}

fn view(plan: &Plan, spar: &Spar, profile: &Profile<'_>) -> Option<SparView> {
    let (y, z) = (&profile.spans, &profile.offsets);
    let zone = minimum_zone(y, z).ok()?;
    // The straightness is a weighted sum of the offsets that touch the zone, each a weighted sum of what was measured.
    let parts: Vec<(f64, &Estimate)> = zone
        .contacts
        .iter()
        .flat_map(|&(i, weight)| profile.made_of[i].iter().map(move |(factor, e)| (weight * factor, *e)))
        .collect();
    let width = combined(zone.straightness, &parts);
    let middle = zone.line.deviations(y, z);
    let offsets = (0..y.len())
        .map(|i| {
            let u = combined(z[i], &profile.made_of[i]).u();
            OffsetView { station: profile.names[i].clone(), span_mm: y[i], offset_mm: middle[i], u_mm: u }
        })
        .collect();
    Some(SparView {
        spar: spar.name.clone(),
        method: profile.method,
        minimum_zone: judged(
            &plan.rule,
            JudgedBy::Straightness(spar.name.clone()).to_string(),
            Kind::Length,
            zone.straightness,
            Spread::normal(width.u()),
            plan.tolerances.straightness.map(|most| Limits::at_most(most.value())),
            &Makeup::Unknown,
        ),
        least_squares_mm: least_squares(y, z).ok()?.straightness,
        end_point_mm: end_points(y, z).ok()?.straightness,
        sag_mm: profile.sag,
        offsets,
    })
}

/// A weighted sum of estimates, the same one possibly several times: its weights are added first.
fn combined(value: f64, parts: &[(f64, &Estimate)]) -> Estimate {
    let mut once: Vec<(f64, &Estimate)> = Vec::with_capacity(parts.len());
    for &(weight, estimate) in parts {
        match once.iter_mut().find(|(_, e)| core::ptr::eq(*e, estimate)) {
            Some((sum, _)) => *sum += weight,
            None => once.push((weight, estimate)),
        }
    }
    Estimate::propagate(value, &once)
}
