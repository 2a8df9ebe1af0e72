//! Every point of the plan: its value, whether it is fresh, and the verdict by which it counts.

use super::zero_moved;
use crate::history::{Fold, Freshness};
use crate::parts::{self, Values};
use crate::view::{Assessment, Judged, PointState, PointView, Verdict};
use quantity::Kind;
use record::plan::Plan;
use record::{Point, PointKind};
use std::collections::{BTreeMap, BTreeSet};

/// Verdict, what gave it, probability, what would decide it.
type Ruling = (Option<Verdict>, Option<String>, Option<f64>, Option<String>);

pub(super) fn points(plan: &Plan, fold: &Fold<'_>, values: &Values, so_far: &Assessment) -> Vec<PointView> {
    let required: BTreeSet<&Point> =
        fold.stage.and_then(|i| plan.stages.get(i)).map(|s| s.requires.iter().collect()).unwrap_or_default();
    let rulings = Rulings::of(plan, so_far);
    plan.points()
        .into_iter()
        .map(|point| {
            let kind = plan.quantity_of(&point).unwrap_or(Kind::Length);
            let mut view = bare(&point, kind, required.contains(&point));
            view.design = design(plan, &point);
            (view.lower, view.upper) = own_limits(plan, &point);
            match fold.points.get(&point) {
                None => {}
                Some(freshness) => {
                    fill(&mut view, freshness);
                    fill_value(&mut view, &point, values);
                    let spot = plan.spots.iter().find(|s| s.name == point.place());
                    let ruling = match (point.kind(), spot) {
                        (PointKind::Spot, Some(s)) => own(parts::spot(plan, s, values)),
                        _ => rulings.for_point(&point),
                    };
                    (view.verdict, view.judged_by, view.probability, view.decide) = ruling;
                    doubt(&mut view, &point, values, so_far);
                }
            }
            match view.state {
                PointState::Missing => view.verdict = Some(Verdict::Missing),
                PointState::Stale => view.verdict = Some(Verdict::Stale),
                PointState::Fresh => {}
            }
            view
        })
        .collect()
}

/// Points still wanted: required ones without a fresh reading, and those to be measured again; in the plan's order.
pub(super) fn wanted(assessment: &Assessment) -> Vec<String> {
    let again: BTreeSet<&str> = assessment
        .twist
        .iter()
        .flat_map(|t| &t.stations)
        .filter(|s| s.remeasure)
        .map(|s| s.name.as_str())
        .collect();
    assessment
        .points
        .iter()
        .filter(|p| {
            let place = p.point.split_once('@').map_or("", |(_, place)| place);
            let feeds_twist = p.judged_by.as_deref().is_some_and(|j| j.starts_with("station "));
            let station = place.rsplit(':').next().unwrap_or(place);
            (p.required && p.state != PointState::Fresh) || (feeds_twist && again.contains(station))
        })
        .map(|p| p.point.clone())
        .collect()
}

fn bare(point: &Point, kind: Kind, required: bool) -> PointView {
    PointView {
        point: point.to_string(),
        required,
        state: PointState::Missing,
        unit: kind.base_symbol(),
        design: None,
        value: None,
        u: None,
        u_own: None,
        u_shared: None,
        lower: None,
        upper: None,
        verdict: None,
        judged_by: None,
        probability: None,
        decide: None,
        instrument: None,
        round: None,
        readings: 0,
        reversed: false,
        facing_wanted: None,
        at: None,
        by: None,
        stale_because: None,
        entries: Vec::new(),
    }
}

fn design(plan: &Plan, point: &Point) -> Option<f64> {
    match point.kind() {
        PointKind::Incidence => plan.station(point.place()).map(|s| s.incidence.value()),
        PointKind::Spacing => plan.station(point.place()).map(|s| (s.span - plan.wing.root).value()),
        PointKind::Bore => plan.bushes.iter().find(|b| b.name == point.place()).map(|b| b.bore.value()),
        PointKind::Level | PointKind::Cross => Some(0.0),
        _ => None,
    }
}

/// Limits of the value itself: only a spot check has them.
fn own_limits(plan: &Plan, point: &Point) -> (Option<f64>, Option<f64>) {
    let spot = plan.spots.iter().find(|s| point.kind() == PointKind::Spot && s.name == point.place());
    let limits = spot.and_then(|s| s.limits.as_ref());
    (limits.and_then(|l| l.lower), limits.and_then(|l| l.upper))
}

fn fill(view: &mut PointView, freshness: &Freshness) {
    let Some(last) = freshness.used.last() else { return };
    view.state = if freshness.stale.is_some() { PointState::Stale } else { PointState::Fresh };
    view.stale_because.clone_from(&freshness.stale);
    view.instrument.clone_from(&last.reading.instrument);
    view.round = Some(last.reading.round);
    view.readings = freshness.used.len();
    view.at = Some(last.at.to_string());
    view.by = Some(last.by.clone());
    view.entries = freshness.used.iter().map(|u| u.seq).collect();
}

fn fill_value(view: &mut PointView, point: &Point, values: &Values) {
    let Some(measured) = values.get(point) else { return };
    view.value = Some(measured.estimate.value);
    view.u = Some(measured.estimate.u());
    view.u_own = Some(measured.estimate.own);
    view.u_shared = Some(measured.estimate.shared_u());
    view.reversed = measured.reversed;
    view.facing_wanted = measured.facing_wanted;
}

/// A reading past its instrument's check date, or of a round whose zero moved, proves nothing.
fn doubt(view: &mut PointView, point: &Point, values: &Values, so_far: &Assessment) {
    let Some(measured) = values.get(point) else { return };
    let moved = zero_moved(&so_far.zeros, view.instrument.as_deref(), view.round.unwrap_or_default());
    let why = if measured.past_due {
        "its instrument was past its check date: have it checked and measure again"
    } else if moved {
        "the instrument's zero moved within the round: find out why and walk the round again"
    } else {
        return;
    };
    if matches!(view.verdict, Some(Verdict::Within | Verdict::Outside)) {
        view.verdict = Some(Verdict::Undecided);
    }
    view.decide = Some(why.to_owned());
}

fn own(judged: Option<Judged>) -> Ruling {
    judged.map_or((None, None, None, None), |j| {
        (j.verdict, Some("its own limits".to_owned()), j.probability, j.decide)
    })
}

/// The judgements that speak for points, by what they are about.
struct Rulings {
    stations: BTreeMap<String, Ruling>,
    spars: BTreeMap<String, Ruling>,
    others: BTreeMap<(PointKind, String), Ruling>,
    bores: Option<Ruling>,
}

impl Rulings {
    fn of(plan: &Plan, a: &Assessment) -> Self {
        let named = |by: String, j: &Judged| (j.verdict, Some(by), j.probability, j.decide.clone());
        let stations = a
            .twist
            .iter()
            .flat_map(|t| &t.stations)
            .map(|s| {
                let by = Some(format!("station {}", s.name));
                (s.name.clone(), (s.verdict, by, s.probability, s.decide.clone()))
            })
            .collect();
        let spars = a
            .spars
            .iter()
            .map(|s| (s.spar.clone(), named(format!("straightness of {}", s.spar), &s.minimum_zone)))
            .collect();
        let mut others = BTreeMap::new();
        for post in &a.posts {
            for (kind, tilt) in [(PointKind::Level, &post.level), (PointKind::Cross, &post.cross)] {
                if let Some(tilt) = tilt {
                    let ruling = named(tilt.tilt.what.clone(), &tilt.tilt);
                    others.insert((kind, post.post.clone()), ruling);
                }
            }
        }
        for bay in &a.bays {
            let Some(planned) = plan.bays.iter().find(|b| b.name == bay.bay) else { continue };
            for diagonal in &planned.diagonals {
                let ruling = named(bay.out_of_square.what.clone(), &bay.out_of_square);
                others.insert((PointKind::Diagonal, diagonal.clone()), ruling);
            }
        }
        for s in &a.spacing {
            let ruling = named(s.deviation.what.clone(), &s.deviation);
            others.insert((PointKind::Spacing, s.station.clone()), ruling);
        }
        let bores = a.bore_line.as_ref().map(|b| named(b.clearance.what.clone(), &b.clearance));
        Self { stations, spars, others, bores }
    }

    fn for_point(&self, point: &Point) -> Ruling {
        let found = match point.kind() {
            PointKind::Incidence | PointKind::Height | PointKind::Plumb => self.stations.get(point.place()),
            PointKind::Offset | PointKind::Walk => point.spar().and_then(|s| self.spars.get(s)),
            PointKind::Bore | PointKind::BoreAft | PointKind::BoreUp => self.bores.as_ref(),
            kind => self.others.get(&(kind, point.place().to_owned())),
        };
        found.cloned().unwrap_or((None, None, None, None))
    }
}
