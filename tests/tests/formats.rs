//! Files of the first format, kept as they were: every build opens them, shows the same numbers and goes on with them.
#![expect(clippy::unwrap_used, reason = "a story stops where something fails")]

mod program;

use journal::Journal;
use program::{Bench, shipped};
use record::What;
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn kept(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-readings/format-1").join(file)
}

fn expected() -> Value {
    serde_json::from_str(&shipped("format-1", "expected.json")).unwrap()
}

/// A copy, since a log that is opened for writing is written to.
fn copied() -> Bench {
    let bench = Bench::new();
    for file in ["log.jigtrue", "plan.toml", "instrument.toml"] {
        bench.write(file, std::fs::read(kept(file)).unwrap());
    }
    bench
}

#[test]
fn a_log_of_format_1_is_whole_and_holds_an_entry_of_every_kind() {
    let bench = copied();
    let journal = Journal::open_read_only(&bench.path("log.jigtrue")).unwrap();
    let mut kinds = BTreeSet::new();
    let head = journal
        .verify_each(|entry| {
            let json: Value = serde_json::from_str(&entry.what.to_json().unwrap()).unwrap();
            kinds.insert(json["kind"].as_str().unwrap().to_owned());
        })
        .unwrap();
    assert_eq!(head.seq, expected()["entries"]);
    assert_eq!(head.hash.to_string(), expected()["head"].as_str().unwrap());
    assert_eq!(kinds, What::KINDS.iter().map(|kind| (*kind).to_owned()).collect());
}

#[test]
fn a_log_of_format_1_is_exported_and_judged_as_it_was() {
    let bench = copied();
    assert_eq!(bench.line("export log.jigtrue").expect(0).out, shipped("format-1", "export.csv"));
    let a = bench.line("check log.jigtrue --json").expect(0).json();
    let expected = expected();
    let near = |found: &Value, wanted: &Value| {
        let (found, wanted) = (found.as_f64().unwrap(), wanted.as_f64().unwrap());
        assert!((found - wanted).abs() < 1e-9, "{found} where {wanted} was");
    };
    for what in ["setting", "washout_error"] {
        near(&a["twist"][what]["value"], &expected[what]);
        near(&a["twist"][what]["u"], &expected[format!("{what}_u")]);
    }
    for (station, wanted) in
        a["twist"]["stations"].as_array().unwrap().iter().zip(expected["measured_deg"].as_array().unwrap())
    {
        near(&station["measured_deg"], wanted);
    }
    assert_eq!((&a["stage"], &a["gate"]["state"]), (&expected["stage"], &expected["gate"]));
    let verified = bench.line("verify log.jigtrue --json").expect(0).json();
    assert_eq!(verified["signatures"][0]["fits"], true);
    bench.line("sheet log.jigtrue -o sheet.pdf").expect(0);
}

#[test]
fn a_log_of_format_1_is_gone_on_with() {
    let bench = copied();
    let entries = expected()["entries"].as_u64().unwrap();
    let taken =
        bench.line("take log.jigtrue incidence@S1 2.05 --instrument \"beam level\" --json").expect(0).json();
    assert_eq!(taken["entry"]["seq"], entries + 1);
    bench.write("more.csv", "point,value_deg,instrument\nincidence@S2,1.05,board level\n");
    bench.line("import log.jigtrue more.csv").expect(0);
    bench.line("instrument add log.jigtrue instrument.toml").expect(0);
    bench.line("note log.jigtrue \"gone on with\"").expect(0);
    let verified = bench.line("verify log.jigtrue --json").expect(0).json();
    // The log has the instrument already, with the same facts: nothing is written for it.
    assert_eq!(verified["entries"], entries + 3);
}

#[test]
fn a_plan_and_an_instrument_of_format_1_are_read() {
    let bench = copied();
    bench.line("new plan.toml new.jigtrue").expect(0);
    bench.line("instrument add new.jigtrue instrument.toml").expect(0);
    let entries = || bench.line("verify new.jigtrue --json").json()["entries"].as_u64().unwrap();
    let before = entries();
    let again = bench.line("instrument add new.jigtrue instrument.toml").expect(0).out;
    assert!(again.contains("in the log already"), "{again}");
    assert_eq!(entries(), before);
    let text = String::from_utf8(bench.read("instrument.toml")).unwrap();
    let other: String = text.lines().filter(|l| !l.starts_with("number")).map(|l| format!("{l}\n")).collect();
    bench.write("other.toml", other);
    let changed = bench.line("instrument add new.jigtrue other.toml").expect(0).out;
    assert!(changed.contains("entered again"), "{changed}");
    assert_eq!(entries(), before + 1);
    let a = bench.line("check new.jigtrue --json").json();
    assert_eq!(a["wing"], "invented wing of format 1");
}
