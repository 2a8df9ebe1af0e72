//! The rigged aeroplane: the value of everything that the plan limits or only measures.
//!
//! The fuselage's tilt is subtracted from every angle. It is one error shared by all of them, so it largely cancels
//! in a difference of left and right, and completely for incidence.

mod fault;
mod jig;
mod pairs;
mod symmetry;
mod travel;

pub use fault::{Contradiction, LeftOver, RigFault};
pub use jig::jig_twist;
pub use pairs::rig_pairs;
pub use symmetry::rig_closures;

use super::{Judgements, Values};
use crate::estimate::{Estimate, Measured, Shared};
use crate::judge::{ToJudge, judged};
use crate::resolve::OfPoint;
use crate::view::{JudgedBy, ObligationKind as K, RigView, Unjudged, WingView};
use numerics::rigging::torque::{DragRule, Extension};
use quantity::{Kind, Units};
use record::Point;
use record::plan::{Bolt, Cable, Datum, Plan, RigAngle, RigCheck, RigValue, Share, Tension, Tilted};
use std::borrow::Cow;

/// A value, and what contradicts it.
struct Value {
    estimate: Estimate,
    contradicted: Option<Contradiction>,
}

impl Value {
    fn into_judged(self, unit: Kind, rests_on: Vec<&Measured>) -> ToJudge<'_> {
        let made = ToJudge::made(unit, self.estimate.value, self.estimate.u(), rests_on);
        ToJudge { contradicted: self.contradicted, ..made }
    }
}

impl From<Estimate> for Value {
    fn from(estimate: Estimate) -> Self {
        Self { estimate, contradicted: None }
    }
}

/// The inputs for the values of checks.
#[derive(Clone, Copy)]
struct Given<'a> {
    values: &'a Values,
    /// The probability below which readings contradict each other.
    level: f64,
    wings: &'a [WingView],
    /// The units used in text.
    units: quantity::Units,
}

/// What the plan asks of the rigged aeroplane, listed once for an assessment.
pub struct Rigged<'p> {
    /// Everything to judge.
    pub checks: Vec<RigCheck<'p>>,
    /// Everything read against the fuselage's tilt.
    pub tilted: Vec<Tilted>,
}

impl<'p> Rigged<'p> {
    pub fn of(plan: &'p Plan) -> Self {
        Self { checks: plan.rig_checks(), tilted: plan.tilted() }
    }
}

/// Every check whose points were all measured; readings contradict each other below the probability `level`.
pub fn rigging(
    plan: &Plan,
    rigged: &Rigged<'_>,
    values: &Values,
    level: f64,
    wings: &[WingView],
) -> Judgements<RigView> {
    let given = Given { values, level, wings, units: plan.shown_in };
    let one = |check: &RigCheck<'_>| {
        let of_point = |p: &Point| {
            let measured = values.get(p)?;
            Some(if check.has_zero_of(p) { Cow::Borrowed(measured) } else { but_for_zero(measured) })
        };
        let measured: Vec<Cow<'_, Measured>> = check.points.iter().filter_map(of_point).collect();
        let rests_on: Vec<&Measured> = measured.iter().map(AsRef::as_ref).collect();
        if rests_on.len() < check.points.len() {
            return None;
        }
        let found = value(check, given).and_then(|value| {
            let limits = match &check.value {
                RigValue::Tension(cable) => limits_of(cable, rests_on[0], given.units)?,
                _ => check.limits,
            };
            Ok((value, limits))
        });
        let (value, limits) = match found {
            Ok(found) => found,
            Err(why) => {
                let judged_by = JudgedBy::new(K::Rigging, &check.name);
                return Some(Err(Unjudged {
                    judged_by,
                    why: Box::new(why).into(),
                    points: check.points.clone(),
                }));
            }
        };
        let makeup = if let [alone] = rests_on[..] { Some(OfPoint::of(alone)) } else { None };
        let value = ToJudge { makeup, ..value.into_judged(check.unit, rests_on) };
        let judged = judged(plan, check.name.clone(), value, limits);
        Some(Ok(RigView { name: check.name.clone(), judged, points: check.points.clone() }))
    };
    rigged.checks.iter().filter_map(one).collect()
}

/// The same without the doubts about the zero of its instrument, which cancels.
fn but_for_zero(measured: &Measured) -> Cow<'_, Measured> {
    let mut bare = measured.clone();
    bare.doubts.retain(|doubt| !doubt.is_of_zero());
    Cow::Owned(bare)
}

/// A cable's limits at the temperature of its readings.
fn limits_of(
    cable: &Cable,
    measured: &Measured,
    units: Units,
) -> Result<Option<record::Limits<f64>>, RigFault> {
    let limits = cable.tension.limits_at(measured.temperature);
    match (&cable.tension, measured.temperature, limits) {
        (Tension::Fixed(_), _, limits) => Ok(limits),
        (Tension::Chart { .. }, _, Some(limits)) => Ok(Some(limits)),
        (Tension::Chart { .. }, None, None) => Err(RigFault::NoTemperature),
        (Tension::Chart { rows, .. }, Some(at), None) => {
            let end = |row: Option<&record::plan::ChartRow>| row.map_or(f64::NAN, |r| r.at);
            let (from, to) = (end(rows.first()), end(rows.last()));
            Err(RigFault::BeyondChart { from, to, at, scale: units.scale(Kind::Temperature) })
        }
    }
}

/// The value of a check; its points are all measured.
fn value(check: &RigCheck<'_>, given: Given<'_>) -> Result<Value, RigFault> {
    let values = given.values;
    let read = |i: usize| {
        let measured = check.points.get(i).and_then(|p| values.get(p));
        measured.map(|m| &m.estimate).ok_or(RigFault::NoReading)
    };
    match &check.value {
        RigValue::Own => Ok(read(0)?.clone().into()),
        RigValue::Tension(cable) => {
            let mut tension = read(0)?.clone();
            let measured = check.points.first().and_then(|p| values.get(p));
            // The tension from the chart has the uncertainty of the temperature.
            if let (Some(at), Some(within)) = (measured.and_then(|m| m.temperature), cable.temperature_within)
            {
                let u = cable.tension.per_kelvin(at) * within / libm::sqrt(3.0);
                tension.own = libm::hypot(tension.own, u);
            }
            Ok(tension.into())
        }
        RigValue::Deviation(nominal) => {
            let read = read(0)?;
            Ok(Estimate::propagate(read.value - nominal, &[(1.0, read)]).into())
        }
        RigValue::Angle { angle, datum: None } => Ok(as_angle(angle, read(0)?)?.into()),
        RigValue::Angle { angle, datum: Some(Datum { point, factor }) } => {
            let (angle, tilt) = (as_angle(angle, read(0)?)?, as_datum(point, read(1)?));
            let value = angle.value + factor * tilt.value;
            Ok(Estimate::propagate(value, &[(1.0, &angle), (*factor, &tilt)]).into())
        }
        // A raised nose lowers the trailing edge.
        RigValue::Neutral(pitch) => {
            let (shown, pitch) = (read(0)?, as_datum(pitch, read(1)?));
            Ok(Estimate::propagate(shown.value + pitch.value, &[(1.0, shown), (1.0, &pitch)]).into())
        }
        RigValue::Sweep(angle) => {
            let base = angle.base.map(|b| b.value()).ok_or(RigFault::NoBase)?;
            let aft = read(0)?;
            let slope = (base / (base * base + aft.value * aft.value)).to_degrees();
            Ok(Estimate::propagate(libm::atan2(aft.value, base).to_degrees(), &[(slope, aft)]).into())
        }
        RigValue::Travel(control) => travel::travel(control, check, read(0)?, read(1).ok()).map(Value::from),
        RigValue::Torque(bolt) => torque(bolt, read(0)?, read(1).ok()).map(Value::from),
        RigValue::Yaw(of) => symmetry::fitted(of, check, given, symmetry::Wanted::Yaw),
        RigValue::Offset(of) => symmetry::fitted(of, check, given, symmetry::Wanted::Offset),
        RigValue::Sum(shares) => sum(shares, given),
        RigValue::SinceJig(since) => {
            let now = sum(&since.now, given)?;
            let wing = given.wings.iter().find(|w| w.name == since.wing.name);
            if wing.is_some_and(|w| w.another) {
                return Err(RigFault::OfAnother(since.wing.name.clone()));
            }
            let taken = wing.and_then(|w| w.taken.as_ref());
            let taken = taken.ok_or_else(|| RigFault::NotTakenUp(since.wing.name.clone()))?;
            let then = jig_twist(&since.wing.name, &taken.stations, &since.from.name, &since.station.name)?;
            let change = now.estimate.value - then.value;
            let estimate = Estimate::propagate(change, &[(1.0, &now.estimate), (-1.0, &then)]);
            Ok(Value { estimate, contradicted: now.contradicted })
        }
    }
}

/// A sum of the values of several checks.
fn sum(shares: &[Share<'_>], given: Given<'_>) -> Result<Value, RigFault> {
    // A reading used by several of them is one error in all of them, such as the neutral in travel up less travel
    // down.
    let mut points: Vec<&Point> = shares.iter().flat_map(|s| &s.check.points).collect();
    points.sort();
    let common = points.windows(2).filter(|pair| pair[0] == pair[1]).map(|pair| pair[0]);
    let mut values = None;
    for point in common {
        if let Some(read) = values.get_or_insert_with(|| given.values.clone()).get_mut(point) {
            read.estimate = as_datum(point, &read.estimate);
        }
    }
    let given = Given { values: values.as_ref().unwrap_or(given.values), ..given };
    let found: Vec<(f64, Value)> =
        shares.iter().map(|s| Ok((s.share, value(&s.check, given)?))).collect::<Result<_, RigFault>>()?;
    let parts: Vec<(f64, &Estimate)> = found.iter().map(|(share, v)| (*share, &v.estimate)).collect();
    let total = parts.iter().map(|(share, part)| share * part.value).sum();
    let estimate = Estimate::propagate(total, &parts);
    Ok(Value { estimate, contradicted: found.into_iter().find_map(|(_, v)| v.contradicted) })
}

/// An angle as read, in degrees; for a rise, its base along the part makes it a sine.
fn as_angle(angle: &RigAngle, read: &Estimate) -> Result<Estimate, RigFault> {
    let Some(base) = angle.base.map(|b| b.value()) else { return Ok(read.clone()) };
    let run = base * base - read.value * read.value;
    if run.is_nan() || run <= 0.0 {
        return Err(RigFault::TooSteep);
    }
    let slope = (1.0 / libm::sqrt(run)).to_degrees();
    Ok(Estimate::propagate(libm::asin(read.value / base).to_degrees(), &[(slope, read)]))
}

/// The fuselage's tilt, with its independent uncertainty as an error shared by everything measured against it.
fn as_datum(point: &Point, tilt: &Estimate) -> Estimate {
    let mut datum = Estimate { own: 0.0, lasting: 0.0, ..tilt.clone() };
    if tilt.own > 0.0 {
        datum.shared.insert(Shared::Datum(point.clone()), tilt.own);
    }
    datum
}

/// The torque at the nut less its drag, from what the wrench showed.
fn torque(bolt: &Bolt, wrench: &Estimate, drag: Option<&Estimate>) -> Result<Estimate, RigFault> {
    let gain = match bolt.extension {
        None => 1.0,
        Some(e) => {
            Extension { lever: e.lever.value(), length: e.length.value(), angle: e.angle.to_radians() }
                .gain()
                .ok_or(RigFault::Extension)?
        }
    };
    let rule = bolt.drag_rule.map(|rule| match rule {
        record::plan::DragRule::Add => DragRule::Add,
        record::plan::DragRule::AddFromThird => DragRule::AddFromThird,
    });
    let counts = match (rule, drag) {
        (None, _) => None,
        (Some(_), None) => return Err(RigFault::NoDrag),
        (Some(rule), Some(drag)) => {
            let least = bolt.limits.and_then(|l| l.lower).unwrap_or(0.0);
            rule.counts(least, drag.value).then_some(drag)
        }
    };
    let mut parts = vec![(gain, wrench)];
    parts.extend(counts.map(|drag| (-1.0, drag)));
    let value = parts.iter().map(|(factor, part)| factor * part.value).sum();
    Ok(Estimate::propagate(value, &parts))
}
