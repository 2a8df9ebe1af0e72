//! Bad input: a clear message, exit 1 or 2, and the log untouched.

use crate::program::{Bench, SMALL_PLAN};

fn begun() -> Bench {
    let bench = Bench::begun();
    bench.line("take wing.jigtrue incidence@S1 2.05").expect(0);
    bench
}

/// Everything in the log, as it is exported.
fn content(bench: &Bench) -> String {
    bench.line("export wing.jigtrue --format jsonl").expect(0).out
}

/// What is typed wrongly, and a word that must be in the answer.
#[test]
fn what_cannot_be_recorded_is_refused_with_a_message_and_leaves_the_log_as_it_was() {
    let bench = begun();
    let before = content(&bench);
    let cases = [
        ("take wing.jigtrue incidence@S9 1", "nearest is `incidence@S"),
        ("take wing.jigtrue incidenc@S1 1", "nearest is `incidence@S1`"),
        ("take wing.jigtrue S91 1", "nearest is `S1`"),
        ("take wing.jigtrue incidence@ 1", "missing"),
        ("take wing.jigtrue incidence@S1 0,35", "comma"),
        ("take wing.jigtrue incidence@S1 \"3.2 mm\"", "length"),
        ("take wing.jigtrue spot@bolt 21°", "torque"),
        ("take wing.jigtrue incidence@S1 NaN", "finite"),
        ("take wing.jigtrue incidence@S1 inf", "finite"),
        ("take wing.jigtrue incidence@S1 1e999", "1e999"),
        ("take wing.jigtrue incidence@S1 9.91E37", "not a reading"),
        ("take wing.jigtrue incidence@S1 \"1 2\"", "more than one"),
        ("take wing.jigtrue incidence@S1 0x10", "decimal"),
        ("take wing.jigtrue incidence@S1 4000", "360"),
        ("take wing.jigtrue incidence@S1 0°75'", "59"),
        ("take wing.jigtrue incidence@S1 \"\"", "nothing"),
        ("take wing.jigtrue incidence@S1 1 --instrument \"beam lvl\"", "nearest is `beam level`"),
        ("take wing.jigtrue incidence@S1 1 --temp 500", "80 °C"),
        ("take wing.jigtrue spot@bolt 6 --facing aft", "facing"),
        ("stage wing.jigtrue \"ready to skn\"", "nearest is `ready to skin`"),
        ("withdraw wing.jigtrue 99 --reason no", "no entry 99"),
        ("withdraw wing.jigtrue 2 --reason \" \"", "reason"),
        ("move wing.jigtrue \"tip front\" \"1 turn cw\"", "is not a support"),
        ("note wing.jigtrue \" \"", "empty"),
        ("replan wing.jigtrue plan.toml --reason \"again\"", "already in force"),
        ("replan wing.jigtrue nothing.toml --reason \"again\"", "no such file"),
        ("import wing.jigtrue nothing.csv", "no such file"),
        ("check wing.jigtrue --stage \"ready to skin\"", "not begun"),
        ("check wing.jigtrue --stage nonsense", "not in the plan"),
        ("sheet wing.jigtrue -o nowhere/sheet.pdf", "nowhere"),
        ("backup wing.jigtrue wing.jigtrue", "exists"),
    ];
    for (line, word) in cases {
        let ran = bench.line(line);
        assert_eq!(ran.code, 1, "{line}\n{}{}", ran.out, ran.err);
        assert!(ran.err.contains(word), "{line}: `{word}` is not in\n{}", ran.err);
        assert!(ran.err.starts_with("jigtrue: "), "{line}: {}", ran.err);
        assert!(ran.out.is_empty(), "{line}: {}", ran.out);
    }
    assert_eq!(content(&bench), before);
}

/// Every verb that opens a log, on what is not a log.
#[test]
fn every_verb_refuses_what_is_not_a_log_and_leaves_it_as_it_is() {
    let bench = begun();
    let whole = bench.read("wing.jigtrue");
    bench.write("foreign.jigtrue", "notes on the wing\n");
    bench.write("empty.jigtrue", "");
    bench.write("cut.jigtrue", &whole[..3000.min(whole.len() / 2)]);
    let mut zeros = whole.clone();
    zeros[4096..].fill(0);
    bench.write("zeros.jigtrue", &zeros);
    std::fs::create_dir(bench.path("folder.jigtrue")).unwrap();
    // SQLite keeps the user version, our format number, big-endian at byte 60 (its file format, 1.3).
    let mut newer = whole.clone();
    newer[60..64].copy_from_slice(&99_u32.to_be_bytes());
    bench.write("newer.jigtrue", &newer);
    let logs = ["missing", "foreign", "empty", "cut", "zeros", "newer", "folder"];
    let verbs = [
        "take LOG incidence@S1 1",
        "import LOG plan.toml",
        "stage LOG \"ribs on\"",
        "withdraw LOG 2 --reason no",
        "move LOG x \"1 mm\"",
        "open-item LOG x",
        "note LOG x",
        "replan LOG plan.toml --reason x",
        "check LOG",
        "advise LOG",
        "compare LOG --stage \"ribs on\" --with \"ribs on\"",
        "sign LOG --capacity x --statement y",
        "sheet LOG -o sheet.pdf",
        "verify LOG",
        "export LOG",
        "backup LOG copy.jigtrue",
    ];
    for log in logs {
        let path = bench.path(&format!("{log}.jigtrue"));
        let before = std::fs::read(&path).ok();
        for verb in verbs {
            let line = verb.replace("LOG", &format!("{log}.jigtrue"));
            let ran = bench.line(&line);
            assert_eq!(ran.code, 1, "{line}\n{}{}", ran.out, ran.err);
            assert!(ran.err.contains(log), "{line} does not name the file:\n{}", ran.err);
        }
        assert_eq!(std::fs::read(&path).ok(), before, "{log} was changed");
    }
    assert!(!bench.path("sheet.pdf").exists());
    assert!(!bench.path("copy.jigtrue").exists());
    assert!(!bench.path("missing.jigtrue").exists(), "a log that is missing is not made by asking for it");
}

/// A plan with a mistake: line and column, the text, what would be right; and no log is left.
#[test]
fn a_mistake_in_a_plan_is_shown_where_it_stands() {
    let bench = Bench::new();
    let swap = |from: &str, to: &str| {
        assert!(SMALL_PLAN.contains(from), "{from}");
        SMALL_PLAN.replacen(from, to, 1)
    };
    let mut cases: Vec<(String, &str)> = vec![
        (swap("span = 300\n", "span = nan\n"), "span"),
        (swap("span = 300\n", "span = -1e9\n"), "span"),
        (swap("name = \"S2\"", "name = \"S1\""), "S1"),
        (swap("washout = 0.3", "washuot = 0.3"), "washout"),
        (swap("side = \"left\"", "side = \"port\""), "left"),
        (swap("requires = [\"incidence@*\"]", "requires = [\"incidense@*\"]"), "incidence"),
        (swap("format = 1", "format = 99"), "99"),
        (swap("[wing]", "[wing"), "wing"),
        (SMALL_PLAN.replace("span = 1500", "span = 300").replace("span = 3000", "span = 300"), "span"),
        ("format = 1\n".to_owned(), "wing"),
    ];
    let one = SMALL_PLAN.split("[[station]]").take(2).collect::<Vec<_>>().join("[[station]]");
    cases.push((one, "station"));
    for (plan, word) in cases {
        bench.write("plan.toml", &plan);
        let ran = bench.line("new plan.toml wing.jigtrue");
        assert_eq!(ran.code, 1, "{plan}\n{}{}", ran.out, ran.err);
        assert!(ran.err.contains(word), "`{word}` is not in\n{}", ran.err);
        assert!(!bench.path("wing.jigtrue").exists(), "a log was left of\n{plan}");
    }
    bench.write("plan.toml", swap("washout = 0.3", "washuot = 0.3"));
    let ran = bench.line("new plan.toml wing.jigtrue").expect(1);
    let line = 1 + SMALL_PLAN.lines().position(|l| l.contains("washout")).unwrap();
    assert!(ran.err.contains(&format!("line {line}, column 1")), "line {line} is not named in\n{}", ran.err);
}

#[test]
fn what_is_not_a_plan_is_refused_as_such() {
    let bench = Bench::new();
    let mut noise = vec![0_u8; 100 << 20];
    let mut state = 1_u32;
    for byte in &mut noise {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        *byte = state.to_le_bytes()[3];
    }
    bench.write("noise", &noise);
    bench.write("some", &noise[..5000]);
    bench.write("empty", "");
    bench.write("nul", "format = 1\n\0\0\0");
    for name in ["noise", "some", "empty", "nul", "missing", "."] {
        let ran = bench.line(&format!("new {name} wing.jigtrue")).expect(1);
        assert!(ran.err.len() < 3000, "{name}: a long answer of {} bytes", ran.err.len());
        assert!(!bench.path("wing.jigtrue").exists());
    }
}

#[test]
fn a_plan_of_five_thousand_stations_is_accepted_and_checked() {
    let mut plan = SMALL_PLAN.split("[[station]]").next().unwrap().to_owned();
    for i in 0..5000 {
        plan.push_str(&format!(
            "[[station]]\nname = \"S{i}\"\nspan = {}\nchord = 1000\nincidence = {:.4}\n",
            300.0 + f64::from(i) * 1.5,
            2.0 - f64::from(i) * 0.0005
        ));
    }
    plan.push_str("[[stage]]\nname = \"ready to skin\"\nrequires = [\"incidence@*\"]\n");
    let bench = Bench::with_plan(&plan);
    bench.line("stage wing.jigtrue \"ready to skin\"").expect(0);
    let ran = bench.line("check wing.jigtrue").expect(11);
    assert!(ran.out.lines().count() < 60, "a page, not {} lines", ran.out.lines().count());
}

#[test]
fn an_existing_log_is_never_started_over() {
    let bench = begun();
    let before = bench.read("wing.jigtrue");
    let ran = bench.line("new plan.toml wing.jigtrue").expect(1);
    assert!(ran.err.contains("exists"), "{}", ran.err);
    assert_eq!(bench.read("wing.jigtrue"), before);
}

/// Two names that a person cannot tell apart by eye are refused.
#[test]
fn names_that_look_alike_are_refused_in_a_plan() {
    let bench = Bench::new();
    let with = |name: &str| SMALL_PLAN.replace("name = \"S3\"", &format!("name = \"{name}\""));
    for name in ["\u{405}2", "S\u{200b}2", "S2\u{fe0f}", "\u{ff33}2", "S\u{2060}2", "S\u{1d7d0}"] {
        bench.write("alike.toml", with(name));
        let ran = bench.line("new alike.toml alike.jigtrue").expect(1);
        let told = ran.err.contains("looks like the") || ran.err.contains("control characters");
        assert!(told, "{name:?}: {}", ran.err);
        assert!(!bench.path("alike.jigtrue").exists());
    }
    for (n, name) in ["S2b", "Sl", "\u{a7}2", "\u{d6}2"].into_iter().enumerate() {
        bench.write("good.toml", with(name));
        bench.line(&format!("new good.toml good-{n}.jigtrue")).expect(0);
    }
}

/// No word is ignored: a point that is in no plan, a log without its ending, a facing or a point without a value. If
/// one of several values cannot be read, none is recorded.
#[test]
fn no_word_of_a_take_is_passed_over() {
    let bench = begun();
    let before = content(&bench);
    for (words, why) in [
        ("zzz S2 f 1.1", "`zzz` is not in the plan"),
        ("S1 S2 f 1.1", "no value for S1"),
        ("S2 f 1.1 S1", "no value for S1"),
        ("S2 f 1.1 S1 f", "no value after forward: write it as in incidence@S1"),
        ("S2 f f 1.1", "no value after forward"),
        ("S2 f a 1.1", "no value after forward"),
        ("S2 f 1.1 zzz", "no number here"),
        ("bolt 5 27/32", "could be one value or two"),
        ("S2 f 1.1 a", "no value after aft"),
        ("\"\" S2 f 1.1", "is not in the plan"),
        ("S2 f 1.1 \"\"", "nothing was typed"),
    ] {
        let ran = bench.line(&format!("take {words}")).expect(1);
        assert!(ran.err.contains(why), "{words}\n{}", ran.err);
        assert_eq!(ran.out, "", "{words}");
    }
    assert_eq!(content(&bench), before);
    bench.line("take S1 f 2.1 a -1.95 S2 a -.9 1.1 --facing aft").expect(1);
    bench.line("take S1 f 2.1 a -1.95 S2 1.1 a -.9").expect(0);
}

/// A person's name is a name: it is in every list, on every sheet and in what is signed.
#[test]
fn a_name_of_many_characters_or_lines_is_refused() {
    let bench = begun();
    let before = content(&bench);
    for name in ["x".repeat(81), "two\nlines".to_owned(), "bell\u{7}".to_owned()] {
        for verb in [&["take", "S2", "f", "1.1"][..], &["note", "x"], &["open-item", "x"]] {
            let mut args = verb.to_vec();
            args.extend(["--by", &name]);
            let ran = bench.run(&args).expect(1);
            assert!(ran.err.contains("a person's name has at most 80"), "{verb:?}\n{}", ran.err);
        }
        let ran = bench.piped("import -", &format!("point,value,by\nS2,1.1,\"{name}\"\n")).expect(1);
        assert!(ran.err.contains("a person's name"), "{}", ran.err);
    }
    assert_eq!(content(&bench), before);
}
