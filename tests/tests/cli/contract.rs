//! What other programs rely on: one JSON document a run, and its names.

use crate::program;
use crate::program::Bench;
use serde_json::Value;
use std::collections::BTreeSet;

/// Every path of names in a document; the items of a list count as one.
fn paths(value: &Value, at: &str, out: &mut BTreeSet<String>) {
    match value {
        Value::Object(map) => {
            for (key, inner) in map {
                let path = if at.is_empty() { key.clone() } else { format!("{at}.{key}") };
                out.insert(path.clone());
                paths(inner, &path, out);
            }
        }
        Value::Array(items) => items.iter().for_each(|i| paths(i, &format!("{at}[]"), out)),
        _ => {}
    }
}

/// The names in the JSON of `check`, over all shipped cases, are those recorded: fields may be added (then to the
/// record too), none may be removed. Record anew with JIGTRUE_RECORD=1.
#[test]
fn the_names_in_the_check_are_kept() {
    let recorded = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cli/program/check-names.txt");
    let mut found = BTreeSet::new();
    for case in ["two-post", "hold", "upright", "rigged"] {
        let bench = Bench::demo(case);
        paths(&bench.line("check demo.jigtrue --json").json(), "", &mut found);
    }
    if std::env::var_os("JIGTRUE_RECORD").is_some() {
        let text: String = found.iter().map(|p| format!("{p}\n")).collect();
        std::fs::write(recorded, text).unwrap();
    }
    let text = std::fs::read_to_string(recorded).unwrap();
    let kept: BTreeSet<String> = text.lines().map(str::to_owned).collect();
    let gone: Vec<&String> = kept.difference(&found).collect();
    let new: Vec<&String> = found.difference(&kept).collect();
    assert!(gone.is_empty(), "names that went: {gone:?}");
    assert!(new.is_empty(), "names to add to the record: {new:?}");
    for name in [
        "format",
        "wing",
        "side",
        "stage",
        "gate.state",
        "gate.reasons",
        "twist.order",
        "twist.setting.value",
        "twist.setting.u",
        "twist.washout_error.value",
        "twist.washout_error.u",
        "twist.chi2",
        "twist.dof",
        "twist.setting.lower95",
        "twist.setting.upper95",
        "twist.washout_error.lower95",
        "twist.washout_error.upper95",
        "twist.stations[].name",
        "twist.stations[].span_mm",
        "twist.stations[].design_deg",
        "twist.stations[].measured_deg",
        "twist.stations[].twist_error_deg",
        "twist.stations[].u_deg",
        "twist.stations[].lower95_deg",
        "twist.stations[].upper95_deg",
        "twist.stations[].verdict",
        "twist.stations[].probability",
        "twist.stations[].remeasure",
        "twist.band[].span_mm",
        "twist.band[].fit_deg",
        "twist.band[].simultaneous_deg",
        "points[].point",
        "changes.parts[].part",
    ] {
        assert!(kept.contains(name), "{name} is promised and not there");
    }
}

/// Every verb answers `--json` with one document of format 1, even if it cannot do what was asked.
#[test]
fn every_verb_answers_with_one_document_of_format_1() {
    let bench = Bench::new();
    bench.write("plan.toml", program::SMALL_PLAN);
    bench.write("xy.csv", "x,y\n1,1.0\n2,2.1\n3,2.9\n4,4.2\n");
    bench.write("offsets.csv", "span_mm,offset_mm\n0,0\n1000,0.4\n2000,0.1\n");
    bench.write("pairs.csv", "forward_deg,aft_deg\n0.4,-0.2\n");
    bench.write("bores.csv", "span_mm,aft_mm,up_mm,bore_mm\n0,0,0,30.2\n900,0,0,30.2\n1800,0,0.1,30.2\n");
    bench.write("spacing.csv", "design_mm,measured_mm\n0,0\n500,500.5\n");
    bench.write("repeat.csv", "point,value\nA,1\nA,2\nB,1\nB,3\n");
    bench.write("marks.csv", "aft_mm,out_mm,left_mm,right_mm\n4300,4000,5890,5855\n-1500,4000,4263,4281\n");
    bench.write("readings.csv", "point,value_deg\nincidence@S1,2.0\n");
    bench.write("plan2.toml", program::SMALL_PLAN.replace("0.3", "0.4"));
    let lines = [
        "plan",
        "new plan.toml wing.jigtrue",
        "stage wing.jigtrue \"ribs on\"",
        "take wing.jigtrue incidence@S1 2.05",
        "take wing.jigtrue incidence@S2 1.05",
        "import wing.jigtrue readings.csv",
        "withdraw wing.jigtrue 3 --reason slipped",
        "open-item wing.jigtrue \"a cover off\"",
        "note wing.jigtrue hello",
        "replan wing.jigtrue plan2.toml --reason \"new issue\"",
        "check wing.jigtrue",
        "advise wing.jigtrue",
        "sign wing.jigtrue --capacity builder --statement seen --as-seen",
        "sign --new-key my.key",
        "sheet wing.jigtrue -o sheet.pdf",
        "verify wing.jigtrue --sheet sheet.pdf",
        "export wing.jigtrue -o out.csv",
        "backup wing.jigtrue copy.jigtrue",
        "fit xy.csv",
        "straight offsets.csv",
        "level pairs.csv",
        "square 800 600 1000 1000",
        "bores bores.csv --shaft 30",
        "decide 0.1 0.1 -1 1",
        "spacing spacing.csv",
        "repeat repeat.csv",
        "torque 300 --lever 10 --extension 4 --unit in-lb",
        "travel 20 --laid square",
        "tape 4500 --temperature 30 --expansion 11.7e-6",
        "symmetry marks.csv",
        "demo",
        "compare demo.jigtrue --stage \"ribs outboard\" --with \"ready to skin\"",
    ];
    for line in lines {
        let ran = bench.line(&format!("{line} --json"));
        assert!([0, 10, 11].contains(&ran.code), "{line}: {}\n{}{}", ran.code, ran.out, ran.err);
        assert_eq!(ran.json()["format"], 1, "{line}");
    }
    for line in [
        "check missing.jigtrue",
        "take wing.jigtrue incidence@S9 1",
        "fit missing.csv",
        "new plan.toml wing.jigtrue",
    ] {
        let ran = bench.line(&format!("{line} --json")).expect(1);
        let a = ran.json();
        assert_eq!(a["format"], 1, "{line}");
        assert!(a["error"].as_str().is_some_and(|e| !e.is_empty()), "{line}: {a}");
        assert!(!ran.err.is_empty(), "{line}: a person is told too");
    }
}

/// True if the word is this number to the decimals it shows, two or more.
fn rounds_to(number: f64, word: &str) -> bool {
    let decimals = word.split_once('.').map_or(0, |(_, part)| part.len());
    let half = 0.5 * 10_f64.powi(-(decimals as i32));
    decimals > 1 && word.parse::<f64>().is_ok_and(|shown| (shown - number).abs() <= half * 1.000_001)
}

/// The numbers of a check are those of its text: each is in the text to the digits shown.
#[test]
fn text_and_json_agree() {
    let bench = Bench::demo("two-post");
    let text = bench.line("check demo.jigtrue").out;
    let a = bench.line("check demo.jigtrue --json").json();
    let w = a["twist"]["washout_error"]["value"].as_f64().unwrap();
    let line = text.lines().find(|l| l.starts_with("washout error")).unwrap();
    assert!(line.split_whitespace().any(|word| rounds_to(w, word)), "{w} is not in {line}");
    for station in a["twist"]["stations"].as_array().unwrap() {
        let name = station["name"].as_str().unwrap();
        let row =
            text.lines().find(|l| l.split_whitespace().next() == Some(name) && l.contains('%')).unwrap();
        let measured = station["measured_deg"].as_f64().unwrap();
        assert!(row.split_whitespace().any(|word| rounds_to(measured, word)), "{measured} is not in {row}");
        assert!(row.contains(station["verdict"].as_str().unwrap()), "{row}");
    }
}

/// The same log gives the same bytes, as text, as JSON and as a sheet, and reading it changes nothing.
#[test]
fn the_same_log_gives_the_same_bytes() {
    for case in ["two-post", "hold", "upright", "rigged"] {
        let bench = Bench::demo(case);
        let log = bench.read("demo.jigtrue");
        for line in ["check demo.jigtrue", "check demo.jigtrue --json", "advise demo.jigtrue --json"] {
            let (first, second) = (bench.line(line), bench.line(line));
            assert!(!first.out.is_empty(), "{case}: {line}");
            assert_eq!(first.out, second.out, "{case}: {line}");
        }
        bench.line("sheet demo.jigtrue -o again.pdf").expect(0);
        assert!(bench.read("again.pdf") == bench.read("demo-sheet.pdf"), "{case}: another sheet");
        assert!(bench.read("demo.jigtrue") == log, "{case}: reading changed the log");
    }
}

/// Several answers are JSON Lines, even if the last is a failure.
#[test]
fn what_fails_after_an_answer_is_on_a_line_of_its_own() {
    let bench = Bench::with_plan(program::SMALL_PLAN);
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    let lines = |text: &str| -> Vec<Value> {
        text.lines()
            .map(|line| serde_json::from_str(line).unwrap_or_else(|e| panic!("{e}: {line}")))
            .collect()
    };
    let ran = bench.line("take S1 f 2.1 a -1.95 --json").expect(0);
    assert_eq!(lines(&ran.out).len(), 2);
    let ran = bench.piped("take --json", "1.15\nnonsense\n").expect(1);
    let said = lines(&ran.out);
    assert_eq!(said.last().unwrap()["failure"]["exit_code"], 1, "{}", ran.out);
    assert_eq!(said.len(), 2, "{}", ran.out);
}
