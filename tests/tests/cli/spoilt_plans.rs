//! Plans that leave out what they should say: refused by `new`, or the gate holds.

use crate::program::Bench;
use crate::spoilt::{good, holds};
use crate::tables::{Rounds, import};
use crate::whole::{Way, plan_text};
use record::Plan;

/// A change of the plan's text: what is replaced, and by what.
struct Change {
    from: &'static str,
    to: &'static str,
}

const fn change(from: &'static str, to: &'static str) -> Change {
    Change { from, to }
}

/// Plans under which nothing can be proven, or that require nothing: refused by `new`, or never clear however well
/// the wing is read.
#[test]
fn a_plan_that_requires_nothing_is_refused_or_holds() {
    let sound = plan_text(Way::Angles);
    let mut plans: Vec<(String, String)> = Vec::new();
    for key in [
        "setting = 0.5",
        "washout = 0.3",
        "station = 0.3",
        "neighbour = 0.4",
        "straightness = 1.5",
        "level = 0.15",
        "cross = 0.15",
        "square = 0.2",
        "spacing = 2.0",
        "clearance = 0.05",
        "upper = 11.0",
    ] {
        let name = key.split(" = ").next().unwrap();
        for value in
            ["nan", "inf", "-inf", "1e308", "-1.0", "0", "\"\"", "\"9 N·m m\"", "true", "[]", "1e-320"]
        {
            // A clearance of zero is a limit; so is no lower limit on a bolt.
            if !(name == "clearance" && value == "0") {
                plans.push((
                    format!("{name} = {value}"),
                    sound.replacen(key, &format!("{name} = {value}"), 1),
                ));
            }
        }
    }
    for change in [
        change("resolution = 0.02", "resolution = 0"),
        change("resolution = 0.02", "resolution = -0.02"),
        change("resolution = 0.02", "resolution = 1e308"),
        change("resolution = 0.02", "resolution = nan"),
        change("repeatability = 0.01", "repeatability = 1e200"),
        change("repeatability = 0.01", "repeatability = -1"),
        change("accuracy = 0.02", "accuracy = inf"),
        change("due = \"2031-01-01\"", "due = \"2020-01-01\""),
        change("name = \"S2\"", "name = \"S1\""),
        change("span = 500.0", "span = 0.0"),
        change("span = 500.0", "span = nan"),
        change("chord = 1400.0", "chord = 0"),
        change("incidence = 2.00", "incidence = 1e308"),
        change("diameter = 30.0", "diameter = 31.0"),
        change("diameter = 30.0", "diameter = -30.0"),
        change("bore = 30.4", "bore = nan"),
        change("a = 800", "a = 0"),
        change("diagonals = [\"D1\", \"D2\"]", "diagonals = [\"D1\", \"D1\"]"),
        change("\"incidence@*\", ", ""),
        change("\"offset@*\", ", ""),
        change("\"spot@*\"", "\"spot@bolt\""),
        change("[[stage]]\nname = \"close\"", "[[stage]]\nname = \"jig\""),
        change("[tolerance]", "[tolerances]"),
        change("lower = 8.0\nupper = 11.0", ""),
        change("lower = 8.0", "lower = 12.0"),
        change("format = 1\n", "format = 1\nrule = { level = 1.5 }\n"),
        change("format = 1\n", "format = 1\nrule = { level = 0 }\n"),
        change("format = 1\n", "format = 1\nrule = { level = nan }\n"),
        change("format = 1\n", "format = 1\nrule = { max_order = 0 }\n"),
        change("format = 1\n", "format = 2\n"),
        change("format = 1\n", ""),
    ] {
        assert!(sound.contains(change.from), "{} is not in the plan", change.from);
        plans.push((format!("{} -> {}", change.from, change.to), sound.replacen(change.from, change.to, 1)));
    }
    let stages = sound.find("[[stage]]").unwrap();
    plans.push(("no stages".to_owned(), sound[..stages].to_owned()));
    let station = sound.find("[[station]]").unwrap();
    let spars = sound.find("[[spar]]").unwrap();
    plans.push(("no stations".to_owned(), sound[..station].to_owned() + &sound[spars..]));
    let second = sound[station + 1..].find("[[station]]").unwrap() + station + 1;
    plans.push(("one station".to_owned(), sound[..second].to_owned() + &sound[spars..]));

    let bench = Bench::new();
    let mut taken = Vec::new();
    for (how, text) in &plans {
        let _ = std::fs::remove_file(bench.path("wing.jigtrue"));
        bench.write("plan.toml", text);
        let ran = bench.line("new plan.toml wing.jigtrue");
        if ran.code == 0 {
            taken.push((how, text));
        } else {
            assert_eq!(ran.code, 1, "{how}: {}", ran.err);
            assert!(ran.err.len() > 40, "{how} is refused without words: {}", ran.err);
            assert!(!bench.path("wing.jigtrue").exists(), "{how}: a log is left behind");
        }
    }
    std::thread::scope(|threads| {
        for (how, text) in taken {
            threads.spawn(move || {
                let bench = Bench::with_plan(text);
                let plan = Plan::parse(text).unwrap();
                for (name, stage) in plan.stages.iter().map(|s| (s.name.clone(), s.requires.clone())) {
                    let _ = bench.run(&["stage", "wing.jigtrue", &name, "--anyway", "to see"]);
                    if name == "jig" {
                        bench.line("open-item wing.jigtrue brace --close --reason tightened");
                    }
                    let _ = import(&bench, &good(&plan, Way::Angles, &stage), Rounds::Left);
                }
                holds(&bench, how);
                // Nor can it be signed as clear.
                let sign = bench.line("sign wing.jigtrue --capacity builder --statement \"in order\"");
                assert_ne!(sign.code, 0, "{how} was signed");
            });
        }
    });
}
