//! Times and formats of a log: raised, old signatures, offsets, times beyond the calendar.

use crate::program::Bench;
use crate::signing::{SIGN, begun, check, one_line, verify};
use stories::forge::forge;

/// A log stays of format 1 until it has something that format 1 does not know.
#[test]
fn the_format_is_raised_by_the_first_entry_of_a_new_kind() {
    let bench = begun();
    let format = || {
        let conn = rusqlite::Connection::open(bench.path("wing.jigtrue")).unwrap();
        conn.pragma_query_value(None, "user_version", |row| row.get::<_, i32>(0)).unwrap()
    };
    assert_eq!(format(), 1);
    bench.line(SIGN).expect(0);
    assert_eq!(format(), 2);
    bench.line("take wing.jigtrue incidence@S1 -1.95 --facing aft").expect(0);
    verify(&bench, "").expect(0);
    // A still newer one is refused with a message.
    let conn = rusqlite::Connection::open(bench.path("wing.jigtrue")).unwrap();
    conn.pragma_update(None, "user_version", 3).unwrap();
    drop(conn);
    for line in ["verify wing.jigtrue", "check wing.jigtrue", "note wing.jigtrue x"] {
        let ran = bench.line(line).expect(1);
        assert!(ran.err.contains("newer than this program knows"), "{}", ran.err);
    }
}

/// The old signature of the kept log is tested against the text that it signed.
#[test]
fn an_old_signature_fits_its_old_text_and_says_what_it_does_not_cover() {
    let bench = Bench::new();
    let kept = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-readings/format-1/log.jigtrue");
    bench.write("wing.jigtrue", std::fs::read(kept).unwrap());
    let said = one_line(&verify(&bench, "").expect(0).out);
    assert!(said.contains("date and role not covered"), "{said}");
    assert!(said.contains("by the rule of version 0.1"), "{said}");
    assert!(said.contains(" UTC: "), "an entry without an offset is shown in UTC, and says so: {said}");
    let a = check(&bench);
    let signs = a["signatures"].as_array().unwrap();
    assert!(signs.iter().any(|s| s["seal"] == "fits-first-text" && s["rule_0_1"] == true), "{signs:#?}");
}

/// An entry is shown with the offset of the clock that wrote it, wherever it is read.
#[test]
fn a_time_is_shown_in_its_writers_offset() {
    let bench = begun();
    let words = ["sign", "wing.jigtrue", "--capacity", "a", "--statement", "b", "--as-seen"];
    assert!(bench.command(&words).env("TZ", "HERE-5:30").output().unwrap().status.success());
    for zone in ["UTC0", "THERE3", "HERE-5:30"] {
        let out = bench.command(&["verify", "wing.jigtrue"]).env("TZ", zone).output().unwrap();
        let said = String::from_utf8(out.stdout).unwrap();
        assert!(said.contains(" +05:30: "), "{zone}: {said}");
    }
    let a = check(&bench);
    assert!(a["signatures"][0]["at"].as_str().unwrap().ends_with('Z'), "JSON is UTC");
    assert!(a["signatures"][0]["when"].as_str().unwrap().ends_with("+05:30"));
}

/// A clock that gives a year outside the calendar.
#[test]
fn times_beyond_the_calendar_are_shown_and_nothing_breaks() {
    let bench = begun();
    for at in [253_402_300_800_000, i64::MAX, i64::MIN, -377_705_116_800_001] {
        forge(&bench.path("wing.jigtrue"), |rows| rows[2].at = at);
        for line in [
            "verify wing.jigtrue",
            "export wing.jigtrue",
            "export wing.jigtrue --format jsonl",
            "sheet wing.jigtrue -o a.pdf",
        ] {
            bench.line(line).expect(0);
        }
        for line in ["check wing.jigtrue", "check wing.jigtrue --json", "advise wing.jigtrue"] {
            let ran = bench.line(line);
            assert!([0, 10, 11].contains(&ran.code), "{at} {line}: {} {}", ran.code, ran.err);
        }
    }
}
