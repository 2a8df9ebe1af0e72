//! A value that no wing has is questioned by every way in, and an impossible value is refused by all of them.

use crate::program::{Bench, SMALL_PLAN, SUPPORT};
use serde_json::Value;

/// The small wing with more to measure, a support and a wrench in in-lb.
fn plan() -> String {
    let post = "[[post]]\nname = \"post\"\nspan = 0\n";
    SMALL_PLAN
        .replacen("[[stage]]", &format!("{SUPPORT}{post}\n[[stage]]"), 1)
        .replace("torque wrench", "wrench")
        .replace(
            "accuracy = \"2 in-lb\"",
            "accuracy = \"2 in-lb\"\nrange = { lower = 0, upper = \"200 in-lb\" }",
        )
}

fn begun() -> Bench {
    let bench = Bench::with_plan(&plan());
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    bench
}

/// The last reading of the log as exported.
fn last(bench: &Bench) -> Value {
    let out = bench.line("export wing.jigtrue --format jsonl").expect(0).out;
    serde_json::from_str(out.lines().last().unwrap()).unwrap()
}

fn count(bench: &Bench) -> usize {
    bench.line("export wing.jigtrue --format jsonl").expect(0).out.lines().count()
}

#[test]
fn take_asks_once_and_the_entry_says_what_was_expected() {
    let bench = begun();
    let before = count(&bench);
    for value in ["260", "-1.7", "20", "2.03"] {
        let ran = bench.run(&["take", "wing.jigtrue", "incidence@S1", value]).expect(1);
        assert!(ran.err.contains("Not recorded") && ran.err.contains("--sure"), "{}", ran.err);
    }
    assert_eq!(count(&bench), before, "nothing was recorded");
    let ran = bench.line("take wing.jigtrue incidence@S1 -1.7 --sure").expect(0);
    assert!(ran.out.contains("about +2.0° was expected"), "{}", ran.out);
    let body = &last(&bench);
    let text = body.to_string();
    assert!(text.contains("\"asked\"") && text.contains("about +2.0°"), "{text}");
    // `--sure` without a question is a slip of its own.
    let ran = bench.line("take wing.jigtrue incidence@S2 1.0 --sure").expect(2);
    assert!(ran.err.contains("there is no question"), "{}", ran.err);
    bench.line("take wing.jigtrue cross@post 33").expect(1);
    bench.line("take wing.jigtrue incidence@S2 1 --temp 70").expect(1);
    bench.line("take wing.jigtrue incidence@S2 1 --temp 21").expect(0);
}

#[test]
fn a_bare_number_is_in_the_instruments_unit_and_its_range_is_the_limit() {
    let bench = begun();
    bench.line("take wing.jigtrue spot@bolt 90").expect(0);
    let spot = bench.line("check wing.jigtrue --json").json();
    let text = spot.to_string();
    assert!(text.contains("10.16"), "90 in-lb is 10.17 N·m: {text}");
    // Beyond the wrench's range: refused, sure or not.
    for sure in ["", " --sure"] {
        let ran = bench.line(&format!("take wing.jigtrue spot@bolt \"25 N·m\"{sure}")).expect(1);
        assert!(ran.err.contains("beyond the range of `wrench`"), "{}", ran.err);
    }
    bench.line("take wing.jigtrue spot@bolt 9").expect(1);
    // Between the steps; and read no finer than a coarser step.
    bench.line("take wing.jigtrue spot@bolt 88.5").expect(1);
    bench.line("take wing.jigtrue spot@bolt 85 --read-to 5").expect(0);
    // A step finer than the display's explains nothing, and zero is not a step.
    bench.line("take wing.jigtrue spot@bolt 88.5 --read-to 0.5").expect(1);
    bench.line("take wing.jigtrue spot@bolt 88 --read-to 0.5").expect(0);
    for none in ["0", "-5"] {
        bench.run(&["take", "wing.jigtrue", "spot@bolt", "88", "--read-to", none]).expect(1);
    }
    for (read_to, exit) in [("0", 1), ("0.5", 1), ("5", 0)] {
        bench.write("t.csv", format!("point,value,read_to\nspot@bolt,88.5,{read_to}\n"));
        bench.line("import wing.jigtrue t.csv").expect(exit);
    }
}

#[test]
fn zeros_that_a_spreadsheet_drops_cost_nothing() {
    let bench = begun();
    for (value, zeros) in [("2", "2.00"), ("2.1", "2.10")] {
        let of = |text: &str| {
            bench.run(&["take", "wing.jigtrue", "incidence@S1", text]).expect(0);
            last(&bench)["resolution_deg"].clone().to_string()
                + &last(&bench).to_string().matches("0.05").count().to_string()
        };
        assert_eq!(of(value), of(zeros));
    }
}

#[test]
fn a_table_is_questioned_line_by_line_and_has_a_column_for_yes() {
    let bench = begun();
    let before = count(&bench);
    bench.write(
        "t.csv",
        "point,value,facing\nincidence@S1,2.00,forward\n\nincidence@S1,-12,aft\nincidence@S2,1.0,forward\ncross@post,33,forward\n",
    );
    let ran = bench.line("import wing.jigtrue t.csv").expect(1);
    assert!(ran.err.contains("line 4: -12° is 10.0° from what S1 aft should show"), "{}", ran.err);
    assert!(ran.err.contains("line 6: 33°") && ran.err.contains("column `sure`"), "{}", ran.err);
    assert_eq!(count(&bench), before);
    bench.write(
        "sure.csv",
        "point,value,facing,sure\nincidence@S1,2.00,forward,\nincidence@S1,-12,aft,yes\nincidence@S2,1.0,forward,no\n",
    );
    bench.line("import wing.jigtrue sure.csv").expect(0);
    bench.write("vain.csv", "point,value,facing,sure\nincidence@S3,0.1,forward,yes\n");
    let ran = bench.line("import wing.jigtrue vain.csv").expect(1);
    assert!(ran.err.contains("there is no question"), "{}", ran.err);
    bench.write("beyond.csv", "point,value,sure\nspot@bolt,250,yes\n");
    assert!(bench.line("import wing.jigtrue beyond.csv").expect(1).err.contains("beyond the range"));
}

#[test]
fn a_move_beyond_its_travel_is_questioned() {
    let bench = begun();
    let ran = bench.line("move wing.jigtrue \"tip front\" \"200 turns cw\"").expect(1);
    assert!(ran.err.contains("beyond its travel of 12 mm"), "{}", ran.err);
    bench.line("move wing.jigtrue \"tip front\" \"8 turns cw\"").expect(0);
    // For a screw a bare number could be turns.
    let ran = bench.line("move wing.jigtrue \"tip front\" 1").expect(1);
    assert!(ran.err.contains("`1 cw` or `1 mm`"), "{}", ran.err);
    let ran = bench.line("move wing.jigtrue \"tip front\" \"2 turns cw\"").expect(1);
    assert!(ran.err.contains("+10.00 mm are used"), "{}", ran.err);
    bench.line("move wing.jigtrue \"tip front\" \"2 turns cw\" --sure").expect(0);
    bench.line("move wing.jigtrue \"tip front\" \"1 turn ccw\" --sure").expect(2);
}

/// The line named is the line that an editor shows, whatever lines before it are blank, are remarks or end in two
/// characters.
#[test]
fn the_line_named_is_the_line_in_the_file() {
    let bench = begun();
    let bad = "incidence@S2,99,forward";
    for (before, line) in [
        ("", 2),
        ("\n", 3),
        ("\n\n# a remark\n\n", 6),
        ("incidence@S1,2.0,forward\n\n", 4),
        ("\"incidence@S1\",2.0,\"forward\"\n\n\n", 5),
    ] {
        for end in ["\n", "\r\n"] {
            let text =
                format!("point,value,facing\n{before}{bad}\nincidence@S3,0.0,forward").replace('\n', end);
            bench.write("lines.csv", &text);
            let ran = bench.line("import wing.jigtrue lines.csv").expect(1);
            assert!(ran.err.contains(&format!("line {line}: 99°")), "{text:?}: {}", ran.err);
        }
    }
}

/// A clock behind the last entry's ends no round: the demo's entries are of years to come, and its zero still counts.
#[test]
fn a_clock_that_went_back_hides_no_pair() {
    let bench = Bench::demo("two-post");
    let taken = bench.line("take demo.jigtrue S1 f 1.2").expect(1);
    let imported = bench.piped("import demo.jigtrue -", "point,value_deg,facing\nS1,1.2,f\n").expect(1);
    for ran in [taken, imported] {
        assert!(ran.err.contains("gives this pair a zero of"), "{}", ran.err);
    }
}
