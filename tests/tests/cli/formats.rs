//! Files of the first format, kept as they were: every build opens them, shows the same numbers and goes on with them.

use crate::program::{Bench, shipped};
use journal::Journal;
use record::What;
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The kinds of entry that format 1 had.
const KINDS_OF_FORMAT_1: [&str; 12] = [
    "drift",
    "instrument",
    "instrument-check",
    "move",
    "note",
    "open-item",
    "reading",
    "replanned",
    "signed",
    "stage",
    "started",
    "withdrawn",
];

fn kept(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-readings/format-1").join(file)
}

/// What never changes: the log's bytes, its head and the number of its entries.
fn frozen() -> Value {
    serde_json::from_str(&shipped("format-1", "frozen.json")).unwrap()
}

/// What a changed rule may change, for a stated reason.
fn judged() -> Value {
    serde_json::from_str(&shipped("format-1", "judged.json")).unwrap()
}

/// A copy, because a log opened for writing is written to.
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
    let head = journal.verify().unwrap();
    for entry in journal.entries() {
        kinds.insert(entry.unwrap().what.kind().to_owned());
    }
    let frozen = frozen();
    let bytes: String = Sha256::digest(std::fs::read(kept("log.jigtrue")).unwrap())
        .iter()
        .map(|b| format!("{b:02x}"))
        .collect();
    assert_eq!(bytes, frozen["log_sha256"].as_str().unwrap(), "the kept log was changed");
    assert_eq!(head.seq, frozen["entries"]);
    assert_eq!(head.hash.to_string(), frozen["head"].as_str().unwrap());
    let wanted = KINDS_OF_FORMAT_1.map(str::to_owned);
    assert_eq!(kinds, BTreeSet::from(wanted));
    assert!(
        KINDS_OF_FORMAT_1.iter().all(|kind| What::KINDS.contains(kind)),
        "a kind of format 1 is no longer read"
    );
}

/// Every column of the kept export has the same text today; an export of today may have more columns.
#[test]
fn every_value_of_a_log_of_format_1_is_exported_as_it_was() {
    let bench = copied();
    let (was, now) = (shipped("format-1", "export.csv"), bench.line("export log.jigtrue").expect(0).out);
    let (was, now) = (columns(&was), columns(&now));
    for (name, values) in &was {
        assert_eq!(now.get(name), Some(values), "column {name}");
    }
    assert!(was.len() > 20 && was.values().all(|v| v.len() == 31), "{} columns", was.len());
}

/// The values of each column by its heading.
fn columns(csv: &str) -> BTreeMap<String, Vec<String>> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let head = reader.headers().unwrap().clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    head.iter()
        .enumerate()
        .map(|(at, name)| (name.to_owned(), rows.iter().map(|row| row[at].to_owned()).collect()))
        .collect()
}

#[test]
fn a_log_of_format_1_is_judged_as_written_down() {
    let bench = copied();
    // Clear by the rule of version 0.1. Today it holds: a stage was skipped unread, a limit was loosened, and a torque
    // names no instrument.
    let a = bench.line("check log.jigtrue --json").expect(11).json();
    let expected = judged();
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
fn a_log_of_format_1_is_continued() {
    let bench = copied();
    let entries = frozen()["entries"].as_u64().unwrap();
    let taken =
        bench.line("take log.jigtrue incidence@S1 2.05 --instrument \"beam level\" --json").expect(0).json();
    assert_eq!(taken["entry"]["seq"], entries + 1);
    bench.write("more.csv", "point,value_deg,instrument\nincidence@S2,1.05,board level\n");
    bench.line("import log.jigtrue more.csv").expect(0);
    bench.line("instrument add log.jigtrue instrument.toml").expect(0);
    bench.line("note log.jigtrue \"gone on with\"").expect(0);
    let verified = bench.line("verify log.jigtrue --json").expect(0).json();
    // The log has the instrument already, with the same data: nothing is written for it.
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

/// A plan with a key that has no effect is refused today; a log that was begun with it is read, continued and put
/// right.
#[test]
fn a_log_begun_with_a_key_without_effect_is_read_and_continued() {
    let bench = Bench::new();
    let good = "format = 1\n[aeroplane]\nname = \"invented\"\n[[angle]]\nname = \"left\"\nof = \"incidence\"\ndesign = 2.0\n\
                tolerance = 0.25\n[[instrument]]\nname = \"level\"\nkind = \"inclinometer\"\nresolution = 0.01\naccuracy = 0.1\n\
                [[stage]]\nname = \"rigged\"\nrequires = [\"rig-incidence@*\"]\n";
    let plan = good.replace("tolerance = 0.25\n", "tolerance = 0.25\nbase = 900\n");
    bench.write("plan.toml", &plan);
    bench.write("good.toml", good);
    let why = bench.line("new plan.toml refused.jigtrue --by ann").expect(1).err;
    assert!(why.contains("`base`") && why.contains("rise"), "{why}");
    Journal::create(&bench.path("log.jigtrue"), &plan, "stories", record::At::from_millis(0), "ann").unwrap();
    let said = |a: &Value| {
        let doubts = a["doubts"].as_array().unwrap();
        doubts.iter().any(|d| d["words"].as_str().unwrap().contains("would be refused, line 9: `base`"))
    };
    assert!(said(&bench.line("check log.jigtrue --json").json()));
    bench.line("stage log.jigtrue rigged --by ann").expect(0);
    bench.line("take log.jigtrue rig-incidence@left 2.05 --instrument level --by ann").expect(0);
    assert!(said(&bench.line("check log.jigtrue --json").json()));
    bench.line("replan log.jigtrue good.toml --reason \"without the base\" --by ann").expect(0);
    assert!(!said(&bench.line("check log.jigtrue --json").json()));
}
