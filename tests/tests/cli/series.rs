//! Many wings of one kind through the real program: what they have in common is found, and nothing is left out in
//! silence.

use crate::program::Bench;
use serde_json::Value;
use stories::forge::forge;
use stories::wings::{Workshop, write};

fn bench_with(workshop: Workshop, wings: u64) -> Bench {
    let bench = Bench::new();
    (0..wings).for_each(|n| write(workshop, n, &bench.path(&name(n))));
    bench
}

fn name(n: u64) -> String {
    format!("w{n:02}.jigtrue")
}

fn line(wings: u64, more: &str) -> String {
    let names: Vec<String> = (0..wings).map(name).collect();
    format!("series {} {more}", names.join(" "))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn figure<'a>(series: &'a Value, kind: &str, about: &str) -> &'a Value {
    let all = series["figures"].as_array().unwrap();
    all.iter().find(|f| f["kind"] == kind && f["about"] == about).unwrap_or_else(|| panic!("{kind} {about}"))
}

#[test]
fn what_all_wings_have_in_common_is_found() {
    let workshop = Workshop { zero_drift: 0.004, washout_drift: 0.02, ..Workshop::default() };
    let bench = bench_with(workshop, 16);
    let ran = bench.line(&line(16, "--json")).expect(0);
    let series = ran.json();
    assert_eq!(series["wings"].as_array().unwrap().len(), 16);
    assert_eq!(series["stage"], "ready to skin");
    // The rear spar pulls S5 down, and nothing else as far.
    let worst = &series["creeps"][0];
    assert_eq!((&worst["what"], &worst["station"]), (&"station".into(), &"S5".into()));
    assert_eq!(worst["during"], "rear spar on");
    assert_eq!(worst["real"], true);
    let (mean, half) = (number(&worst["mean_deg"]), number(&worst["half95_deg"]));
    assert!((mean - workshop.creep_s5).abs() < 0.015 && half < 0.02, "{mean} ± {half}");
    // Nothing happens when the last stage begins.
    let quiet = series["creeps"].as_array().unwrap().iter().filter(|c| c["during"] == "ready to skin");
    assert!(quiet.clone().count() >= 6 && quiet.clone().all(|c| c["real"] == false));
    // The washout drifts from wing to wing, and so does the level's zero.
    let washout = figure(&series, "washout", "washout error");
    assert_eq!(washout["trend"]["real"], true);
    assert!((number(&washout["trend"]["per_wing"]) - workshop.washout_drift).abs() < 0.015, "{washout}");
    let level = &series["instruments"][0];
    assert_eq!((level["instrument"].as_str(), level["number"].as_str()), (Some("beam level"), Some("0417")));
    assert_eq!(level["drifted"], true);
    let per_100_days = number(&level["per_100_days"]["per_wing"]);
    assert!((per_100_days - 0.004 * 100.0 / 5.0).abs() < 0.01, "{level}");
    // What two turns did.
    let moved = &series["stiffness"]["moves"][0];
    assert_eq!(moved["support"], "tip rear");
    assert_eq!(moved["wings"], 16);
    let share = &series["stiffness"]["share"];
    let (mean, u) = (number(&share["mean"]), number(&share["u"]));
    assert!((mean - workshop.share).abs() < 2.0 * u && u < 0.1, "{share}");
    // The same for a person.
    let said = bench.line(&line(16, "")).expect(0).out;
    for part in
        ["16 wings like invented series wing", "S5 goes by", "during `rear spar on`", "washout error goes by"]
    {
        assert!(said.contains(part), "{part} in\n{said}");
    }
    assert!(said.lines().all(|l| l.chars().count() <= 80), "{said}");
}

/// Computed here again from the values of each wing alone.
#[test]
fn mean_spread_and_limits_are_those_of_the_single_logs() {
    let bench = bench_with(Workshop::default(), 7);
    let series = bench.line(&line(7, "--json")).expect(0).json();
    let values: Vec<f64> = (0..7)
        .map(|n| {
            let check = bench.line(&format!("check {} --json", name(n)));
            let stations = check.json()["twist"]["stations"].clone();
            let s3 = stations.as_array().unwrap().iter().find(|s| s["name"] == "S3").unwrap().clone();
            number(&s3["twist_error_deg"])
        })
        .collect();
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let sd = (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
    let range = values.windows(2).map(|w| (w[1] - w[0]).abs()).sum::<f64>() / (n - 1.0);
    let s3 = figure(&series, "station", "S3");
    for (found, expected) in [
        (&s3["mean"], mean),
        (&s3["sd"], sd),
        (&s3["chart"]["moving_range"], range),
        (&s3["chart"]["lower"], mean - 3.0 * range / 1.128),
        (&s3["chart"]["upper"], mean + 3.0 * range / 1.128),
    ] {
        assert!((number(found) - expected).abs() < 1e-12, "{found} and not {expected}");
    }
    assert_eq!((s3["lower"].as_f64(), s3["upper"].as_f64()), (Some(-0.4), Some(0.4)));
    assert_eq!(s3["chart"]["provisional"], true);
}

/// The order is that of building, whatever the order of the names.
#[test]
fn the_order_of_the_names_changes_nothing() {
    let bench = bench_with(Workshop::default(), 4);
    let forward = bench.line("series w00.jigtrue w01.jigtrue w02.jigtrue w03.jigtrue --json").expect(0).out;
    let back = bench.line("series w03.jigtrue w01.jigtrue w00.jigtrue w02.jigtrue --json").expect(0).out;
    assert_eq!(forward, back);
    let folder = bench.line("series . --json").expect(0).out;
    assert_eq!(forward.replace("\"w0", "\"./w0"), folder);
}

#[test]
fn what_cannot_be_judged_is_named() {
    let bench = bench_with(Workshop::default(), 4);
    // A record that somebody changed, a copy, a file that is not a log, a missing one, one of an earlier stage.
    forge(&bench.path("w01.jigtrue"), |rows| rows.truncate(9));
    let mut bytes = bench.read("w02.jigtrue");
    let at = bytes.windows(9).position(|w| w == b"2 turns c").unwrap();
    bytes[at] = b'3';
    bench.write("w02.jigtrue", bytes);
    bench.line("backup w00.jigtrue copy.jigtrue").expect(0);
    bench.write("none.jigtrue", "no log at all");
    let ran = bench.line("series w00.jigtrue w01.jigtrue w02.jigtrue w03.jigtrue copy.jigtrue none.jigtrue away.jigtrue --json");
    let series = ran.expect(11).json();
    let why = |log: &str| {
        let all = series["not_counted"].as_array().unwrap();
        all.iter().find(|n| n["log"] == log).unwrap_or_else(|| panic!("{log}"))["why"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    assert_eq!(series["wings"].as_array().unwrap().len(), 2);
    assert_eq!(series["not_counted"].as_array().unwrap().len(), 5);
    assert!(why("w01.jigtrue").contains("has not begun"), "{}", why("w01.jigtrue"));
    assert!(why("w02.jigtrue").contains("broken"), "{}", why("w02.jigtrue"));
    assert!(why("copy.jigtrue").contains("same log as w00.jigtrue"), "{}", why("copy.jigtrue"));
    assert!(!why("none.jigtrue").is_empty() && !why("away.jigtrue").is_empty());
    let said = bench.line("series w00.jigtrue away.jigtrue").expect(11).out;
    assert!(said.contains("NOT COUNTED") && said.contains("away.jigtrue"), "{said}");
    // Another name for the last stage: only like is compared with like.
    write(Workshop::default(), 8, &bench.path("w08.jigtrue"));
    forge(&bench.path("w08.jigtrue"), |rows| {
        rows.iter_mut().for_each(|r| r.body = r.body.replace("ready to skin", "close up"));
    });
    let renamed = bench.line("series w00.jigtrue w08.jigtrue --json").expect(11).json();
    assert!(
        renamed["not_counted"][0]["why"].as_str().unwrap().contains("--stage"),
        "{}",
        renamed["not_counted"]
    );
    bench.line("series w00.jigtrue w08.jigtrue --stage \"rear spar on\"").expect(0);
    // The same log under two names on one line, and with a later state of itself.
    let twice = bench.line("series w00.jigtrue ./w00.jigtrue --json").expect(11).json();
    assert_eq!(twice["wings"].as_array().unwrap().len(), 1);
    bench.line("note w00.jigtrue \"hung up\"").expect(0);
    let later = bench.line("series w00.jigtrue copy.jigtrue --json").expect(11).json();
    assert_eq!(later["wings"].as_array().unwrap().len(), 1);
}

#[test]
fn another_kind_of_wing_is_refused_by_name() {
    let bench = bench_with(Workshop::default(), 2);
    let plan = stories::wings::plan(9).replace("span = 1700", "span = 1720");
    bench.write("plan.toml", &plan);
    bench.line("new plan.toml other.jigtrue").expect(0);
    let right = stories::wings::plan(9).replace("side = \"left\"", "side = \"right\"");
    bench.write("right.toml", &right);
    bench.line("new right.toml right.jigtrue").expect(0);
    let ran = bench.line("series w00.jigtrue other.jigtrue w01.jigtrue right.jigtrue").expect(1);
    for part in
        ["differ from w00.jigtrue", "other.jigtrue", "station.S3.span", "1700 mm -> 1720 mm", "right.jigtrue"]
    {
        assert!(ran.err.contains(part), "{part} in\n{}", ran.err);
    }
    assert!(ran.out.is_empty());
    // A looser tolerance is the same kind of wing; then no tolerance is shown.
    let loose = stories::wings::plan(9).replace("station = 0.4", "station = 0.6");
    bench.write("loose.toml", &loose);
    bench.line("new loose.toml loose.jigtrue").expect(0);
    bench.line("series w00.jigtrue loose.jigtrue").expect(11);
}

#[test]
fn words_that_do_not_make_a_series_are_refused() {
    let bench = bench_with(Workshop::default(), 1);
    bench.line("series").expect(2);
    bench.line("series w00.jigtrue --stage").expect(2);
    let ran = bench.line("series w00.jigtrue --stage \"wings on\" --json").expect(11).json();
    assert!(ran["not_counted"][0]["why"].as_str().unwrap().contains("not in the plan"), "{ran}");
    let one = bench.line("series w00.jigtrue --json").expect(0).json();
    let s1 = figure(&one, "station", "S1");
    assert!(s1["sd"].is_null() && s1["chart"].is_null() && s1["trend"].is_null());
    assert!(number(&s1["half95"]) > 0.0);
    std::fs::create_dir(bench.path("empty")).unwrap();
    assert!(bench.line("series empty").expect(1).err.contains("no log in the folder"));
    let early = bench.line("series w00.jigtrue --stage \"ribs on\" --json").expect(0).json();
    assert_eq!(early["creeps"].as_array().unwrap().len(), 0);
}

#[test]
fn advice_may_start_from_earlier_wings() {
    let bench = bench_with(Workshop { share: 0.5, ..Workshop::default() }, 12);
    let series = bench.line(&line(11, "--json")).expect(0).out;
    bench.write("earlier.json", &series);
    // The next wing has its tip a degree nose down, and nothing was moved yet.
    bench.write("plan.toml", stories::wings::plan(99).replace("serial = \"99\"", ""));
    bench.line("new plan.toml next.jigtrue").expect(0);
    bench.line("stage next.jigtrue \"ribs on\"").expect(0);
    for (i, span) in [200.0, 900.0, 1700.0, 2500.0, 3300.0, 4000.0].iter().enumerate() {
        let shown = 2.0 - 2.5 * span / 4000.0 - 1.0 * span / 4000.0;
        for (facing, value) in [("forward", shown), ("aft", -shown)] {
            let take = format!(
                "take next.jigtrue incidence@S{} {value:.2} --facing {facing} --instrument \"beam level\"",
                i + 1
            );
            bench.line(&take).expect(0);
        }
    }
    let plain = bench.line("advise next.jigtrue --json").expect(10).json();
    let liked = bench.line("advise next.jigtrue --like earlier.json --json").expect(10).json();
    assert_eq!(liked["like"]["wings"], 11);
    assert_eq!(liked["like"]["without"]["steps"], plain["steps"]);
    // Half of the twist arrives: longer moves are needed, and more is known about what they do.
    let twist = |steps: &Value| -> f64 {
        let of = |name: &str| {
            let step = steps.as_array().unwrap().iter().find(|s| s["support"] == name);
            step.map_or(0.0, |s| number(&s["amount_mm"]))
        };
        (of("tip rear") - of("tip front")) - (of("root rear") - of("root front"))
    };
    let (with, without) = (twist(&liked["steps"]), twist(&plain["steps"]));
    assert!(with.abs() > 1.15 * without.abs(), "{with} mm and {without} mm");
    let width = |a: &Value| number(&a["upper_deg"]) - number(&a["lower_deg"]);
    assert!(width(&liked["washout"]) < 0.9 * width(&plain["washout"]));
    let said = bench.line("advise next.jigtrue --like earlier.json").expect(10).out;
    for part in ["from 11 earlier wings", "Without", "of its tolerance with them"] {
        assert!(said.contains(part), "{part} in\n{said}");
    }
    // What is not such a series is refused: another file, another jig, a wing without moves, impossible numbers.
    bench.write("broken.json", series.replace("\"format\": 1", "\"format\": 2"));
    bench.write("jig.json", series.replace("rear at 4000 mm", "rear at 3900 mm"));
    bench.write("wing.json", series.replace("\"left\"", "\"right\""));
    bench.write("none.json", "{}");
    let mut odd: Value = serde_json::from_str(&series).unwrap();
    odd["stiffness"]["share"]["u"] = 0.0.into();
    bench.write("odd.json", odd.to_string());
    odd["stiffness"] = Value::Null;
    bench.write("still.json", odd.to_string());
    for (file, why) in [
        ("broken.json", "format 2"),
        ("jig.json", "another jig"),
        ("wing.json", "another kind of wing"),
        ("none.json", "series LOG"),
        ("odd.json", "does not fit"),
        ("still.json", "no moves"),
        ("away.json", "cannot be opened"),
    ] {
        let ran = bench.line(&format!("advise next.jigtrue --like {file}")).expect(1);
        assert!(ran.err.contains(why), "{file}: {}", ran.err);
    }
}
