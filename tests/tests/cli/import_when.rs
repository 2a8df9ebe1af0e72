//! Readings imported after something was done to the wing: they never count as read after it.

use crate::program::{Bench, SMALL_PLAN, SUPPORT};
use serde_json::Value;

/// The small wing on a support, at its first stage, with its round taken.
fn measured() -> Bench {
    let bench = Bench::with_plan(&SMALL_PLAN.replacen("[[stage]]", &format!("{SUPPORT}\n[[stage]]"), 1));
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    bench.line("take S1 f 2.05 a -1.95 S2 a -.95 f 1.05 S3 f .05 a .05").expect(0);
    bench
}

fn states(bench: &Bench) -> Vec<(String, String)> {
    let points = bench.line("check wing.jigtrue --json").json()["points"].clone();
    let text = |p: &Value, key: &str| p[key].as_str().unwrap().to_owned();
    points.as_array().unwrap().iter().map(|p| (text(p, "point"), text(p, "state"))).collect()
}

fn none_fresh(bench: &Bench, what: &str) {
    let states = states(bench);
    assert!(states.iter().all(|(_, state)| state != "fresh"), "{what}: {states:?}");
}

const DONE: [&str; 2] =
    ["move wing.jigtrue \"tip front\" \"1/4 cw\"", "rework S1 S2 S3 --what \"drilled off, fitted again\""];

/// What the log exported before a screw was turned is imported neither as CSV nor as JSON Lines.
#[test]
fn an_export_of_the_log_itself_is_not_a_second_measurement() {
    for done in DONE {
        for form in ["csv", "jsonl"] {
            let bench = measured();
            let table = bench.line(&format!("export --format {form}")).expect(0).out;
            bench.line(done).expect(0);
            none_fresh(&bench, done);
            for way in ["import -", "import - --again"] {
                let ran = bench.piped(way, &table).expect(1);
                assert!(ran.err.contains("is entry 3 of this log"), "{form}: {}", ran.err);
            }
            none_fresh(&bench, done);
        }
    }
}

/// Nor is what was withdrawn since.
#[test]
fn an_export_does_not_bring_back_what_was_withdrawn() {
    let bench = measured();
    let table = bench.line("export").expect(0).out;
    bench.line("withdraw 3 --reason \"on a rivet head\"").expect(0);
    let ran = bench.piped("import - --again", &table).expect(1);
    assert!(ran.err.contains("entry 3 of this log, which entry 9 withdrew"), "{}", ran.err);
}

/// The export of another log, read before this wing was moved, does not count as read after the move.
#[test]
fn an_export_of_another_log_does_not_outlive_a_move() {
    for done in DONE {
        let table = measured().line("export --format jsonl").expect(0).out;
        let bench = measured();
        bench.line(done).expect(0);
        let ran = bench.piped("import -", &table).expect(1);
        assert!(ran.err.contains("before") && ran.err.contains("(entry 9,"), "{}", ran.err);
        none_fresh(&bench, done);
    }
}

/// A time before the stage began, or before work on the thing measured, is questioned; if it is confirmed, page 1
/// says so.
#[test]
fn a_time_before_what_was_done_is_questioned() {
    let table =
        |sure: &str| format!("point,value_deg,facing,at,sure\nS1,2.1,f,2021-03-04T05:06:07Z,{sure}\n");
    let steps = ["stage wing.jigtrue \"ready to skin\" --anyway \"to see it\""];
    for done in steps.iter().chain(&DONE) {
        let bench = measured();
        bench.line(done).expect(0);
        let ran = bench.piped("import -", &table("")).expect(1);
        assert!(ran.err.contains("2021-03-04T05:06:07Z is before"), "{}", ran.err);
        bench.piped("import -", &table("yes")).expect(0);
        let doubts = bench.line("check wing.jigtrue --json").json()["doubts"].clone();
        let asked = |d: &Value| d["words"].as_str().unwrap().contains("would count as read after it");
        assert!(doubts.as_array().unwrap().iter().any(asked), "{doubts:#}");
    }
}

/// A round is one walk, whichever way its times run: readings that a table dates four hours earlier are not of
/// today's round.
#[test]
fn readings_of_another_day_are_a_round_of_their_own() {
    let bench = measured();
    let table = "point,value_deg,facing,at,sure\nS1,2.1,f,2021-03-04T05:06:07Z,yes\nS2,1.1,f,2021-03-04T05:07:07Z,yes\n";
    bench.piped("import -", table).expect(0);
    let lines = bench.line("export wing.jigtrue --format jsonl").expect(0).out;
    let rounds: Vec<u64> = lines
        .lines()
        .filter_map(|l| serde_json::from_str::<Value>(l).unwrap()["body"]["round"].as_u64())
        .collect();
    assert_eq!(rounds, [1, 1, 1, 1, 1, 1, 2, 2]);
}

/// A time that is in the future, by the clock and by the log's last entry, is asked about by every table; minutes by which two clocks
/// differ are not.
#[test]
fn a_time_in_the_future_is_questioned() {
    let table = |at: &str, sure: &str| format!("point,value_deg,facing,at,sure\nS1,2.1,f,{at},{sure}\n");
    let soon =
        |seconds: i64| session::stamp(record::At::from_millis(session::now().millis() + 1000 * seconds));
    for at in ["2099-01-01T00:00:00Z".to_owned(), "9999-12-30T21:59:59Z".to_owned(), soon(7200)] {
        let bench = measured();
        let before = bench.line("export").out;
        let ran = bench.piped("import -", &table(&at, "")).expect(1);
        assert!(ran.err.contains("line 2") && ran.err.contains("is in the future"), "{}", ran.err);
        assert_eq!(bench.line("export").out, before);
        bench.piped("import -", &table(&at, "yes")).expect(0);
        let doubts = bench.line("check wing.jigtrue --json").json()["doubts"].clone();
        let asked = |d: &Value| d["words"].as_str().unwrap().contains("is in the future");
        assert!(doubts.as_array().unwrap().iter().any(asked), "{doubts:#}");
        // A table's times do not serve as a clock for the next table.
        let again = bench.piped("import -", &table(&at, "").replace("S1,2.1", "S2,1.1")).expect(1);
        assert!(again.err.contains("is in the future"), "{}", again.err);
    }
    let bench = measured();
    for at in [soon(0), soon(300)] {
        bench.piped("import - --again", &table(&at, "")).expect(0);
        bench.piped("import - --again", &table(&at, "yes")).expect(1);
    }
    // The demo was built in 2031, so times of its last days are not in the future there.
    let demo = Bench::demo("sixty");
    let last = demo.line("check demo.jigtrue --json").json()["last_entry_at"].as_str().unwrap().to_owned();
    demo.piped(
        "import demo.jigtrue -",
        &format!("point,value_deg,facing,instrument,at\nS1,2.2,f,beam level,{last}\n"),
    )
    .expect(0);
    demo.piped(
        "import demo.jigtrue -",
        "point,value_deg,facing,instrument,at\nS1,2.2,f,beam level,2099-01-01T00:00:00Z\n",
    )
    .expect(1);
}

/// An export whose times were changed is questioned too, in both forms.
#[test]
fn an_export_with_times_in_the_future_is_questioned() {
    let from = measured();
    for form in ["csv", "jsonl"] {
        let year = session::stamp(session::now())[..4].to_owned();
        let table =
            from.line(&format!("export --format {form}")).expect(0).out.replace(&format!("{year}-"), "2099-");
        let bench = measured();
        let ran = bench.piped("import - --again", &table).expect(1);
        assert!(ran.err.contains("is in the future") && ran.err.contains("sure"), "{}", ran.err);
        let sure: String = match form {
            "csv" => table
                .lines()
                .enumerate()
                .map(|(i, l)| {
                    format!(
                        "{l},{}\n",
                        if i == 0 {
                            "sure"
                        } else if l.contains(",reading,") {
                            "yes"
                        } else {
                            ""
                        }
                    )
                })
                .collect(),
            _ => table.lines().map(|l| l.replacen('{', "{\"sure\":\"yes\",", 1) + "\n").collect(),
        };
        bench.piped("import - --again", &sure).expect(0);
        let doubts = bench.line("check wing.jigtrue --json").json()["doubts"].clone();
        assert!(doubts.to_string().contains("is in the future"), "{form}: {doubts:#}");
    }
}

/// A time before the log was begun is questioned, also if no stage has begun since.
#[test]
fn a_time_before_the_log_is_questioned() {
    let bench = Bench::with_plan(SMALL_PLAN);
    let ran = bench.piped("import -", "point,value_deg,facing,at\nS1,2.1,f,2021-03-04T05:06:07Z\n").expect(1);
    assert!(ran.err.contains("the log was begun"), "{}", ran.err);
}

/// An export from which the facings were taken out is no other table than one without them: what does not fit the arrow forward is
/// asked about, and that the rest counts so is told.
#[test]
fn an_export_without_its_facings_says_so() {
    let from = measured();
    let table =
        from.line("export --format csv").expect(0).out.replace(",forward,", ",,").replace(",aft,", ",,");
    let into = Bench::with_plan(&SMALL_PLAN.replacen("[[stage]]", &format!("{SUPPORT}\n[[stage]]"), 1));
    into.line("stage wing.jigtrue \"ribs on\"").expect(0);
    let ran = into.piped("import -", &table).expect(1);
    assert!(ran.err.contains("from what S1 forward should show"), "{}", ran.err);
    let fits: Vec<&str> = table.lines().filter(|l| !l.contains(",-")).collect();
    let ran = into.piped("import - --json", &fits.join("\n")).expect(0).json();
    assert_eq!(ran["assumed_forward"], 4, "{ran}");
    let lines = into.line("export --format jsonl").expect(0).out;
    let facings = |l: &str| serde_json::from_str::<Value>(l).unwrap()["body"]["facing"].clone();
    assert!(lines.lines().filter(|l| l.contains("\"reading\"")).all(|l| facings(l) == "forward"), "{lines}");
}

/// If a table gives no facing and the level can be turned, the answer says that it counts as forward; if the table
/// gives one, or the level cannot be turned, it does not.
#[test]
fn a_facing_that_nobody_gave_is_reported() {
    let bench = measured();
    let ran = bench
        .piped("import - --json", "point,value_deg,facing\nS1,2.05,\nS2,1.05,\nS3,.05,f\n")
        .expect(0)
        .json();
    assert_eq!(ran["assumed_forward"], 2);
    let ran = bench.piped("import -", "point,value_deg\nS1,2.05\n").expect(0).out;
    assert!(ran.contains("1 line gives no facing: read as forward"), "{ran}");
    let ran = bench.piped("import - --facing forward", "point,value\nS1,2.1\nS2,1.1\n").expect(0).out;
    assert!(!ran.contains("facing"), "{ran}");
    let ran = bench.piped("import -", "point,value\nbolt,88 in-lb\n").expect(0).out;
    assert!(!ran.contains("facing") && ran.contains("1 reading taken"), "{ran}");
    assert!(bench.line("take S1 2.05").expect(0).out.contains("forward"));
}
