//! Values that share a datum must come from one reading of it, and an error that two values share counts once in
//! both.

use crate::rigging::{found, judged, log, near, take};
use crate::whole::{Build, Way, plan_text};
use assess::{Assessment, Chain, Verdict, assess};
use numerics::rng::Rng;
use record::point::Readings;
use record::{GateState, Plan, Point, Reading, Rework, StageBegun, What};

/// A line stretched again, or a wire or water level set up again, lies differently: a point read in a round of its
/// own cannot be compared with the others, even if it reads the same. Everything else may be read again by itself.
#[test]
fn one_point_read_from_another_datum_holds() {
    for way in Way::ALL {
        let good = Build::clear(way, 5);
        for point in good.required() {
            let row = point.kind().row();
            let again_by = |points: &[Point], by: Option<&str>| {
                let mut build = good.clone();
                build.round += 1;
                if let Some(name) = by {
                    let facts = good.plan.instruments.iter().find(|i| i.name == "gauge").cloned().unwrap();
                    build.happens(What::Instrument(record::Instrument { name: name.to_owned(), ..facts }));
                }
                for point in points {
                    let last = |e: &record::Entry| match &e.what {
                        What::Reading(r) if r.point == *point && r.round == good.round => Some(r.clone()),
                        _ => None,
                    };
                    let last: Vec<Reading> = good.entries.iter().filter_map(last).collect();
                    for reading in last {
                        let instrument = by.map(str::to_owned).or(reading.instrument.clone());
                        build.happens(What::Reading(Reading { round: build.round, instrument, ..reading }));
                    }
                }
                assess(&build.plan, &build.entries, &Chain::Whole)
            };
            let again = |points: &[Point]| again_by(points, None);
            let alone = again(std::slice::from_ref(&point));
            let wanted = if row.from_a_datum() { GateState::Hold } else { GateState::Clear };
            assert_eq!(alone.gate.state, wanted, "{point} alone: {:#?}", alone.gate.reasons);
            if !row.from_a_datum() {
                continue;
            }
            let other = again_by(std::slice::from_ref(&point), Some("other gauge"));
            let reasons = alone.gate.reasons.iter().chain(&other.gate.reasons).collect::<Vec<_>>();
            assert_eq!(other.gate.state, GateState::Hold, "{point} by another instrument");
            assert!(reasons.iter().all(|r| r.words.contains("its own datum")), "{point}: {reasons:#?}");
            let kind: Vec<Point> = good.required().into_iter().filter(|p| p.kind() == point.kind()).collect();
            let all = again(&kind);
            assert_eq!(all.gate.state, GateState::Clear, "all of {point}: {:#?}", all.gate.reasons);
        }
    }
}

const PITCHED: &str = r#"
[fuselage]
pitch = 2.0
[[angle]]
name = "left"
of = "incidence"
side = "left"
design = 2.0
tolerance = 0.5
[[angle]]
name = "right"
of = "incidence"
side = "right"
design = 2.0
tolerance = 0.5
[[control]]
name = "elevator"
laid = "square"
neutral = 0.5
up = { lower = 18.0, upper = 22.0 }
down = { lower = 18.0, upper = 22.0 }
[[difference]]
name = "up less down"
of = "travel-up@elevator"
less = "travel-down@elevator"
tolerance = 0.5
"#;
const READ: [(&str, f64); 6] = [
    ("pitch@fuselage", 0.1),
    ("rig-incidence@left", 2.1),
    ("rig-incidence@right", 2.1),
    ("neutral@elevator", -0.1),
    ("travel-up@elevator", 20.0),
    ("travel-down@elevator", -20.0),
];

fn state(a: &Assessment, about: &str) -> Verdict {
    a.gate.obligations.iter().find(|o| o.about == about).unwrap_or_else(|| panic!("no {about}")).state
}

const ANGLES: [&str; 3] = ["incidence of left", "incidence of right", "neutral of elevator"];
const TRAVELS: [&str; 2] = ["travel up of elevator", "travel down of elevator"];

/// A fuselage levelled again lies differently from when its angles were read.
#[test]
fn levelling_the_fuselage_again_makes_its_angles_stale() {
    let mut build = log(PITCHED, &READ);
    let pitch: Point = "pitch@fuselage".parse().unwrap();
    build.happens(What::Rework(Rework { points: vec![pitch], what: "levelled again".to_owned() }));
    take(&mut build, "pitch@fuselage", 0.9, |_| {});
    let a = judged(&build);
    for about in ANGLES.into_iter().chain(TRAVELS) {
        assert_eq!(state(&a, about), Verdict::Stale, "{about}");
    }
    for (point, value) in &READ[1..] {
        take(&mut build, point, value + 0.8, |_| {});
    }
    // The neutral shows the pitch with the other sign: nose up puts a trailing edge down.
    assert_eq!(state(&judged(&build), "incidence of left"), Verdict::Within);
}

/// Nobody said that the fuselage was levelled again, but in a later stage it lies differently: what was read before
/// does not count with it.
#[test]
fn angles_read_under_another_tilt_are_doubtful() {
    for (pitch, wanted) in [(0.9, Verdict::Doubtful), (0.1, Verdict::Within)] {
        let mut build = log(PITCHED, &READ);
        build.happens(What::Stage(StageBegun::new("rigged")));
        build.round += 1;
        take(&mut build, "pitch@fuselage", pitch, |_| {});
        let a = judged(&build);
        for about in ANGLES {
            assert_eq!(state(&a, about), wanted, "{about} at {pitch}");
        }
        // What is read again afterwards counts; a travel from a neutral read in another position does not.
        take(&mut build, "rig-incidence@left", 2.0 + pitch, |_| {});
        take(&mut build, "neutral@elevator", -pitch, |_| {});
        let a = judged(&build);
        assert_eq!(state(&a, "incidence of left"), Verdict::Within, "{:#?}", a.gate.reasons);
        assert_eq!(state(&a, "travel up of elevator"), wanted);
    }
}

/// A fuselage's tilt that gives no value does not prove that it lay as it does now.
#[test]
fn angles_read_under_a_tilt_that_cannot_be_told_are_doubtful() {
    for (step, wanted) in [(400.0, Verdict::Doubtful), (0.05, Verdict::Within)] {
        let mut build = log(PITCHED, &[]);
        take(&mut build, "pitch@fuselage", 0.1, |r| r.resolution = step);
        for (point, value) in &READ[1..] {
            take(&mut build, point, *value, |_| {});
        }
        build.happens(What::Stage(StageBegun::new("rigged")));
        build.round += 1;
        take(&mut build, "pitch@fuselage", 0.1, |_| {});
        let a = judged(&build);
        for about in ANGLES {
            assert_eq!(state(&a, about), wanted, "{about}, a step of {step}");
        }
    }
}

/// If the neutral itself has no limit, both ends and the neutral were read with the fuselage in one position, and its
/// tilt cancels.
#[test]
fn travels_from_a_neutral_read_with_them_count() {
    let mut build = log(&PITCHED.replace("neutral = 0.5\n", ""), &READ);
    build.happens(What::Stage(StageBegun::new("rigged")));
    build.round += 1;
    take(&mut build, "pitch@fuselage", 0.9, |_| {});
    let a = judged(&build);
    for about in TRAVELS {
        assert_eq!(state(&a, about), Verdict::Within, "{about}");
    }
    take(&mut build, "neutral@elevator", -0.9, |_| {});
    assert_eq!(state(&judged(&build), "travel up of elevator"), Verdict::Doubtful);
}

/// Up is T - N and down N - D, so up less down is T + D - 2 N: the neutral's own error counts twice, not as two
/// errors.
#[test]
fn a_neutral_is_one_error_in_up_less_down() {
    let a = judged(&log(PITCHED, &READ));
    let own = libm::sqrt(0.01 * 0.01 / 12.0 + 0.01 * 0.01);
    near(found(&a, "travel up of elevator").u, own * libm::sqrt(2.0), 1e-9);
    let zero = 0.1 / libm::sqrt(3.0);
    // T, D and N share the level's zero, and 1 + 1 - 2 is 0: it cancels.
    assert!(zero > own);
    near(found(&a, "difference up less down").u, own * libm::sqrt(6.0), 1e-9);
}

/// A level without a stated accuracy can have any zero if it is never read in both facings.
#[test]
fn a_neutral_of_a_level_without_accuracy_is_doubtful() {
    let mut build = log(PITCHED, &READ);
    build.plan.instruments.iter_mut().for_each(|i| i.accuracy = None);
    let a = judged(&build);
    assert_eq!(found(&a, "neutral of elevator").verdict, Some(Verdict::Doubtful));
    assert!(
        a.doubts.iter().any(|d| d.words.contains("level states no accuracy: no ± allows")),
        "{:#?}",
        a.doubts
    );
}

/// A tape of unknown expansion on a warm wing: the possible error is in the ±, and is mentioned.
#[test]
fn a_tape_without_an_expansion_is_less_certain_away_from_twenty_degrees() {
    let text =
        plan_text(Way::Angles).replace("[tolerance]", "[wing.material]\nexpansion = 23.0e-6\n[tolerance]");
    let at = |degrees: f64, text: &str| {
        let mut build = Build::clear(Way::Angles, 3);
        build.plan = Plan::parse(text).unwrap();
        for entry in &mut build.entries {
            if let What::Reading(r) = &mut entry.what {
                r.temperature = Some(quantity::Celsius::new(degrees));
            }
        }
        assess(&build.plan, &build.entries, &Chain::Whole)
    };
    let far = |a: &Assessment| a.spacing.last().unwrap().deviation.clone();
    let (at_twenty, warm) = (at(20.0, &text), at(35.0, &text));
    near(far(&at_twenty).value, far(&warm).value, 1e-12);
    let added = 23.0e-6 * 15.0 * 3500.0 / libm::sqrt(3.0);
    near(far(&warm).u, libm::hypot(far(&at_twenty).u, added), 1e-4);
    let said = |a: &Assessment| a.doubts.iter().any(|d| d.words.contains("gauge states no expansion"));
    assert!(said(&warm) && !said(&at_twenty));
    let known = text.replace("name = \"gauge\"\n", "name = \"gauge\"\nexpansion = 11.5e-6\n");
    assert!(!said(&at(35.0, &known)) && far(&at(35.0, &known)).u < far(&at_twenty).u + 1e-6);
}

/// A straight shaft goes through two bushes wherever they are: only the uncertainty of their bores counts.
#[test]
fn the_centres_of_two_bushes_do_not_bind() {
    let text = plan_text(Way::Angles);
    let third = "[[bush]]\nname = \"B3\"\nspan = 3000\nbore = 30.4\n";
    assert!(text.contains(third));
    let text = text.replace(third, "");
    let mut rng = Rng::new(4);
    let mut build = Build::new(Way::Angles);
    build.plan = Plan::parse(&text).unwrap();
    build.entries.clear();
    build.happens(What::Started { plan: text, program: "test".to_owned() });
    build.stage("jig");
    build.measure("jig", &mut rng);
    build.stage("close");
    build.measure("close", &mut rng);
    let a = assess(&build.plan, &build.entries, &Chain::Whole);
    let u = a.bore_line.unwrap().clearance.u;
    let (own, zero) = (libm::sqrt(0.02 * 0.02 / 12.0 + 0.01 * 0.01), 0.02 / libm::sqrt(3.0));
    let bore = libm::hypot(own, zero) / 2.0;
    assert!(u < 1.05 * bore && u > 0.7 * bore, "{u} for {bore}");
}

const WALKED: &str = "format = 1\n[wing]\nname = \"walked\"\nside = \"left\"\n[tolerance]\nstraightness = 2.0\n\
    [[station]]\nname = \"S1\"\nspan = 0\nchord = 1000\nincidence = 0\n[[station]]\nname = \"S2\"\nspan = 600\n\
    chord = 1000\nincidence = 0\n[[station]]\nname = \"S3\"\nspan = 1200\nchord = 1000\nincidence = 0\n\
    [[spar]]\nname = \"front\"\naft_root = 300\n[[instrument]]\nname = \"level\"\nkind = \"inclinometer\"\n\
    resolution = 0.01\naccuracy = 0.1\nrepeatability = 0.02\n[[stage]]\nname = \"on\"\nrequires = [\"walk@*\"]\n";

/// ISO 230-1 sums the steps. For two steps of one length b the zone is b (t1 - t2)/2 wide, and its uncertainty is b
/// u/sqrt 2, whatever the heights grow to. No step ends at the innermost station, so none is asked for there.
#[test]
fn a_walk_is_as_uncertain_as_its_steps() {
    let plan = Plan::parse(WALKED).unwrap();
    let mut build = Build { plan, entries: Vec::new(), round: 1 };
    build.happens(What::Started { plan: WALKED.to_owned(), program: "test".to_owned() });
    build.stage("on");
    for (point, tilt) in [("walk@front:S2", 1.1), ("walk@front:S3", 0.9)] {
        take(&mut build, point, tilt, |_| {});
    }
    let a = judged(&build);
    assert_eq!(a.gate.state, GateState::Clear, "{:#?}", a.gate.reasons);
    let zone = a.spars[0].minimum_zone.clone();
    let (b, turn) = (600.0, std::f64::consts::PI / 180.0);
    near(zone.value, b * libm::fabs(libm::sin(1.1 * turn) - libm::sin(0.9 * turn)) / 2.0, 1e-3);
    let own = libm::sqrt(0.01 * 0.01 / 12.0 + 0.02 * 0.02);
    near(zone.u / (b * own * turn / libm::sqrt(2.0)), 1.0, 0.06);
}

/// A torque is an event, so it has no rounds: the test keeps the rule above from being widened to it by accident.
#[test]
fn events_have_no_datum() {
    for kind in record::PointKind::all() {
        let row = kind.row();
        assert!(!(row.from_a_datum() && row.readings == Readings::ByQuantity), "{}", kind.word());
    }
}
