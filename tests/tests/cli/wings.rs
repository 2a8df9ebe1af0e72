//! From the jig to the rigged aeroplane: a wing's log is taken up, and its twist is compared with the last in the
//! jig.

use crate::program::{Bench, near};
use serde_json::Value;
use stories::trainer::{PLANE, WING};

/// The wing measured in its closing stage.
fn wing(bench: &Bench, plan: &str) {
    bench.write("wing.toml", plan);
    bench.line("new wing.toml wing.jigtrue").expect(0);
    for stage in ["ribs on", "ready to skin"] {
        bench.line(&format!("stage wing.jigtrue \"{stage}\"")).expect(0);
        walk(bench, 0.0);
    }
}

/// Every station as designed, with so much more twist at the tip.
fn walk(bench: &Bench, tip: f64) {
    for (station, value) in [("S1", 2.0), ("S2", 1.0 + tip * 1750.0 / 3750.0), ("S3", -0.5 + tip)] {
        let line = format!("take wing.jigtrue {station} f {value:.2} a {:.2} --new-round", -value);
        bench.line(&line).expect(0);
    }
}

fn signed(bench: &Bench) {
    let words = "sign wing.jigtrue --capacity inspector --statement \"seen and found true\" --by ann";
    bench.line(words).expect(0);
}

fn check(bench: &Bench, log: &str) -> Value {
    bench.line(&format!("check {log} --json")).json()
}

/// What was found about an obligation.
fn owed(a: &Value, gate: &str, about: &str) -> Value {
    let all = a[gate]["obligations"].as_array().unwrap_or_else(|| panic!("no {gate}"));
    all.iter()
        .find(|o| o["about"] == about)
        .cloned()
        .unwrap_or_else(|| panic!("no {about} in {gate}: {all:#?}"))
}

fn plane(bench: &Bench, plan: &str) {
    bench.write("plane.toml", plan);
    bench.line("new plane.toml plane.jigtrue --wing left=wing.jigtrue").expect(0);
}

/// By its own readings: 2.05 - -0.30 instead of 2.00 - -0.50 is 0.15 less washout, whatever the fuselage's pitch and
/// the level's zero.
#[test]
fn the_last_profile_of_the_jig_is_what_the_aeroplane_is_compared_with() {
    let bench = Bench::new();
    wing(&bench, WING);
    signed(&bench);
    plane(&bench, PLANE);
    bench.line("stage plane.jigtrue \"wings on\"").expect(0);
    for take in [
        "pitch@fuselage f 0.40 a -0.20",
        "\"rig-incidence@left root\" f 2.45 a -2.25",
        "\"rig-incidence@left tip\" f 0.10 a 0.10",
    ] {
        bench.line(&format!("take plane.jigtrue {take}")).expect(0);
    }
    let a = check(&bench, "plane.jigtrue");
    assert_eq!(a["gate"]["state"], "clear", "{:#}", a["gate"]["reasons"]);
    let wing = &a["wings"][0];
    assert_eq!(wing["state"], "met");
    assert_eq!(wing["found"]["is"], "as-taken-up");
    let change = &wing["changes"][0];
    near(&change["jig_deg"], -2.5, 1e-9);
    near(&change["now_deg"], -2.35, 1e-9);
    near(&change["change"]["value"], 0.15, 1e-9);
    // Four reversal pairs, each with r²/12 and q²: no zero, no pitch.
    let own = libm::sqrt(2.0 * (2.0 * (0.05_f64.powi(2) / 24.0 + 0.03_f64.powi(2) / 2.0)));
    let u = change["change"]["u"].as_f64().unwrap();
    assert!(u > 0.9 * own && u < 1.3 * own, "{u} {own}");
    assert_eq!(owed(&a, "gate", "change of left wing at S3 since the jig")["state"], "met");
    let c = bench.line("compare plane.jigtrue wing.jigtrue --json").expect(0).json();
    assert_eq!(c["kind"], "since-jig");
    near(&c["stations"][0]["difference"]["value"], 0.15, 1e-9);
    assert!(c["not_compared"][0].as_str().unwrap().contains("S2"), "{c}");
    let text = bench.line("check plane.jigtrue").expect(0).out;
    assert!(
        text.contains("Wings from their jigs") && text.contains("-2.50° in the jig, -2.35° now"),
        "{text}"
    );
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
}

#[test]
fn a_wing_log_that_is_no_proof_holds_and_says_why() {
    for (prepare, plan, state, says) in [
        ("not signed", PLANE.to_owned(), "missing", "nobody signed that it is clear"),
        ("never cleared", PLANE.to_owned(), "outside", "it was never cleared"),
        (
            "signed",
            PLANE.replace("OT-20", "OT-21"),
            "outside",
            "built and signed for drawing OT-20, but this plan asks for OT-21",
        ),
        ("signed", PLANE.replace("issue = \"C\"", "issue = \"D\""), "outside", "issue C"),
        ("no drawing", PLANE.to_owned(), "cannot_judge", "its own plan does not give its drawing"),
        ("right", PLANE.to_owned(), "outside", "its log is for a right wing"),
        ("signed", PLANE.replace("\"S3\"", "\"S9\""), "cannot_judge", "has no station S9"),
        (
            "signed, then measured again",
            PLANE.to_owned(),
            "doubtful",
            "6 entries of its log came after what ann signed",
        ),
        ("signed by another plan", PLANE.to_owned(), "outside", "under another plan than the one in force"),
        ("closed anyway", PLANE.to_owned(), "outside", "it was closed while its gate held"),
    ] {
        let bench = Bench::new();
        match prepare {
            "never cleared" => {
                bench.write("wing.toml", WING);
                bench.line("new wing.toml wing.jigtrue").expect(0);
            }
            "no drawing" => wing(&bench, &WING.replace("drawing = \"OT-20\"\n", "")),
            "right" => wing(&bench, &WING.replace("side = \"left\"", "side = \"right\"")),
            "closed anyway" => {
                bench.write("wing.toml", WING.replace("washout = 0.5", "washout = 0.001"));
                bench.line("new wing.toml wing.jigtrue").expect(0);
                for stage in ["ribs on", "ready to skin", "off the jig"] {
                    bench.line(&format!("stage wing.jigtrue \"{stage}\" --anyway \"a hurry\"")).expect(0);
                    walk(&bench, 0.0);
                }
            }
            _ => wing(&bench, WING),
        }
        if prepare.starts_with("signed") || ["right", "no drawing"].contains(&prepare) {
            signed(&bench);
        }
        if prepare.ends_with("measured again") {
            walk(&bench, 0.0);
        }
        if prepare.ends_with("another plan") {
            bench.write("wing.toml", WING.replace("washout = 0.5", "washout = 0.45"));
            bench.line("replan wing.jigtrue wing.toml --reason \"as drawn\"").expect(0);
        }
        plane(&bench, &plan);
        let a = check(&bench, "plane.jigtrue");
        assert_eq!(a["gate"]["state"], "hold");
        let found = owed(&a, "gate", "left wing from its jig");
        assert_eq!(found["state"], state, "{prepare}: {found:#}");
        assert!(found["words"].as_str().unwrap().contains(says), "{prepare}: {found:#}");
    }
}

#[test]
fn without_a_log_nothing_is_known() {
    let bench = Bench::new();
    bench.write("plane.toml", PLANE);
    bench.line("new plane.toml plane.jigtrue").expect(0);
    let found = owed(&check(&bench, "plane.jigtrue"), "gate", "left wing from its jig");
    assert_eq!(found["state"], "missing", "{found:#}");
    wing(&bench, WING);
    for (line, code, says) in [
        ("wing plane.jigtrue left=nowhere.jigtrue", 1, "nowhere.jigtrue"),
        ("wing plane.jigtrue right=wing.jigtrue", 1, "no wing `right`"),
        ("wing plane.jigtrue left=plane.jigtrue", 1, "of an aeroplane"),
        ("wing plane.jigtrue left=plane.toml", 1, "plane.toml"),
        ("wing plane.jigtrue left", 2, "WING=LOG"),
        ("wing plane.jigtrue left=", 2, "WING=LOG"),
        ("wing wing.jigtrue left=wing.jigtrue", 1, "no [[wing]]"),
    ] {
        let ran = bench.line(line).expect(code);
        assert!(ran.err.contains(says), "{line}: {}", ran.err);
    }
    assert_eq!(check(&bench, "plane.jigtrue")["entries"], 1);
    let ran = bench.line("new plane.toml other.jigtrue --wing left=nowhere.jigtrue").expect(1);
    assert!(ran.err.contains("other.jigtrue is started, without it"), "{}", ran.err);
}

#[test]
fn a_missing_or_different_wing_log_is_reported() {
    let bench = Bench::new();
    wing(&bench, WING);
    signed(&bench);
    plane(&bench, PLANE);
    let verified =
        |line: &str, code: i32| bench.line(line).expect(code).json()["wings"][0]["found"]["is"].clone();
    assert_eq!(verified("verify plane.jigtrue --json", 0), "as-taken-up");
    bench.line("note wing.jigtrue \"hung up\"").expect(0);
    assert_eq!(verified("verify plane.jigtrue --json", 0), "gone-on");
    std::fs::rename(bench.path("wing.jigtrue"), bench.path("moved.jigtrue")).unwrap();
    assert_eq!(verified("verify plane.jigtrue --json", 0), "not-at-hand");
    let a = check(&bench, "plane.jigtrue");
    assert!(owed(&a, "gate", "left wing from its jig")["words"].as_str().unwrap().contains("not available"));
    assert_eq!(verified("verify plane.jigtrue --wing left=moved.jigtrue --json", 0), "gone-on");
    assert_eq!(verified("verify plane.jigtrue --wing left=plane.toml/wing.jigtrue --json", 1), "unread");
    // Nobody can tell what is in a log of a newer format, nor where a dead link would lead.
    let unread = |why: &str| {
        assert_eq!(verified("verify plane.jigtrue --json", 1), "unread");
        let found = owed(&check(&bench, "plane.jigtrue"), "gate", "left wing from its jig");
        assert!(
            found["state"] == "cannot_judge" && found["words"].as_str().unwrap().contains(why),
            "{found:#}"
        );
        std::fs::remove_file(bench.path("wing.jigtrue")).unwrap();
    };
    std::fs::copy(bench.path("moved.jigtrue"), bench.path("wing.jigtrue")).unwrap();
    let newer = rusqlite::Connection::open(bench.path("wing.jigtrue")).unwrap();
    newer.pragma_update(None, "user_version", 99).unwrap();
    drop(newer);
    unread("open it with a newer jigtrue");
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("nowhere", bench.path("wing.jigtrue")).unwrap();
        unread("leads to nothing");
    }
    // Made again with the same readings it is another log.
    wing(&bench, WING);
    signed(&bench);
    assert_eq!(verified("verify plane.jigtrue --json", 1), "changed");
    let a = check(&bench, "plane.jigtrue");
    assert_eq!(owed(&a, "gate", "left wing from its jig")["state"], "outside");
    let ran = bench.line("compare plane.jigtrue wing.jigtrue").expect(1);
    assert!(ran.err.contains("was not taken up"), "{}", ran.err);
}

/// What was found of a wing after its log was taken up bears on the aeroplane as if it had been found before; a note does not, nor what
/// came after a decision that froze.
#[test]
fn a_wing_that_was_worked_on_after_it_was_taken_up_is_in_doubt_until_it_is_taken_up_again() {
    for (then, state) in [
        ("note wing.jigtrue \"hung up\"", "met"),
        ("rework wing.jigtrue incidence@S2 --what \"drilled off\"", "doubtful"),
        ("withdraw wing.jigtrue 4 --reason misread", "doubtful"),
        ("stage wing.jigtrue \"off the jig\"", "met"),
    ] {
        let bench = Bench::new();
        wing(&bench, WING);
        signed(&bench);
        plane(&bench, PLANE);
        bench.line(then).expect(0);
        let wing = owed(&check(&bench, "plane.jigtrue"), "gate", "left wing from its jig");
        assert_eq!(wing["state"], state, "{then}: {wing:#}");
        bench.line("wing plane.jigtrue left=wing.jigtrue").expect(0);
        let wing = owed(&check(&bench, "plane.jigtrue"), "gate", "left wing from its jig");
        assert_eq!(wing["state"] == "met", state == "met", "{then}: {wing:#}");
        bench.line("note wing.jigtrue \"painted\"").expect(0);
        bench.line("rework wing.jigtrue incidence@S3 --what dressed").expect(0);
        let wing = owed(&check(&bench, "plane.jigtrue"), "gate", "left wing from its jig");
        assert_eq!(wing["state"] == "met", then.starts_with("stage"), "{then}: {wing:#}");
    }
}

/// One log is of one wing, under whatever name it lies: both wings that it is taken up for hold.
#[test]
fn one_log_is_no_proof_of_two_wings() {
    let bench = Bench::new();
    wing(&bench, WING);
    signed(&bench);
    let second = "[[wing]]\nname = \"lower left wing\"\nside = \"left\"\n[[stage]]";
    bench.write("plane.toml", PLANE.replacen("[[stage]]", second, 1));
    bench.line("new plane.toml plane.jigtrue --wing \"left wing=wing.jigtrue\"").expect(0);
    std::fs::copy(bench.path("wing.jigtrue"), bench.path("copy.jigtrue")).unwrap();
    for log in ["wing", "copy"] {
        bench.line(&format!("wing plane.jigtrue \"lower left wing={log}.jigtrue\"")).expect(0);
        let a = check(&bench, "plane.jigtrue");
        for (about, other) in [("left wing", "lower left wing"), ("lower left wing", "left wing")] {
            let found = owed(&a, "gate", &format!("{about} from its jig"));
            assert_eq!(found["state"], "outside", "{found:#}");
            assert!(
                found["words"].as_str().unwrap().ends_with(&format!("taken up for {other}")),
                "{found:#}"
            );
        }
    }
}

/// The log of another wing says nothing of how this one changed.
#[test]
fn no_change_is_told_from_the_log_of_another_wing() {
    let bench = Bench::new();
    wing(&bench, &WING.replace("side = \"left\"", "side = \"right\""));
    signed(&bench);
    plane(&bench, PLANE);
    bench.line("stage plane.jigtrue \"wings on\"").expect(0);
    for take in [
        "pitch@fuselage f 0.40 a -0.20",
        "\"rig-incidence@left root\" f 2.45 a -2.25",
        "\"rig-incidence@left tip\" f 0.10 a 0.10",
    ] {
        bench.line(&format!("take plane.jigtrue {take}")).expect(0);
    }
    let change = owed(&check(&bench, "plane.jigtrue"), "gate", "change of left wing at S3 since the jig");
    assert_eq!(change["state"], "cannot_judge", "{change:#}");
}

/// Off the jig the tip has sprung by 1.5 degrees: the stage says so, and the decision to close stays.
#[test]
fn stages_after_the_closing_have_a_verdict_of_their_own() {
    let bench = Bench::new();
    wing(&bench, &format!("{WING}[[stage]]\nname = \"painted\"\n"));
    assert!(check(&bench, "wing.jigtrue")["after"].is_null());
    let ran = bench.line("stage wing.jigtrue \"off the jig\"").expect(11);
    assert!(ran.err.contains("nobody signed"), "{}", ran.err);
    signed(&bench);
    bench.line("stage wing.jigtrue \"off the jig\"").expect(0);
    let a = check(&bench, "wing.jigtrue");
    assert_eq!((a["gate"]["state"].as_str(), a["after"]["state"].as_str()), (Some("clear"), Some("hold")));
    assert_eq!(owed(&a, "after", "S3")["state"], "stale");
    walk(&bench, 1.5);
    let a = check(&bench, "wing.jigtrue");
    assert_eq!((a["gate"]["state"].as_str(), a["after"]["state"].as_str()), (Some("clear"), Some("hold")));
    assert_eq!(owed(&a, "after", "washout error")["state"], "outside");
    assert_eq!(owed(&a, "after", "painted")["state"], "missing");
    assert_eq!(owed(&a, "gate", "washout error")["state"], "met");
    let change =
        a["changes"]["parts"].as_array().unwrap().iter().find(|p| p["part"] == "washout error").unwrap();
    assert_eq!(change["real"], true, "last in the jig against first off the jig: {a:#}");
    let c = bench.line("compare wing.jigtrue --stage \"off the jig\" --with \"ready to skin\" --json").json();
    let tip = c["stations"].as_array().unwrap().iter().find(|s| s["name"] == "S3").unwrap();
    assert_eq!(tip["real"], true);
    let text = bench.line("check wing.jigtrue").expect(0).out;
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("After the closing") && words.contains("The decision to close stays"), "{text}");
    bench.line("rework wing.jigtrue S1 S2 S3 --what \"untwisted\"").expect(0);
    walk(&bench, 0.0);
    bench.line("stage wing.jigtrue painted").expect(0);
    let a = check(&bench, "wing.jigtrue");
    assert_eq!(
        (a["gate"]["state"].as_str(), a["after"]["state"].as_str()),
        (Some("clear"), Some("clear")),
        "{:#}",
        a["after"]["reasons"]
    );
}

/// The level that the decision rests on is found to be off: the decision stays, nobody signs it as clear, and no aeroplane takes it
/// for proof.
#[test]
fn what_is_found_out_after_the_decision_is_not_signed_as_clear() {
    let bench = Bench::new();
    wing(&bench, WING);
    signed(&bench);
    bench.line("stage wing.jigtrue \"off the jig\"").expect(0);
    walk(&bench, 0.0);
    signed(&bench);
    bench.line("instrument check wing.jigtrue level 0.50 0.30").expect(10);
    let ran = bench.line("check wing.jigtrue").expect(0);
    let words = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("does not stand by what is known since"), "{}", ran.out);
    assert!(
        !words.contains("every obligation is met") && !words.contains("sheet to hand over"),
        "{}",
        ran.out
    );
    let a = check(&bench, "wing.jigtrue");
    assert_eq!((a["gate"]["state"].as_str(), a["decision"]["now"].as_str()), (Some("clear"), Some("hold")));
    let sign = "sign wing.jigtrue --capacity inspector --statement \"seen and found true\" --by ann";
    let ran = bench.line(sign).expect(11);
    assert!(ran.err.contains("--as-seen"), "{}", ran.err);
    let ran = bench.line(&format!("{sign} --as-seen")).expect(0);
    assert!(ran.out.contains("as seen, on hold"), "{}", ran.out);
    plane(&bench, PLANE);
    let found = owed(&check(&bench, "plane.jigtrue"), "gate", "left wing from its jig");
    assert_eq!(found["state"], "outside", "{found:#}");
}

/// A skin is off again: what was decided before is no answer to whether the skins may go on.
#[test]
fn a_build_that_goes_back_is_decided_anew() {
    let bench = Bench::new();
    wing(&bench, WING);
    signed(&bench);
    bench.line("stage wing.jigtrue \"off the jig\"").expect(0);
    bench.line("check wing.jigtrue").expect(0);
    bench.line("stage wing.jigtrue \"ready to skin\" --anyway \"a skin is off again\"").expect(0);
    bench.line("rework wing.jigtrue S2 --what \"rib dressed\"").expect(0);
    bench.line("check wing.jigtrue").expect(11);
    bench.line("stage wing.jigtrue \"off the jig\"").expect(11);
    walk(&bench, 0.0);
    let a = check(&bench, "wing.jigtrue");
    assert_eq!(a["gate"]["state"], "clear", "{:#}", a["gate"]["reasons"]);
    assert!(a["decision"].is_null() && a["after"].is_null());
    let ran = bench.line("stage wing.jigtrue \"off the jig\"").expect(11);
    assert!(ran.err.contains("nobody signed"), "{}", ran.err);
    signed(&bench);
    bench.line("stage wing.jigtrue \"off the jig\"").expect(0);
    assert!(!check(&bench, "wing.jigtrue")["decision"].is_null());
}
