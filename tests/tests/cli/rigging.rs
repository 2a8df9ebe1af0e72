//! The arithmetic of rigging through the program, compared with published values if there are some.

use crate::program::{Bench, near};

/// US Army TM 1-1500-204-23-9, 8-16: 214. TM 9-254, figure 45: 60 for 70. FAA AC 43.13-1B, 7-40 d adds drag always; TM
/// 5-2330-325-13&P item 3 has 80 to 100 for 50 to 70 with a drag of 30 and leaves out what is below 0.33.
#[test]
fn published_wrench_settings() {
    let bench = Bench::new();
    for (line, set) in [
        ("torque 300 --lever 10 --extension 4 --unit in-lb", 300.0 * 10.0 / 14.0),
        ("torque 300 --lever \"10 in\" --extension \"4 in\" --unit \"lbf in\"", 300.0 * 10.0 / 14.0),
        ("torque \"70 in-lb\" --lever 12 --extension 2", 60.0),
        ("torque 300 --lever 10 --extension 4 --angle 90 --unit in-lb", 300.0),
        ("torque 50 --drag 30 --drag-rule add --unit in-lb", 80.0),
        ("torque 70 --drag 30 --drag-rule add --unit in-lb", 100.0),
        ("torque 70 --drag 30 --drag-rule add-from-third --unit in-lb", 100.0),
        ("torque 100 --drag 30 --drag-rule add-from-third --unit in-lb", 100.0),
        ("torque 100 --drag 30 --drag-rule add --unit in-lb", 130.0),
        ("torque 50 --drag 20 --drag-rule add --lever 10 --extension 4 --unit in-lb", 50.0),
        ("torque \"300 in-lb\" --lever 10 --extension 4 --unit N·m", 24.211_034_791_632),
    ] {
        let a = bench.line(&format!("{line} --json")).expect(0).json();
        near(&a["set"], set, 1e-9);
        let text = bench.line(line).expect(0).out;
        assert!(text.starts_with("set the wrench to "), "{text}");
    }
    let a = bench.line("torque 300 --lever 10 --extension 4 --unit in-lb --json").expect(0).json();
    assert_eq!(a["unit"], "in-lb");
    near(&a["set_nm"], 214.285_714_285_714_3 * 0.112_984_829_027_616_7, 1e-9);
}

#[test]
fn impossible_wrench_settings_are_refused() {
    let bench = Bench::new();
    for (line, says) in [
        ("torque 300 --lever 10 --extension 4", "has no unit"),
        ("torque 300 --lever 10 --extension 4 --unit mm", "not a unit of torque"),
        ("torque 300 --lever \"10 in\" --extension 4 --unit in-lb", "unit of both"),
        ("torque 0 --lever 10 --extension 4 --unit in-lb", "above zero"),
        ("torque nan --lever 10 --extension 4 --unit in-lb", "number"),
        ("torque 300 --lever 0 --extension 4 --unit in-lb", "lever must be above zero"),
        ("torque 300 --lever 10 --extension 10 --angle 180 --unit in-lb", "at the grip or behind it"),
        ("torque 300 --lever 10 --extension 4 --angle 300 --unit in-lb", "-180 to 180"),
        ("torque \"300 mm\" --lever 10 --extension 4 --unit in-lb", "a torque is expected"),
        ("torque 99999999 --lever 10 --extension 4 --unit in-lb", "beyond"),
    ] {
        let ran = bench.line(line).expect(1);
        assert!(ran.err.contains(says), "{line}: {}", ran.err);
        assert!(ran.out.is_empty(), "{line}: {}", ran.out);
    }
    for line in [
        "torque 300 --unit in-lb",
        "torque 300 --lever 10 --unit in-lb",
        "torque 300 --drag 3 --unit in-lb",
        "torque 300 --drag 3 --drag-rule perhaps --unit in-lb",
        "torque 300 --lever 10 --extension 4 --extension 5 --unit in-lb",
        "torque",
    ] {
        bench.line(line).expect(2);
    }
}

/// Derived from the geometry (no publisher): a surface turned by 20 degrees about a hinge swept by 10, or up by 5.
#[test]
fn travel_by_a_level() {
    let bench = Bench::new();
    for (line, travel) in [
        ("travel 20 --hinge-sweep 10 --laid square", 20.0),
        ("travel 19.7197 --hinge-sweep 10 --laid fore-aft", 20.0),
        ("travel 19.9207 --hinge-dihedral 5 --laid square", 20.0),
        ("travel 20.0703 --hinge-dihedral 5 --laid fore-aft", 20.0),
        ("travel -19.7197 --hinge-sweep 10 --laid fore-aft", -20.0),
        ("travel -18.5 --neutral 1.5 --laid fore-aft", -20.0),
        ("travel 19°30' --neutral -0°30' --laid square", 20.0),
        ("travel --laid square -- -12.5", -12.5),
    ] {
        let a = bench.line(&format!("{} --json", line.replace(" -- ", " "))).expect(0).json();
        near(&a["travel_deg"], travel, 1e-4);
    }
    let text = bench.line("travel 19.7197 --hinge-sweep 10 --laid fore-aft").expect(0).out;
    assert_eq!(text, "travel +20.0000°, trailing edge up\n");
}

/// A chord of 2 turned by 25 degrees; a public page gives the tangent, 0.93, for the travel of a hinge.
#[test]
fn travel_by_a_length_says_which() {
    let bench = Bench::new();
    for (by, length) in [("sine", 0.8452), ("chord", 0.8658), ("arc", 0.8727), ("tangent", 0.9326)] {
        let a = bench.line(&format!("travel {length} --chord 2 --by {by} --json")).expect(0).json();
        near(&a["travel_deg"], 25.0, 4e-3);
        let a = bench.line(&format!("travel \"{length} in\" --chord \"2 in\" --by {by} --json")).expect(0);
        near(&a.json()["travel_deg"], 25.0, 4e-3);
    }
}

#[test]
fn impossible_travels_are_refused() {
    let bench = Bench::new();
    for line in [
        "travel 86 --hinge-dihedral 5 --laid square",
        "travel 90 --laid fore-aft",
        "travel 3 --chord 2 --by sine",
        "travel 5 --chord 2 --by chord",
        "travel 90 --chord 2 --by arc",
    ] {
        let ran = bench.line(line).expect(11);
        assert!(ran.out.starts_with("cannot be judged"), "{line}: {}", ran.out);
        let a = bench.line(&format!("{line} --json")).expect(11).json();
        assert!(a["travel_deg"].is_null() && a["cannot_judge"].is_string(), "{a}");
    }
    for (line, says) in [
        ("travel 3.2mm --laid square", "an angle is expected"),
        ("travel 3° --chord 2 --by arc", "a length is expected"),
        ("travel \"3 in\" --chord 200 --by arc", "unit of both"),
        ("travel 3 --chord 0 --by arc", "above zero"),
        ("travel 100 --laid square", "-90 to 90"),
        ("travel 10 --laid square --hinge-sweep 90", "-80 to 80"),
        ("travel nan --laid square", "number"),
        ("travel 1,5 --laid square", "comma"),
    ] {
        let ran = bench.line(line).expect(1);
        assert!(ran.err.contains(says), "{line}: {}", ran.err);
    }
    for line in [
        "travel 20",
        "travel 20 --laid upside-down",
        "travel 20 --chord 2",
        "travel 20 --by arc",
        "travel 20 --chord 2 --by arc --laid square",
        "travel 20 --chord 2 --by arc --neutral 1",
        "travel --laid square",
    ] {
        bench.line(line).expect(2);
    }
}

const TWO: &str = "mark,aft_mm,out_mm,left_mm,right_mm\ntail,4300,4000,5890.852,5854.733\nnose,-1500,4000,4262.766,4281.219\n";

/// Derived, no publisher: marks 4000 out; 4300 aft and 4 right, 1500 ahead and 2 left; the wing turned by 0.3 degrees.
#[test]
fn a_turned_wing_by_distances() {
    let bench = Bench::new();
    let a = bench.piped("symmetry - --json", TWO).expect(0).json();
    near(&a["yaw_deg"], 0.359_27, 2e-5);
    near(&a["offset_mm"], -0.448, 2e-3);
    assert!(a["yaw_u_deg"].is_null() && a["p"].is_null(), "two pairs say nothing of how sure they are: {a}");
    let a = bench.piped("symmetry - --u 0.5 --json", TWO).expect(0).json();
    assert!(a["yaw_u_deg"].as_f64().is_some_and(|u| u > 0.003 && u < 0.02), "{a}");
    let text = bench.piped("symmetry - --u 0.5", TWO).expect(0).out;
    assert!(text.starts_with("yaw +0.359 ±") && text.contains("right wing aft"), "{text}");
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
    // With the other wing aft the sign is reversed.
    let swapped = TWO.replace("left_mm,right_mm", "right_mm,left_mm");
    near(&bench.piped("symmetry - --json", &swapped).expect(0).json()["yaw_deg"], -0.359_27, 2e-5);
}

#[test]
fn one_pair_cannot_tell_a_turned_wing_from_a_mark_off_centre() {
    let bench = Bench::new();
    let one = "mark,aft_mm,out_mm,left_mm,right_mm\ntail,4300,4000,5890.852,5854.733\n";
    let ran = bench.piped("symmetry - --u 0.5", one).expect(11);
    let words = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("cannot tell a turned wing from a mark off centre"), "{words}");
    let a = bench.piped("symmetry - --json", one).expect(11).json();
    assert!(a["yaw_deg"].is_null() && a["cannot_judge"].is_string(), "{a}");
    // 0.3 degrees and 4 mm of a mark together: 4 mm is 0.0533 degrees at 4300.
    near(&a["if_turned_deg"], 0.3533, 2e-4);
    near(&a["if_off_centre_mm"], 26.514, 2e-3);
}

#[test]
fn distances_that_contradict_each_other() {
    let bench = Bench::new();
    // Half way between them: no yaw or offset explains this one.
    let row = "belly,1400,4000,4268.0,4210.0\n";
    let ran = bench.piped("symmetry - --u 0.5", &format!("{TWO}{row}")).expect(11);
    assert!(ran.out.contains("contradict"), "{}", ran.out);
    for (row, says) in [
        ("x,1400,4000,9000,9000\n", "check both"),
        ("x,1400,4000,-1,4238\n", "above zero"),
        ("x,1400,0,4238,4238\n", "above zero"),
    ] {
        let ran = bench.piped("symmetry -", &format!("{TWO}{row}"));
        assert!([1, 11].contains(&ran.code) && format!("{}{}", ran.out, ran.err).contains(says), "{row}");
    }
    let ran = bench.piped("symmetry -", "left_mm,right_mm\n1,1\n").expect(1);
    assert!(ran.err.contains("no column `out_mm`"), "{}", ran.err);
    bench.piped("symmetry - --u 0", TWO).expect(1);
}

/// A university's taping lecture (slides), in feet: 368.50 at 22 F with 6.5e-6 per F are 0.1102 less; 2.8 lb per 100 ft at 12 lb over
/// 3 x 100 + 48.75 hangs by 0.7068, at 18 lb by 0.3142; 18 lb against 12 over 100 with 0.015 in2 and 29e6 psi is 0.001379. No line of a wing is
/// longer than 100 m, so the parts are asked for one by one. Derived: 20 g/m over 4500 mm at 22.24 N and at 50 N; aluminium by steel.
#[test]
fn a_tape_by_pull_sag_and_temperature() {
    let bench = Bench::new();
    let part = |line: &str, part: &str| {
        let a = bench.line(&format!("tape {line} --json")).expect(0).json();
        assert_eq!(a["format"], 1);
        let (shown, added) = (a["reading_mm"].as_f64().unwrap(), a["correction_mm"].as_f64().unwrap());
        near(&a["length_mm"], shown + added, 1e-9);
        a[part].as_f64().unwrap()
    };
    let feet = |mm: f64| mm / 304.8;
    let close =
        |found: f64, wanted: f64, within: f64| assert!((found - wanted).abs() <= within, "{found} {wanted}");
    // 2.8 lb per 100 ft.
    let sag = |pull: &str| {
        let of = |length: &str, spans: u32| {
            part(&format!("\"{length} in\" --pull \"{pull} lbf\" --mass 41.6689 --spans {spans}"), "sag_mm")
        };
        feet(of("3600", 3) + of("585", 1))
    };
    close(sag("12"), -0.7068, 5e-4);
    close(sag("18"), -0.3142, 5e-4);
    let pulled = "\"1200 in\" --pull \"18 lbf\" --right-at \"12 lbf\" --section 9.6774 --modulus 199948";
    close(feet(part(pulled, "pull_mm")), 0.001_379, 1e-6);
    let quarter = part("\"1105.5 in\" --temperature \"22 °F\" --expansion 11.7e-6", "temperature_mm");
    close(4.0 * feet(quarter), -0.1102, 5e-5);
    close(part("4500 --pull \"22.24 N\" --mass 20 --spans 1", "sag_mm"), -0.2953, 5e-5);
    close(part("4500 --pull \"50 N\" --mass 20 --spans 1", "sag_mm"), -0.0584, 5e-5);
    // A tape that lies on something all along does not sag; a plan says so with the same number.
    close(part("4500 --pull \"50 N\" --mass 20 --spans 0", "sag_mm"), 0.0, 1e-12);
    let warm = "4500 --temperature 30 --expansion 11.7e-6 --part-expansion 23e-6";
    close(part(warm, "temperature_mm"), -0.51, 2e-3);
    let text =
        bench.line("tape 4500 --pull \"22.24 N\" --pull-within \"5 N\" --mass 20 --spans 1").expect(0).out;
    assert!(text.starts_with("4499.70 ±0.1") && text.contains("-0.295 mm"), "{text}");
    let text = bench.line("tape \"177 3/16 in\" --temperature 30 --expansion 11.7e-6").expect(0).out;
    assert!(
        text.contains(" in") && !text.contains("mm"),
        "what was typed in inches is answered in inches: {text}"
    );
    let text = bench.line("tape 4500 --units in --temperature 30 --expansion 11.7e-6").expect(0).out;
    assert!(text.contains(" in") && !text.contains("mm"), "{text}");
}

#[test]
fn impossible_tapes_are_refused() {
    let bench = Bench::new();
    for (line, says) in [
        ("tape 4500", "what is known about the tape"),
        ("tape 4500 --pull \"50 N\"", "what is known about the tape"),
        ("tape 0 --temperature 30 --expansion 1e-5", "above zero"),
        ("tape 4500° --temperature 30 --expansion 1e-5", "a length is expected"),
        ("tape 4500 --temperature 30 --expansion 0.01", "1e-3"),
        ("tape 4500 --temperature 30 --expansion nan", "1e-3"),
        ("tape 4500 --temperature 3mm --expansion 1e-5", "temperature"),
        ("tape 4500 --pull 50 --mass 0 --spans 1", "mass"),
        ("tape 4500 --pull 0 --mass 20 --spans 1", "above zero"),
        ("tape 4500 --pull 50 --mass 20000 --spans 1", "more than a hundredth"),
        ("tape 4500 --pull 50 --pull-within 50 --mass 20 --spans 1", "reaches the pull itself"),
        ("tape 4500 --pull \"50 mm\" --mass 20 --spans 1", "force"),
    ] {
        let ran = bench.line(line);
        assert!(ran.code == 1 || ran.code == 2, "{line}: {}", ran.out);
        assert!(ran.err.contains(says), "{line}: {}", ran.err);
        assert!(ran.out.is_empty(), "{line}: {}", ran.out);
    }
    for line in [
        "tape",
        "tape 4500 --mass 20 --pull 50",
        "tape 4500 --spans 2 --pull 50",
        "tape 4500 --section 2 --modulus 2e5 --pull 50",
        "tape 4500 --right-at 50 --pull 60",
        "tape 4500 --temperature 30",
        "tape 4500 --expansion 1e-5",
        "tape 4500 --pull-within 5 --temperature 30 --expansion 1e-5",
        "tape 4500 --temperature 30 --temperature 31 --expansion 1e-5",
    ] {
        bench.line(line).expect(2);
    }
}

/// What was typed in a unit, or asked for in one, is answered in it; JSON is not.
#[test]
fn answers_are_in_the_units_of_the_person() {
    let bench = Bench::new();
    let out = |line: &str| bench.line(line).expect(0).out;
    let torque = "torque 300 --lever 10 --extension 4 --unit in-lb";
    assert!(out(&format!("{torque} --units N·m")).starts_with("set the wrench to 24.21 N·m for 33.9 N·m"));
    assert!(out(torque).starts_with("set the wrench to 214.3 in-lb"));
    assert_eq!(out(&format!("{torque} --json")), out(&format!("{torque} --units N·m --json")));
    assert!(out("travel 19.5 --laid square --units deg-min").starts_with("travel +19°30'"));
    assert!(out("travel 19°30' --laid square").starts_with("travel +19°30"));
    assert!(out("travel 19.5 --laid square").starts_with("travel +19.5°"));
    let symmetry = |line: &str, table: &str, code: i32| bench.piped(line, table).expect(code).out;
    let text = symmetry("symmetry - --u 0.5 --units in,deg-min", TWO, 0);
    assert!(
        text.contains("yaw +0°21") && text.contains(" in, right positive") && text.contains("left over in"),
        "{text}"
    );
    assert!(text.contains("+1.42") && !text.contains("mm"), "{text}");
    let one = TWO.lines().take(2).collect::<Vec<_>>().join("\n");
    let text = symmetry("symmetry - --units in,deg-min", &one, 11);
    assert!(text.contains("+0°21") && text.contains("+1.04 in") && !text.contains("mm"), "{text}");
    assert_eq!(symmetry("symmetry - --json", &one, 11), symmetry("symmetry - --json --units in", &one, 11));
}
