//! The rigged case as a whole, and its variants: mirrored, tilted, with one reading missing or contradicted.

use crate::rigging::{found, judged, near};
use crate::whole::Build;
use crate::wing::shows;
use assess::view::Verdict;
use quantity::Celsius;
use record::{Facing, Plan, Point, Reading, Rework, What};
use std::collections::BTreeSet;

const POUND: f64 = 4.448_221_615_260_5;

/// The readings of the case as they were when it was clear, without those that were reworked.
fn case() -> Build {
    let text = include_str!("../../../../demo-readings/rigged/plan.toml");
    let plan = Plan::parse(text).unwrap_or_else(|why| panic!("{why}"));
    let mut build = Build { plan, entries: Vec::new(), round: 0 };
    build.happens(What::Started { plan: text.to_owned(), program: "test".to_owned() });
    for step in include_str!("../../../../demo-readings/rigged/steps.csv").lines().skip(1) {
        let f: Vec<&str> = step.split(',').collect();
        match f[1] {
            "stage" => build.stage(f[2]),
            "rework" => {
                let points: Vec<Point> = f[2].split(';').map(|p| p.parse().unwrap()).collect();
                let stale: BTreeSet<Point> = build.plan.staled_by(&points).into_iter().collect();
                // The log goes on as if it had been right at once.
                build.entries.retain(|e| !matches!(&e.what, What::Reading(r) if stale.contains(&r.point)));
            }
            _ => {
                let point: Point = f[2].parse().unwrap();
                let facing = match f[4] {
                    "forward" => Some(Facing::Forward),
                    "aft" => Some(Facing::Aft),
                    _ => None,
                };
                let unit = if f[5] == "tensiometer" { POUND } else { 1.0 };
                let blank = build.reading(&point, unit * f[3].parse::<f64>().unwrap(), facing);
                let named = build.plan.instruments.iter().find(|i| i.name == f[5]).unwrap();
                let temperature = f[6].parse().ok().map(Celsius::new);
                let instrument = Some(named.name.clone());
                let text = format!("{} {}", blank.value, blank.quantity.base_unit().symbol());
                let reading =
                    Reading { instrument, text, resolution: named.resolution, temperature, ..blank };
                build.happens(What::Reading(reading));
            }
        }
    }
    renumbered(build)
}

fn renumbered(mut build: Build) -> Build {
    (1..).zip(&mut build.entries).for_each(|(seq, e)| e.seq = seq);
    build
}

/// The same with every reading changed.
fn changed(build: &Build, change: impl Fn(&mut Reading)) -> Build {
    let mut out = build.clone();
    for entry in &mut out.entries {
        if let What::Reading(reading) = &mut entry.what {
            change(reading);
        }
    }
    out
}

fn required(build: &Build) -> Vec<Point> {
    build.plan.closing_stage().map(|s| s.requires.clone()).unwrap()
}

#[test]
fn the_case_is_clear() {
    let a = judged(&case());
    assert_eq!(a.gate.state, record::GateState::Clear, "{:#?}", a.gate.reasons);
}

/// Left and right change places: each value is found on the other side, and left less right has the other sign.
#[test]
fn mirrored() {
    let build = case();
    let other = |name: &str| match (name.contains("left"), name.contains("right")) {
        (true, false) => name.replace("left", "right"),
        (false, true) => name.replace("right", "left"),
        _ => name.to_owned(),
    };
    let mirror = changed(&build, |r| {
        r.point = Point::at(r.point.kind(), &other(r.point.place()));
        // A tilt to the right becomes one to the left: the level shows it in the other facing.
        if ["roll", "upright"].contains(&r.point.kind().word()) {
            r.facing = r.facing.map(Facing::turned);
        }
    });
    let (a, b) = (judged(&build), judged(&mirror));
    assert_eq!(b.gate.state, record::GateState::Clear, "{:#?}", b.gate.reasons);
    for view in &a.rigging {
        let (one, two) = (&view.judged, found(&b, &other(&view.name)));
        // Rudder "up" is to the left: its two lengths are read on a part in the middle, and stay.
        let turns = view.name == "roll of fuselage"
            || view.name == "lean of fin"
            || view.name.starts_with("yaw")
            || view.name.starts_with("offset")
            || ["difference left root less right root", "difference ailerons up"]
                .contains(&view.name.as_str());
        let sign = if turns { -1.0 } else { 1.0 };
        near(two.value, sign * one.value, 1e-5 * (1.0 + one.value.abs()));
        near(two.u, one.u, 1e-5 * one.u);
        assert_eq!(two.verdict, one.verdict, "{}", view.name);
    }
    for pair in &a.rig_pairs {
        let turned = b.rig_pairs.iter().find(|p| p.name == pair.name).unwrap();
        let (Some(one), Some(two)) = (&pair.difference, &turned.difference) else { panic!("{}", pair.name) };
        near(two.value, -one.value, 1e-9);
        assert_eq!(one.verdict, two.verdict, "{}", pair.name);
    }
}

/// A fuselage that stands differently tilts everything on it alike: no angle relative to it changes, and no
/// difference.
#[test]
fn a_fuselage_that_stands_differently() {
    let build = case();
    for (pitch, roll) in [(0.3, 0.0), (0.0, -0.25), (-0.35, 0.2)] {
        let tilted = changed(&build, |r| {
            let sign = r.facing.map_or(1.0, Facing::sign);
            let left = r.point.place().starts_with("left");
            let turned = match r.point.kind().word() {
                "pitch" | "rig-incidence" => sign * pitch,
                "roll" => sign * roll,
                "dihedral" => sign * if left { -roll } else { roll },
                "upright" => -sign * roll,
                // A nose that is up puts the trailing edge down, at neutral and at the end.
                "neutral" | "travel-up" | "travel-down" if r.quantity == quantity::Kind::Angle => -pitch,
                _ => 0.0,
            };
            if turned != 0.0 {
                shows(r, r.value + turned);
            }
        });
        let (a, b) = (judged(&build), judged(&tilted));
        for view in a.rigging.iter().filter(|v| !v.name.ends_with("of fuselage")) {
            let two = found(&b, &view.name);
            // The hinge's geometry changes what a level shows, but only to the second order of the fuselage's tilt.
            let within =
                if view.name.contains("travel") || view.name.contains("ailerons") { 0.01 } else { 1e-9 };
            near(two.value, view.judged.value, within);
            assert_eq!(two.verdict, view.judged.verdict, "{}", view.name);
        }
        assert_eq!(b.gate.state, record::GateState::Clear, "{pitch} {roll}: {:#?}", b.gate.reasons);
    }
}

/// A point that is not measured holds the gate and its stage, and is named.
#[test]
fn one_missing_reading_holds() {
    let build = case();
    for point in required(&build) {
        let mut lacks = build.clone();
        lacks.entries.retain(|e| !matches!(&e.what, What::Reading(r) if r.point == point));
        let a = judged(&renumbered(lacks));
        let open: Vec<&str> = a
            .gate
            .obligations
            .iter()
            .filter(|o| o.state != Verdict::Within)
            .map(|o| o.words.as_str())
            .collect();
        assert!(open.iter().any(|words| words.contains(&point.to_string())), "{point}: {open:?}");
        assert!(a.stage_verdict != Some(assess::Verdict::Within), "{point} is not missed by its stage");
        assert!(a.wanted.contains(&point));
    }
}

/// A second reading of the same round that contradicts the first holds too; so does a point of which only an earlier
/// state is known.
#[test]
fn one_contradicted_or_stale_reading_holds() {
    let build = case();
    for point in required(&build) {
        let is_it = |e: &record::Entry| matches!(&e.what, What::Reading(r) if r.point == point);
        let at = build.entries.iter().rposition(is_it).unwrap();
        let mut doubled = build.clone();
        let mut again = doubled.entries[at].clone();
        if let What::Reading(reading) = &mut again.what {
            shows(reading, reading.value + point.kind().row().spoilers.apart);
        }
        doubled.entries.insert(at + 1, again);
        let mut worked = build.clone();
        let (points, what) = (vec![point.clone()], "worked on".to_owned());
        worked.happens(What::Rework(Rework { points, what }));
        for (how, log) in [("contradicted", doubled), ("stale", worked)] {
            let a = judged(&renumbered(log));
            let open: Vec<_> = a.gate.obligations.iter().filter(|o| o.state != Verdict::Within).collect();
            assert!(!open.is_empty(), "{point}, {how}");
            // Of several that went stale together the first is named.
            let together = build.plan.staled_by(std::slice::from_ref(&point));
            let named = |o: &&&assess::view::Obligation| {
                o.about.ends_with(point.place()) || together.iter().any(|p| o.words.contains(&p.to_string()))
            };
            assert!(open.iter().any(|o| named(&o)), "{point}, {how}: {open:#?}");
            // No view claims more than the gate does.
            for view in &a.rigging {
                let owed = a.gate.obligations.iter().find(|o| o.about == view.name);
                let proven = view.judged.verdict == Some(assess::Verdict::Within);
                assert!(
                    owed.is_none_or(|o| (o.state == Verdict::Within) == proven),
                    "{point}, {how}: {view:?}"
                );
            }
        }
    }
}
