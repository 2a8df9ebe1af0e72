//! What must be proven about a rigged aeroplane: each check with its limits and the points it rests on.

use super::{
    AngleOf, Bolt, Cable, Control, Difference, Laid, RigAngle, RigStation, RigWing, Rigging, Symmetry,
    TapeHeld, TravelBy, Weight, WeightBy,
};
use crate::plan::{Plan, Side};
use crate::{Limits, Point, PointKind};
use quantity::Kind;
use std::collections::BTreeMap;

/// One thing to judge.
#[derive(Clone, Debug, PartialEq)]
pub struct RigCheck<'p> {
    /// Its name: `dihedral of left wing`.
    pub name: String,
    /// Its quantity.
    pub unit: Kind,
    /// Its limits; `None` if the plan has none, or if they depend on the temperature.
    pub limits: Option<Limits<f64>>,
    /// The points it rests on.
    pub points: Vec<Point>,
    /// How its value is computed from them.
    pub value: RigValue<'p>,
}

/// How a value is computed from the readings.
#[derive(Clone, Debug, PartialEq)]
pub enum RigValue<'p> {
    /// The value of its point.
    Own,
    /// The difference of its point from this value, in mm.
    Deviation(f64),
    /// The angle of a level, or of a rise over its base, less the fuselage's tilt.
    Angle {
        angle: &'p RigAngle,
        /// The fuselage's tilt to subtract.
        datum: Option<Datum>,
    },
    /// The angle of a length over the distance between two plumb lines.
    Sweep(&'p RigAngle),
    /// A control at neutral, less this pitch of the fuselage (positive nose up).
    Neutral(Point),
    /// Travel of a control, up or down. With a level, the second point is its neutral.
    Travel(&'p Control),
    Tension(&'p Cable),
    /// The torque at the nut. If there is a drag rule, the second point is the drag.
    Torque(&'p Bolt),
    Yaw(&'p Symmetry),
    Offset(&'p Symmetry),
    /// The twist at a station less that in the jig, both counted from the wing's first station.
    SinceJig(Box<SinceJig<'p>>),
    /// A weighted sum of other checks: a difference has weights 1 and -1.
    Sum(Vec<Share<'p>>),
}

/// A tilt to subtract from an angle.
#[derive(Clone, Debug, PartialEq)]
pub struct Datum {
    pub point: Point,
    /// The tilt is multiplied by this and added.
    pub factor: f64,
}

/// A station measured on the aeroplane that was also measured in the jig.
#[derive(Clone, Debug, PartialEq)]
pub struct SinceJig<'p> {
    pub wing: &'p RigWing,
    /// The station that the twist counts from.
    pub from: &'p RigStation,
    pub station: &'p RigStation,
    /// The twist on the aeroplane: incidence at the station less that at the first one.
    pub now: [Share<'p>; 2],
}

/// One check's term in a sum.
#[derive(Clone, Debug, PartialEq)]
pub struct Share<'p> {
    /// Its value is multiplied by this.
    pub share: f64,
    pub check: RigCheck<'p>,
}

impl RigCheck<'_> {
    /// Whether the zero of the instrument that read this point is in the value. The neutral position of a travel was read with the
    /// same zero as its end, so there it cancels.
    #[must_use]
    pub fn has_zero_of(&self, point: &Point) -> bool {
        match &self.value {
            RigValue::Travel(_) => self.points.first() == Some(point),
            RigValue::Sum(shares) => shares.iter().any(|share| share.check.has_zero_of(point)),
            _ => self.points.contains(point),
        }
    }

    /// Whether the plan gives limits.
    #[must_use]
    pub fn has_limits(&self) -> bool {
        match &self.value {
            RigValue::Tension(cable) => cable.tension != super::Tension::Fixed(None),
            _ => self.limits.is_some(),
        }
    }
}

fn name_of(point: &Point) -> String {
    format!("{} of {}", point.kind().row().words, point.place())
}

fn about(design: f64, tolerance: Option<Limits<f64>>) -> Option<Limits<f64>> {
    tolerance.map(|t| t.map(|v| design + v))
}

impl Plan {
    /// How the tape is held at a point, if a tape measures there and the plan says so.
    #[must_use]
    pub fn tape_at(&self, point: &Point) -> Option<TapeHeld> {
        if point.kind() != PointKind::Distance {
            return None;
        }
        self.rigging.distances.iter().find(|d| d.name == point.place()).and_then(|d| d.tape)
    }

    /// Every value of the rigged aeroplane, in the order of work.
    #[must_use]
    pub fn rig_checks(&self) -> Vec<RigCheck<'_>> {
        let r = &self.rigging;
        let mut out = Vec::new();
        if let Some(f) = &r.fuselage {
            for (kind, limits) in [(PointKind::Pitch, f.pitch), (PointKind::Roll, f.roll)] {
                out.push(own(Point::at(kind, &f.name), Kind::Angle, limits));
            }
        }
        out.extend(r.angles.iter().map(|a| angle(r, a)));
        for control in &r.controls {
            out.extend(neutral(r, control));
            let ends = [(PointKind::TravelUp, control.up), (PointKind::TravelDown, control.down)];
            out.extend(ends.map(|(kind, limits)| travel(control, kind, limits)));
            out.push(own(Point::at(PointKind::Play, &control.name), Kind::Length, control.play));
        }
        for cable in &r.cables {
            let limits = match &cable.tension {
                super::Tension::Fixed(limits) => *limits,
                super::Tension::Chart { .. } => None,
            };
            let check = own(Point::at(PointKind::Tension, &cable.name), Kind::Force, limits);
            out.push(RigCheck { value: RigValue::Tension(cable), ..check });
        }
        for bolt in &r.bolts {
            let drag = || Point::at(PointKind::Drag, &bolt.name);
            out.extend(bolt.drag.map(|limits| own(drag(), Kind::Torque, Some(limits))));
            let mut check = own(Point::at(PointKind::Torque, &bolt.name), Kind::Torque, bolt.limits);
            check.points.extend(bolt.drag_rule.map(|_| drag()));
            out.push(RigCheck { value: RigValue::Torque(bolt), ..check });
        }
        for distance in &r.distances {
            let point = Point::at(PointKind::Distance, &distance.name);
            if let Some(nominal) = r.nominal(distance) {
                let value = RigValue::Deviation(nominal);
                out.push(RigCheck { value, ..own(point, Kind::Length, distance.tolerance) });
            }
        }
        for s in &r.symmetries {
            let distance = |i: usize| r.distances.get(i).map(|d| Point::at(PointKind::Distance, &d.name));
            let points: Vec<Point> =
                s.pairs.iter().flat_map(|p| [p.left, p.right]).filter_map(distance).collect();
            let check = |what: &str, unit, limits, value| RigCheck {
                name: format!("{what} of {}", s.name),
                unit,
                limits,
                points: points.clone(),
                value,
            };
            out.push(check("yaw", Kind::Angle, s.yaw, RigValue::Yaw(s)));
            out.push(check("offset", Kind::Length, s.offset, RigValue::Offset(s)));
        }
        let read = read_at(&out);
        let mut sums: Vec<RigCheck<'_>> = r.differences.iter().filter_map(|d| difference(&read, d)).collect();
        sums.extend(r.weights.iter().flat_map(|w| weight(&read, w)));
        sums.extend(r.wings.iter().flat_map(|w| since_jig(&read, w)));
        out.extend(sums);
        out
    }
}

/// A level reading that contains the fuselage's tilt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tilted {
    /// The fuselage's pitch or roll.
    pub tilt: Point,
    /// The point read while the fuselage has this tilt.
    pub read: Point,
    /// The neutral it counts from. If both were read with the fuselage at the same tilt, the tilt cancels.
    pub from: Option<Point>,
}

impl Plan {
    /// Everything read against the fuselage's tilt.
    #[must_use]
    pub fn tilted(&self) -> Vec<Tilted> {
        let r = &self.rigging;
        let Some(fuselage) = &r.fuselage else { return Vec::new() };
        let mut out = Vec::new();
        for check in r.angles.iter().map(|a| angle(r, a)) {
            if let (RigValue::Angle { datum: Some(datum), .. }, Some(read)) =
                (&check.value, check.points.first())
            {
                out.push(Tilted { tilt: datum.point.clone(), read: read.clone(), from: None });
            }
        }
        for control in r.controls.iter().filter(|c| matches!(c.by, TravelBy::Level { .. })) {
            let neutral = Point::at(PointKind::Neutral, &control.name);
            let mut read = |kind, from| {
                let tilt = Point::at(PointKind::Pitch, &fuselage.name);
                out.push(Tilted { tilt, read: Point::at(kind, &control.name), from });
            };
            read(PointKind::Neutral, None);
            read(PointKind::TravelUp, Some(neutral.clone()));
            read(PointKind::TravelDown, Some(neutral));
        }
        out
    }
}

fn own<'p>(point: Point, unit: Kind, limits: Option<Limits<f64>>) -> RigCheck<'p> {
    RigCheck { name: name_of(&point), unit, limits, points: vec![point], value: RigValue::Own }
}

/// The kind of point at which an angle is read.
pub const fn kind_of(of: AngleOf) -> PointKind {
    match of {
        AngleOf::Rise => PointKind::Rise,
        AngleOf::Dihedral => PointKind::Dihedral,
        AngleOf::Incidence => PointKind::RigIncidence,
        AngleOf::Upright => PointKind::Upright,
        AngleOf::Sweep => PointKind::Sweep,
    }
}

fn angle<'p>(r: &Rigging, a: &'p RigAngle) -> RigCheck<'p> {
    let mut check = own(Point::at(kind_of(a.of), &a.name), Kind::Angle, about(a.design, a.tolerance));
    let tilt = |kind, factor| r.fuselage.as_ref().map(|f| Datum { point: Point::at(kind, &f.name), factor });
    let datum = match (a.of, a.side) {
        (AngleOf::Sweep, _) => {
            check.value = RigValue::Sweep(a);
            return check;
        }
        (AngleOf::Incidence, _) => tilt(PointKind::Pitch, -1.0),
        // With its right side up, a fuselage raises the right wing's tip, lowers the left wing's, and leans a fin to
        // the left.
        (AngleOf::Dihedral | AngleOf::Rise, Some(Side::Left)) | (AngleOf::Upright, _) => {
            tilt(PointKind::Roll, 1.0)
        }
        (AngleOf::Dihedral | AngleOf::Rise, Some(Side::Right | Side::Both) | None) => {
            tilt(PointKind::Roll, -1.0)
        }
    };
    check.points.extend(datum.iter().map(|datum| datum.point.clone()));
    check.value = RigValue::Angle { angle: a, datum };
    check
}

fn travel(control: &Control, kind: PointKind, limits: Option<Limits<f64>>) -> RigCheck<'_> {
    let mut check = own(Point::at(kind, &control.name), Kind::Angle, limits);
    if matches!(control.by, TravelBy::Level { .. }) {
        check.points.push(Point::at(PointKind::Neutral, &control.name));
    }
    RigCheck { value: RigValue::Travel(control), ..check }
}

/// Where a control is at neutral, by a level, less the fuselage's pitch. Square to a swept hinge the level also shows
/// part of the roll, so nothing is subtracted there, and the plan must not give limits.
fn neutral<'p>(r: &Rigging, control: &'p Control) -> Option<RigCheck<'p>> {
    let TravelBy::Level { laid, hinge_sweep, .. } = control.by else { return None };
    let check = own(Point::at(PointKind::Neutral, &control.name), Kind::Angle, control.neutral);
    let pitch = r.fuselage.as_ref().map(|f| Point::at(PointKind::Pitch, &f.name));
    let pitch = pitch.filter(|_| laid == Laid::ForeAft || hinge_sweep == 0.0);
    let mut points = check.points.clone();
    points.extend(pitch.clone());
    Some(RigCheck { points, value: pitch.map_or(RigValue::Own, RigValue::Neutral), ..check })
}

fn difference<'p>(checks: &ReadAt<'_, 'p>, d: &Difference) -> Option<RigCheck<'p>> {
    let shares = [(1.0, &d.of), (-1.0, &d.less)];
    sum(checks, format!("difference {}", d.name), about(d.design, d.tolerance), &shares)
}

/// What is built in, what weight does, and, if a couple is hung, what the couple does.
fn weight<'p>(checks: &ReadAt<'_, 'p>, w: &Weight) -> Vec<RigCheck<'p>> {
    let name = |what: &str| format!("{what} of {}", w.name);
    let built_in = about(w.design, w.built_in);
    let found = match &w.by {
        // Upright, the level shows built-in twist plus sag; upside down, it shows sag less built-in twist.
        WeightBy::TurnedOver { upright, inverted } => vec![
            sum(checks, name("built-in twist"), built_in, &[(0.5, upright), (-0.5, inverted)])
                .map(off_the_fuselage),
            sum(checks, name("sag"), w.sag, &[(0.5, upright), (0.5, inverted)]).map(off_the_fuselage),
        ],
        WeightBy::Couple { without, with, weight_share: k } => vec![
            sum(checks, name("response"), w.response, &[(1.0, with), (-1.0, without)]),
            sum(checks, name("sag"), w.sag, &[(*k, with), (-*k, without)]),
            sum(checks, name("built-in twist"), built_in, &[(1.0 + *k, without), (-*k, with)]),
        ],
    };
    found.into_iter().flatten().collect()
}

/// The check of a part that is turned over: it is off the fuselage then, so the fuselage's tilt is not subtracted.
fn off_the_fuselage(mut check: RigCheck<'_>) -> RigCheck<'_> {
    if let RigValue::Sum(shares) = &mut check.value {
        check.points.clear();
        for part in shares.iter_mut().map(|s| &mut s.check) {
            if let RigValue::Angle { datum, .. } = &mut part.value {
                part.points.truncate(1);
                *datum = None;
            }
            check.points.extend(part.points.iter().cloned());
        }
    }
    check
}

/// A sum of readings at these points; `None` if the plan does not have them.
fn sum<'p>(
    checks: &ReadAt<'_, 'p>,
    name: String,
    limits: Option<Limits<f64>>,
    shares: &[(f64, &Point)],
) -> Option<RigCheck<'p>> {
    let at = |point: &Point| checks.get(point).map(|check| RigCheck::clone(check));
    let shares = shares.iter().map(|(share, point)| Some(Share { share: *share, check: at(point)? }));
    let shares: Vec<Share<'p>> = shares.collect::<Option<_>>()?;
    let mut points: Vec<Point> = Vec::new();
    for point in shares.iter().flat_map(|s| &s.check.points) {
        if !points.contains(point) {
            points.push(point.clone());
        }
    }
    let unit = shares.first()?.check.unit;
    Some(RigCheck { name, unit, limits, points, value: RigValue::Sum(shares) })
}

/// The change of each station of a wing since its jig.
fn since_jig<'p>(checks: &ReadAt<'_, 'p>, w: &'p RigWing) -> Vec<RigCheck<'p>> {
    let Some((from, others)) = w.stations.split_first() else { return Vec::new() };
    let change = |station: &'p RigStation| {
        let check = sum(checks, w.change_at(station), w.change, &[(1.0, &station.read), (-1.0, &from.read)])?;
        let RigValue::Sum(shares) = check.value else { return None };
        let now = <[Share<'p>; 2]>::try_from(shares).ok()?;
        let value = RigValue::SinceJig(Box::new(SinceJig { wing: w, from, station, now }));
        Some(RigCheck { value, ..check })
    };
    others.iter().filter_map(change).collect()
}

/// Checks by the point at which each is read.
pub type ReadAt<'c, 'p> = BTreeMap<&'c Point, &'c RigCheck<'p>>;

/// The checks read at a point of their own; a yaw needs several points.
pub fn read_at<'c, 'p>(checks: &'c [RigCheck<'p>]) -> ReadAt<'c, 'p> {
    let single = |c: &&RigCheck<'_>| {
        !matches!(c.value, RigValue::Yaw(_) | RigValue::Offset(_) | RigValue::Sum(_) | RigValue::SinceJig(_))
    };
    checks.iter().filter(single).filter_map(|check| Some((check.points.first()?, check))).collect()
}
