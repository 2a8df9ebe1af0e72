//! The effect of a tensiometer's own table and a tape's pull on the judgement; left against right; distances that
//! check each other.

use crate::rigging::{found, judged, log, near, take};
use crate::whole::Build;
use assess::view::RigPair;
use assess::{Assessment, Verdict};
use quantity::{Celsius, InstrumentKind};
use record::{Dial, DialRow, DialTable, Instrument, Reading, TapeFacts, What};

const POUND: f64 = 4.448_221_615_260_5;

fn tensiometer(rows: &[(f64, f64)]) -> Instrument {
    let rows = rows.iter().map(|(dial, pounds)| DialRow { dial: *dial, force: pounds * POUND }).collect();
    Instrument {
        tables: vec![DialTable {
            cable: "3/16".to_owned(),
            riser: Some("2".to_owned()),
            accuracy: Some(2.0 * POUND),
            rows,
        }],
        ..tool("dial", InstrumentKind::Tensiometer)
    }
}

fn tool(name: &str, kind: InstrumentKind) -> Instrument {
    Instrument { accuracy: Some(1.0), ..Instrument::of(name, kind, 1.0) }
}

fn dial(build: &mut Build, shown: f64) {
    take(build, "tension@rudder", 1.0, |r: &mut Reading| {
        r.instrument = Some("dial".to_owned());
        r.dial = Some(Dial { shown, step: 1.0 });
        r.text = shown.to_string();
        r.temperature = Some(Celsius::new(20.0));
    });
}

fn tension(cable: &str, rows: &[(f64, f64)], shown: f64) -> Assessment {
    let mut build = log(cable, &[]);
    build.happens(What::Instrument(tensiometer(rows)));
    dial(&mut build, shown);
    judged(&build)
}

const RUDDER: &str =
    "[[cable]]\nname = \"rudder\"\nsize = \"3/16\"\nlower = \"60 lbf\"\nupper = \"80 lbf\"\n";

/// The same dial, riser and cable: 48 is 70 lb by the table of US Army TM 1-1500-204-23-9, figure 7-6, and 100 lb by that of NAVEDTRA
/// 14018, figure 9-23. A table belongs to one instrument. The rows beside are invented.
#[test]
fn a_table_belongs_to_one_instrument() {
    for (pounds, verdict) in [(70.0, Verdict::Within), (100.0, Verdict::Outside)] {
        let a = tension(RUDDER, &[(40.0, pounds - 16.0), (48.0, pounds), (56.0, pounds + 16.0)], 48.0);
        let judged = found(&a, "tension of rudder");
        near(judged.value, pounds * POUND, 1e-9);
        assert_eq!(judged.verdict, Some(verdict));
        // Step, accuracy and the table's own limit, the first two by the slope of 2 lb a division.
        let u = libm::sqrt(4.0 / 12.0 + 4.0 / 3.0 + 4.0 / 3.0) * POUND;
        near(judged.u, u, 1e-9);
    }
}

#[test]
fn outside_its_table_there_is_no_value() {
    let rows = [(40.0, 54.0), (48.0, 70.0)];
    for (cable, rows, shown, says) in [
        (RUDDER.to_owned(), &rows[..], 39.0, "goes from 40 to 48"),
        (RUDDER.to_owned(), &rows[..], 48.1, "goes from 40 to 48"),
        (RUDDER.to_owned(), &rows[..], f64::NAN, "another value than its text"),
        (RUDDER.replace("3/16", "1/8"), &rows[..], 45.0, "no table, or more than one, for `1/8`"),
        (RUDDER.replace("size = \"3/16\"\n", ""), &rows[..], 45.0, "does not give the size"),
        (RUDDER.replace("\nlower", "\nriser = \"3\"\nlower"), &rows[..], 45.0, "3/16, riser 3"),
        (RUDDER.to_owned(), &[(40.0, 54.0), (48.0, 50.0)][..], 45.0, "goes from"),
    ] {
        let a = tension(&cable, rows, shown);
        let owed = a.gate.obligations.iter().find(|o| o.about == "tension of rudder").unwrap();
        assert_eq!(owed.state, Verdict::CannotJudge, "{shown} {owed:?}");
        assert!(owed.words.contains(says), "{says}: {}", owed.words);
    }
    // A force of an instrument that shows divisions is not what it showed.
    let mut build = log(RUDDER, &[]);
    build.happens(What::Instrument(tensiometer(&rows)));
    take(&mut build, "tension@rudder", 70.0 * POUND, |r| r.instrument = Some("dial".to_owned()));
    let owed = judged(&build).gate.obligations.into_iter().find(|o| o.about == "tension of rudder").unwrap();
    assert_eq!(owed.state, Verdict::CannotJudge, "{owed:?}");
}

/// The chart's tension changes by 1 lbf a kelvin here, so 3 K of doubt are 3/sqrt 3 lbf besides the tensiometer's
/// own.
#[test]
fn a_chart_is_as_good_as_the_temperature() {
    let of = |within: &str| {
        format!(
            "[[cable]]\nname = \"rudder\"\nchart = [{{ at = \"0 °C\", tension = \"40 lbf\" }}, {{ at = \"40 °C\", tension = \"80 lbf\" }}]\n\
             tolerance = \"5 lbf\"\n{within}"
        )
    };
    let at = |within: &str| {
        let mut build = log(&of(within), &[]);
        take(&mut build, "tension@rudder", 60.0 * POUND, |r| r.temperature = Some(Celsius::new(20.0)));
        found(&judged(&build), "tension of rudder").u
    };
    let (sure, unsure) = (at(""), at("temperature_within = 3\n"));
    near(libm::sqrt(unsure * unsure - sure * sure), libm::sqrt(3.0) * POUND, 1e-9);
}

fn distances(held: &str) -> String {
    let mark = |name: &str, aft: f64, right: f64| {
        format!("[[mark]]\nname = \"{name}\"\naft = {aft}\nright = {right}\n")
    };
    let distance = |side: &str| {
        format!(
            "[[distance]]\nname = \"{side}\"\nfrom = \"tail\"\nto = \"{side} tip\"\ntolerance = 5\n{held}"
        )
    };
    [
        mark("tail", 3000.0, 0.0),
        mark("left tip", 0.0, -4000.0),
        mark("right tip", 0.0, 4000.0),
        distance("left"),
        distance("right"),
        "[[difference]]\nname = \"left less right\"\nof = \"distance@left\"\nless = \"distance@right\"\ntolerance = 2\n".to_owned(),
    ]
    .concat()
}

fn taped(held: &str, tape: Option<TapeFacts>) -> Assessment {
    let mut build = log(&distances(held), &[]);
    let accuracy = Some(0.5);
    build.happens(What::Instrument(Instrument { accuracy, tape, ..tool("long tape", InstrumentKind::Tape) }));
    for (side, value) in [("left", 5001.0), ("right", 5000.0)] {
        take(&mut build, &format!("distance@{side}"), value, |r| r.instrument = Some("long tape".to_owned()));
    }
    judged(&build)
}

const STEEL: TapeFacts =
    TapeFacts { pull: 50.0, mass: Some(20.0), section: Some(2.6), modulus: Some(205_000.0) };

/// By the standard formulas: 5000 mm at 22.24 N hang by -w²L³/24P² = -0.4051 mm and are stretched by (22.24 - 50) L / AE = -0.2604 mm less.
#[test]
fn a_hanging_tape_reads_too_long() {
    let held = "pull = \"22.24 N\"\npull_within = \"5 N\"\nspans = 1\n";
    let (bare, a) = (taped("", None), taped(held, Some(STEEL)));
    let of = |a: &Assessment| found(a, "distance of right");
    near(of(&a).value - of(&bare).value, -0.4051 - 0.2604, 2e-4);
    // The unknown part of the pull is one error for both sides: left against right almost loses it.
    let alone = libm::sqrt(of(&a).u * of(&a).u - of(&bare).u * of(&bare).u);
    assert!(alone > 0.1 && alone < 0.3, "{alone}");
    let pair =
        |a: &Assessment| -> RigPair { a.rig_pairs.iter().find(|p| p.name == "distance of").unwrap().clone() };
    let (with, without) = (pair(&a).difference.unwrap(), pair(&bare).difference.unwrap());
    near(with.value, 1.0, 1e-3);
    near(with.u, without.u, 1e-4);
    assert_eq!((with.lower, with.upper), (Some(-2.0), Some(2.0)));
    assert_eq!(found(&a, "difference left less right").value, with.value);
    // Held in four spans it hangs by a sixteenth.
    let four = taped("pull = \"22.24 N\"\nspans = 4\n", Some(STEEL));
    near(of(&four).value - of(&bare).value, -0.4051 / 16.0 - 0.2604, 2e-4);
}

#[test]
fn a_tape_about_which_too_little_is_known_holds() {
    let held = "pull = \"50 N\"\nspans = 1\n";
    for (tape, says) in [
        (None, "the tape's own pull is unknown"),
        (Some(TapeFacts { mass: None, ..STEEL }), "mass is unknown"),
        (Some(TapeFacts { section: None, modulus: None, ..STEEL }), "section and modulus are unknown"),
        (Some(TapeFacts { mass: Some(2000.0), ..STEEL }), "more than a hundredth"),
        (Some(TapeFacts { mass: Some(f64::NAN), ..STEEL }), "more than a hundredth"),
    ] {
        let a = taped(held, tape);
        let owed = a.gate.obligations.iter().find(|o| o.about == "distance of left").unwrap();
        assert_eq!(owed.state, Verdict::CannotJudge, "{says}: {owed:?}");
        assert!(owed.words.contains(says), "{says}: {}", owed.words);
    }
}
