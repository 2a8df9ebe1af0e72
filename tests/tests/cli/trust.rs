//! Whether the log is as it was written: chain, signatures, sheet, backup.

use crate::program::{Bench, SMALL_PLAN};

fn with_reading() -> Bench {
    let bench = Bench::begun();
    bench.line("take wing.jigtrue incidence@S1 2.05").expect(0);
    bench.line("take wing.jigtrue incidence@S1 -1.90 --facing aft").expect(0);
    bench.line("take wing.jigtrue incidence@S2 1.05").expect(0);
    bench
}

/// Changes bytes of the log's file without the program, as an editor would.
fn tamper(bench: &Bench, from: &str, to: &str) {
    assert_eq!(from.len(), to.len());
    let log = rusqlite::Connection::open(bench.path("wing.jigtrue")).unwrap();
    log.pragma_update(None, "wal_checkpoint", "TRUNCATE").ok();
    log.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(())).unwrap();
    drop(log);
    let mut bytes = bench.read("wing.jigtrue");
    let at = bytes.windows(from.len()).position(|w| w == from.as_bytes()).expect("it is in the file");
    bytes[at..at + to.len()].copy_from_slice(to.as_bytes());
    bench.write("wing.jigtrue", bytes);
}

#[test]
fn a_changed_value_is_found_the_entry_named_and_the_gate_holds() {
    let bench = with_reading();
    let whole = bench.line("verify wing.jigtrue --json").expect(0).json();
    assert_eq!(whole["whole"], true);
    assert_eq!(whole["entries"], 5);
    tamper(&bench, "\"2.05\"", "\"2.50\"");
    let ran = bench.line("verify wing.jigtrue").expect(1);
    assert!(ran.err.contains("entry 3"), "{}", ran.err);
    let a = bench.line("check wing.jigtrue --json").expect(10).json();
    assert!(a["gate"]["reasons"].as_array().unwrap().iter().any(|r| r["kind"] == "chain"), "{:#}", a["gate"]);
    for line in [
        "take wing.jigtrue incidence@S1 2.0",
        "note wing.jigtrue x",
        "sign wing.jigtrue --capacity a --statement b --as-seen",
    ] {
        let ran = bench.line(line).expect(1);
        assert!(ran.err.contains("entry 3"), "{line}\n{}", ran.err);
    }
    // What cannot even be read is missing from an export, which says so, and no log takes it in as if it were whole.
    stories::forge::change_rows(&bench.path("wing.jigtrue"), "UPDATE entry SET body = '{}' WHERE seq = 4");
    for format in ["csv", "jsonl"] {
        let ran = bench.line(&format!("export wing.jigtrue --format {format}")).expect(1);
        let why = "exported as found, without 1 entry that cannot be read";
        assert!(ran.err.contains(why), "{}", ran.err);
        let last = ran.out.lines().last().unwrap();
        assert!(last.contains("broken") && last.contains(why), "{last}");
        let line = bench.line(&format!("export wing.jigtrue --format {format} -o found.{format} --json"));
        let answer = line.expect(1).json();
        assert_eq!(answer["entries"], 4);
        assert!(answer["broken"].as_str().unwrap().contains("entry 3"), "{answer}");
        let other = Bench::begun();
        other.write("found", bench.read(&format!("found.{format}")));
        let ran = other.line("import found").expect(1);
        assert!(ran.err.contains("exported from a log that is not as it was written"), "{}", ran.err);
    }
}

#[test]
fn a_signature_with_a_key_is_checked_and_one_that_was_changed_is_found() {
    let bench = with_reading();
    let made = bench.line("sign --new-key my.key --json").expect(0).json();
    bench.line("sign --new-key my.key").expect(1);
    let sign = "sign wing.jigtrue --capacity builder --statement \"as it stands\" --as-seen";
    bench.line(&format!("{sign} --key my.key")).expect(0);
    let a = bench.line("verify wing.jigtrue --json").expect(0).json();
    assert_eq!(a["signatures"][0]["fits"], true);
    assert_eq!(a["signatures"][0]["key"], made["public_key"]);
    for (name, content) in [("short.key", "abc"), ("empty.key", ""), ("word.key", &"zz".repeat(32))] {
        bench.write(name, content);
        let ran = bench.line(&format!("{sign} --key {name}")).expect(1);
        assert!(ran.err.contains(name), "{}", ran.err);
    }
    bench.line(&format!("{sign} --key missing.key")).expect(1);
    assert_eq!(bench.line("verify wing.jigtrue --json").json()["entries"], 6, "nothing was signed by those");
}

#[cfg(unix)]
#[test]
fn a_key_file_is_for_its_owner_alone() {
    use std::os::unix::fs::PermissionsExt;
    let bench = Bench::new();
    bench.line("sign --new-key my.key").expect(0);
    assert_eq!(std::fs::metadata(bench.path("my.key")).unwrap().permissions().mode() & 0o777, 0o600);
}

#[test]
fn a_sheet_says_which_log_it_is_of_and_what_came_since() {
    let bench = with_reading();
    bench.line("sheet wing.jigtrue -o sheet.pdf").expect(0);
    let again = bench.read("sheet.pdf");
    bench.line("sheet wing.jigtrue -o sheet.pdf").expect(0);
    assert_eq!(bench.read("sheet.pdf"), again, "same log, same bytes");
    let a = bench.line("verify wing.jigtrue --sheet sheet.pdf --json").expect(0).json();
    assert_eq!(a["sheet"]["entries_since"], 0);
    bench.line("note wing.jigtrue later").expect(0);
    let a = bench.line("verify wing.jigtrue --sheet sheet.pdf --json").expect(0).json();
    assert_eq!(a["sheet"]["entries_since"], 1);
    assert_eq!(a["sheet"]["of_this_log"], true);
    assert_eq!(a["sheet"]["as_made"], true);
    // One figure changed, the fingerprint left alone.
    let mut altered = again.clone();
    let at = altered.len() / 2;
    altered[at] ^= 1;
    bench.write("altered.pdf", &altered);
    let ran = bench.line("verify wing.jigtrue --sheet altered.pdf").expect(1);
    assert!(ran.out.contains("is NOT the sheet that this program makes"), "{}", ran.out);
    // The plan in force when the sheet was made, not a later one.
    bench.write("plan2.toml", SMALL_PLAN.replace("washout = 0.3", "washout = 0.4"));
    bench.line("replan wing.jigtrue plan2.toml --reason \"drawing at issue B\"").expect(0);
    let a = bench.line("verify wing.jigtrue --sheet sheet.pdf --json").expect(0).json();
    assert_eq!((&a["sheet"]["as_made"], &a["sheet"]["entries_since"]), (&true.into(), &2.into()));
    bench.line("sheet wing.jigtrue -o letter.pdf --paper letter").expect(0);
    bench.line("verify wing.jigtrue --sheet letter.pdf").expect(0);
    bench.line("new plan.toml other.jigtrue").expect(0);
    let ran = bench.line("verify other.jigtrue --sheet sheet.pdf").expect(1);
    assert!(ran.out.contains("not of this log"), "{}", ran.out);
    bench.write("no.pdf", "%PDF-1.7 nothing");
    bench.line("verify wing.jigtrue --sheet no.pdf").expect(1);
    bench.line("sheet wing.jigtrue -o profile.svg --svg").expect(0);
    assert!(String::from_utf8(bench.read("profile.svg")).unwrap().starts_with("<svg"));
    bench.line("sheet wing.jigtrue -o sheet.pdf --paper a3").expect(1);
    assert_eq!(bench.read("sheet.pdf"), again, "a sheet that cannot be written leaves the one before");
}

#[test]
fn two_wings_and_two_stages_are_compared_as_text_and_as_a_sheet() {
    let bench = Bench::demo("two-post");
    let ran = bench.line("compare demo.jigtrue --stage \"ribs outboard\" --with \"ready to skin\" -o c.pdf");
    assert!([0, 10, 11].contains(&ran.code), "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("washout error"), "{}", ran.out);
    assert!(bench.read("c.pdf").starts_with(b"%PDF"));
    bench.line("compare demo.jigtrue --stage \"ribs outboard\" --with \"ready to skin\" -o c.svg --svg");
    assert!(String::from_utf8(bench.read("c.svg")).unwrap().starts_with("<svg"));
    let ran = bench.line("verify demo.jigtrue --sheet c.pdf").expect(1);
    assert!(ran.err.contains("is a comparison"), "{}", ran.err);
    bench.line("compare demo.jigtrue").expect(1);
    bench.line("compare demo.jigtrue missing.jigtrue").expect(1);
}

#[test]
fn a_backup_is_the_same_log() {
    let bench = with_reading();
    bench.line("backup wing.jigtrue copy.jigtrue").expect(0);
    let (a, b) =
        (bench.line("verify wing.jigtrue --json").json(), bench.line("verify copy.jigtrue --json").json());
    assert_eq!(a["head"], b["head"]);
    bench.line("backup wing.jigtrue copy.jigtrue").expect(1);
    bench.line("take copy.jigtrue incidence@S3 0.1").expect(0);
    bench.line("verify copy.jigtrue").expect(0);
}

/// The plan can be replaced with a reason; the inspector is told.
#[test]
fn a_replaced_plan_is_named_to_the_inspector() {
    let bench = with_reading();
    bench.write("plan2.toml", SMALL_PLAN.replace("washout = 0.3", "washout = 0.4"));
    bench.line("replan wing.jigtrue plan2.toml --reason \"drawing at issue B\"").expect(0);
    let a = bench.line("check wing.jigtrue --json").json();
    assert!(a["doubts"].as_array().unwrap().iter().any(|d| d["kind"] == "replanned"), "{:#}", a["doubts"]);
    assert_eq!(a["twist"]["washout_error"]["upper"], 0.4);
}

/// A withdrawn reading is not a half of a pair; and a file that is not a key is refused with how to get one.
#[test]
fn a_withdrawn_reading_makes_no_pair() {
    let bench = with_reading();
    let first = bench.line("take wing.jigtrue incidence@S1 -1.95 --facing aft --new-round").expect(0).out;
    let entry = first.split(' ').next().unwrap().to_owned();
    bench.line(&format!("withdraw wing.jigtrue {entry} --reason slipped")).expect(0);
    let turned = bench.line("take wing.jigtrue incidence@S1 2.05").expect(0).out;
    assert!(!turned.contains("zero"), "{turned}");
    let again = bench.line("take wing.jigtrue incidence@S1 -1.95 --facing aft").expect(0).out;
    assert!(again.contains("S1 +2.000°, zero +0.050"), "{again}");
    let ran = bench.line("sign wing.jigtrue --capacity x --statement y --as-seen --key plan.toml").expect(1);
    assert!(ran.err.contains("sign --new-key"), "{}", ran.err);
}

/// SQLite reads two logs joined as the first of them.
#[test]
fn a_log_to_which_another_was_joined_proves_nothing_and_is_not_written() {
    let bench = with_reading();
    let joined = bench.read("wing.jigtrue").repeat(2);
    bench.write("wing.jigtrue", joined.clone());
    bench.write("t.csv", "point,value\nincidence@S2,1.05\n");
    for line in [
        "verify wing.jigtrue",
        "take wing.jigtrue incidence@S2 1.05",
        "import wing.jigtrue t.csv",
        "note wing.jigtrue x",
        "sign wing.jigtrue --capacity a --statement b --as-seen",
        "backup wing.jigtrue copy.jigtrue",
    ] {
        let ran = bench.line(line).expect(1);
        assert!(ran.err.contains("bytes after its end"), "{line}\n{}", ran.err);
    }
    let a = bench.line("check wing.jigtrue --json").expect(10).json();
    assert_eq!(a["gate"]["state"], "hold");
    let obligations = a["gate"]["obligations"].as_array().unwrap();
    assert!(!obligations.is_empty() && obligations.iter().all(|o| o["state"] != "met"), "{obligations:#?}");
    let ran = bench.line("export wing.jigtrue --format csv").expect(1);
    assert!(ran.err.contains("exported as found"), "{}", ran.err);
    assert_eq!(bench.read("wing.jigtrue"), joined, "left as it was found");
}

/// A file that says the first format and has entries of the second would be read, and misread, by a program that
/// knows the first.
#[test]
fn a_format_turned_back_is_found() {
    let bench = with_reading();
    bench.line("sign wing.jigtrue --capacity builder --statement seen --as-seen").expect(0);
    bench.line("verify wing.jigtrue").expect(0);
    let log = rusqlite::Connection::open(bench.path("wing.jigtrue")).unwrap();
    log.pragma_update(None, "user_version", 1).unwrap();
    drop(log);
    let ran = bench.line("verify wing.jigtrue").expect(1);
    assert!(ran.err.contains("`user_version` states an older format"), "{}", ran.err);
    let a = bench.line("check wing.jigtrue --json").expect(10).json();
    assert_eq!(a["gate"]["state"], "hold");
}
