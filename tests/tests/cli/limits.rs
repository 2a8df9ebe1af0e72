//! Every limit holds: too much of anything is refused with a message, soon, and in bounded memory. The table of
//! limits is in DEVELOPERS.md.
#![cfg(unix)]

use crate::program::{Bench, Ran, SMALL_PLAN};
use instrument::{Decoder, DialectSpec, Template};
use std::fs::File;
use std::process::Command;
use stories::forge::forge;
use stories::seeded::Draws;

/// Memory the program may ask the system for, in KiB; its own code and stacks are in it.
const MEMORY_KIB: u64 = 600 << 10;
/// Processor time it may use, in seconds; a limit that works needs one or two, even in a test build.
const SECONDS: u64 = 60;

/// Runs the program with a limit on its memory and its processor time, beyond which it is killed.
fn bounded(bench: &Bench, args: &[&str]) -> Ran {
    let inner = bench.command(args);
    let mut command = Command::new("sh");
    command
        .args(["-c", &format!("ulimit -v {MEMORY_KIB}; ulimit -t {SECONDS}; exec \"$0\" \"$@\"")])
        .arg(inner.get_program())
        .args(inner.get_args())
        .current_dir(bench.path("."))
        .env("JIGTRUE_BY", "ann");
    command.output().unwrap().into()
}

fn refused(bench: &Bench, args: &[&str], word: &str) {
    let ran = bounded(bench, args).expect(1);
    assert!(
        ran.err.contains(word),
        "{args:?} does not say {word:?}:\n{}",
        &ran.err[..ran.err.len().min(2000)]
    );
    assert!(ran.err.len() < 20_000, "{args:?}: a message of {} bytes", ran.err.len());
}

fn noise(bytes: usize) -> Vec<u8> {
    let mut draws = Draws::new(100);
    let mut all = Vec::with_capacity(bytes + 8);
    while all.len() < bytes {
        all.extend(draws.bits().to_le_bytes());
    }
    all
}

/// A file that is large without taking room.
fn hollow(bench: &Bench, name: &str, mb: u64) {
    File::create(bench.path(name)).unwrap().set_len(mb << 20).unwrap();
}

#[test]
fn plans() {
    let bench = Bench::new();
    bench.write("noise.toml", noise(100 << 20));
    refused(&bench, &["new", "noise.toml", "a.jigtrue"], "100 MB, too large");
    bench.write("noise.toml", noise(1 << 20));
    refused(&bench, &["new", "noise.toml", "a.jigtrue"], "not text");
    refused(&bench, &["new", "/dev/zero", "a.jigtrue"], "too large");
    bench.write("long.toml", format!("{SMALL_PLAN}\n# {}", "x".repeat(5 << 20)));
    refused(&bench, &["new", "long.toml", "a.jigtrue"], "4 MiB");
    for (name, deep) in [("[", "a = "), ("{ a = ", "a = "), ("[[a]]\n", ""), ("a.", "")] {
        bench.write("deep.toml", format!("format = 1\n{deep}{}", name.repeat(3_000_000 / name.len())));
        refused(&bench, &["new", "deep.toml", "a.jigtrue"], "deep.toml");
    }
    let station = "[[station]]\nname = \"S\"\nspan = 1\nchord = 1\nincidence = 0\n";
    bench.write("many.toml", format!("format = 1\n{}", station.repeat(60_000)));
    refused(&bench, &["new", "many.toml", "a.jigtrue"], "many.toml");
    bench.write("wide.toml", SMALL_PLAN.replace("small invented wing", &"w".repeat(3 << 20)));
    refused(&bench, &["new", "wide.toml", "a.jigtrue"], "wide.toml");
    assert!(!bench.path("a.jigtrue").exists());
}

#[test]
fn tables_of_readings() {
    let bench = Bench::begun();
    let before = bench.line("export wing.jigtrue").expect(0).out;
    bench.write(
        "quote.csv",
        format!("point,value\nincidence@S1,1\nincidence@S2,\"{}", "1,\n".repeat(30 << 20)),
    );
    refused(&bench, &["import", "wing.jigtrue", "quote.csv"], "quote that is never closed");
    bench.write("head.csv", vec![b'x'; 50 << 20]);
    refused(&bench, &["import", "wing.jigtrue", "head.csv"], "head.csv");
    bench.write("columns.csv", format!("point,value{}", ",note".repeat(100_000)));
    refused(&bench, &["import", "wing.jigtrue", "columns.csv"], "twice");
    bench.write("bad.csv", format!("point,value\n{}", "nonsense,1\n".repeat(20_000)));
    refused(&bench, &["import", "wing.jigtrue", "bad.csv"], "and 19980 more");
    bench.write("noise.csv", noise(1 << 20));
    refused(&bench, &["import", "wing.jigtrue", "noise.csv"], "noise.csv");
    hollow(&bench, "hollow.csv", 4096);
    refused(&bench, &["import", "wing.jigtrue", "hollow.csv"], "hollow.csv");
    assert_eq!(bench.line("export wing.jigtrue").expect(0).out, before);
}

#[test]
fn tables_of_numbers_sheets_keys_and_instruments() {
    let bench = Bench::begun();
    hollow(&bench, "hollow", 4096);
    for (args, word) in [
        (vec!["fit", "hollow", "--order", "1"], "256 MB"),
        (vec!["straight", "hollow"], "256 MB"),
        (vec!["verify", "wing.jigtrue", "--sheet", "hollow"], "64 MB"),
        (vec!["instrument", "add", "wing.jigtrue", "hollow"], "too large"),
        (
            vec![
                "sign",
                "wing.jigtrue",
                "--capacity",
                "a",
                "--statement",
                "b",
                "--as-seen",
                "--key",
                "hollow",
            ],
            "too large",
        ),
        (vec!["replan", "wing.jigtrue", "hollow", "--reason", "x"], "too large"),
        (vec!["check", "hollow"], "not a jigtrue log"),
        (vec!["verify", "/dev/zero"], "not a jigtrue log"),
    ] {
        refused(&bench, &args, word);
    }
}

#[test]
fn what_is_typed() {
    let bench = Bench::begun();
    let long = "1".repeat(100_000);
    refused(&bench, &["take", "wing.jigtrue", "incidence@S1", &long], "too long");
    refused(&bench, &["take", "wing.jigtrue", &format!("incidence@{long}"), "1"], "incidence");
    refused(&bench, &["take", "wing.jigtrue", "incidence@S1", "1", "--instrument", &long], "is unknown");
    refused(&bench, &["stage", "wing.jigtrue", &long], "not in the plan");
}

/// An entry larger than may be written, put there with an SQL tool: noticed, in bounded memory.
#[test]
fn an_entry_too_large() {
    let bench = Bench::begun();
    let log = rusqlite::Connection::open(bench.path("wing.jigtrue")).unwrap();
    log.execute(
        "INSERT INTO entry(seq, at, \"by\", kind, body, hash)
         VALUES (3, 0, 'ann', 'note', '{\"text\":\"' || hex(zeroblob(40000000)) || '\"}', zeroblob(32))",
        [],
    )
    .unwrap();
    drop(log);
    for args in [
        vec!["verify", "wing.jigtrue"],
        vec!["check", "wing.jigtrue"],
        vec!["take", "wing.jigtrue", "incidence@S1", "1"],
    ] {
        let ran = bounded(&bench, &args);
        assert!(ran.code == 1 || ran.code == 11, "{args:?}: {} {}", ran.code, ran.err);
        assert!(ran.err.len() + ran.out.len() < 20_000);
        assert!(ran.err.contains("larger than any"), "{args:?}: {}", ran.err);
    }
}

/// A line without an end from an instrument: one fault, no growth.
#[test]
fn a_line_without_an_end() {
    for spec in [DialectSpec::Jigtrue, DialectSpec::Lines(Template::new("T={angle deg}").unwrap())] {
        let mut decoder = Decoder::new(&spec);
        let (mut faults, mut samples) = (0, 0);
        for _ in 0..2000 {
            decoder.each(&[b'1'; 4096], |next| match next {
                Ok(_) => samples += 1,
                Err(_) => faults += 1,
            });
        }
        assert_eq!(samples, 0);
        // At most a few each time something came in, however long it is.
        assert!(faults <= 3 * 2000, "{faults} faults");
        // Smaller than a page whatever came in: this is all of the decoder.
        assert!(size_of_val(&decoder) < 16 << 10, "{} bytes", size_of_val(&decoder));
    }
}

/// Names and notes that would control a terminal, on every way in and out.
#[test]
fn what_would_control_a_terminal_comes_out_as_escapes() {
    let bench = Bench::begun();
    let nasty = "n\u{1b}[2J\u{7}\u{9b}1m\u{7f}\u{202e}z";
    bench.write(
        "table.csv",
        format!("point,value_deg,by,note\nincidence@S1,2.05,ann,{nasty}\nincidence@S2,1.05,,\n"),
    );
    bench.line("import wing.jigtrue table.csv").expect(0);
    bench.run(&["open-item", "wing.jigtrue", nasty]).expect(0);
    bench.run(&["withdraw", "wing.jigtrue", "4", "--reason", nasty]).expect(0);
    bench.run(&["note", "wing.jigtrue", nasty]).expect(0);
    // No name like it is taken, but another program can have written one.
    bench.run(&["note", "wing.jigtrue", "calm", "--by", nasty]).expect(1);
    forge(&bench.path("wing.jigtrue"), |rows| rows.iter_mut().for_each(|row| row.by = nasty.to_owned()));
    let sign =
        ["sign", "wing.jigtrue", "--who", "ann", "--capacity", nasty, "--statement", nasty, "--as-seen"];
    bench.run(&sign).expect(0);
    bench.write("nasty.csv", format!("x,{nasty}\n1,{nasty}\n"));
    bench.write(&format!("{nasty}.toml"), nasty);
    let file = format!("{nasty}.toml");
    let mut looked_at = 0;
    for args in [
        vec!["check", "wing.jigtrue", "--all"],
        vec!["check", "wing.jigtrue", "--json"],
        vec!["advise", "wing.jigtrue"],
        vec!["advise", "wing.jigtrue", "--json"],
        vec!["verify", "wing.jigtrue", "--json"],
        vec!["compare", "wing.jigtrue", "wing.jigtrue"],
        vec!["series", "wing.jigtrue", nasty],
        vec!["series", "wing.jigtrue", &file, "--json"],
        vec!["series", "wing.jigtrue", "--stage", nasty],
        vec!["advise", "wing.jigtrue", "--like", &file],
        vec!["export", "wing.jigtrue", &file, "--into", "many"],
        vec!["export", "wing.jigtrue", "--into", nasty],
        vec!["export", "wing.jigtrue", "--format", "jsonl"],
        vec!["stage", "wing.jigtrue", nasty],
        vec!["take", "wing.jigtrue", "incidence@S3", nasty],
        vec!["take", "wing.jigtrue", "incidence@S3", "0.1", "--note", nasty, "--by", nasty, "--json"],
        vec!["take", "wing.jigtrue", "incidence@S3", "0.1", "--temp", nasty],
        vec!["withdraw", "wing.jigtrue", "5", "--reason", nasty, "--json"],
        vec!["move", "wing.jigtrue", nasty, "1 mm"],
        vec!["open-item", "wing.jigtrue", nasty, "--close", "--json"],
        vec!["open-item", "wing.jigtrue", &nasty[1..], "--close"],
        vec!["replan", "wing.jigtrue", &file, "--reason", nasty],
        vec!["new", &file, "x.jigtrue"],
        vec!["new", "plan.toml", &file],
        vec!["instrument", "add", "wing.jigtrue", &file],
        vec!["import", "wing.jigtrue", "nasty.csv"],
        vec!["import", "wing.jigtrue", &file],
        vec!["fit", "nasty.csv", "--order", "1"],
        vec!["straight", "nasty.csv"],
        vec!["level", "nasty.csv"],
        vec!["bores", "nasty.csv", "--shaft", "30"],
        vec!["spacing", "nasty.csv"],
        vec!["repeat", "nasty.csv"],
        vec!["square", nasty, "1", "1", "1"],
        vec!["decide", nasty, "1", "0", "1"],
        vec!["backup", "wing.jigtrue", &file],
        vec!["sheet", "wing.jigtrue", "-o", nasty],
        vec!["demo", "--case", nasty],
        vec!["instruments", nasty],
        vec!["listen", "wing.jigtrue", "--port", nasty, "--instrument", "plan.toml"],
        vec!["watch", nasty],
        vec![nasty],
    ] {
        let ran = bench.run(&args);
        for c in ran.out.chars().chain(ran.err.chars()) {
            let steers = (c.is_control() && c != '\n') || c == '\u{202e}';
            assert!(!steers, "{args:?} lets {c:?} through:\n{:?}\n{:?}", ran.out, ran.err);
        }
        looked_at += usize::from(ran.out.len() + ran.err.len() > 0);
    }
    assert!(looked_at > 30, "{looked_at}");
    bench.line("sheet wing.jigtrue -o profile.svg --svg").expect(0);
    let svg = String::from_utf8(bench.read("profile.svg")).unwrap();
    assert!(!svg.chars().any(|c| c.is_control() && c != '\n'), "the profile");
}
