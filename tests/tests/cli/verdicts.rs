//! Exit codes and gates: what a script can rely on.

use crate::program::{Bench, SMALL_PLAN};

/// Reversal pairs that show these deviations from the design, with a zero of 0.1 degree.
fn pairs(bench: &Bench, deviations: [f64; 3]) {
    for ((station, design), d) in [("S1", 2.0), ("S2", 1.0), ("S3", 0.0)].into_iter().zip(deviations) {
        for (facing, sign) in [("forward", 1.0), ("aft", -1.0)] {
            let shown = format!("{:.2}", sign * (design + d) + 0.1);
            bench
                .run(&["take", "wing.jigtrue", &format!("incidence@{station}"), &shown, "--facing", facing])
                .expect(0);
        }
    }
}

#[test]
fn a_true_wing_is_within_and_a_twisted_one_outside() {
    let bench = Bench::begun();
    bench.line("check wing.jigtrue --this-stage").expect(11);
    pairs(&bench, [0.1, 0.1, 0.1]);
    bench.line("check wing.jigtrue --this-stage").expect(0);
    bench.line("take wing.jigtrue incidence@S1 2.2 --new-round").expect(0);

    let bench = Bench::begun();
    pairs(&bench, [0.0, 0.3, 0.6]);
    bench.line("check wing.jigtrue --this-stage").expect(10);
    bench.line("check wing.jigtrue").expect(10);
}

#[test]
fn near_the_limit_it_is_undecided_and_says_what_would_decide() {
    let bench = Bench::begun();
    pairs(&bench, [0.0, 0.15, 0.3]);
    let ran = bench.line("check wing.jigtrue --this-stage").expect(11);
    assert!(ran.out.contains("undecided"), "{}", ran.out);
    assert!(ran.out.contains("it is on the limit"), "no measurement decides that: {}", ran.out);

    let bench = Bench::begun();
    pairs(&bench, [0.0, 0.1, 0.25]);
    let ran = bench.line("check wing.jigtrue --this-stage").expect(11);
    assert!(ran.out.contains("undecided") && ran.out.contains("would decide it"), "{}", ran.out);
}

/// The last stage, a torque, an open item: each holds the gate until it is dealt with.
#[test]
fn the_gate_holds_for_each_reason_and_clears_when_none_is_left() {
    let bench = Bench::begun();
    pairs(&bench, [0.0; 3]);
    let reasons = |bench: &Bench| -> Vec<(String, String)> {
        let a = bench.line("check wing.jigtrue --json").json();
        let one = |r: &serde_json::Value| {
            (r["kind"].as_str().unwrap().to_owned(), r["about"].as_str().unwrap_or_default().to_owned())
        };
        a["gate"]["reasons"].as_array().unwrap().iter().map(one).collect()
    };
    assert!(reasons(&bench).iter().any(|(kind, _)| kind == "stage"), "{:?}", reasons(&bench));
    bench.line("stage wing.jigtrue \"ready to skin\"").expect(0);
    let now = reasons(&bench);
    // One line for each cause; each station is an obligation of its own.
    assert!(now.contains(&("stale".to_owned(), "setting".to_owned())), "{now:?}");
    assert!(now.contains(&("missing".to_owned(), "bolt".to_owned())), "{now:?}");
    let a = bench.line("check wing.jigtrue --json").json();
    let stale: Vec<&str> = a["gate"]["obligations"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|o| o["kind"] == "station" && o["state"] == "stale")
        .map(|o| o["about"].as_str().unwrap())
        .collect();
    assert_eq!(stale, ["S1", "S2", "S3"]);
    assert!(now.iter().any(|(kind, _)| kind == "open"), "{now:?}");
    pairs(&bench, [0.05, 0.05, 0.05]);
    bench.line("take wing.jigtrue spot@bolt \"88 in-lb\"").expect(0);
    bench.line("check wing.jigtrue").expect(11);
    bench.line("sign wing.jigtrue --capacity builder --statement ok").expect(11);
    bench.line("sign wing.jigtrue --capacity builder --statement \"seen\" --as-seen").expect(0);
    bench.line("open-item wing.jigtrue \"tip post brace loos\" --close").expect(1);
    bench.line("open-item wing.jigtrue \"tip post brace loose\" --carry").expect(1);
    bench.line("open-item wing.jigtrue \"tip post brace loose\" --close --reason bolted").expect(0);
    bench.line("check wing.jigtrue").expect(0);
    bench.line("sign wing.jigtrue --capacity builder --statement ok").expect(0);
    let a = bench.line("check wing.jigtrue --json").json();
    assert_eq!(a["signatures"][0]["gate"], "hold");
    assert_eq!(a["signatures"][1]["gate"], "clear");
}

/// A withdrawn entry is as if it had never been recorded, but can still be seen.
#[test]
fn a_withdrawn_reading_no_longer_counts_and_is_still_listed() {
    let bench = Bench::begun();
    pairs(&bench, [0.0; 3]);
    let before = bench.line("check wing.jigtrue --json").json();
    let taken = bench.line("take wing.jigtrue incidence@S2 2.0 --sure --json").expect(0).json();
    let entry = taken["entry"]["seq"].as_u64().or_else(|| taken["seq"].as_u64()).expect("the entry's number");
    assert_ne!(bench.line("check wing.jigtrue --json").json()["twist"], before["twist"]);
    bench.line(&format!("withdraw wing.jigtrue {entry} --reason \"on a rivet head\"")).expect(0);
    let after = bench.line("check wing.jigtrue --json").json();
    assert_eq!(after["twist"], before["twist"]);
    assert_eq!(after["withdrawn"][0]["entry"], entry);
    bench.line(&format!("withdraw wing.jigtrue {entry} --reason again")).expect(1);
    bench.line("withdraw wing.jigtrue 1 --reason \"start over\"").expect(1);
    bench.line("withdraw wing.jigtrue 4000 --reason no").expect(1);
}

/// Millimetres per metre, degrees and minutes, and a slope 1:N mean the same angle (the angle is the arc tangent).
#[test]
fn what_is_typed_in_other_units_gives_the_same() {
    for text in ["0.35", "0°21'", "21'", "1:163.70", "6.1087 mm/m", "0.0061087 rad"] {
        let bench = Bench::begun();
        let ran = bench.run(&["take", "wing.jigtrue", "incidence@S3", text]);
        if text.ends_with("rad") {
            ran.expect(1);
            continue;
        }
        ran.expect(0);
        let a = bench.line("check wing.jigtrue --json").json();
        let point = a["points"].as_array().unwrap().iter().find(|p| p["point"] == "incidence@S3").unwrap();
        let value = point["value"].as_f64().unwrap();
        assert!((value - 0.35).abs() < 2e-5, "{text}: {value}");
    }
}

/// `check --stage` shows an earlier stage as it ended.
#[test]
fn an_earlier_stage_can_be_shown() {
    let bench = Bench::begun();
    pairs(&bench, [0.0, 0.15, 0.3]);
    let then = bench.line("check wing.jigtrue --json").json();
    bench.line("stage wing.jigtrue \"ready to skin\" --anyway \"to be put right there\"").expect(0);
    pairs(&bench, [0.0; 3]);
    let past = bench.line("check wing.jigtrue --json --stage \"ribs on\"").json();
    assert_eq!(past["twist"], then["twist"]);
    let now = bench.line("check wing.jigtrue --json").json();
    assert_eq!(now["changes"]["since"], "ribs on");
    let part = |name: &str| {
        let parts = now["changes"]["parts"].as_array().unwrap();
        parts.iter().find(|p| p["part"] == name).unwrap()["real"].as_bool().unwrap()
    };
    assert!(part("washout error"), "0.3 degree of twist taken out is more than measurement");
    let ran = bench.line("compare wing.jigtrue --stage \"ribs on\" --with \"ready to skin\"");
    assert!(ran.out.contains("changed"), "{}", ran.out);
    bench.line("check wing.jigtrue --stage \"jig empty\"").expect(1);
}

const TAPE: &str = "[[instrument]]
name = \"tape\"
kind = \"tape\"
resolution = 0.5
accuracy = 0.3
checked = \"2026-01-10\"
due = \"2099-01-10\"

";

/// In the middle of a walk what is not read yet is missing; that nothing is judged by what was read is no answer then.
#[test]
fn what_is_half_measured_is_missing() {
    let spars =
        "[[spar]]\nname = \"front\"\naft_root = 300\n[[spar]]\nname = \"rear\"\naft_root = 900\n[[stage]]";
    let plan = SMALL_PLAN
        .replace("[tolerance]", "[tolerance]\nstraightness = 1")
        .replacen("[[stage]]", &format!("{TAPE}{spars}"), 1)
        .replacen("incidence@*\"", "height@*\", \"offset@front:*\"", 1);
    let bench = Bench::with_plan(&plan);
    bench.line("stage").expect(0);
    bench.line("take offset@front:S1 0.5").expect(0);
    bench.line("take height@front:S1 40").expect(0);
    let ran = bench.line("check --json").expect(11).json();
    let all = ran["gate"]["obligations"].as_array().unwrap();
    let state = |kind: &str, about: &str| {
        let one = all.iter().find(|o| o["kind"] == kind && o["about"] == about);
        one.unwrap_or_else(|| panic!("{kind} {about} in {all:#?}"))["state"].clone()
    };
    assert_eq!(state("straightness", "front"), "missing");
    assert_eq!(state("station", "S1"), "missing");
    let said = bench.line("check").expect(11).out;
    assert!(!said.contains("record_only"), "{said}");
}
