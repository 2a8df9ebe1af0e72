//! A log that is copied or moved by itself while a program has it open holds every acknowledged entry.
#![cfg(unix)]

use crate::program::{Bench, SMALL_PLAN, SUPPORT};
use record::OpenAction;
use session::{BeginStage, ImportWith, Session, SessionError, Sign, Take, TypedLog, TypedMove};
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::process::Stdio;

fn wing() -> Bench {
    let bench = Bench::with_plan(&SMALL_PLAN.replacen("[[stage]]", &format!("{SUPPORT}\n[[stage]]"), 1));
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    bench
}

/// A step with a session.
type Step = fn(&mut Session, &Bench) -> Result<(), SessionError>;

/// Every way in which a session writes while it stays open, as the window's does.
#[test]
fn the_log_alone_is_whole_after_every_sort_of_entry() {
    let bench = wing();
    bench.write("t.csv", "point,value_deg,facing\nS2,1.1,f\nS2,-.9,a\nS3,.1,f\n");
    let take = |text: &str| Take { point: "S1".to_owned(), text: text.to_owned(), ..Take::default() };
    let steps: [(&str, Step); 9] = [
        ("take", |s, _| {
            s.take(Take { point: "S1".to_owned(), text: "2.05".to_owned(), ..Take::default() }).map(drop)
        }),
        ("note", |s, _| s.note("windy").map(drop)),
        ("move", |s, _| s.record_move(&TypedMove::new("tip front", "1/4 cw")).map(drop)),
        ("open item", |s, _| s.open_item("a rivet", OpenAction::Opened, None).map(drop)),
        ("rework", |s, _| s.rework(&["S1".to_owned()], "drilled again").map(drop)),
        ("import", |s, b| {
            s.import_csv(&b.path("t.csv"), &ImportWith::default(), &mut |_, _, _| true).map(drop)
        }),
        ("withdraw", |s, _| s.withdraw(4, "a slip").map(drop)),
        ("sign", |s, _| {
            let sign = Sign {
                who: None,
                capacity: "builder".to_owned(),
                statement: "seen".to_owned(),
                as_seen: true,
                key: None,
            };
            s.sign(sign).map(drop)
        }),
        ("stage", |s, _| s.stage(&BeginStage::anyway("ready to skin", "to see it")).map(drop)),
    ];
    let log = bench.path("wing.jigtrue");
    let mut session = Session::open(&log).unwrap();
    session.set_who("ann");
    // Another one that only reads, as a second window.
    let _other = Session::open_read_only(&log).unwrap();
    for (what, step) in steps {
        step(&mut session, &bench).unwrap_or_else(|why| panic!("{what}: {why}"));
        // As another program writes beside it.
        TypedLog::open(&log).unwrap().take(Some("bob"), &take("2.05")).unwrap();
        fs::copy(&log, bench.path("copy.jigtrue")).unwrap();
        let copy = Session::open_read_only(&bench.path("copy.jigtrue")).unwrap();
        session.refresh().unwrap();
        assert_eq!(copy.head().entries, session.head().entries, "{what}");
        assert_eq!(copy.head().hash, session.head().hash, "{what}");
    }
    // Killed, and moved without the files beside it.
    std::mem::forget(session);
    fs::rename(&log, bench.path("elsewhere.jigtrue")).unwrap();
    bench.line("verify elsewhere.jigtrue").expect(0);
    let left = fs::metadata(bench.path("wing.jigtrue-wal")).map_or(0, |part| part.len());
    assert_eq!(left, 0, "no part of the log is left behind");
}

/// A round typed into a log that is moved meanwhile: what was acknowledged is in the moved file, and the next value
/// is refused.
#[test]
fn a_log_moved_while_a_round_is_typed() {
    let bench = wing();
    let log = bench.path("wing.jigtrue");
    let mut round = bench
        .command(&["take", "wing.jigtrue"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let (mut values, mut said) =
        (round.stdin.take().unwrap(), BufReader::new(round.stdout.take().unwrap()).lines());
    for value in ["2.05", "-1.95", "-.95"] {
        writeln!(values, "{value}").unwrap();
        assert!(said.next().unwrap().unwrap().contains("incidence@"), "acknowledged");
    }
    fs::rename(&log, bench.path("stick.jigtrue")).unwrap();
    let entries = bench.line("verify stick.jigtrue --json").expect(0).json()["entries"].clone();
    assert_eq!(entries, 5);
    let _ = writeln!(values, "1.05");
    drop(values);
    let end = round.wait_with_output().unwrap();
    let err = String::from_utf8(end.stderr).unwrap();
    assert!(!end.status.success() && err.contains("moved") && err.contains("not in it"), "{err}");
    assert!(said.next().is_none(), "nothing more is acknowledged");
    assert_eq!(bench.line("verify stick.jigtrue --json").expect(0).json()["entries"], entries);
    // It comes back with what was written to it elsewhere.
    bench.line("take stick.jigtrue S3 .05").expect(0);
    fs::rename(bench.path("stick.jigtrue"), &log).unwrap();
    assert_eq!(bench.line("verify wing.jigtrue --json").expect(0).json()["entries"], 6);
}

/// What an earlier program left beside a log that was moved away is named to whoever opens the old name.
#[test]
fn newest_entries_left_behind_are_named() {
    let bench = wing();
    let log = bench.path("wing.jigtrue");
    let other = stories::wal::looked_at(&log);
    bench.line("take wing.jigtrue S1 2.05").expect(0);
    fs::copy(stories::wal::beside(&log), bench.path("kept")).unwrap();
    drop(other);
    fs::rename(&log, bench.path("stick.jigtrue")).unwrap();
    fs::rename(bench.path("kept"), stories::wal::beside(&log)).unwrap();
    for verb in ["check", "verify", "take"] {
        let ran = bench.run(
            &[verb, "wing.jigtrue"]
                .iter()
                .chain(["S1", "2"].iter().filter(|_| verb == "take"))
                .collect::<Vec<_>>(),
        );
        let ran = ran.expect(1);
        assert!(ran.err.contains("wing.jigtrue-wal") && ran.err.contains("put the log back"), "{}", ran.err);
    }
}
