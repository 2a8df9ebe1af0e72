//! Stages in order, work on one thing, a plan that changes, an instrument that fails its check.

use crate::program;
use crate::program::{Bench, Ran, SMALL_PLAN};
use serde_json::Value;

fn measured(bench: &Bench) {
    for (station, design) in [("S1", 2.0), ("S2", 1.0), ("S3", 0.0)] {
        for (facing, shown) in [("forward", design + 0.1), ("aft", 0.1 - design)] {
            let (point, shown) = (format!("incidence@{station}"), format!("{shown:.2}"));
            bench.run(&["take", "wing.jigtrue", &point, &shown, "--facing", facing]).expect(0);
        }
    }
}

fn last(bench: &Bench) -> Value {
    let out = bench.line("export wing.jigtrue --format jsonl").expect(0).out;
    serde_json::from_str(out.lines().last().unwrap()).unwrap()
}

fn points(ran: &Ran, wanted: &str) -> Value {
    let a = ran.json();
    a["points"].as_array().unwrap().iter().find(|p| p["point"] == wanted).cloned().unwrap_or_default()
}

#[test]
fn a_stage_over_an_unmet_one_needs_a_reason_and_the_entry_keeps_it() {
    let plan =
        SMALL_PLAN.replacen("requires = [\"incidence@*\"]", "requires = [\"incidence@*\", \"spot@*\"]", 1);
    let bench = Bench::with_plan(&plan);
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    let entries = |b: &Bench| b.line("export wing.jigtrue --format jsonl").out.lines().count();
    let before = entries(&bench);
    let ran = bench.line("stage wing.jigtrue \"ready to skin\"").expect(11);
    assert!(ran.err.contains("is not begun") && ran.err.contains("--anyway"), "{}", ran.err);
    bench.line("stage wing.jigtrue").expect(11);
    assert_eq!(entries(&bench), before);
    // Outside has another exit code than not proven.
    measured(&bench);
    bench.line("take wing.jigtrue spot@bolt \"70 in-lb\"").expect(0);
    bench.line("stage wing.jigtrue").expect(10);
    let ran = bench.line("stage wing.jigtrue --anyway \"the inspector saw it\"").expect(0);
    assert!(ran.out.contains("stage `ready to skin` begins"), "{}", ran.out);
    assert!(ran.out.starts_with(&format!("{}", entries(&bench))), "it answers with its number: {}", ran.out);
    let body = last(&bench)["body"].clone();
    assert_eq!(body["reason"], "the inspector saw it");
    assert!(!body["unmet"].as_array().unwrap().is_empty(), "{body}");
    bench.line("stage wing.jigtrue").expect(1);
}

#[test]
fn a_met_stage_needs_no_reason_and_a_skipped_one_is_named() {
    let bench = Bench::begun();
    measured(&bench);
    bench.line("stage wing.jigtrue").expect(0);
    assert!(last(&bench)["body"].get("reason").is_none());
    assert_eq!(last(&bench)["body"]["name"], "ready to skin");

    let three = SMALL_PLAN.replacen("[[stage]]", "[[stage]]\nname = \"jig empty\"\n[[stage]]", 1);
    let bench = Bench::with_plan(&three);
    let ran = bench.line("stage wing.jigtrue \"ribs on\"").expect(11);
    assert!(ran.err.contains("it would skip jig empty"), "{}", ran.err);
    bench.line("stage wing.jigtrue \"ribs on\" --anyway \"the jig was levelled last year\"").expect(0);
    assert_eq!(last(&bench)["body"]["passed"][0], "jig empty");
    // Back to an earlier stage only on purpose.
    bench.line("stage wing.jigtrue \"jig empty\"").expect(11);
}

#[test]
fn rework_makes_stale_what_was_worked_on_and_what_depends_on_it() {
    let rule = "\n[[rework]]\nof = [\"spot@bolt\"]\nstales = [\"incidence@S3\"]\n";
    let bench = Bench::with_plan(&(SMALL_PLAN.to_owned() + rule));
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    measured(&bench);
    bench.line("take wing.jigtrue spot@bolt \"88 in-lb\"").expect(0);
    let ran = bench.line("rework wing.jigtrue incidence@S2 --what \"drilled off, fitted again\"").expect(0);
    assert!(ran.out.contains("1 point is stale, to be measured again: incidence@S2"), "{}", ran.out);
    let ran = bench.line("rework wing.jigtrue spot@bolt --what \"tightened again\"").expect(0);
    assert!(ran.out.contains("incidence@S3") && ran.out.contains("spot@bolt"), "{}", ran.out);
    let check = bench.line("check wing.jigtrue --json");
    for (point, stale) in
        [("incidence@S1", false), ("incidence@S2", true), ("incidence@S3", true), ("spot@bolt", true)]
    {
        assert_eq!(!points(&check, point)["stale_because"].is_null(), stale, "{point}");
    }
    bench.line("rework wing.jigtrue incidence@S9 --what x").expect(1);
    bench.line("rework wing.jigtrue incidence@S1 --what \" \"").expect(1);
    bench.line("rework wing.jigtrue incidence@S1").expect(2);
    // Withdrawn, it never was.
    let seq = last(&bench)["seq"].as_u64().unwrap();
    bench.line(&format!("withdraw wing.jigtrue {seq} --reason \"another wing\"")).expect(0);
    let check = bench.line("check wing.jigtrue --json");
    assert!(points(&check, "spot@bolt")["stale_because"].is_null());
    // With the withdrawal withdrawn, it was.
    bench.line(&format!("withdraw wing.jigtrue {} --reason \"it was this one\"", seq + 1)).expect(0);
    let check = bench.line("check wing.jigtrue --json");
    assert!(!points(&check, "spot@bolt")["stale_because"].is_null());
}

/// The state of the loosened tolerance among the gate's obligations; `met` if there is none.
fn state(bench: &Bench) -> String {
    let check = bench.line("check wing.jigtrue --json").json();
    let all = check["gate"]["obligations"].as_array().unwrap();
    let of = |o: &&serde_json::Value| o["about"] == "looser: tolerance.station 0.3 -> 5";
    assert!(all.iter().filter(of).count() <= 1, "one obligation, not two");
    all.iter().find(of).map_or("met", |o| o["state"].as_str().unwrap()).to_owned()
}

#[test]
fn a_looser_plan_is_shown_and_holds_until_it_is_carried_past() {
    let bench = Bench::begun();
    bench.write(
        "wide.toml",
        SMALL_PLAN.replace("station = 0.3", "station = 5").replace("chord = 1400", "chord = 1500"),
    );
    let ran = bench.line("replan wing.jigtrue wide.toml --reason \"a letter\"").expect(0);
    for words in [
        "Plan changes, 2",
        "tolerance.station 0.3 -> 5    looser",
        "station.S1.chord 1400 -> 1500",
        "1 loosened key holds the gate",
        "open-item LOG \"looser: tolerance.station 0.3 -> 5\" --carry",
    ] {
        assert!(ran.out.contains(words), "{words} is not in\n{}", ran.out);
    }
    let ran = bench.line("plan wing.jigtrue --changes").expect(0);
    assert!(ran.out.contains("a letter") && ran.out.contains("tolerance.station 0.3 -> 5"), "{}", ran.out);
    assert!(bench.line("plan wing.jigtrue").expect(0).out.contains("station = 5"));
    let check = bench.line("check wing.jigtrue --json").json();
    assert!(check.to_string().contains("looser: tolerance.station 0.3 -> 5"), "the check shows it");
    let number = last(&bench)["seq"].as_u64().unwrap();
    bench.line(&format!("open-item wing.jigtrue {number} --close --reason x")).expect(1);
    bench.line(&format!("open-item wing.jigtrue {number} --carry")).expect(1);
    bench.line(&format!("open-item wing.jigtrue {number} --carry --reason \"maker's letter\"")).expect(0);
    assert_eq!(state(&bench), "met");
    // Tightened again it is not an obligation; loosened again it holds again, whatever was carried past before.
    bench.line("replan wing.jigtrue plan.toml --reason back").expect(0);
    assert_eq!(state(&bench), "met", "carried past, and not in force any more");
    let ran = bench.line("replan wing.jigtrue wide.toml --reason again --json").expect(0).json();
    assert_eq!(ran["loosened"][0], "looser: tolerance.station 0.3 -> 5", "{ran}");
    assert_eq!(state(&bench), "doubtful");
    // By its own words too, without an entry to name.
    let words =
        "open-item wing.jigtrue \"looser: tolerance.station 0.3 -> 5\" --carry --reason \"the maker again\"";
    bench.line(words).expect(0);
    assert_eq!(state(&bench), "met");
    bench.line("replan wing.jigtrue plan.toml --reason back").expect(0);
    assert_eq!(last(&bench)["kind"], "replanned", "a plan writes one entry");
    // Two keys loosened by one entry are carried past one by one.
    let two = SMALL_PLAN.replace("station = 0.3", "station = 5").replace("washout = 0.3", "washout = 5");
    bench.write("two.toml", two);
    bench.line("replan wing.jigtrue two.toml --reason both").expect(0);
    let number = last(&bench)["seq"].as_u64().unwrap();
    let ran = bench.line(&format!("open-item wing.jigtrue {number} --carry --reason both")).expect(1);
    assert!(ran.err.contains("tolerance.station") && ran.err.contains("tolerance.washout"), "{}", ran.err);
    bench.line("replan wing.jigtrue plan.toml --reason back").expect(0);
    bench.write("same.toml", SMALL_PLAN.to_owned() + "\n# a remark\n");
    let ran = bench.line("replan wing.jigtrue same.toml --reason remark").expect(0);
    assert!(ran.out.contains("Only remarks and spaces"), "{}", ran.out);
}

#[test]
fn new_warns_of_what_can_never_be_proven() {
    let bench = Bench::new();
    let never = SMALL_PLAN.replace("[tolerance]", "[tolerance]\nstraightness = 1\nlevel = 0.1");
    bench.write("plan.toml", &never);
    let ran = bench.line("new plan.toml wing.jigtrue").expect(0);
    for words in ["tolerance.straightness", "tolerance.level"] {
        assert!(ran.out.replace('\n', " ").contains(words), "{words}: {}", ran.out);
    }
    let ran = bench.line("new plan.toml other.jigtrue --json").expect(0).json();
    assert_eq!(ran["warnings"].as_array().unwrap().len(), 2, "{ran}");
    // On edge the plumb lines hang beside one surface or the other.
    let spars =
        "[[spar]]\nname = \"front\"\naft_root = 300\n[[spar]]\nname = \"rear\"\naft_root = 900\n[[stage]]";
    let on_edge = SMALL_PLAN
        .replace("chord-level", "leading-edge-down")
        .replace("incidence@*", "plumb@*")
        .replacen("[[stage]]", spars, 1);
    for (plan, warned) in
        [(on_edge.clone(), true), (on_edge.replace("[wing]", "[wing]\nplumb_side = \"upper\""), false)]
    {
        bench.write("edge.toml", plan);
        let _ = std::fs::remove_file(bench.path("edge.jigtrue"));
        let ran = bench.line("new edge.toml edge.jigtrue").expect(0);
        assert_eq!(ran.out.contains("plumb_side"), warned, "{}", ran.out);
    }
    // A spar that no stage asks for, where it asks for the other.
    let one_spar = SMALL_PLAN
        .replace("[tolerance]", "[tolerance]\nstraightness = 1")
        .replacen("[[stage]]", spars, 1)
        .replacen("incidence@*\"", "incidence@*\", \"offset@front:*\"", 1);
    bench.write("spar.toml", one_spar);
    let ran = bench.line("new spar.toml spar.jigtrue --json").expect(0).json();
    let said: Vec<&str> = ran["warnings"].as_array().unwrap().iter().map(|w| w.as_str().unwrap()).collect();
    assert!(said.iter().any(|w| w.contains("which straightness of rear needs")), "{said:?}");
    assert_eq!(said.iter().filter(|w| w.contains("no stage")).count(), 1, "{said:?}");
    // Too narrow for the step of the only level, 0.05 degrees: a thousand millionth, and four thousandths if 21 rounds are averaged; five
    // are not. By simple acceptance a value alone can lie within.
    for (station, rule, warned) in [
        ("1e-9", "", true),
        ("0.004", "", true),
        ("0.005", "", false),
        ("1e-9", "[rule]\nacceptance = \"simple\"\n", false),
    ] {
        let fine = SMALL_PLAN.replace("station = 0.3", &format!("station = {station}"));
        bench.write("fine.toml", fine.replacen("[tolerance]", &format!("{rule}[tolerance]"), 1));
        let _ = std::fs::remove_file(bench.path("fine.jigtrue"));
        let ran = bench.line("new fine.toml fine.jigtrue").expect(0).out.replace('\n', " ");
        assert_eq!(ran.contains("tolerance.station is too narrow"), warned, "{station}: {ran}");
    }
    // A single station near an end, if dented, looks like setting or washout.
    bench.write("demo.toml", program::shipped("two-post", "plan.toml"));
    let ran = bench.line("new demo.toml demo.jigtrue").expect(0).out.replace("\n", " ");
    assert!(!ran.contains("too narrow"), "{ran}");
    // Its twist is read as angles and as heights.
    let fine = program::shipped("two-post", "plan.toml").replace("\nstation = 0.25", "\nstation = 1e-9");
    bench.write("heights.toml", fine);
    let warned = bench.line("new heights.toml heights.jigtrue").expect(0).out.replace("\n", " ");
    assert!(warned.contains("tolerance.station is too narrow"), "{warned}");
    assert!(ran.contains("only one station shows the root") && ran.contains("shows the tip"), "{ran}");
}

#[test]
fn a_failed_check_exits_ten_and_a_check_that_cannot_tell_is_not_a_check() {
    let bench = Bench::begun();
    bench.line("instrument check wing.jigtrue \"beam level\" 0.10 0.00").expect(0);
    bench.line("instrument check wing.jigtrue \"beam level\" 0.50 0.30").expect(10);
    let ran = bench
        .line("instrument check wing.jigtrue \"beam level\" 2.50 -2.50 --block \"1/2 in\" --length \"12 in\"")
        .expect(1);
    assert!(ran.err.contains("cannot tell"), "{}", ran.err);
    bench.write(
        "odd.toml",
        "name = \"odd\"\nkind = \"inclinometer\"\nresolution = 0.1\nrepeatability = 1e200\n[port]\nbaud = 9600\n\
         [dialect]\nspeaks = \"lines\"\nline = \"{angle deg .2}\"\n[axes]\nmeasures = \"angle\"\npositive = \"arrow end up\"\n",
    );
    let ran = bench.line("instrument add wing.jigtrue odd.toml").expect(1);
    assert!(
        ran.err.contains("`repeatability`: beyond what can be measured on a wing: angle goes from"),
        "{}",
        ran.err
    );
}

#[test]
fn before_the_first_stage_no_stage_is_within() {
    let bench = Bench::with_plan(SMALL_PLAN);
    let ran = bench.line("check wing.jigtrue --this-stage --json").expect(11);
    assert!(ran.json()["stage_verdict"].is_null());
}
