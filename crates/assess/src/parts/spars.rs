//! Straightness of the spars, from offsets or from a level walked along them.

use super::computed::Redrawn;
use super::{Computed, Judgements, Values};
use crate::estimate::{Estimate, Measured};
use crate::judge::{ToJudge, judged};
use crate::view::{
    JudgedBy, NoJudgement, ObligationKind as K, OffsetView, SparView, StraightnessMethod, Unjudged,
};
use numerics::straight::{end_points, least_squares, line_sag, minimum_zone};
use quantity::Kind;
use record::plan::{Attitude, Direction, Plan, Sag, Spar, Station};
use record::{Limits, Point, PointKind};
use std::collections::BTreeSet;

/// Seed of the offsets' draws.
const SEED: u64 = 0x7370_6172;

/// The profile of a spar's offsets, and how each follows from the measurements.
struct Profile<'v> {
    method: StraightnessMethod,
    names: Vec<String>,
    spans: Vec<f64>,
    offsets: Vec<f64>,
    /// For each offset, the measured values in it with their factors.
    made_of: Vec<Vec<(f64, &'v Estimate)>>,
    sag: f64,
    points: Vec<Point>,
    rests_on: Vec<&'v Measured>,
}

/// The spars with offsets at three or more stations, or a walk of two or more steps; if there are both, the worse.
pub fn spars(plan: &Plan, values: &Values, computed: &Computed) -> Judgements<SparView> {
    let one = |spar| {
        let judged = profiles(plan, spar, values).map(|profile| {
            let not = || Unjudged {
                judged_by: JudgedBy::new(K::Straightness, &spar.name),
                why: NoJudgement::NoLine,
                points: profile.points.clone(),
            };
            view(plan, spar, &profile, computed).ok_or_else(not)
        });
        judged.reduce(|line, walk| match (&line, &walk) {
            (Err(_), _) => line,
            (_, Err(_)) => walk,
            (Ok(a), Ok(b)) => {
                if b.minimum_zone.verdict > a.minimum_zone.verdict {
                    walk
                } else {
                    line
                }
            }
        })
    };
    plan.spars.iter().filter_map(one).collect()
}

/// The points that the straightness of a spar rests on.
pub fn straightness_points(plan: &Plan, spar: &Spar, values: &Values) -> BTreeSet<Point> {
    // A step ends at its station, so no step ends at the innermost one.
    let innermost = plan.stations.first().map(|s| Point::on(PointKind::Walk, &spar.name, &s.name));
    profiles(plan, spar, values).flat_map(|profile| profile.points).chain(innermost).collect()
}

/// From offsets, and from a walk.
fn profiles<'v>(plan: &Plan, spar: &Spar, values: &'v Values) -> impl Iterator<Item = Profile<'v>> {
    from_line(plan, spar, values).into_iter().chain(from_walk(plan, spar, values))
}

/// The stations where this was read of a spar, with their positions.
fn read<'p>(
    plan: &'p Plan,
    spar: &Spar,
    kind: PointKind,
    values: &Values,
) -> impl Iterator<Item = (usize, &'p Station)> {
    let of_it = move |p: &&Point| p.kind() == kind && p.spar() == Some(spar.name.as_str());
    plan.stations_among(values.keys().filter(of_it).map(Point::place))
}

fn from_line<'v>(plan: &Plan, spar: &Spar, values: &'v Values) -> Option<Profile<'v>> {
    let at = |s: &Station| Point::on(PointKind::Offset, &spar.name, &s.name);
    let measured: Vec<(&Station, &Measured)> = read(plan, spar, PointKind::Offset, values)
        .filter_map(|(_, s)| Some((s, values.get(&at(s))?)))
        .collect();
    let found: Vec<(&str, f64, &Estimate)> =
        measured.iter().map(|(s, m)| (s.name.as_str(), s.span.value(), &m.estimate)).collect();
    let ([first, .., last], true) = (found.as_slice(), found.len() >= 3) else { return None };
    // Only the offset that is vertical as the wing stands contains the line's sag; with the wing on its trailing
    // edge, aft is down.
    let (vertical, sign) = match plan.wing.attitude {
        Attitude::ChordLevel => (Direction::Up, 1.0),
        Attitude::LeadingEdgeDown => (Direction::Aft, 1.0),
        Attitude::LeadingEdgeUp => (Direction::Aft, -1.0),
    };
    let sag = |span: f64| {
        let line = plan.lines.iter().find(|l| l.spar == spar.name && l.direction == vertical);
        let Sag { weight, tension } = line.and_then(|l| l.sag)?;
        // Newtons per metre of line; the sag is in millimetres.
        Some(line_sag(weight / 1000.0, last.1 - first.1, tension, span - first.1))
    };
    let sags: Vec<f64> = found.iter().map(|(_, span, _)| sag(*span).unwrap_or(0.0)).collect();
    Some(Profile {
        method: StraightnessMethod::Line,
        names: found.iter().map(|f| f.0.to_owned()).collect(),
        spans: found.iter().map(|f| f.1).collect(),
        // The line hangs below the straight between its ends, so an offset above it reads too much.
        offsets: found.iter().zip(&sags).map(|(f, sag)| f.2.value - sign * sag).collect(),
        made_of: found.iter().map(|f| vec![(1.0, f.2)]).collect(),
        sag: sags.iter().copied().fold(0.0, f64::max),
        points: measured.iter().map(|(s, _)| at(s)).collect(),
        rests_on: measured.iter().map(|(_, m)| *m).collect(),
    })
}

/// Heights by summing steps (ISO 230-1): each walk point is the slope from the station inboard of it to its own.
fn from_walk<'v>(plan: &Plan, spar: &Spar, values: &'v Values) -> Option<Profile<'v>> {
    // A step ends at its station, so none ends at the innermost one.
    let start = read(plan, spar, PointKind::Walk, values).find_map(|(to, _)| to.checked_sub(1))?;
    let first = plan.stations.get(start)?;
    let mut profile = Profile {
        method: StraightnessMethod::Walk,
        names: vec![first.name.clone()],
        spans: vec![first.span.value()],
        offsets: vec![0.0],
        made_of: vec![Vec::new()],
        sag: 0.0,
        points: Vec::new(),
        rests_on: Vec::new(),
    };
    let (mut height, mut steps) = (0.0, Vec::new());
    for pair in plan.stations.get(start..)?.windows(2) {
        let [from, to] = pair else { break };
        let point = Point::on(PointKind::Walk, &spar.name, &to.name);
        let Some(m) = values.get(&point) else { break };
        let length = (to.span - from.span).value();
        let slope = m.estimate.value.to_radians();
        // The level stands on the spar, so the step is measured along it.
        height += length * libm::sin(slope);
        steps.push((length.to_radians() * libm::cos(slope), &m.estimate));
        profile.points.push(point);
        profile.rests_on.push(m);
        profile.names.push(to.name.clone());
        profile.spans.push(to.span.value());
        profile.offsets.push(height);
        profile.made_of.push(steps.clone());
    }
    (profile.names.len() >= 3).then_some(profile)
}

fn view(plan: &Plan, spar: &Spar, profile: &Profile<'_>, computed: &Computed) -> Option<SparView> {
    let (y, z) = (&profile.spans, &profile.offsets);
    let zone = minimum_zone(y, z).ok()?;
    // The straightness is a weighted sum of the offsets that touch the zone, each a weighted sum of measurements.
    let parts: Vec<(f64, &Estimate)> = zone
        .contacts
        .iter()
        .flat_map(|c| profile.made_of[c.point].iter().map(move |(factor, e)| (c.weight * factor, *e)))
        .collect();
    let middle = zone.line.deviations(y, z);
    let first = combined(zone.straightness, &parts);
    let u = first.u().max(libm::hypot(redrawn(profile, &middle, computed), first.shared_u()));
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
            plan,
            K::Straightness.of(&spar.name),
            ToJudge::made(Kind::Length, zone.straightness, u, profile.rests_on.clone()),
            plan.tolerances.straightness.map(|most| Limits::at_most(most.value())),
        ),
        least_squares_mm: least_squares(y, z).ok()?,
        end_point_mm: end_points(y, z).ok()?,
        sag_mm: profile.sag,
        offsets,
    })
}

/// Standard deviation of the width when the measurements (offsets or steps of a walk) are drawn again with their own
/// uncertainties: other points may then touch the zone. The zone follows the spar, so a least-squares line is removed
/// from each draw.
fn redrawn(profile: &Profile<'_>, middle: &[f64], computed: &Computed) -> f64 {
    let at = profile.spans.clone();
    let straight = Straight::through(&at);
    let own = |made_of: &Vec<(f64, &Estimate)>| combined(0.0, made_of).own;
    match profile.method {
        StraightnessMethod::Line => {
            let own = profile.made_of.iter().map(own).collect();
            let of = Redrawn { seed: SEED, at, values: middle.to_vec(), own };
            computed.redrawn(of, |offsets| straight.width(offsets))
        }
        StraightnessMethod::Walk => {
            let steps = middle.windows(2).map(|pair| pair[1] - pair[0]).collect();
            let last =
                |made_of: &Vec<(f64, &Estimate)>| made_of.last().map_or(0.0, |(f, e)| (f * e.own).abs());
            let own = profile.made_of.iter().skip(1).map(last).collect();
            let of = Redrawn { seed: SEED + 1, at, values: steps, own };
            computed.redrawn(of, |steps| {
                let mut height = 0.0;
                let rises = steps.iter().map(|step| {
                    height += step;
                    height
                });
                straight.width(&std::iter::once(0.0).chain(rises).collect::<Vec<f64>>())
            })
        }
    }
}

/// The least-squares line through values at some spans.
struct Straight {
    /// The spans less their mean.
    out: Vec<f64>,
    /// The sum of their squares.
    spread: f64,
}

impl Straight {
    fn through(spans: &[f64]) -> Self {
        let mean = spans.iter().sum::<f64>() / spans.len() as f64;
        let out: Vec<f64> = spans.iter().map(|y| y - mean).collect();
        Self { spread: out.iter().map(|y| y * y).sum(), out }
    }

    /// The width of the values about it.
    fn width(&self, values: &[f64]) -> f64 {
        let slope = self.out.iter().zip(values).map(|(y, z)| y * z).sum::<f64>() / self.spread;
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for (y, z) in self.out.iter().zip(values) {
            let off = z - slope * y;
            (least, most) = (least.min(off), most.max(off));
        }
        most - least
    }
}

/// A weighted sum of estimates. An estimate may occur several times: its weights are added first.
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
