//! Clear wings, spoilt in one way through the program's own ways in: `new`, `take`, `import`, `listen`. Whatever is
//! let in, the obligation it would prove is not met and the gate holds, with a reason.

use crate::program::{Bench, Ran};
use crate::tables::{HEAD, Rounds, import, row};
use crate::whole::{Build, Way, plan_text};
#[cfg(unix)]
use numerics::rng::Rng;
use record::point::{Design, DisturbedBy, Judgement, Readings};
use record::{Facing, Plan, Point, PointKind, Reading};
use serde_json::Value;
use std::collections::BTreeSet;

const SEED: u64 = 7;

/// What a careful builder reads at these points.
pub fn good(plan: &Plan, way: Way, points: &[Point]) -> Vec<Reading> {
    let build = Build { plan: plan.clone(), ..Build::new(way) };
    let mut rng = Rng::new(SEED);
    points.iter().flat_map(|p| build.readings(p, &mut rng)).collect()
}

/// The wing built up to its closing stage, with everything read there except these points.
fn almost(way: Way, without: &[Point]) -> Bench {
    let text = plan_text(way);
    let plan = Plan::parse(&text).unwrap();
    let bench = Bench::with_plan(&text);
    bench.line("stage wing.jigtrue jig").expect(0);
    let read = |stage: &str| {
        let of = &plan.stage(stage).unwrap().requires;
        let mut rest = good(&plan, way, of);
        rest.retain(|r| !without.contains(&r.point));
        if !rest.is_empty() {
            import(&bench, &rest, Rounds::Left).expect(0);
        }
    };
    read("jig");
    bench.line("open-item wing.jigtrue brace --close --reason tightened").expect(0);
    bench.line("stage wing.jigtrue close --anyway \"what is left is read at the end\"").expect(0);
    read("close");
    bench
}

fn copy(bench: &Bench) -> Bench {
    let other = Bench::new();
    other.write("wing.jigtrue", bench.read("wing.jigtrue"));
    other
}

/// Kind and name of the obligation for which a point is evidence.
fn obligation(plan: &Plan, point: &Point) -> (&'static str, String) {
    let place = point.place().to_owned();
    match point.kind().row().judgement {
        Judgement::Level => ("level", place),
        Judgement::Cross => ("cross", place),
        Judgement::Square => ("square", plan.bays[0].name.clone()),
        Judgement::Spacing => ("spacing", place),
        Judgement::Straightness => ("straightness", point.spar().unwrap().to_owned()),
        Judgement::Twist => ("station", place),
        Judgement::Clearance => ("clearance", plan.shaft.as_ref().unwrap().name.clone()),
        Judgement::Rigging => {
            let checks = plan.rig_checks();
            let of = checks.iter().find(|c| c.has_limits() && c.points.contains(point));
            ("rigging", of.unwrap().name.clone())
        }
        Judgement::OwnLimits => ("spot", place),
    }
}

/// Points of every kind, as many to a wing as prove different things.
fn groups() -> Vec<(Way, Vec<Point>)> {
    let mut left: BTreeSet<PointKind> = PointKind::all().collect();
    let mut out: Vec<(Way, Vec<Point>)> = Vec::new();
    while !left.is_empty() {
        let before = left.len();
        for way in Way::ALL {
            let plan = Plan::parse(&plan_text(way)).unwrap();
            let mut taken = BTreeSet::new();
            let mut group = Vec::new();
            for point in plan.closing_stage().unwrap().requires.iter().rev() {
                // The root datum has no distance from itself.
                let datum =
                    point.kind().row().design == Design::Distance && plan.design_of(point) == Some(0.0);
                if !datum && left.contains(&point.kind()) && taken.insert(obligation(&plan, point)) {
                    left.remove(&point.kind());
                    group.push(point.clone());
                }
            }
            if !group.is_empty() {
                out.push((way, group));
            }
        }
        assert!(left.len() < before, "no wing asks for {left:?}");
    }
    out
}

/// By which way a reading comes in.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Door {
    Take,
    Import,
}

/// A reading as somebody gives it.
#[derive(Clone, Debug)]
struct Given {
    reading: Reading,
    value: String,
    temperature: &'static str,
    read_to: &'static str,
    new_round: bool,
}

impl Given {
    fn of(reading: &Reading) -> Self {
        let value = reading.text.clone();
        Self { reading: reading.clone(), value, temperature: "", read_to: "", new_round: false }
    }

    /// Enters it, confirmed if it is questioned. What is refused stays out.
    fn put(&self, bench: &Bench, door: Door) -> Ran {
        let first = self.once(bench, door, false);
        if first.code != 0 && (first.err.contains("--sure") || first.err.contains("column `sure`")) {
            return self.once(bench, door, true);
        }
        first
    }

    fn once(&self, bench: &Bench, door: Door, sure: bool) -> Ran {
        let r = &self.reading;
        match door {
            Door::Take => {
                let point = r.point.to_string();
                let mut args = vec!["take", "wing.jigtrue", &point, &self.value];
                let facing = r.facing.map(Facing::word);
                facing.iter().for_each(|f| args.extend(["--facing", f]));
                r.instrument.iter().for_each(|name| args.extend(["--instrument", name.as_str()]));
                for (option, value) in [("--temp", self.temperature), ("--read-to", self.read_to)] {
                    if !value.is_empty() {
                        args.extend([option, value]);
                    }
                }
                args.extend(self.new_round.then_some("--new-round"));
                args.extend(sure.then_some("--sure"));
                bench.run(&args)
            }
            Door::Import => {
                let sure = if sure { "yes" } else { "" };
                let round = if self.new_round { "99" } else { "" };
                let more = format!("{sure},{},{},{round}", self.temperature, self.read_to);
                bench.write("one.csv", HEAD.to_owned() + &row(r, &self.value, &more));
                bench.line("import wing.jigtrue one.csv")
            }
        }
    }
}

/// What is done to one point instead of reading it well; false if it does not apply to its kind.
type Spoil = fn(&Bench, Door, &Point, &[Reading]) -> bool;

fn all(bench: &Bench, door: Door, readings: &[Reading], change: impl Fn(&mut Given)) -> bool {
    for reading in readings {
        let mut given = Given::of(reading);
        change(&mut given);
        given.put(bench, door);
    }
    true
}

fn entries_of(bench: &Bench, point: &Point) -> Vec<u64> {
    let out = bench.line("export wing.jigtrue --format jsonl").expect(0).out;
    let lines = out.lines().map(|l| serde_json::from_str::<Value>(l).unwrap());
    let of = |l: &Value| l["kind"] == "reading" && l["body"]["point"] == point.to_string();
    lines.filter(of).map(|l| l["seq"].as_u64().unwrap()).collect()
}

/// A value of the same instrument that cannot belong to the same thing.
fn apart(reading: &Reading) -> f64 {
    reading.value + reading.facing.map_or(1.0, Facing::sign) * reading.point.kind().row().spoilers.apart
}

const SPOILS: [(&str, Spoil); 18] = [
    ("missing", |_, _, _, _| true),
    ("impossible", |b, d, p, good| {
        all(b, d, good, |g| g.value = p.kind().row().spoilers.impossible.to_string())
    }),
    ("huge", |b, d, _, good| all(b, d, good, |g| g.value = "1e300".to_owned())),
    ("minus huge", |b, d, _, good| all(b, d, good, |g| g.value = "-1e300".to_owned())),
    ("infinite", |b, d, _, good| all(b, d, good, |g| g.value = "inf".to_owned())),
    ("not a number", |b, d, _, good| all(b, d, good, |g| g.value = "nan".to_owned())),
    ("empty", |b, d, _, good| all(b, d, good, |g| g.value = String::new())),
    ("another quantity", |b, d, _, good| all(b, d, good, |g| g.value = "21 °C".to_owned())),
    ("read far too coarsely", |b, d, _, good| all(b, d, good, |g| g.read_to = "80")),
    ("at a temperature of no part", |b, d, _, good| all(b, d, good, |g| g.temperature = "1e308")),
    ("at a hot temperature", |b, d, _, good| all(b, d, good, |g| g.temperature = "900")),
    ("unknown instrument", |b, d, _, good| {
        all(b, d, good, |g| g.reading.instrument = Some("borrowed".to_owned()))
    }),
    ("another sort of instrument", |b, d, _, good| {
        let other = |name: &str| if name == "wrench" { "level" } else { "wrench" };
        all(b, d, good, |g| {
            g.reading.instrument = g.reading.instrument.as_deref().map(|i| other(i).to_owned())
        })
    }),
    ("withdrawn", |b, d, p, good| {
        all(b, d, good, |_| ());
        for seq in entries_of(b, p).into_iter().rev().take(good.len()) {
            b.line(&format!("withdraw wing.jigtrue {seq} --reason misread")).expect(0);
        }
        true
    }),
    ("reworked", |b, d, p, good| {
        all(b, d, good, |_| ());
        b.line(&format!("rework wing.jigtrue \"{p}\" --what \"done again\"")).expect(0);
        true
    }),
    ("stale by a foot", |b, d, p, good| {
        if p.kind().row().disturbed_by == DisturbedBy::Nothing {
            return false;
        }
        all(b, d, good, |_| ());
        b.line("move wing.jigtrue \"root foot\" \"1 mm\"").expect(0);
        true
    }),
    ("contradictory", |b, d, _, good| {
        all(b, d, good, |_| ());
        all(b, d, good, |g| g.value = apart(&g.reading).to_string())
    }),
    ("two rounds that contradict", |b, d, p, good| {
        all(b, d, good, |_| ());
        let of = |i: usize, g: &mut Given| {
            g.value = apart(&g.reading).to_string();
            g.new_round = i == 0 || d == Door::Import;
        };
        for (i, reading) in good.iter().enumerate() {
            let mut given = Given::of(reading);
            of(i, &mut given);
            given.put(b, d);
        }
        // A second torque is a new state, and the last one counts.
        p.kind().row().readings == Readings::OfOneState
    }),
];

/// Asserts that the gate holds with a reason, and returns its obligations.
pub fn holds(bench: &Bench, how: &str) -> Vec<Value> {
    let ran = bench.line("check wing.jigtrue --json");
    assert!(matches!(ran.code, 10 | 11), "{how}: exit {}\n{}", ran.code, ran.err);
    let a = ran.json();
    assert_eq!(a["gate"]["state"], "hold", "{how}");
    let reasons = a["gate"]["reasons"].as_array().unwrap();
    assert!(!reasons.is_empty(), "{how}: no reason");
    let words = |r: &Value| r["words"].as_str().is_some_and(|w| w.len() > 8 && !w.contains("NaN"));
    assert!(reasons.iter().all(words), "{how}: {reasons:#?}");
    a["gate"]["obligations"].as_array().unwrap().clone()
}

/// One wing for each way of spoiling it, with a point of every kind spoilt, half by `take` and half by `import`.
#[test]
fn whatever_is_entered_proves_nothing_it_should_not() {
    std::thread::scope(|threads| {
        for (way, points) in groups() {
            threads.spawn(move || spoilt(way, &points));
        }
    });
}

fn spoilt(way: Way, points: &[Point]) {
    let plan = Plan::parse(&plan_text(way)).unwrap();
    let base = almost(way, points);
    let good = |p: &Point| -> Vec<Reading> {
        let all = good(&plan, way, &plan.closing_stage().unwrap().requires);
        all.into_iter().filter(|r| r.point == *p).collect()
    };
    let door = |i: usize| if i.is_multiple_of(2) { Door::Take } else { Door::Import };
    // The reverse: read well by either way, the same wing is clear.
    for turn in 0..2 {
        let bench = copy(&base);
        for (i, point) in points.iter().enumerate() {
            for reading in good(point) {
                let ran = Given::of(&reading).once(&bench, door(i + turn), false);
                assert_eq!(ran.code, 0, "{point} {}: {}{}", reading.text, ran.out, ran.err);
            }
        }
        let ran = bench.line("check wing.jigtrue");
        assert_eq!(ran.code, 0, "{way:?}: a good wing is not clear\n{}", ran.out);
    }
    for (turn, (name, spoil)) in SPOILS.into_iter().enumerate() {
        let bench = copy(&base);
        let done: Vec<&Point> = points
            .iter()
            .enumerate()
            .filter(|(i, point)| spoil(&bench, door(i + turn), point, &good(point)))
            .map(|(_, point)| point)
            .collect();
        if done.is_empty() {
            continue;
        }
        let found = holds(&bench, name);
        for point in done {
            let (kind, about) = obligation(&plan, point);
            let o = found.iter().find(|o| o["kind"] == kind && o["about"] == about.as_str());
            let o = o.unwrap_or_else(|| panic!("{name}: {kind} {about} is not on the list"));
            assert_ne!(o["state"], "met", "{name}: {point}: {}", o["words"]);
        }
    }
}

/// Ways of spoiling that an instrument sends, one listening program for each kind, all at once.
#[cfg(unix)]
#[test]
fn whatever_a_port_sends_proves_nothing_it_should_not() {
    use crate::board::{Board, Measures};
    use crate::listening::Listening;
    use instrument::InstrumentFile;

    let file = |name: &str, kind: &str, line: &str, axis: &str| {
        format!(
            "name = \"{name}\"\nkind = \"{kind}\"\nresolution = 0.02\naccuracy = 0.02\nrepeatability = 0.01\n\
             checked = 2030-01-01\ndue = 2031-01-01\n[port]\nbaud = 9600\n[dialect]\nspeaks = \"lines\"\nline = \"{line}\"\n\
             [axes]\n{axis}\n[settle]\nhold_ms = 400\n"
        )
    };
    let level = file(
        "level",
        "inclinometer",
        "X={angle deg .2},Y={cross deg .2}",
        "measures = \"angle\"\npositive = \"arrow end up\"",
    );
    let gauge = file("gauge", "caliper", "D={length mm .2}", "measures = \"length\"");
    std::thread::scope(|threads| {
        for (way, points) in groups() {
            for point in points {
                let quantity = Plan::parse(&plan_text(way)).unwrap().quantity_of(&point).unwrap();
                let (measures, file) = match quantity {
                    quantity::Kind::Angle => (Measures::Angles, level.clone()),
                    quantity::Kind::Length => (Measures::Length, gauge.clone()),
                    quantity::Kind::Torque | quantity::Kind::Force | quantity::Kind::Temperature => continue,
                };
                threads.spawn(move || {
                    let plan = Plan::parse(&plan_text(way)).unwrap();
                    let bench = almost(way, std::slice::from_ref(&point));
                    bench.write("gauge.toml", &file);
                    let spec = InstrumentFile::read(&file).unwrap().dialect;
                    let spoilt = point.kind().row().spoilers.impossible;
                    let _board = Board::that(measures, &bench.path("port"), spec, spoilt);
                    let name = point.to_string();
                    let args = [
                        "listen",
                        "wing.jigtrue",
                        "--port",
                        "port",
                        "--instrument",
                        "gauge.toml",
                        "--point",
                        &name,
                    ];
                    let mut program = Listening::start(&bench, &args);
                    program.until("settled at");
                    // Refused, or questioned and then confirmed; in both facings if it has two.
                    for _ in 0..4 {
                        program.tries("");
                        std::thread::sleep(std::time::Duration::from_millis(200));
                        program.tries("!");
                        std::thread::sleep(std::time::Duration::from_millis(200));
                    }
                    program.tries("q");
                    program.ends();
                    let taken = program.last_words().iter().any(|l| l.contains("kept on purpose"));
                    assert!(
                        taken,
                        "{name} {spoilt} was not taken even on purpose: {:#?}",
                        program.last_words()
                    );
                    let found = holds(&bench, &format!("{name} shows {spoilt}"));
                    let (kind, about) = obligation(&plan, &point);
                    let o = found.iter().find(|o| o["kind"] == kind && o["about"] == about.as_str()).unwrap();
                    assert_ne!(o["state"], "met", "{name}: {}", o["words"]);
                });
            }
        }
    });
}
