//! What is put on a terminal, and what is not.

use crate::program;
use crate::program::{Bench, Ran, SMALL_PLAN};
use std::io::Read;
use std::process::Stdio;
use stories::forge::forge;

/// A log with text that would clear the screen, ring, set a title and colour, in every place where a person writes.
fn nasty() -> Bench {
    let bench = Bench::begun();
    bench.run(&["note", "wing.jigtrue", "a\u{1b}]0;title\u{7}b"]).expect(0);
    bench.run(&["take", "wing.jigtrue", "incidence@S1", "2.05", "--note", "n\u{8}"]).expect(0);
    // No name like it is taken, but another program can have written one.
    let by = "x\u{1b}[31m";
    bench.run(&["note", "wing.jigtrue", "calm", "--by", by]).expect(1);
    forge(&bench.path("wing.jigtrue"), |rows| rows.iter_mut().for_each(|row| row.by = by.to_owned()));
    bench
        .run(&[
            "sign",
            "wing.jigtrue",
            "--who",
            "ann",
            "--capacity",
            "c\u{9b}1m",
            "--statement",
            "s\rt",
            "--as-seen",
        ])
        .expect(0);
    bench
}

/// No control character but line ends ever reaches the terminal from a name, a note or a message.
#[test]
fn names_and_notes_cannot_control_the_terminal() {
    let bench = nasty();
    // A plan with such a name is refused before it can get anywhere.
    bench.write("nasty.toml", SMALL_PLAN.replace("small invented wing", "w\\u001b[2J\\u0007"));
    let lines = [
        "check wing.jigtrue --all",
        "advise wing.jigtrue",
        "verify wing.jigtrue",
        "compare wing.jigtrue --stage \"ribs on\" --with \"ribs on\"",
        "check wing.jigtrue --stage \"a\u{1b}[5mb\"",
        "take wing.jigtrue \"incidence@\u{1b}[5m\" 1",
        "take wing.jigtrue incidence@S1 \"1\u{1b}[5m\"",
        "take wing.jigtrue incidence@S1 1 --instrument \"\u{7}\"",
        "withdraw wing.jigtrue 2 --reason \"\u{1b}c\"",
        "open-item wing.jigtrue \"thing \u{1b}c\"",
        "note \"\u{1b}[2J.jigtrue\" x",
        "new nasty.toml x.jigtrue",
        "new \"\u{1b}[2J.toml\" x.jigtrue",
    ];
    for line in lines {
        let ran = bench.line(line);
        for c in ran.out.chars().chain(ran.err.chars()) {
            let steers = (c.is_control() && c != '\n') || c == '\u{202e}';
            assert!(!steers, "{line:?} lets {c:?} through:\n{:?}\n{:?}", ran.out, ran.err);
        }
    }
}

#[test]
fn no_colour_goes_into_a_pipe_and_every_verdict_is_a_word() {
    let bench = Bench::demo("hold");
    let out = bench.line("check demo.jigtrue").expect(10).out;
    assert!(!out.contains('\u{1b}'));
    for word in ["within", "outside", "undecided", "stale", "GATE   HOLD"] {
        assert!(out.contains(word), "{word} is not in\n{out}");
    }
    let forced: Ran =
        bench.command(&["check", "demo.jigtrue"]).env("CLICOLOR_FORCE", "1").output().unwrap().into();
    assert!(forced.out.contains("\u{1b}["), "colour can be asked for");
    // Without colour it is the same text: colour is never the only sign.
    let mut plain = String::new();
    let mut rest = forced.out.as_str();
    while let Some((before, after)) = rest.split_once('\u{1b}') {
        plain.push_str(before);
        rest = after.split_once('m').unwrap().1;
    }
    plain.push_str(rest);
    assert_eq!(plain, out);
    let refused: Ran =
        bench.command(&["check", "demo.jigtrue"]).env("NO_COLOR", "1").output().unwrap().into();
    assert!(!refused.out.contains('\u{1b}'));
}

#[test]
fn a_terminal_without_utf8_gets_ascii() {
    let bench = Bench::demo("two-post");
    for args in [vec!["check", "demo.jigtrue", "--ascii"], vec!["check", "demo.jigtrue"]] {
        let ascii = args.len() == 3;
        let locale = if ascii { "C.UTF-8" } else { "C" };
        let ran: Ran = bench.command(&args).env("LC_ALL", locale).output().unwrap().into();
        let ran = ran.expect(0);
        assert!(ran.out.is_ascii(), "{}", ran.out);
        assert!(ran.out.contains("tolerance") && ran.out.contains("+-"), "{}", ran.out);
        assert!(ran.out.lines().all(|l| l.len() <= 84), "{}", ran.out);
    }
    let ran: Ran =
        bench.command(&["check", "demo.jigtrue"]).env("LANG", "de_DE.UTF-8").output().unwrap().into();
    assert!(!ran.out.is_ascii());
}

/// `jigtrue check LOG | head -1`: no message, no panic.
#[test]
fn a_reader_that_closes_the_pipe_is_not_an_error() {
    let bench = Bench::demo("two-post");
    let mut long = "point,value_deg\n".to_owned();
    for _ in 0..5_000 {
        long.push_str("incidence@S1,2.00\n");
    }
    bench.write("long.csv", long);
    bench.line("import demo.jigtrue long.csv").expect(0);
    for args in [
        vec!["export", "demo.jigtrue"],
        vec!["export", "demo.jigtrue", "--format", "jsonl"],
        vec!["check", "demo.jigtrue", "--all"],
    ] {
        let mut child = bench.command(&args).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let mut first = [0_u8; 10];
        child.stdout.take().unwrap().read_exact(&mut first).unwrap();
        let ran: Ran = child.wait_with_output().unwrap().into();
        assert!(ran.err.is_empty(), "{args:?}: {}", ran.err);
        assert_ne!(ran.code, 101, "{args:?}");
    }
}

/// A full disk behind standard output is an error with a message, not a panic.
#[cfg(target_os = "linux")]
#[test]
fn output_that_cannot_be_written_is_reported() {
    let bench = Bench::demo("two-post");
    for args in [vec!["check", "demo.jigtrue"], vec!["export", "demo.jigtrue"], vec!["plan"]] {
        let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let ran: Ran = bench.command(&args).stdout(full).stderr(Stdio::piped()).output().unwrap().into();
        let ran = ran.expect(1);
        assert!(ran.err.contains("written"), "{args:?}: {}", ran.err);
    }
}

/// What is printed fits 80 columns, signatures and long answers too.
#[test]
fn nothing_is_wider_than_eighty_columns() {
    let bench = Bench::with_plan(program::SMALL_PLAN);
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    for (station, value) in [("S1", "2.3"), ("S2", "1.1"), ("S3", "0.6")] {
        bench.line(&format!("take wing.jigtrue incidence@{station} {value}")).expect(0);
    }
    bench.line("sign --new-key key").expect(0);
    bench.line("sign wing.jigtrue --capacity builder --statement seen --as-seen --key key").expect(0);
    bench.write("offsets.csv", "span_mm,offset_mm,u_mm\n0,0,0.1\n500,0.4,0.1\n1000,0.1,0.1\n");
    bench.write(
        "bores.csv",
        "span_mm,aft_mm,up_mm,bore_mm,u_mm\n0,0,0,30.1,0.1\n9,1,0,30.1,0.1\n20,0,0,30.1,0.1\n",
    );
    bench.write("table.csv", "x,y\n1,1\n2,3\n3,4\n4,8\n");
    for line in [
        "new plan.toml other.jigtrue",
        "check wing.jigtrue --all",
        "verify wing.jigtrue",
        "compare wing.jigtrue wing.jigtrue",
        "compare wing.jigtrue --stage \"ribs on\" --with \"ribs on\"",
        "advise wing.jigtrue",
        "decide 0 0.5 -0.5 0.5",
        "straight offsets.csv",
        "bores bores.csv --shaft 30",
        "square 800 600 1000.5 999.8 --u 0.2",
        "fit table.csv --order 2",
    ] {
        let ran = bench.line(line);
        for text in ran.out.lines().chain(ran.err.lines()) {
            assert!(text.chars().count() <= 80, "{line}: over 80 columns: {text}");
            assert_eq!(text, text.trim_end(), "{line}: blanks at the end of a line");
        }
    }
}
