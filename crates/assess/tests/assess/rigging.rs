//! The rigged aeroplane through the whole judgement, compared with published values and with geometry.

use crate::whole::Build;
use assess::view::{Judged, ObligationKind, RigView};
use assess::{Assessment, Chain, Verdict, assess};
use quantity::Celsius;
use record::{Facing, Plan, Point, Reading, What};

const HEAD: &str = "format = 1\n[aeroplane]\nname = \"invented\"\n[rule]\nacceptance = \"simple\"\n";
const TOOLS: &str = r#"
[[instrument]]
name = "level"
kind = "inclinometer"
resolution = 0.01
accuracy = 0.1
repeatability = 0.01
[[instrument]]
name = "tape"
kind = "tape"
resolution = 0.5
accuracy = 1.0
repeatability = 0.2
[[instrument]]
name = "wrench"
kind = "torque-wrench"
resolution = 0.01
accuracy = 0.0
[[instrument]]
name = "tensiometer"
kind = "tensiometer"
resolution = 1.0
accuracy = 0.0
[[stage]]
name = "rigged"
requires = []
"#;

fn plan(of: &str) -> String {
    format!("{HEAD}{of}{TOOLS}")
}

/// A log in which each point shows one value, all in one round.
pub fn log(of: &str, readings: &[(&str, f64)]) -> Build {
    let text = plan(of);
    let plan = Plan::parse(&text).unwrap_or_else(|why| panic!("{why}"));
    let mut build = Build { plan, entries: Vec::new(), round: 1 };
    build.happens(What::Started { plan: text, program: "test".to_owned() });
    build.stage("rigged");
    for (point, value) in readings {
        take(&mut build, point, *value, |_| {});
    }
    build
}

pub fn take(build: &mut Build, point: &str, value: f64, change: impl Fn(&mut Reading)) {
    let point: Point = point.parse().unwrap();
    let facing = point.kind().reverses().then_some(Facing::Forward);
    let mut reading = build.reading(&point, value, facing);
    change(&mut reading);
    build.happens(What::Reading(reading));
}

pub fn judged(build: &Build) -> Assessment {
    assess(&build.plan, &build.entries, &Chain::Whole)
}

pub fn found(a: &Assessment, name: &str) -> Judged {
    let view: &RigView = a.rigging.iter().find(|r| r.name == name).unwrap_or_else(|| {
        panic!(
            "no {name} among {:?}; {:?}",
            a.rigging.iter().map(|r| &r.name).collect::<Vec<_>>(),
            a.unjudged
        )
    });
    view.judged.clone()
}

pub fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} and not {wanted} ± {within}");
}

const TWIST: &str = r#"
[fuselage]
[[angle]]
name = "left"
of = "incidence"
side = "left"
design = 0.0
tolerance = { lower = "-0°20'", upper = "0°40'" }
[[angle]]
name = "right"
of = "incidence"
side = "right"
design = 0.0
tolerance = { lower = "-0°20'", upper = "0°40'" }
[[difference]]
name = "left less right"
of = "rig-incidence@left"
less = "rig-incidence@right"
tolerance = "0°12'"
"#;

/// NAVEDTRA 14018, chapter 9, and 14315, chapter 16: the fuselage shows 1°35', so a wing must show 1°15' to 2°15',
/// and the two wings agree within 0°12'. One naval type: a test of the rule, not a default.
#[test]
fn the_naval_twist_check() {
    for (left, right, wants) in [
        (1.26, 1.26, [Verdict::Within, Verdict::Within, Verdict::Within]),
        (2.24, 2.06, [Verdict::Within, Verdict::Within, Verdict::Within]),
        (1.24, 1.26, [Verdict::Outside, Verdict::Within, Verdict::Within]),
        (2.24, 2.26, [Verdict::Within, Verdict::Outside, Verdict::Within]),
        (2.1, 1.85, [Verdict::Within, Verdict::Within, Verdict::Outside]),
    ] {
        let pitch = 1.0 + 35.0 / 60.0;
        let readings =
            [("pitch@fuselage", pitch), ("rig-incidence@left", left), ("rig-incidence@right", right)];
        let a = judged(&log(TWIST, &readings));
        let names = ["incidence of left", "incidence of right", "difference left less right"];
        let verdicts = names.map(|name| found(&a, name).verdict.unwrap());
        assert_eq!(verdicts, wants, "{left} {right}");
        let kinds = a.gate.obligations.iter().filter(|o| o.kind == ObligationKind::Rigging);
        assert_eq!(kinds.count(), 3);
    }
}

/// The uncertainty of the fuselage's tilt is in every angle, but not in the difference of left and right.
#[test]
fn the_fuselage_cancels_in_left_less_right() {
    let readings = [("rig-incidence@left", 1.5), ("rig-incidence@right", 1.4)];
    let with_tilt = |scatter: f64| {
        let mut build = log(TWIST, &readings);
        take(&mut build, "pitch@fuselage", 1.5, |r| r.scatter = Some(scatter));
        judged(&build)
    };
    let (steady, shaky) = (with_tilt(0.0), with_tilt(0.4));
    let u = |a: &Assessment, name: &str| found(a, name).u;
    assert!(u(&shaky, "incidence of left") > 0.3 && u(&steady, "incidence of left") < 0.05);
    near(u(&shaky, "difference left less right"), u(&steady, "difference left less right"), 1e-12);
    // The level's zero, 0.1/sqrt 3, is in neither: fuselage and wings were read in one round with one level.
    assert!(u(&steady, "difference left less right") < 0.03);
    // Without the fuselage there is no value, and the gate says so.
    let a = judged(&log(TWIST, &readings));
    assert!(a.rigging.iter().all(|r| r.name == "pitch of fuselage" || r.name == "roll of fuselage"));
    let state = |a: &Assessment| a.gate.obligations.iter().map(|o| o.state).max();
    assert!(state(&a) == Some(Verdict::Missing), "{:?}", a.gate.obligations);
}

/// A fuselage rolled by 1 degree, right side up, with wings of 5 degrees and an upright fin.
#[test]
fn roll_counts_the_other_way_on_the_left() {
    let of = r#"
[fuselage]
[[angle]]
name = "left"
of = "dihedral"
side = "left"
design = 5.0
tolerance = 0.25
[[angle]]
name = "right"
of = "dihedral"
side = "right"
design = 5.0
tolerance = 0.25
[[angle]]
name = "fin"
of = "upright"
tolerance = 0.25
"#;
    let readings =
        [("roll@fuselage", 1.0), ("dihedral@left", 4.0), ("dihedral@right", 6.0), ("upright@fin", -1.0)];
    let a = judged(&log(of, &readings));
    for (name, wanted) in [("dihedral of left", 5.0), ("dihedral of right", 5.0), ("lean of fin", 0.0)] {
        near(found(&a, name).value, wanted, 1e-12);
        assert_eq!(found(&a, name).verdict, Some(Verdict::Within), "{name}");
    }
    let no_side = plan(&of.replace("side = \"left\"\n", ""));
    assert!(Plan::parse(&no_side).unwrap_err().to_string().contains("side"), "the sign must be known");
}

/// A hinge swept by 10 degrees, the surface turned by 20 (derived from the geometry, no publisher); the level's zero
/// cancels.
#[test]
fn travel_from_two_readings() {
    let of = "[[control]]\nname = \"aileron\"\nlaid = \"fore-aft\"\nhinge_sweep = 10.0\n\
              up = { lower = 19.9, upper = 20.1 }\ndown = { lower = 18.0, upper = 20.1 }\n";
    let readings =
        [("neutral@aileron", 0.05), ("travel-up@aileron", 19.7197 + 0.05), ("travel-down@aileron", -15.0)];
    let a = judged(&log(of, &readings));
    let up = found(&a, "travel up of aileron");
    near(up.value, 20.0, 2e-3);
    assert!(up.u < 0.03, "{} has no zero of 0.06 in it", up.u);
    assert_eq!(up.verdict, Some(Verdict::Within));
    let down = found(&a, "travel down of aileron");
    assert!(down.value > 15.0 && down.verdict == Some(Verdict::Outside), "one travel short: {down:?}");
    // Without neutral there is no travel.
    let a = judged(&log(of, &readings[1..]));
    assert!(a.rigging.is_empty(), "{:?}", a.rigging);
    let length =
        "[[control]]\nname = \"rudder\"\nby = \"sine\"\nchord = 2000\nup = { lower = 24.0, upper = 26.0 }\n";
    let a = judged(&log(length, &[("travel-up@rudder", 845.2)]));
    near(found(&a, "travel up of rudder").value, 25.0, 4e-3);
    let a = judged(&log(length, &[("travel-up@rudder", 2001.0)]));
    assert!(a.unjudged[0].why.to_string().contains("no travel gives"), "{:?}", a.unjudged);
}

const MARKS: &str = r#"
[[mark]]
name = "tail"
aft = 4300
right = 0
[[mark]]
name = "nose"
aft = -1500
right = 0
[[mark]]
name = "belly"
aft = 1400
right = 0
[[mark]]
name = "L"
aft = 0
right = -4000
[[mark]]
name = "R"
aft = 0
right = 4000
"#;

fn symmetry(pairs: &[&str]) -> String {
    let mut text = MARKS.to_owned();
    for mark in ["tail", "nose", "belly"] {
        for side in ["L", "R"] {
            text += &format!("[[distance]]\nname = \"{mark} {side}\"\nfrom = \"{mark}\"\nto = \"{side}\"\n");
        }
    }
    let pairs: Vec<String> =
        pairs.iter().map(|m| format!("{{ left = \"{m} L\", right = \"{m} R\" }}")).collect();
    text + &format!("[[symmetry]]\nname = \"wing\"\npair = [{}]\nyaw = 0.25\noffset = 10\n", pairs.join(", "))
}

/// Derived, no publisher: the wing turned by 0.3 degrees, a mark 4 right at the tail, 2 left at the nose: 0.35927 degrees.
const TURNED: [(&str, f64); 4] = [
    ("distance@tail L", 5890.852),
    ("distance@tail R", 5854.733),
    ("distance@nose L", 4262.766),
    ("distance@nose R", 4281.219),
];

#[test]
fn a_turned_wing() {
    let a = judged(&log(&symmetry(&["tail", "nose"]), &TURNED));
    let yaw = found(&a, "yaw of wing");
    near(yaw.value, 0.35927, 2e-5);
    assert_eq!(
        (yaw.verdict, found(&a, "offset of wing").verdict),
        (Some(Verdict::Outside), Some(Verdict::Within))
    );
    // The tape's zero, 1/sqrt 3 mm, is the same in all four and almost cancels.
    let own = libm::sqrt(0.5 * 0.5 / 12.0 + 0.2 * 0.2) * libm::sqrt(2.0) / 5800.0;
    assert!(yaw.u < 3.0 * own.to_degrees(), "{}", yaw.u);
}

#[test]
fn one_pair_cannot_tell() {
    let a = judged(&log(&symmetry(&["tail"]), &TURNED[..2]));
    let why = &a.unjudged[0].why;
    assert!(why.to_string().contains("cannot tell a turned wing from a mark off centre"), "{why}");
    let yaw = a.gate.obligations.iter().find(|o| o.about == "yaw of wing").unwrap();
    assert_eq!(yaw.state, Verdict::CannotJudge);
}

#[test]
fn three_distances_that_contradict() {
    let mut readings = TURNED.to_vec();
    // At the belly, with the wing turned so, the difference is 14.9 mm.
    readings.extend([("distance@belly L", 4245.2), ("distance@belly R", 4230.3)]);
    let of = symmetry(&["tail", "nose", "belly"]);
    assert_eq!(found(&judged(&log(&of, &readings)), "yaw of wing").verdict, Some(Verdict::Outside));
    readings[4].1 += 20.0;
    let yaw = found(&judged(&log(&of, &readings)), "yaw of wing");
    assert_eq!(yaw.verdict, Some(Verdict::Doubtful), "{yaw:?}");
    assert!(yaw.decide.unwrap().contains("contradict"));
}

/// US Army TM 1-1500-204-23-9, 7-3: 70 lbf at 85 °F for one cable of that chart; the second row is invented.
#[test]
fn tension_by_the_chart() {
    let of = "[[cable]]\nname = \"rudder\"\nchart = [{ at = \"85 °F\", tension = \"70 lbf\" }, \
              { at = \"45 °F\", tension = \"50 lbf\" }]\ntolerance = \"5 lbf\"\n";
    let pound = 4.448_221_615_260_5;
    let at = |tension: f64, temperature: Option<f64>| {
        let mut build = log(of, &[]);
        take(&mut build, "tension@rudder", tension * pound, |r| {
            r.temperature = temperature.map(Celsius::new)
        });
        judged(&build)
    };
    let warm = (85.0 - 32.0) / 1.8;
    assert_eq!(found(&at(70.0, Some(warm)), "tension of rudder").verdict, Some(Verdict::Within));
    assert_eq!(
        found(&at(60.0, Some((65.0 - 32.0) / 1.8)), "tension of rudder").verdict,
        Some(Verdict::Within)
    );
    assert_eq!(found(&at(60.0, Some(warm)), "tension of rudder").verdict, Some(Verdict::Outside));
    for (temperature, says) in [(None, "no temperature was taken"), (Some(40.0), "its chart goes from")] {
        let a = at(70.0, temperature);
        assert!(a.unjudged[0].why.to_string().contains(says), "{:?}", a.unjudged);
        let tension = a.gate.obligations.iter().find(|o| o.about == "tension of rudder").unwrap();
        assert_eq!(tension.state, Verdict::CannotJudge);
    }
}

/// US Army TM 1-1500-204-23-9, 8-16: a wrench set at 214 with 4 in on 10 in gives 300; FAA AC 43.13-1B, 7-40 d adds drag.
#[test]
fn torque_at_the_nut() {
    let pound = 0.112_984_829_027_616_7;
    let bolt = |rule: &str| {
        format!(
            "[[bolt]]\nname = \"B\"\nlower = \"295 in-lb\"\nupper = \"305 in-lb\"\nlever = \"10 in\"\nextension = \"4 in\"\n{rule}"
        )
    };
    let a = judged(&log(&bolt(""), &[("torque@B", 214.0 * pound)]));
    near(found(&a, "torque of B").value, 299.6 * pound, 1e-9);
    assert_eq!(found(&a, "torque of B").verdict, Some(Verdict::Within));
    let readings = [("drag@B", 30.0 * pound), ("torque@B", 214.0 * pound)];
    let a = judged(&log(&bolt("drag_rule = \"add\"\n"), &readings));
    near(found(&a, "torque of B").value, 269.6 * pound, 1e-9);
    // 30 is below 0.33 of 295: by the other rule it does not count.
    let a = judged(&log(&bolt("drag_rule = \"add-from-third\"\n"), &readings));
    near(found(&a, "torque of B").value, 299.6 * pound, 1e-9);
    let a = judged(&log(&bolt("drag_rule = \"add\"\n"), &readings[1..]));
    assert!(a.rigging.is_empty(), "its drag is missing");
}

/// A length between two plumb lines over their distance: 131.0 mm in 2500 is 3.0 degrees.
#[test]
fn sweep_from_plumb_lines() {
    let of = "[[angle]]\nname = \"left\"\nof = \"sweep\"\nside = \"left\"\ndesign = 3.0\nbase = 2500\ntolerance = 0.2\n";
    let a = judged(&log(of, &[("sweep@left", 131.0)]));
    near(found(&a, "sweep of left").value, 2.9996, 1e-3);
}

const WEIGHED: &str = r#"
[[angle]]
name = "tip upright"
of = "incidence"
design = -0.5
[[angle]]
name = "tip inverted"
of = "incidence"
design = 0.5
[[weight]]
name = "wing"
upright = "rig-incidence@tip upright"
inverted = "rig-incidence@tip inverted"
design = -0.5
built_in = 0.25
sag = 0.3
"#;

/// By definition: a wing built with -0.4 that its weight turns by -0.2 shows -0.6 as it flies; upside down the level
/// shows the built-in twist with the other sign, 0.4, and weight turns it as before, -0.2: 0.2.
#[test]
fn turning_the_wing_over_separates_weight_from_twist() {
    let a =
        judged(&log(WEIGHED, &[("rig-incidence@tip upright", -0.6), ("rig-incidence@tip inverted", 0.2)]));
    near(found(&a, "built-in twist of wing").value, -0.4, 1e-12);
    near(found(&a, "sag of wing").value, -0.2, 1e-12);
    // The level's zero is in the sag, but not in the built-in twist.
    assert!(found(&a, "built-in twist of wing").u < 0.02 && found(&a, "sag of wing").u > 0.05);
    assert_eq!(found(&a, "built-in twist of wing").verdict, Some(Verdict::Within));
}

/// By a frame (two spars, root clamped: 1.65 degrees by 20 kg at 60 mm, 11.77 N·m; computed, no publisher): a couple
/// of 5.884 N·m turns it by half as much.
#[test]
fn a_couple_separates_weight_from_twist() {
    let of = "[[angle]]\nname = \"tip\"\nof = \"incidence\"\ndesign = -2.0\n\
              [[angle]]\nname = \"tip with couple\"\nof = \"incidence\"\ndesign = -3.0\n\
              [[weight]]\nname = \"wing\"\nwithout = \"rig-incidence@tip\"\nwith = \"rig-incidence@tip with couple\"\n\
              couple = 5.884\nown_moment = 11.768\ndesign = -0.5\nbuilt_in = 0.5\nresponse = { lower = -0.9, upper = 0.0 }\n";
    let a = judged(&log(of, &[("rig-incidence@tip", -2.15), ("rig-incidence@tip with couple", -2.975)]));
    near(found(&a, "response of wing").value, -0.825, 1e-9);
    near(found(&a, "sag of wing").value, -1.65, 1e-9);
    near(found(&a, "built-in twist of wing").value, -0.5, 1e-9);
    let verdicts = ["built-in twist of wing", "response of wing"].map(|name| found(&a, name).verdict);
    assert_eq!(verdicts, [Some(Verdict::Within); 2]);
}

const CONTROLS: &str = r#"
[fuselage]
pitch = 2.0
[[control]]
name = "left aileron"
laid = "fore-aft"
hinge_sweep = 3.0
neutral = 0.5
up = { lower = 19, upper = 21 }
[[control]]
name = "right aileron"
laid = "fore-aft"
hinge_sweep = 3.0
up = { lower = 19, upper = 21 }
[[control]]
name = "elevator"
laid = "square"
neutral = { lower = 0.0, upper = 1.0 }
"#;

/// By geometry: a nose that is up by 1 degree puts every trailing edge down by 1.
#[test]
fn a_control_at_neutral() {
    let readings = [
        ("pitch@fuselage", 1.0),
        ("neutral@left aileron", -1.2),
        ("neutral@right aileron", -2.0),
        ("neutral@elevator", -0.5),
    ];
    let a = judged(&log(CONTROLS, &readings));
    for (name, wanted, verdict) in [
        ("left aileron", -0.2, Some(Verdict::Within)),
        // It has no limit: its value is shown, and nothing judges it.
        ("right aileron", -1.0, None),
        ("elevator", 0.5, Some(Verdict::Within)),
    ] {
        let neutral = found(&a, &format!("neutral of {name}"));
        near(neutral.value, wanted, 1e-9);
        assert_eq!(neutral.verdict, verdict, "{name}");
    }
    assert_eq!(found(&a, "neutral of left aileron").probability.map(|p| p > 0.5), Some(true));
    // One that hangs low is outside, and one about which nothing is known holds.
    let low = [("pitch@fuselage", 1.0), ("neutral@left aileron", -1.6)];
    let a = judged(&log(CONTROLS, &low));
    assert_eq!(found(&a, "neutral of left aileron").verdict, Some(Verdict::Outside));
    let of = |a: &Assessment, about: &str| {
        let obligation = a.gate.obligations.iter().find(|o| o.about == about);
        obligation.map(|o| o.state)
    };
    assert_eq!(of(&a, "neutral of left aileron"), Some(Verdict::Outside));
    assert_eq!(of(&a, "neutral of elevator"), Some(Verdict::Missing));
    assert_eq!(of(&a, "neutral of right aileron"), None);
    let a = judged(&log(CONTROLS, &[("neutral@left aileron", -0.2)]));
    assert_eq!(of(&a, "neutral of left aileron"), Some(Verdict::Missing), "no pitch is known");
}

/// If the fuselage's part is not known the plan may have no limit, and a length counts from neutral.
#[test]
fn a_neutral_that_cannot_be_judged_has_no_limit() {
    let refused = |of: &str, why: &str| {
        let text = plan(of);
        let found = Plan::parse(&text).map(|_| ()).unwrap_err().to_string();
        assert!(found.contains(why), "{found}");
    };
    let square = "[[control]]\nname = \"c\"\nlaid = \"square\"\nhinge_sweep = 10\nneutral = 0.5\n";
    refused(&format!("[fuselage]\n{square}"), "roll");
    Plan::parse(&plan(square)).unwrap();
    refused(
        "[[control]]\nname = \"c\"\nby = \"chord\"\nchord = 400\nneutral = 0.5\n",
        "a length counts from neutral",
    );
}

/// A difference that equals its limit except for binary rounding of decimals is on the limit: 2.3 less 2.0 is 0.3,
/// and so is 0.3 less 0.
#[test]
fn a_value_on_its_limit_is_on_neither_side_by_rounding() {
    for (left, right) in [(2.3, 2.0), (0.3, 0.0), (0.1, -0.2), (1.1, 0.8)] {
        let of = TWIST
            .replace("tolerance = \"0°12'\"", "tolerance = 0.3")
            .replace("lower = \"-0°20'\", upper = \"0°40'\"", "lower = -5, upper = 5");
        let readings =
            [("pitch@fuselage", 0.0), ("rig-incidence@left", left), ("rig-incidence@right", right)];
        let a = judged(&log(&of, &readings));
        let difference = found(&a, "difference left less right");
        assert_eq!(difference.verdict, Some(Verdict::Within), "{left} less {right}: {difference:?}");
        assert!(difference.shown().len() < 20, "{}", difference.shown());
        let guarded = of.clone() + TOOLS;
        let plan = Plan::parse(&format!("format = 1\n[aeroplane]\nname = \"a\"\n{guarded}")).unwrap();
        let a = assess(&plan, &log(&of, &readings).entries, &Chain::Whole);
        let decide = found(&a, "difference left less right").decide.unwrap();
        assert!(decide.starts_with("it is on the limit: no measurement"), "{decide}");
    }
}
