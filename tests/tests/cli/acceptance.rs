//! What the twist rule promises, tested through the program: `new`, `stage`, `import`, `check --json`. One row of
//! each kind.
//!
//! The short form requires that the program says what the assessment says of the same wings, number for number.
//! Whether that is true of the wings is tested in the long form, with 300 a row, and for every cell in the room's own
//! tests.

use crate::program::Bench;
use crate::simulated;
use crate::simulated::score::{Share, even};
use crate::simulated::shape::{Kind, Shape};
use crate::simulated::{Dice, Level, PAIRS, SINGLES, plan};
use crate::tables::{Rounds, import};
use crate::wing::Log;
use assess::{Chain, assess};
use record::{Plan, Reading, What};
use serde_json::Value;
use std::collections::BTreeMap;

const FEW: u32 = 3;
const MANY: u32 = 300;
/// Three standard deviations of a share of 0.95 among 300.
const SLACK: f64 = 0.038;

const NONE: Kind = Kind { bow: 0.0, s: 0.0, kink: 0.0, scatter: 0.0, dent: 0.0 };

/// What is done with a wing.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Walk {
    /// One round.
    Once,
    /// One round, and what the check asks for is measured again.
    Asked,
    /// Two rounds.
    Twice,
    /// Two rounds, one station moved by 6 s between them.
    Moved,
}

/// A row of the table.
struct Row {
    name: &'static str,
    kind: Kind,
    level: Level,
    stations: usize,
    ends: (f64, f64),
    /// The tolerance of the stations and the washout error; the setting's is twice that.
    tolerance: Option<f64>,
    walk: Walk,
    /// Puts the washout error exactly on its limit.
    on_the_limit: bool,
    /// What is counted, and the least and the most share of it.
    bounds: &'static [(&'static str, f64, f64)],
}

const PLAIN: Row = Row {
    name: "",
    kind: NONE,
    level: PAIRS,
    stations: 8,
    ends: (0.0, 1.0),
    tolerance: None,
    walk: Walk::Once,
    on_the_limit: false,
    bounds: &[],
};

/// Least coverage of the numbers and of the band.
macro_rules! covers {
    ($numbers:expr, $band:expr) => {
        &[
            ("stations", $numbers, 1.0),
            ("setting", $numbers, 1.0),
            ("washout", $numbers, 1.0),
            ("band", $band, 1.0),
        ]
    };
}

const ROWS: [Row; 14] = [
    Row { name: "straight", bounds: covers!(0.94, 0.94), ..PLAIN },
    Row {
        name: "bow 2, singles",
        kind: Kind { bow: 2.0, ..NONE },
        level: SINGLES,
        bounds: covers!(0.94, 0.935),
        ..PLAIN
    },
    Row { name: "S 2", kind: Kind { s: 2.0, ..NONE }, stations: 12, bounds: covers!(0.94, 0.935), ..PLAIN },
    Row { name: "kink 8", kind: Kind { kink: 8.0, ..NONE }, bounds: covers!(0.94, 0.935), ..PLAIN },
    Row { name: "scatter 2", kind: Kind { scatter: 2.0, ..NONE }, bounds: covers!(0.935, 0.93), ..PLAIN },
    Row {
        name: "washout on its limit",
        kind: Kind { bow: 2.0, ..NONE },
        tolerance: Some(0.25),
        on_the_limit: true,
        bounds: &[("washout within", 0.0, 0.055)],
        ..PLAIN
    },
    Row {
        name: "short, S 2",
        kind: Kind { s: 2.0, ..NONE },
        ends: (0.06, 0.95),
        bounds: covers!(0.93, 0.92),
        ..PLAIN
    },
    Row {
        name: "display 0.1, zero locked",
        level: Level { step: 0.1, seating: 0.02, pairs: true, worse: 1.0, locked: true, flat: true },
        bounds: &[("stations", 0.935, 1.0), ("setting", 0.935, 1.0), ("washout", 0.935, 1.0)],
        ..PLAIN
    },
    Row {
        name: "dent 16 s",
        kind: Kind { dent: 16.0, ..NONE },
        stations: 12,
        walk: Walk::Asked,
        bounds: &[("dent apart", 0.98, 1.0), ("stations", 0.94, 1.0)],
        ..PLAIN
    },
    Row {
        name: "a level 2 times worse",
        level: Level { worse: 2.0, ..PAIRS },
        stations: 12,
        bounds: &[("worse", 0.88, 1.0), ("stations", 0.95, 1.0)],
        ..PLAIN
    },
    Row {
        name: "two rounds",
        walk: Walk::Twice,
        bounds: &[("rounds differ", 0.03, 0.075), ("stations", 0.94, 1.0)],
        ..PLAIN
    },
    Row { name: "two rounds, one moved", walk: Walk::Moved, bounds: &[("stations", 0.95, 1.0)], ..PLAIN },
    Row { name: "good wings", tolerance: Some(0.25), bounds: &[("clear", 0.99, 1.0)], ..PLAIN },
    Row {
        name: "good wings, five",
        tolerance: Some(0.25),
        stations: 5,
        bounds: &[("clear", 0.99, 1.0)],
        ..PLAIN
    },
];

/// The plan of the simulation as a person writes it.
fn text(eta: &[f64], level: &Level, tolerance: Option<f64>) -> String {
    let plan = plan(eta, level, tolerance);
    let mut text = format!(
        "format = 1\n[wing]\nname = \"test wing\"\nside = \"left\"\nattitude = \"chord-level\"\nroot = 0.0\ntip = {:?}\n",
        plan.wing.tip.value()
    );
    if let Some(t) = tolerance {
        text += &format!("[tolerance]\nsetting = {:?}\nwashout = {t:?}\nstation = {t:?}\n", 2.0 * t);
    }
    for s in &plan.stations {
        text += &format!(
            "[[station]]\nname = \"{}\"\nspan = {:?}\nchord = 1400.0\nincidence = {:?}\n",
            s.name,
            s.span.value(),
            s.incidence.value()
        );
    }
    text += "[[spar]]\nname = \"front\"\naft_root = 300\n[[spar]]\nname = \"rear\"\naft_root = 900\n";
    for i in &plan.instruments {
        text += &format!(
            "[[instrument]]\nname = \"{}\"\nkind = \"inclinometer\"\nresolution = {:?}\naccuracy = {:?}\nrepeatability = {:?}\n",
            i.name,
            i.resolution,
            i.accuracy.unwrap(),
            i.repeatability.unwrap()
        );
    }
    text += "[[stage]]\nname = \"ready to skin\"\nrequires = [\"incidence@*\"]\n";
    assert_eq!(Plan::parse(&text).unwrap(), plan, "the plan of the simulation, written");
    text
}

fn readings(log: &Log) -> Vec<Reading> {
    let of = |what: &What| if let What::Reading(r) = what { Some(r.clone()) } else { None };
    log.entries.iter().filter_map(|e| of(&e.what)).collect()
}

/// The log of a row, begun but without readings.
fn begun(row: &Row, eta: &[f64]) -> Bench {
    let bench = Bench::with_plan(&text(eta, &row.level, row.tolerance));
    bench.line("stage wing.jigtrue \"ready to skin\"").expect(0);
    bench.write("empty.jigtrue", bench.read("wing.jigtrue"));
    bench
}

/// What the program says about a wing read like this.
fn check(bench: &Bench, log: &Log) -> Value {
    bench.write("wing.jigtrue", bench.read("empty.jigtrue"));
    import(bench, &readings(log), Rounds::Named).expect(0);
    bench.line("check wing.jigtrue --json").json()
}

/// A wing of the row, walked.
fn walked(row: &Row, plan: &Plan, eta: &[f64], dice: &mut Dice, bench: &Bench) -> (Log, Shape, Value) {
    let all: Vec<usize> = (0..eta.len()).collect();
    let mut shape = Shape::drawn(row.kind, eta, row.level.s(), row.level.flat, dice);
    if let (true, Some(limit)) = (row.on_the_limit, row.tolerance) {
        shape = shape.with_washout(eta, limit);
    }
    if row.tolerance.is_some() && !row.on_the_limit {
        shape = Shape::drawn(row.kind, eta, row.level.s(), true, dice);
        shape.setting = 0.1 * dice.normal();
    }
    let mut log = simulated::begun();
    log.walk(plan, &shape, &row.level, &all, dice);
    let first = match row.walk {
        Walk::Once => check(bench, &log),
        Walk::Asked => {
            let first = check(bench, &log);
            let stations = first["twist"]["stations"].as_array().unwrap();
            let again: Vec<usize> =
                all.iter().copied().filter(|i| stations[*i]["remeasure"] == true).collect();
            if again.is_empty() {
                first
            } else {
                log.walk(plan, &shape, &row.level, &again, dice);
                check(bench, &log)
            }
        }
        Walk::Twice | Walk::Moved => {
            if row.walk == Walk::Moved {
                shape.error[eta.len() / 2] += 6.0 * row.level.s();
            }
            log.walk(plan, &shape, &row.level, &all, dice);
            check(bench, &log)
        }
    };
    (log, shape, first)
}

/// Adds what is to be counted of one wing.
fn count(counts: &mut BTreeMap<&'static str, Share>, a: &Value, shape: &Shape) {
    let mut add = |what: &'static str, yes: bool| counts.entry(what).or_default().add(yes);
    let twist = &a["twist"];
    let inside = |low: &Value, high: &Value, truth: f64| matches!((low.as_f64(), high.as_f64()), (Some(low), Some(high)) if low <= truth && truth <= high);
    let stations = twist["stations"].as_array().unwrap();
    for (s, truth) in stations.iter().zip(&shape.error) {
        add("stations", inside(&s["lower95_deg"], &s["upper95_deg"], *truth));
    }
    let part = |p: &Value, truth| inside(&p["lower95"], &p["upper95"], truth);
    add("setting", part(&twist["setting"], shape.setting));
    add("washout", part(&twist["washout_error"], shape.smooth(1.0)));
    add("washout within", twist["washout_error"]["verdict"] == "within");
    let band = twist["band"].as_array().unwrap();
    let held = band.iter().all(|b| {
        let truth = shape.smooth(b["span_mm"].as_f64().unwrap() / simulated::SPAN_MM);
        (b["fit_deg"].as_f64().unwrap() - truth).abs() <= b["simultaneous_deg"].as_f64().unwrap() + 1e-12
    });
    add("band", !band.is_empty() && held);
    let dent = &stations[stations.len() / 2];
    add("dent apart", dent["stands_out"] == true && dent["remeasure"] == false);
    let tests = twist["tests"].as_array().unwrap();
    let worse = tests.iter().find(|t| t["kind"] == "instrument");
    add("worse", worse.is_some_and(|t| t["p"].as_f64().unwrap() < 0.05));
    add("rounds differ", twist["rounds"].as_u64() == Some(1));
    add("clear", a["gate"]["state"] == "clear");
}

/// The program's numbers are the assessment's of the same log.
fn same(row: &Row, a: &Value, log: &Log, plan: &Plan) {
    let library = assess(plan, &log.entries, &Chain::Whole).twist.unwrap();
    let near = |found: &Value, wanted: f64| {
        let found = found.as_f64().unwrap();
        assert!((found - wanted).abs() < 1e-12, "{}: {found}, not {wanted}", row.name);
    };
    for (found, wanted) in a["twist"]["stations"].as_array().unwrap().iter().zip(&library.stations) {
        near(&found["twist_error_deg"], wanted.twist_error_deg.unwrap());
        near(&found["u_deg"], wanted.u_deg.unwrap());
    }
    for (found, wanted) in [("setting", &library.setting), ("washout_error", &library.washout_error)] {
        near(&a["twist"][found]["value"], wanted.judged().unwrap().value);
        near(&a["twist"][found]["u"], wanted.judged().unwrap().u);
    }
    assert_eq!(a["twist"]["rounds"].as_u64(), u64::try_from(library.rounds).ok(), "{}", row.name);
    assert_eq!(a["twist"]["band"].as_array().unwrap().len(), library.band.len());
}

fn row(row: &Row, wings: u32, slack: Option<f64>) -> Vec<String> {
    let eta = even(row.stations, row.ends.0, row.ends.1);
    let plan = plan(&eta, &row.level, row.tolerance);
    let bench = begun(row, &eta);
    let mut dice = Dice::new(4001 + u64::from(row.name.as_bytes()[0]) + row.name.len() as u64);
    let mut counts = BTreeMap::new();
    for _ in 0..wings {
        let (log, shape, a) = walked(row, &plan, &eta, &mut dice, &bench);
        same(row, &a, &log, &plan);
        count(&mut counts, &a, &shape);
    }
    let Some(slack) = slack else { return Vec::new() };
    let mut misses = Vec::new();
    for (what, least, most) in row.bounds {
        let share = counts[what].value();
        println!("{:26} {what:16} {share:.4} ({least} to {most})", row.name);
        if share < least - slack || share > most + slack {
            misses.push(format!("{}: {what} {share:.4}, {least} to {most}", row.name));
        }
    }
    misses
}

#[test]
fn the_program_says_of_simulated_wings_what_the_assessment_says() {
    std::thread::scope(|threads| {
        for half in ROWS.chunks(ROWS.len().div_ceil(2)) {
            threads.spawn(move || half.iter().for_each(|r| drop(row(r, FEW, None))));
        }
    });
}

#[test]
#[ignore = "the long run"]
fn one_row_of_each_kind_is_kept_through_the_program_over_300_wings() {
    let misses: Vec<String> = ROWS.iter().flat_map(|r| row(r, MANY, Some(SLACK))).collect();
    assert!(misses.is_empty(), "{} miss:\n{}", misses.len(), misses.join("\n"));
}
