//! Values questioned before they are recorded: slips, and impossible ones.

use assess::expect::{Round, impossible, move_question, resolution, temperature_question};
use quantity::{Celsius, Kind, Millimetres, Unit, Units, typed};
use record::plan::Plan;
use record::{Asked, Facing, Instrument, Limits, Move, Point, Reading};

const PLAN: &str = r#"format = 1
[wing]
name = "asked"
side = "left"
[tolerance]
station = 0.25
level = 0.15
cross = 0.15
spacing = 1
straightness = 1.5
[[station]]
name = "S1"
span = 200
chord = 1000
incidence = 2.0
[[station]]
name = "S2"
span = 900
chord = 1000
incidence = 1.5
[[station]]
name = "S3"
span = 1700
chord = 1000
incidence = 1.0
[[station]]
name = "S4"
span = 2600
chord = 1000
incidence = 0.4
[[station]]
name = "S5"
span = 3300
chord = 1000
incidence = 0.0
[[station]]
name = "S6"
span = 4000
chord = 1000
incidence = -0.5
[[spar]]
name = "front"
aft_root = 200
[[spar]]
name = "rear"
aft_root = 800
[[post]]
name = "post"
span = 0
foot = [{ name = "foot", aft = -400, travel = 10, screw = { per_turn = 1.5, clockwise = "raises" } }]
[[support]]
name = "tip"
span = 4000
spar = "front"
direction = "up"
travel = 12
screw = { per_turn = 1.25, clockwise = "raises" }
[[bay]]
name = "bay"
a = 800
b = 600
diagonals = ["D1", "D2"]
[shaft]
diameter = 12
[[bush]]
name = "B1"
span = 200
bore = 12.2
[[bush]]
name = "B2"
span = 2000
bore = 12.2
[[bush]]
name = "B3"
span = 4000
bore = 12.2
[[spot]]
name = "bolt"
quantity = "torque"
lower = 5
upper = 8
[[spot]]
name = "gap"
quantity = "length"
upper = 0.5
[[spot]]
name = "edge"
quantity = "length"
lower = 8
[[instrument]]
name = "level"
kind = "inclinometer"
resolution = 0.05
accuracy = 0.1
repeatability = 0.03
range = 45
[[instrument]]
name = "wrench"
kind = "torque-wrench"
resolution = "1 in-lb"
[[instrument]]
name = "tape"
kind = "tape"
resolution = "1/32 in"
"#;

pub fn plan() -> Plan {
    Plan::parse(PLAN).unwrap()
}

pub fn instrument(plan: &Plan, kind: Kind) -> Option<&Instrument> {
    plan.instruments.iter().find(|i| i.kind.quantity() == Some(kind) && i.name != "tape")
}

pub fn reading(plan: &Plan, point: &str, facing: Option<Facing>, value: f64) -> Reading {
    let point: Point = point.parse().unwrap();
    let quantity = plan.quantity_of(&point).unwrap();
    Reading {
        facing: point.kind().reverses().then(|| facing.unwrap_or(Facing::Forward)),
        ..Reading::of(point, quantity, value, if quantity == Kind::Angle { 0.05 } else { 0.01 })
    }
}

/// The question about the last of some readings of one round; all earlier ones are recorded.
fn asked(readings: &[(&str, Facing, f64)]) -> Option<String> {
    asked_in(&plan(), readings)
}

/// The same in another plan.
fn asked_in(plan: &Plan, readings: &[(&str, Facing, f64)]) -> Option<String> {
    let mut round = Round::new(plan);
    let mut last = None;
    for (point, facing, value) in readings {
        let reading = reading(plan, point, Some(*facing), *value);
        last = round.question(&reading, instrument(plan, reading.quantity)).map(|q| q.to_string());
        round.push(&reading);
    }
    last
}

#[test]
fn slips_are_questioned_with_what_was_expected() {
    use Facing::{Aft, Forward};
    let first: [(&str, Facing, f64, &str); 20] = [
        ("incidence@S1", Forward, 260.0, "260° is 258.0° from what S1 forward should show (about +2.0°)"),
        ("incidence@S1", Forward, -2.0, "4.0° from"),
        ("incidence@S1", Aft, 2.0, "S1 aft should show (about -2.0°)"),
        ("cross@post", Forward, 33.0, "about 0.0°"),
        ("level@post", Forward, -33.0, "33.0° from"),
        ("walk@front:S2", Forward, 9.0, "walk@front:S2 forward"),
        ("spacing@S4", Forward, 240.0, "from what spacing@S4 should show (about 2400.0 mm)"),
        ("diagonal@D1", Forward, 100.0, "about 1000.0 mm"),
        ("diagonal@D1", Forward, 10_000.0, "about 1000.0 mm"),
        ("bore@B1", Forward, -12.2, "about 12.2 mm"),
        ("bore@B1", Forward, 122.0, "about 12.2 mm"),
        ("bore@B1", Forward, 11.9, "the shaft does not go through 11.9 mm"),
        ("spot@bolt", Forward, 62.0, "far from its limits, 44.3 in-lb to 70.8 in-lb"),
        ("spot@bolt", Forward, -6.0, "below zero"),
        ("spot@bolt", Forward, 0.6, "far from its limits"),
        ("spot@gap", Forward, 1000.0, "far from its limits, at most 0.5 mm"),
        ("spot@gap", Forward, -0.2, "below zero"),
        ("spot@edge", Forward, 1000.0, "at least 8 mm"),
        ("spot@edge", Forward, 0.9, "at least 8 mm"),
        ("incidence@S6", Aft, -0.5 - 1.2, "S6 aft should show (about +0.5°)"),
    ];
    for (point, facing, value, words) in first {
        let why =
            asked(&[(point, facing, value)]).unwrap_or_else(|| format!("{point} {value} is not asked about"));
        assert!(why.contains(words), "{point} {value}: {why}");
    }
}

/// At every kind of point, a value that no wing has is questioned even if nothing else is known.
#[test]
fn an_impossible_value_is_questioned_at_every_kind_of_point() {
    let mut kinds = std::collections::BTreeSet::new();
    let rigged = Plan::parse(include_str!("../../../../demo-readings/rigged/plan.toml")).unwrap();
    let by_heights = Plan::parse(
        "format = 1\n[aeroplane]\nname = \"a\"\n[[angle]]\nname = \"wing\"\nof = \"rise\"\ndesign = 5.0\nbase = 3000\n",
    );
    for plan in [plan(), rigged, by_heights.unwrap()] {
        for point in plan.points() {
            // A value that is no angle may still be a length, if the plan says that a control's travel is read as a
            // length.
            let as_length = plan.quantity_of(&point) != point.kind().quantity();
            let value = point.kind().row().spoilers.impossible * if as_length { 100.0 } else { 1.0 };
            let why = asked_in(&plan, &[(&point.to_string(), Facing::Forward, value)]);
            assert!(why.is_some(), "{point} {value} is taken in silence");
            kinds.insert(point.kind());
        }
    }
    assert_eq!(kinds.len(), record::PointKind::all().count(), "a kind has no point in the test's plan");
}

#[test]
fn a_value_is_questioned_for_what_it_makes_with_its_neighbours() {
    use Facing::{Aft, Forward};
    // Front heights from the floor, rear heights from a line.
    let heights = [("height@front:S1", Forward, 812.4), ("height@rear:S1", Forward, 61.0)];
    assert!(asked(&heights).unwrap().contains("same datum"));
    // 600 mm apart: 2.0° is 20.9 mm.
    assert_eq!(asked(&[("height@front:S1", Forward, 812.4), ("height@rear:S1", Forward, 791.5)]), None);
    let slipped = [
        ("height@front:S1", Forward, 81.2),
        ("height@front:S2", Forward, 80.9),
        ("height@front:S3", Forward, 806.0),
    ];
    assert!(asked(&slipped).unwrap().contains("about 80.6 mm"), "{:?}", asked(&slipped));
    let offsets = [
        ("offset@front:S1", Forward, 50.2),
        ("offset@front:S2", Forward, 50.4),
        ("offset@front:S3", Forward, 5.03),
    ];
    assert!(asked(&offsets).is_some());
    let bores =
        [("bore-up@B1", Forward, 10.0), ("bore-up@B2", Forward, 10.2), ("bore-up@B3", Forward, 104.0)];
    assert!(asked(&bores).is_some());
    // A zero of 1.0 where the pairs before gave 0.1.
    let pairs = [
        ("incidence@S1", Forward, 2.1),
        ("incidence@S1", Aft, -1.9),
        ("incidence@S2", Aft, -1.4),
        ("incidence@S2", Forward, 1.6),
        ("incidence@S5", Forward, 0.35),
        ("incidence@S5", Aft, 0.35),
    ];
    let why = asked(&pairs).unwrap();
    assert!(why.contains("zero of 0.35°; the pairs before gave +0.10"), "{why}");
    // The display was held: three equal values although the design falls by 1.0°.
    let held =
        [("incidence@S1", Forward, 1.5), ("incidence@S2", Forward, 1.5), ("incidence@S3", Forward, 1.5)];
    assert!(asked(&held).unwrap().contains("third equal value in a row"));
}

/// A wing that sits nose up by 1.5° in its jig is questioned once, not at every station; and a slip that was kept on
/// purpose is not what the next reading is compared with.
#[test]
fn one_answer_is_enough_and_a_kept_slip_is_not_a_neighbour() {
    let plan = plan();
    let level = instrument(&plan, Kind::Angle);
    let mut round = Round::new(&plan);
    let first = reading(&plan, "incidence@S1", None, 3.5);
    assert!(round.question(&first, level).is_some());
    round.push(&first);
    let second = reading(&plan, "incidence@S2", None, 3.0);
    assert!(round.question(&second, level).is_none());

    let mut round = Round::new(&plan);
    let asked = Some(Asked { expected: "about +2.0°".to_owned(), why: "it is far".to_owned() });
    round.push(&Reading { asked, ..reading(&plan, "incidence@S1", None, 20.0) });
    assert!(round.question(&reading(&plan, "incidence@S2", None, 1.5), level).is_none());
    assert!(round.question(&reading(&plan, "incidence@S2", None, 15.0), level).is_some());
}

#[test]
fn a_value_between_the_steps_of_the_display_is_questioned() {
    let plan = plan();
    let of = |text: &str, kind: Kind, name: &str, read_to: Option<f64>| {
        let instrument = plan.instruments.iter().find(|i| i.name == name);
        let bare = instrument.and_then(|i| i.bare_unit(kind));
        let value = bare.map_or_else(|| typed(text, kind), |unit| quantity::typed_in(text, unit)).unwrap();
        let counts = resolution(&value, instrument, read_to);
        (counts.step, counts.off.is_some())
    };
    let thirty_second = 25.4 / 32.0;
    for (text, kind, name, step, off) in [
        ("2", Kind::Angle, "level", 0.05, false),
        ("2.05", Kind::Angle, "level", 0.05, false),
        ("2.050", Kind::Angle, "level", 0.05, false),
        ("0°21'", Kind::Angle, "level", 0.05, false),
        ("1.47", Kind::Angle, "level", 0.05, true),
        ("0°20'", Kind::Angle, "level", 0.05, true),
        ("14", Kind::Length, "tape", thirty_second, false),
        ("14 in", Kind::Length, "tape", thirty_second, false),
        ("5/16 in", Kind::Length, "tape", thirty_second, false),
        ("5/64 in", Kind::Length, "tape", thirty_second, true),
        ("355.6 mm", Kind::Length, "tape", thirty_second, false),
        ("62", Kind::Torque, "wrench", 0.112_984_829_027_616_7, false),
        ("7 N·m", Kind::Torque, "wrench", 0.112_984_829_027_616_7, false),
    ] {
        let (found, asked) = of(text, kind, name, None);
        assert!((found - step).abs() < 1e-12 && asked == off, "{text} with {name}: {found} {asked}");
    }
    assert_eq!(of("1.47", Kind::Angle, "level", Some(0.5)), (0.5, false));
    // A slope on a display of degrees was read in another mode, so the typed digits say how finely.
    let (step, off) = of("6.1 mm/m", Kind::Angle, "level", None);
    assert!(step >= 0.05 && !off);
}

#[test]
fn an_impossible_value_is_refused_sure_or_not() {
    let plan = plan();
    let level = instrument(&plan, Kind::Angle);
    let says = |kind, value, step, with| impossible(kind, value, step, with).map(|why| why.to_string());
    for value in [f64::NAN, f64::INFINITY, -1e308, 360.5] {
        assert!(says(Kind::Angle, value, 0.1, None).is_some(), "{value}");
    }
    for step in [0.0, -0.1, f64::NAN, 1e308] {
        assert!(says(Kind::Angle, 1.0, step, None).is_some(), "{step}");
    }
    let beyond = says(Kind::Angle, 45.1, 0.05, level).unwrap();
    assert_eq!(beyond, "45.1° is beyond the range of `level`, -45° to 45°");
    assert_eq!(says(Kind::Angle, 45.0, 0.05, level), None);
    let one_sided = Instrument { range: Some(Limits::at_least(0.0)), ..level.unwrap().clone() };
    assert!(says(Kind::Angle, -0.05, 0.05, Some(&one_sided)).is_some());
    assert_eq!(says(Kind::Length, 1e5, 0.1, None), None);
}

/// A temperature on the wrong scale is questioned in the plan's units.
#[test]
fn a_temperature_is_questioned_in_the_units_of_the_plan() {
    let asks =
        |part: f64, units: Units| temperature_question(Celsius::new(part), units).map(|q| q.to_string());
    let fahrenheit = Units::default().with(Unit::Fahrenheit);
    assert_eq!(
        asks(70.0, Units::default()).unwrap(),
        "70 °C is an unusual temperature for a part (-15 to 45 °C); degrees Fahrenheit are typed as 70 °F"
    );
    assert_eq!(
        asks((3.0 - 32.0) / 1.8, fahrenheit).unwrap(),
        "3 °F is an unusual temperature for a part (5 to 113 °F); degrees Celsius are typed as 21 °C"
    );
    assert_eq!((asks(-5.0, Units::default()), asks(-5.0, fahrenheit)), (None, None));
}

#[test]
fn moves_stay_inside_the_travel_that_is_left() {
    let plan = plan();
    let asked = |by: f64, earlier: &[f64]| {
        let earlier: Vec<Move> =
            earlier.iter().map(|mm| Move::typed("tip", Millimetres::new(*mm), "")).collect();
        move_question(&plan, "tip", Millimetres::new(by), &earlier).map(|q| q.to_string())
    };
    assert!(asked(250.0, &[]).unwrap().contains("+250.00 mm takes `tip` beyond its travel of 12 mm"));
    assert_eq!(asked(12.0, &[]), None);
    assert!(asked(5.0, &[8.0]).unwrap().contains("+8.00 mm are used"));
    assert_eq!(asked(-20.0, &[8.0]), None);
    assert!(asked(0.0, &[]).is_some());
    assert!(move_question(&plan, "foot", Millimetres::new(15.0), &[]).is_some());
}
