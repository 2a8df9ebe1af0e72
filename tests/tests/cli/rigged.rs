//! The whole rigged aeroplane by other ways in than its own log: imported, and typed with every kind of point.

use crate::program::{Bench, shipped};
use serde_json::Value;

/// What is judged, with its value and verdict, and what the gate says about it.
fn judged(a: &Value) -> Vec<(String, f64, String)> {
    let rigging = a["rigging"].as_array().unwrap();
    let one = |r: &Value| {
        let verdict = r["judged"]["verdict"].as_str().unwrap_or("none").to_owned();
        (r["name"].as_str().unwrap().to_owned(), r["judged"]["value"].as_f64().unwrap(), verdict)
    };
    rigging.iter().map(one).collect()
}

fn states(a: &Value) -> Vec<(String, String)> {
    let all = a["gate"]["obligations"].as_array().unwrap();
    let one = |o: &Value| (format!("{} {}", o["kind"], o["about"]), o["state"].to_string());
    all.iter().map(one).collect()
}

/// The steps of the case, its readings as tables, each imported whole into a log of the same plan.
#[test]
fn the_whole_aeroplane_imported_is_judged_as_its_own_log_is() {
    let demo = Bench::demo("rigged");
    let own = demo.line("check demo.jigtrue --json").expect(0).json();
    let bench = Bench::with_plan(&shipped("rigged", "plan.toml"));
    let steps = shipped("rigged", "steps.csv");
    let mut table = String::new();
    let import = |table: &mut String| {
        if !table.is_empty() {
            let head = "point,value,facing,instrument,temperature_C\n";
            bench.piped("import wing.jigtrue -", &format!("{head}{table}")).expect(0);
            table.clear();
        }
    };
    for step in steps.lines().skip(1) {
        let f: Vec<&str> = step.split(',').collect();
        match f[1] {
            "stage" => {
                import(&mut table);
                bench.run(&["stage", "wing.jigtrue", f[2]]).expect(0);
            }
            "rework" => {
                import(&mut table);
                let points = f[2].split(';');
                let words: Vec<&str> =
                    ["rework", "wing.jigtrue"].into_iter().chain(points).chain(["--what", f[8]]).collect();
                bench.run(&words).expect(0);
            }
            _ => table += &format!("{},{},{},{},{}\n", f[2], f[3], f[4], f[5], f[6]),
        }
    }
    import(&mut table);
    let a = bench.line("check wing.jigtrue --json").expect(0).json();
    assert_eq!(judged(&a), judged(&own));
    assert_eq!(states(&a), states(&own));
    assert_eq!(a["rig_closures"], own["rig_closures"]);
}

/// Every kind of point as it is typed, with the value recorded; and what is refused or questioned there.
#[test]
fn each_kind_is_typed_once() {
    let bench = Bench::with_plan(&shipped("rigged", "plan.toml"));
    bench.line("stage wing.jigtrue \"wings on\"").expect(0);
    let pound = 4.448_221_615_260_5;
    for (point, typed, kept, wrong) in [
        ("pitch@fuselage", "f 0°15'", 0.25, "f 3.2mm"),
        ("roll@fuselage", "f -0.05", -0.05, "f 12"),
        ("dihedral@left wing", "f 5.20", 5.2, "f -5.2"),
        ("rig-incidence@left root", "f \"2°15'\"", 2.25, "f 9"),
        ("upright@fin", "a 0.25", 0.25, "a 20"),
        ("sweep@left wing", "\"91.5 mm\"", 91.5, "91.5°"),
        ("distance@nose to left", "4286", 4286.0, "5286"),
        ("neutral@elevator", "0.10", 0.1, "30"),
        ("travel-up@elevator", "25.2", 25.2, "-25.2"),
        ("travel-down@elevator", "-19.75", -19.75, "19.75"),
        ("travel-up@rudder", "\"18.15 cm\"", 181.5, "25°"),
        ("play@left aileron", "0.5", 0.5, "200"),
        ("tension@rudder left", "51 --temp 21", 51.0 * pound, "510 --temp 21"),
        ("drag@left front spar", "2.1", 2.1, "\"2.1 mm\""),
        ("torque@left front spar", "32.2", 32.2, "322"),
    ] {
        let instrument = match point.split_once('@').unwrap().0 {
            "sweep" | "distance" | "play" => "steel tape",
            "travel-up" if point.ends_with("rudder") => "steel tape",
            "tension" => "tensiometer",
            "drag" | "torque" => "torque wrench",
            _ => "beam level",
        };
        let take = |value: &str, more: &str| {
            bench.line(&format!("take wing.jigtrue \"{point}\" {value} --instrument \"{instrument}\" {more}"))
        };
        let ran = take(wrong, "").expect(1);
        assert!(ran.out.is_empty() && !ran.err.is_empty(), "{point} {wrong}: {} {}", ran.out, ran.err);
        let ran = take(typed, "--json").expect(0);
        let value = ran.json()["entry"]["body"]["value"].as_f64().unwrap_or_else(|| panic!("{}", ran.out));
        assert!((value - kept).abs() < 1e-9, "{point} {typed}: {value}");
    }
}

/// The half of a pair that rework made stale is not compared with a new half, by any way in.
#[test]
fn the_stale_half_of_a_pair_is_not_compared() {
    let bench = Bench::with_plan(&shipped("rigged", "plan.toml"));
    bench.line("stage wing.jigtrue \"wings on\"").expect(0);
    let take = |words: &str| bench.line(&format!("take wing.jigtrue {words}"));
    for pair in ["pitch@fuselage f 0.25 a 0.05", "roll@fuselage f 0.05 a 0.15"] {
        take(pair).expect(0);
    }
    take("\"rig-incidence@left root\" f 2.25 a -2.05").expect(0);
    // Without a rework, a half that makes another zero is questioned; after one there is nothing to compare.
    let asked = take("\"rig-incidence@left root\" f 3.05").expect(1);
    assert!(asked.err.contains("zero"), "{}", asked.err);
    bench.line("rework wing.jigtrue \"rig-incidence@left root\" --what shimmed").expect(0);
    let said = take("\"rig-incidence@left root\" f 3.05").expect(0).out;
    assert!(!said.contains("zero"), "the stale half makes no pair: {said}");
    let said = take("\"rig-incidence@left root\" a -2.85").expect(0).out;
    assert!(said.contains("zero"), "both are new: {said}");
    bench.line("rework wing.jigtrue \"rig-incidence@left root\" --what \"shimmed again\"").expect(0);
    let table = "point,value,facing\nrig-incidence@left root,-2.10,aft\n";
    bench.piped("import wing.jigtrue -", table).expect(0);
    // The other half shows a forgotten sign.
    let asked = take("\"rig-incidence@left root\" f -2.30").expect(1);
    assert!(asked.err.contains("should show"), "{}", asked.err);
    take("\"rig-incidence@left root\" f 2.30").expect(0);
    // A withdrawn reading is not a half either.
    take("\"rig-incidence@right root\" f 2.20").expect(0);
    bench.line("undo wing.jigtrue --reason \"wrong place\"");
    let said = take("\"rig-incidence@right root\" a -1.10").expect(0).out;
    assert!(!said.contains("zero"), "{said}");
}
