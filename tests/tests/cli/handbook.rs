//! The handbook: every command in it is run, every link leads somewhere, and the reference names everything.

use crate::program::{Bench, Ran, jigtrue, words};
use record::PointKind;
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use stories::wings::{Workshop, plan, write};

fn docs() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs")
}

/// A fenced part of a page: what follows the fence, and its lines.
struct Block {
    head: String,
    lines: Vec<String>,
}

fn blocks(page: &str) -> Vec<Block> {
    let mut out: Vec<Block> = Vec::new();
    let mut inside = false;
    for line in page.lines() {
        match line.strip_prefix("```") {
            Some(_) if inside => inside = false,
            Some(head) => {
                inside = true;
                out.push(Block { head: head.to_owned(), lines: vec![] });
            }
            None if inside => out.last_mut().unwrap().lines.push(line.to_owned()),
            None => {}
        }
    }
    out
}

/// Whether the lines are as expected: `...` alone stands for any number of lines, at the end of a line for any text.
fn fits(expected: &[String], said: &[&str]) -> bool {
    let Some((first, rest)) = expected.split_first() else { return said.is_empty() };
    if first == "..." {
        return (0..=said.len()).any(|skipped| fits(rest, &said[skipped..]));
    }
    let Some((line, others)) = said.split_first() else { return false };
    let fit = match first.strip_suffix("...") {
        Some(start) => line.starts_with(start.trim_end()),
        None => line.trim_end() == first.trim_end(),
    };
    fit && fits(rest, others)
}

/// The verbs whose exit code is a verdict, which a page may show as it is; all others must do what they say.
const GIVES_A_VERDICT: &[&str] = &["check", "advise", "compare", "series"];

/// Runs a page in a folder of its own, command by command; returns how many.
fn read_through(name: &str, prepare: impl Fn(&Bench)) -> usize {
    let bench = Bench::new();
    prepare(&bench);
    let page = std::fs::read_to_string(docs().join(name)).unwrap();
    let mut folder = PathBuf::new();
    let mut run = 0;
    for block in blocks(&page) {
        if let Some((_, file)) = block.head.split_once(' ') {
            bench.write(file, block.lines.join("\n") + "\n");
            continue;
        }
        assert_eq!(block.head, "console", "{name}: a part that is not run");
        let mut lines = block.lines.as_slice();
        while let Some((first, rest)) = lines.split_first() {
            let typed = first.strip_prefix("$ ").unwrap_or_else(|| panic!("{name}: {first}"));
            let end = rest.iter().position(|l| l.starts_with("$ ")).unwrap_or(rest.len());
            let expected = &rest[..end];
            lines = &rest[end..];
            run += 1;
            let ran = match typed.split_once(' ').unwrap() {
                ("mkdir", new) => {
                    std::fs::create_dir(bench.path("").join(&folder).join(new)).unwrap();
                    continue;
                }
                ("cd", "..") => {
                    folder.pop();
                    continue;
                }
                ("cd", into) => {
                    folder.push(into);
                    continue;
                }
                ("jigtrue", line) => at(&bench, &folder, line),
                _ => panic!("{name}: {typed}"),
            };
            let said: Vec<&str> = ran.out.lines().collect();
            let verb = typed.split(' ').nth(1).unwrap_or_default();
            let done = ran.code == 0 || GIVES_A_VERDICT.contains(&verb) && [10, 11].contains(&ran.code);
            assert!(done, "{name}: {typed}: {}\n{}{}", ran.code, ran.out, ran.err);
            let as_shown = expected.is_empty() || fits(expected, &said);
            assert!(as_shown, "{name}: {typed}: expected\n{}\nbut\n{}", expected.join("\n"), ran.out);
        }
    }
    run
}

fn at(bench: &Bench, folder: &Path, line: &str) -> Ran {
    let (line, file) = line.split_once(" > ").map_or((line, None), |(line, file)| (line, Some(file)));
    let ran: Ran =
        bench.command(&words(line)).current_dir(bench.path("").join(folder)).output().unwrap().into();
    if let Some(file) = file {
        std::fs::write(bench.path("").join(folder).join(file), &ran.out).unwrap();
    }
    ran
}

#[test]
fn every_command_of_the_handbook_does_what_it_says() {
    assert!(read_through("levelling.md", |_| {}) >= 13);
    assert!(read_through("ribs.md", |_| {}) >= 9);
    assert!(read_through("closing.md", |_| {}) >= 9);
    let club = |bench: &Bench| {
        std::fs::create_dir(bench.path("logs")).unwrap();
        (0..12).for_each(|n| write(Workshop::default(), n, &bench.path(&format!("logs/w{n:02}.jigtrue"))));
        bench.write("next.toml", plan(99));
        bench.line("new next.toml next.jigtrue").expect(0);
        bench.line("stage next.jigtrue \"ribs on\"").expect(0);
        for (i, span) in [200.0, 900.0, 1700.0, 2500.0, 3300.0, 4000.0].iter().enumerate() {
            let shown = 2.0 - 3.5 * span / 4000.0;
            for (facing, value) in [("forward", shown), ("aft", -shown)] {
                bench
                    .line(&format!("take next.jigtrue incidence@S{} {value:.2} --facing {facing}", i + 1))
                    .expect(0);
            }
        }
    };
    assert!(read_through("rigging.md", |_| {}) >= 8);
    assert!(read_through("many-wings.md", club) >= 4);
    let pages: BTreeSet<String> = std::fs::read_dir(docs())
        .unwrap()
        .map(|f| f.unwrap().file_name().into_string().unwrap())
        .filter(|f| f.ends_with(".md") && f != "README.md")
        .collect();
    // The page on instrument files is read by the tests of `instrument`, that on a small computer by `unattended.rs`.
    let read = [
        "closing.md",
        "instrument-files.md",
        "levelling.md",
        "many-wings.md",
        "ribs.md",
        "rigging.md",
        "small-computer.md",
    ];
    assert_eq!(pages.iter().map(String::as_str).collect::<Vec<_>>(), read, "a page that no test reads");
}

#[test]
fn every_link_of_the_handbook_leads_somewhere() {
    let mut seen = 0;
    for file in
        std::fs::read_dir(docs()).unwrap().flatten().filter(|f| f.path().extension() == Some("md".as_ref()))
    {
        let page = std::fs::read_to_string(file.path()).unwrap();
        for link in page.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            assert!(docs().join(link).exists(), "{}: {link}", file.path().display());
            seen += 1;
        }
    }
    assert!(seen >= 8, "{seen}");
}

/// Pixels that may differ by more than half between the sheet's picture and one made now: edges of other fonts, but
/// no other word.
const OTHER_PIXELS: f64 = 60.0;

/// The picture of the sheet's first page shows the sheet of today; `JIGTRUE_RECORD=1` makes it anew.
#[test]
fn the_picture_of_the_sheet_is_current() {
    let bench = Bench::demo("two-post");
    let kept = docs().join("../demo-readings/two-post/sheet.png");
    let run = |program: &str, args: &[&str]| {
        Command::new(program).args(args).current_dir(bench.path("")).output().ok()
    };
    let made = run(
        "pdftoppm",
        &["-gray", "-r", "100", "-f", "1", "-l", "1", "-singlefile", "demo-sheet.pdf", "page"],
    )
    .and_then(|_| run("convert", &["page.pgm", "-posterize", "16", "-strip", "page.png"]));
    if made.is_none_or(|made| !made.status.success()) {
        println!("SKIPPED: the picture of the sheet was not compared (Debian: poppler-utils, imagemagick)");
        return;
    }
    if std::env::var_os("JIGTRUE_RECORD").is_some() {
        std::fs::copy(bench.path("page.png"), &kept).unwrap();
    }
    let kept = kept.display().to_string();
    let said = run("compare", &["-metric", "AE", "-fuzz", "50%", &kept, "page.png", "null:"]).unwrap();
    let said = String::from_utf8_lossy(&said.stderr).into_owned();
    let differ: f64 = said.split_whitespace().next().and_then(|it| it.parse().ok()).unwrap_or(f64::INFINITY);
    assert!(
        differ <= OTHER_PIXELS,
        "{said}: JIGTRUE_RECORD=1 cargo test --test cli the_picture makes it anew"
    );
}

/// Every name of the JSON, with those inside.
fn names(value: &Value, into: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => fields.iter().for_each(|(name, value)| {
            into.insert(name.clone());
            names(value, into);
        }),
        Value::Array(all) => all.iter().for_each(|value| names(value, into)),
        _ => {}
    }
}

#[test]
fn the_reference_names_every_field_and_every_kind() {
    let out = Command::new(docs().join("make-reference")).arg(jigtrue()).output().unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let reference = String::from_utf8(out.stdout).unwrap();
    let mut all = BTreeSet::new();
    for case in ["two-post", "hold", "upright", "rigged"] {
        let bench = Bench::demo(case);
        let check = bench.line("check demo.jigtrue --json").json();
        for o in check["gate"]["obligations"].as_array().unwrap() {
            let kind = o["kind"].as_str().unwrap();
            assert!(reference.contains(&format!("| `{kind}` |")), "{kind}");
        }
        for p in check["points"].as_array().unwrap() {
            let kind = p["point"].as_str().unwrap().split('@').next().unwrap();
            assert!(reference.contains(&format!("| `{kind}` |")), "{kind}");
        }
        names(&check, &mut all);
        names(&bench.line("advise demo.jigtrue --json").json(), &mut all);
        for line in [
            "verify demo.jigtrue",
            "entries demo.jigtrue",
            "ports",
            "sheet demo.jigtrue -o demo.pdf",
            "backup demo.jigtrue copy.jigtrue",
            "export demo.jigtrue --into many",
            "form demo.jigtrue",
            "decide 1 0.1 - 2",
        ] {
            names(&bench.line(&format!("{line} --json")).expect(0).json(), &mut all);
        }
    }
    let bench = Bench::new();
    (0..3).for_each(|n| write(Workshop::default(), n, &bench.path(&format!("w{n}.jigtrue"))));
    let mut series = bench.line("series w0.jigtrue w1.jigtrue w2.jigtrue --json").expect(0).json();
    // Their keys are the plan's.
    series["geometry"] = Value::Null;
    series["jig"] = Value::Null;
    names(&series, &mut all);
    let missing: Vec<&String> = all.iter().filter(|name| !reference.contains(&format!("`{name}`"))).collect();
    assert!(missing.is_empty(), "not in the reference: {missing:?}");
    for kind in PointKind::all() {
        assert!(reference.contains(&format!("| `{}` |", kind.word())), "{kind:?}");
    }
    for example in instrument::EXAMPLES {
        assert!(reference.contains(example.text), "{}", example.word);
    }
    let help = bench.line("--help").expect(0).out;
    let verbs =
        help.lines().skip_while(|line| *line != "Commands:").skip(1).take_while(|line| !line.is_empty());
    let verbs: Vec<&str> = verbs
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .map(|line| line.trim().split(' ').next().unwrap())
        .collect();
    assert!(verbs.len() > 30, "{verbs:?}");
    for verb in verbs.iter().filter(|verb| **verb != "help") {
        assert!(reference.contains(&format!("### jigtrue {verb}")), "{verb}");
    }
}
