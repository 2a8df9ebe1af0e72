//! The shipped cases come out as they must: the gate, the reasons, and the truth from which the readings were made.

use crate::program;
use crate::program::{Bench, shipped};
use serde_json::Value;

fn plays(case: &str) {
    let outcome: Value = serde_json::from_str(&shipped(case, "outcome.json")).unwrap();
    let bench = Bench::demo(case);
    let ran = bench
        .line("check demo.jigtrue --json")
        .expect(i32::try_from(outcome["exit"].as_i64().unwrap()).unwrap());
    let a = ran.json();
    assert_eq!(a["gate"]["state"], outcome["gate"], "{case}: {:#}", a["gate"]);
    assert_eq!(a["gate"]["state"] == "clear", a["gate"]["reasons"].as_array().unwrap().is_empty());
    for (name, truth) in outcome["rigging"].as_object().into_iter().flatten() {
        let found = a["rigging"].as_array().unwrap().iter().find(|r| r["name"] == *name).unwrap();
        let (value, u) = (found["judged"]["value"].as_f64().unwrap(), found["judged"]["u"].as_f64().unwrap());
        let truth = truth.as_f64().unwrap();
        assert!((value - truth).abs() <= 3.0 * u, "{case}: {name} {value} ± {u} and truly {truth}");
    }
    let twist = [("setting", "setting_deg"), ("washout_error", "washout_error_deg")];
    for (part, truth) in twist.into_iter().filter(|_| outcome["truth"].is_object()) {
        let Some(value) = a["twist"][part]["value"].as_f64() else {
            // The stations do not reach the tip, and each value there says what the gate says.
            let all = a["gate"]["obligations"].as_array().unwrap();
            let owed = all.iter().find(|o| o["about"] == part.replace('_', " ").as_str()).unwrap();
            assert_eq!(a["twist"][part]["verdict"], owed["state"], "{case}: {part}");
            assert!(["missing", "stale"].iter().any(|s| owed["state"] == *s), "{case}: {owed}");
            continue;
        };
        let u = a["twist"][part]["u"].as_f64().unwrap();
        let truth = outcome["truth"][truth].as_f64().unwrap();
        // Three standard uncertainties: the seeds are fixed, so this either holds or the arithmetic changed.
        assert!((value - truth).abs() <= 3.0 * u, "{case}: {part} {value} ± {u} and truly {truth}");
    }
    let reasons = a["gate"]["reasons"].as_array().unwrap();
    for (kind, abouts) in outcome["reasons"].as_object().unwrap() {
        for about in abouts.as_array().unwrap() {
            let given = reasons.iter().any(|r| r["kind"] == *kind && r["about"] == *about);
            assert!(given, "{case}: no reason of kind {kind} about {about} among\n{reasons:#?}");
        }
    }
    let text = bench.line("check demo.jigtrue").out;
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{case}: over 80 columns: {line}");
    }
    bench.line("verify demo.jigtrue --sheet demo-sheet.pdf").expect(0);
}

#[test]
fn two_post_clears() {
    plays("two-post");
}

#[test]
fn hold_holds_for_every_sort_of_reason() {
    plays("hold");
}

#[test]
fn sixty_clears() {
    plays("sixty");
}

#[test]
fn upright_clears() {
    plays("upright");
}

/// The rigged aeroplane: the gate is clear at the end, and each fault was found before it was put right.
#[test]
fn rigged_clears_after_three_things_were_put_right() {
    plays("rigged");
    let bench = Bench::demo("rigged");
    let export = bench.line("export demo.jigtrue --format jsonl").expect(0).out;
    let reworks: Vec<Value> = export
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap())
        .filter(|entry| entry["kind"] == "rework")
        .collect();
    assert_eq!(reworks.len(), 3);
    // A torque and a tension have no direction; a tilt has.
    let series = bench.line("series demo.jigtrue").expect(0).out;
    let of = |name: &str| series.lines().find(|line| line.contains(name)).unwrap();
    for name in ["torque of left", "tension of rudder", "free play of right"] {
        assert!(!of(name).contains('+'), "{series}");
    }
    assert!(of("pitch of").contains('+'), "{series}");
    let steps: Vec<String> = shipped("rigged", "steps.csv").lines().map(str::to_owned).collect();
    for (rework, wrong) in
        reworks.iter().zip(["yaw of wing", "travel up of left aileron", "tension of rudder right"])
    {
        let at = steps.iter().position(|s| s.contains(rework["body"]["what"].as_str().unwrap())).unwrap();
        let before = Bench::with_plan(&shipped("rigged", "plan.toml"));
        for step in &steps[1..at] {
            let f: Vec<&str> = step.split(',').collect();
            let ran = match f[1] {
                "stage" => before.run(&["stage", "wing.jigtrue", f[2], "--anyway", "story"]),
                "rework" => {
                    let mut line = vec!["rework", "wing.jigtrue"];
                    line.extend(f[2].split(';'));
                    line.extend(["--what", f[8]]);
                    before.run(&line)
                }
                _ => {
                    let mut line = vec!["take", "wing.jigtrue", f[2], f[3], "--instrument", f[5]];
                    for (option, value) in [("--facing", f[4]), ("--temp", f[6])] {
                        if !value.is_empty() {
                            line.extend([option, value]);
                        }
                    }
                    before.run(&line)
                }
            };
            ran.expect(0);
        }
        let a = before.line("check wing.jigtrue --json").expect(10).json();
        let found = a["rigging"].as_array().unwrap().iter().find(|r| r["name"] == wrong).unwrap();
        assert_eq!(found["judged"]["verdict"], "outside", "{wrong}: {found}");
        let advice = before.line("advise wing.jigtrue").expect(10).out;
        assert!(advice.contains(wrong) && advice.contains("licensed practice"), "{advice}");
    }
}

/// Played twice it replaces its own log, with the same bytes of sheet; a log that is not a demo's is left alone.
#[test]
fn the_demo_replaces_only_its_own_log() {
    let bench = Bench::new();
    let first = bench.line("demo").expect(0).out;
    let sheet = bench.read("demo-sheet.pdf");
    let second = bench.line("demo").expect(0).out;
    assert_eq!(first, second);
    assert_eq!(sheet, bench.read("demo-sheet.pdf"));

    for not_ours in [b"notes on the wing".to_vec(), Vec::new()] {
        let bench = Bench::new();
        bench.write("demo.jigtrue", &not_ours);
        bench.line("demo").expect(1);
        assert_eq!(bench.read("demo.jigtrue"), not_ours);
    }
    let bench = Bench::new();
    bench.write("plan.toml", program::SMALL_PLAN);
    bench.line("new plan.toml demo.jigtrue").expect(0);
    let mine = bench.read("demo.jigtrue");
    let ran = bench.line("demo").expect(1);
    assert!(ran.err.contains("left unchanged"), "{}", ran.err);
    assert_eq!(bench.read("demo.jigtrue"), mine);
}

/// The demo shows what was outside, what was advised and moved, and ends with the gate.
#[test]
fn the_demo_tells_the_job_from_empty_jig_to_signed_gate() {
    let bench = Bench::new();
    let out = bench.line("demo").expect(0).out;
    let mut at = 0;
    for said in [
        "jig empty     outside",
        "advice      root aft foot",
        "moved       root aft foot",
        "jig empty     within",
        "ribs inboard  outside",
        "advice      tip ",
        "moved       tip rear",
        "ribs inboard  within",
        "rear spar on  within",
        "ready to skin within",
        "signed      inspector",
        "GATE   CLEAR",
    ] {
        let found =
            out[at..].find(said).unwrap_or_else(|| panic!("`{said}` is not told after byte {at} of\n{out}"));
        at += found;
    }
    let told = |said: &str| -> Vec<(&str, &str)> {
        out.lines().filter_map(|l| l.trim_start().strip_prefix(said)?.trim_start().split_once(": ")).collect()
    };
    let (advised, moved) = (told("advice "), told("moved "));
    assert_eq!(advised.len(), moved.len(), "{out}");
    for ((support, advice), (at, done)) in advised.into_iter().zip(moved) {
        assert_eq!(support, at, "the invented builder does what was advised:\n{out}");
        // For shims the advice is the stack, and the move is its height: `raises 3.00 mm` and `3 mm`.
        let by = done.strip_suffix(" mm").map_or(done.to_owned(), |mm| format!("raises {mm}.00 mm"));
        assert!(advice.contains(&by), "{support}: advised {advice}, done {done}");
    }
    let answer = bench.line("demo --json").expect(0).json();
    assert_eq!(answer["gate"], "clear");
}
