//! Which log a verb uses if none is named, and what the program says without a verb.

use crate::program::{Bench, Ran, SMALL_PLAN};

fn with_variable(bench: &Bench, args: &[&str], log: &str) -> Ran {
    bench.command(args).env("JIGTRUE_LOG", log).output().unwrap().into()
}

#[test]
fn every_verb_uses_the_only_log_of_the_folder_and_says_so() {
    let bench = Bench::begun();
    bench.write("new.toml", SMALL_PLAN.replace("0.3", "0.25"));
    bench.write("round.csv", "point,value_deg,facing\nincidence@S2,1.05,forward\n");
    let lines = [
        ("check", 11),
        ("check --brief", 11),
        ("advise", 11),
        ("take S1 f 2.1", 0),
        ("import round.csv", 0),
        ("note \"see the copy.jigtrue\"", 0),
        ("open-item \"a thing left\"", 0),
        ("withdraw 4 --reason \"typed wrong\"", 0),
        ("rework S1 --what \"drilled again\"", 0),
        ("stage \"ready to skin\" --anyway \"to see it\"", 0),
        ("replan new.toml --reason \"issue C\"", 0),
        ("plan --changes", 0),
        ("export", 0),
        ("sheet -o wing.pdf", 0),
        ("verify", 0),
        ("instrument check \"beam level\" 0.05 0.1", 0),
        ("compare --stage \"ribs on\" --with \"ready to skin\"", 1),
        ("sign --capacity builder --statement seen --as-seen", 0),
    ];
    for (line, code) in lines {
        let ran = bench.line(line).expect(code);
        assert!(ran.err.starts_with("log    wing.jigtrue (the only log here)\n"), "{line}: {}", ran.err);
        assert!(!ran.out.contains("the only log here"), "{line}: it belongs on the other stream");
    }
    assert!(bench.line("export --quiet").expect(0).err.is_empty());
    // The note is the whole remark, and the copy's name is not a log.
    assert!(bench.line("export --format jsonl").expect(0).out.contains("see the copy.jigtrue"));
    // A copy may have the name of a log.
    let ran = bench.line("backup copy.jigtrue").expect(0);
    assert!(ran.err.contains("the only log here") && bench.path("copy.jigtrue").exists(), "{}", ran.err);
}

#[test]
fn a_word_with_the_ending_of_a_log_is_the_log_anywhere_on_the_line() {
    let bench = Bench::begun();
    bench.line("take S1 f 2.1 wing.jigtrue a -1.9").expect(0);
    bench.line("check --stage \"ribs on\" wing.jigtrue").expect(11);
    bench.line("note remark wing.jigtrue").expect(0);
    // A log may have any other name.
    std::fs::copy(bench.path("wing.jigtrue"), bench.path("other.db")).unwrap();
    bench.line("take other.db S2 f 1.1").expect(0);
    bench.line("check other.db").expect(11);
    let ran = bench.line("verify /dev/null").expect(1);
    assert!(ran.err.contains("/dev/null"), "{}", ran.err);
    let ran = bench.line("check missing.db").expect(1);
    assert!(ran.err.contains("missing.db"), "{}", ran.err);
    let ran = bench.line("check wign.jigtrue").expect(1);
    assert!(ran.err.contains("Nearest: wing.jigtrue"), "{}", ran.err);
}

#[test]
fn the_variable_names_the_log_and_between_two_none_is_guessed() {
    let bench = Bench::begun();
    std::fs::create_dir(bench.path("away")).unwrap();
    std::fs::copy(bench.path("wing.jigtrue"), bench.path("away/right.jigtrue")).unwrap();
    let ran = with_variable(&bench, &["check"], "away/right.jigtrue").expect(11);
    assert!(ran.err.contains("log    away/right.jigtrue (JIGTRUE_LOG)"), "{}", ran.err);
    // A log that is named comes first.
    let ran = with_variable(&bench, &["check", "wing.jigtrue"], "away/nothing.jigtrue").expect(11);
    assert!(ran.err.is_empty(), "{}", ran.err);
    std::fs::copy(bench.path("wing.jigtrue"), bench.path("right.jigtrue")).unwrap();
    for line in ["check", "take S1 f 2", "undo", "sign --capacity builder --statement s", "plan --changes"] {
        let ran = bench.line(line);
        assert!([1, 2].contains(&ran.code), "{line}: {}", ran.code);
        for log in ["2 logs here", "right.jigtrue", "wing.jigtrue", "JIGTRUE_LOG"] {
            assert!(ran.err.contains(log), "{line}: {log} is not in {}", ran.err);
        }
    }
    let empty = Bench::new();
    let ran = empty.line("check").expect(2);
    assert!(ran.err.contains("no log here"), "{}", ran.err);
    // What cannot be understood is reported before that.
    let ran = empty.line("check --nothing").expect(2);
    assert!(ran.err.contains("--nothing"), "{}", ran.err);
}

#[test]
fn the_program_alone_shows_the_state_of_the_wing_and_what_comes_next() {
    let bench = Bench::new();
    let out = bench.line("").expect(0).out;
    assert!(out.contains("jigtrue plan > wing.toml") && out.contains("jigtrue demo"), "{out}");
    bench.write("wing.toml", SMALL_PLAN);
    bench.line("new wing.toml").expect(0);
    let ran = bench.line("").expect(0);
    assert!(ran.out.contains("Next   jigtrue stage"), "{}", ran.out);
    assert!(ran.err.contains("log    wing.jigtrue"), "{}", ran.err);
    bench.line("stage").expect(0);
    let out = bench.line("").expect(0).out;
    for part in
        ["small invented wing", "stage 1 of 2: ribs on", "Next   jigtrue take", "Gate   HOLD:", "whole"]
    {
        assert!(out.contains(part), "{part} is not in\n{out}");
    }
    // Far too much twist: the worst is shown in one line, with its mark.
    bench.line("take S1 f 2.1 a -1.9").expect(0);
    bench.line("take S2 f 1.1 a -.9").expect(0);
    bench.line("take S3 f .6 a -.5 --sure").expect(2);
    bench.line("take S3 f .6 a -.5").expect(0);
    let out = bench.line("").expect(0).out;
    assert!(out.lines().any(|line| line.starts_with("▲ ") || line.starts_with("⬖ ")), "{out}");
    assert!(out.lines().all(|line| line.chars().count() <= 80), "{out}");
    let a = bench.line("--json").expect(0).json();
    assert_eq!(a["format"], 1);
    assert_eq!(a["logs"][0]["gate"], "hold");
    bench.line("new wing.toml right.jigtrue").expect(0);
    let out = bench.line("").expect(0).out;
    assert!(out.contains("2 logs here") && out.contains("right.jigtrue") && out.contains("HOLD"), "{out}");
    bench.write("broken.jigtrue", "nothing");
    assert!(bench.line("").expect(0).out.contains("broken.jigtrue"));
}
