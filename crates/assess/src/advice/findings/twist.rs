//! Setting, washout, stations and steps: corrected by the supports, or at the rib itself.

use super::super::decide::Ruling;
use super::super::finding::{Finding, Remedy};
use super::Sources;
use crate::view::{Obligation, ObligationKind, StationView};
use quantity::Kind;
use record::PointKind;
use std::collections::BTreeSet;

/// Each odd rib as its own finding, and everything else of the profile as one.
pub(super) fn findings(from: Sources<'_>, outs: &[&Obligation]) -> Vec<Finding> {
    let of_twist = |o: &&Obligation| {
        matches!(
            o.kind,
            ObligationKind::Setting
                | ObligationKind::Washout
                | ObligationKind::Neighbour
                | ObligationKind::Station
        )
    };
    let all: Vec<&Obligation> = outs.iter().copied().filter(of_twist).collect();
    let odd: BTreeSet<&str> = from.profile.odd.iter().map(String::as_str).collect();
    let is_odd = |o: &&&Obligation| o.kind == ObligationKind::Station && odd.contains(o.about.as_str());
    let mut found: Vec<Finding> = all.iter().filter(is_odd).map(|o| rib(from, o)).collect();
    let rest: Vec<&&Obligation> = all.iter().filter(|o| !is_odd(o)).collect();
    // What is unmet only because of the odd rib goes with it.
    if let (Ruling::Leave, Some(first)) = (&from.profile.ruling, found.first_mut()) {
        first.with.extend(rest.iter().map(|o| o.about.clone()));
        return found;
    }
    let rank = |o: &&&Obligation| (o.state, std::cmp::Reverse(o.kind));
    let Some(worst) = rest.iter().max_by_key(|o| rank(o)) else { return found };
    let with = rest.iter().filter(|o| (o.kind, &o.about) != (worst.kind, &worst.about));
    let (remedy, mend) = together(from, &rest);
    found.push(Finding {
        kind: worst.kind,
        about: worst.about.clone(),
        state: worst.state,
        words: worst.words.clone(),
        with: with.map(|o| o.about.clone()).collect(),
        remedy,
        mend,
    });
    found
}

fn together(from: Sources<'_>, rest: &[&&Obligation]) -> (Remedy, Vec<String>) {
    let profile = from.profile;
    let steps = || profile.steps.iter().map(|s| s.words.clone());
    match &profile.ruling {
        Ruling::Seek(why) if !profile.steps.is_empty() => (
            Remedy::Supports,
            steps().chain(why.iter().cloned()).chain(profile.reasons.iter().cloned()).collect(),
        ),
        Ruling::Seek(why) => (Remedy::Nothing, why.iter().chain(&profile.reasons).cloned().collect()),
        Ruling::Cannot(why) => (Remedy::Nothing, why.clone()),
        Ruling::Measure(why) => (Remedy::Measure { points: points(from, rest) }, why.clone()),
        Ruling::Leave => (
            Remedy::Measure { points: points(from, rest) },
            vec!["Turn no screw for it: seat the level afresh and measure it again.".to_owned()],
        ),
    }
}

/// The points of the profile behind these, or the whole profile if they concern the whole curve.
fn points(from: Sources<'_>, rest: &[&&Obligation]) -> Vec<String> {
    let whole = rest.iter().any(|o| o.kind != ObligationKind::Station);
    let names: BTreeSet<&str> = rest.iter().map(|o| o.about.as_str()).collect();
    let feeds = |p: &&crate::view::PointView| {
        let station = p.point.place();
        matches!(p.point.kind(), PointKind::Incidence | PointKind::Height | PointKind::Plumb)
            && !p.entries.is_empty()
            && (whole || names.contains(station))
    };
    from.assessment.points.iter().filter(feeds).map(|p| p.point.to_string()).collect()
}

/// A rib whose error no support caused and none removes.
fn rib(from: Sources<'_>, out: &Obligation) -> Finding {
    let name = &out.about;
    let station = from.assessment.twist.iter().flat_map(|t| &t.stations).find(|s| &s.name == name);
    let again = matches!(&from.profile.ruling, Ruling::Measure(_));
    let (remedy, mend) = if again {
        let points = points(from, &[&out]);
        let words =
            format!("{name} stands out from its neighbours. Seat the level afresh and measure it again.");
        (Remedy::Measure { points }, vec![words])
    } else {
        let mut mend = vec![format!(
            "No screw mends {name}: measured again, it reads the same. It has its own verdict, and no \
                screw is turned for it."
        )];
        mend.extend(station.and_then(|s| high_by(from, s)));
        mend.push(format!(
            "Look at the rib and at what the level rests on; drill it off and fit it again, then jigtrue \
                rework {name} --what \"fitted again\"."
        ));
        (Remedy::Rework { at_least: None, at_most: None }, mend)
    };
    super::plain(out, remedy, mend)
}

/// How high the rib is at its nose, over the distance between the spars there.
fn high_by(from: Sources<'_>, station: &StationView) -> Option<String> {
    let (error, u) = (station.twist_error_deg?, station.u_deg?);
    let plan = from.plan;
    let spars =
        plan.spars.iter().map(|s| plan.spar_aft(s, quantity::Millimetres::new(station.span_mm)).value());
    let (fore, aft) = spars.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)));
    let apart = aft - fore;
    if !(apart.is_finite() && apart > 1.0) {
        return None;
    }
    let per_deg = apart * 1.0_f64.to_radians();
    let way = if error > 0.0 { "up" } else { "down" };
    let scale = plan.shown_in.scale(Kind::Length);
    let high = scale.with_u(error.abs() * per_deg, u * per_deg).plain_with();
    let apart = scale.fixed_with(apart, 0);
    Some(format!("Its nose is {high} too {way} over the {apart} between the spars."))
}
