//! Files written beside a log: whole or not at all, never over something else, and nothing left behind.
#![cfg(unix)]

use crate::program;
use crate::program::{Bench, Prepared, SMALL_PLAN};
use rustix::fs::{CWD, FileType, Mode, mknodat};
use std::fs;
use std::os::unix::fs::{FileTypeExt, MetadataExt, PermissionsExt, symlink};
use std::os::unix::net::UnixListener;
use std::path::Path;
use std::sync::OnceLock;
use stories::disk::{SmallDisk, skip};
use stories::seeded::Draws;

/// Every verb that writes a file by `-o`; `OUT` is the file.
const WRITERS: [&str; 8] = [
    "sheet wing.jigtrue -o OUT",
    "sheet wing.jigtrue --paper letter -o OUT",
    "sheet wing.jigtrue --svg -o OUT",
    "export wing.jigtrue -o OUT",
    "export wing.jigtrue --format jsonl -o OUT",
    "compare wing.jigtrue other.jigtrue -o OUT",
    "compare wing.jigtrue other.jigtrue --svg -o OUT",
    "compare demo.jigtrue --stage \"ribs outboard\" --with \"ready to skin\" -o OUT",
];

/// The ending of the file that this verb writes.
fn ending(writer: &str) -> &'static str {
    match writer {
        _ if writer.contains("--svg") => "svg",
        _ if writer.contains("jsonl") => "jsonl",
        _ if writer.starts_with("export") => "csv",
        _ => "pdf",
    }
}

/// Two wings with readings, a demo, a key.
fn bench() -> Bench {
    static MADE: OnceLock<Prepared> = OnceLock::new();
    Bench::of(MADE.get_or_init(|| made().files()))
}

fn made() -> Bench {
    let bench = Bench::demo("two-post");
    bench.write("plan.toml", SMALL_PLAN);
    bench.line("new plan.toml wing.jigtrue").expect(0);
    bench.write("right.toml", SMALL_PLAN.replace("side = \"left\"", "side = \"right\""));
    bench.line("new right.toml other.jigtrue").expect(0);
    for log in ["wing.jigtrue", "other.jigtrue"] {
        bench.line(&format!("stage {log} \"ribs on\"")).expect(0);
        for (point, value) in [("S1", 2.05), ("S2", 1.05), ("S3", 0.05)] {
            bench.line(&format!("take {log} incidence@{point} {value}")).expect(0);
            bench.line(&format!("take {log} incidence@{point} -{value} --facing aft")).expect(0);
        }
    }
    bench.line("sign --new-key my.key").expect(0);
    bench
}

/// Name and content of each kind of thing that is never replaced.
fn precious(bench: &Bench) -> Vec<(&'static str, &'static str)> {
    let at = |name: &str| bench.path(name);
    fs::create_dir(at("folder")).unwrap();
    fs::create_dir(at("folder/empty")).unwrap();
    mknodat(CWD, at("pipe"), FileType::Fifo, Mode::RWXU, 0).unwrap();
    drop(UnixListener::bind(at("socket")).unwrap());
    rusqlite::Connection::open(at("foreign.db")).unwrap().execute_batch("CREATE TABLE t(x)").unwrap();
    for (name, to) in [
        ("to-log.pdf", "wing.jigtrue"),
        ("to-other.pdf", "other.jigtrue"),
        ("to-key", "my.key"),
        ("to-pipe", "pipe"),
        ("to-folder", "folder"),
        ("to-null", "/dev/null"),
        ("to-nothing", "nowhere.pdf"),
        ("to-link", "to-log.pdf"),
        ("to-itself", "to-itself"),
    ] {
        symlink(to, at(name)).unwrap();
    }
    fs::hard_link(at("demo.jigtrue"), at("same-file.pdf")).unwrap();
    // The newest entries of a log whose program was killed, under their own name and moved away.
    fs::write(at("wing.jigtrue-wal"), b"").unwrap();
    fs::write(at("moved.csv"), [0x37, 0x7f, 0x06, 0x82, 0, 0]).unwrap();
    vec![
        ("wing.jigtrue", "a log"),
        ("./wing.jigtrue", "a log"),
        ("folder/../wing.jigtrue", "a log"),
        ("other.jigtrue", "a log"),
        ("demo.jigtrue", "a log"),
        ("same-file.pdf", "a second name of a log"),
        ("to-log.pdf", "a link to a log"),
        ("to-other.pdf", "a link to a log"),
        ("to-link", "a link to a link to a log"),
        ("wing.jigtrue-wal", "the part beside a log"),
        ("wing.jigtrue-shm", "a name beside a log"),
        ("other.jigtrue-journal", "a name beside a log"),
        ("moved.csv", "a part beside a log, moved"),
        ("my.key", "a key"),
        ("to-key", "a link to a key"),
        ("foreign.db", "a database"),
        ("folder", "a folder"),
        ("folder/empty", "a folder"),
        (".", "a folder"),
        ("..", "a folder"),
        ("/", "a folder"),
        ("pipe", "a pipe"),
        ("socket", "a socket"),
        ("/dev/null", "a device"),
        ("/dev/full", "a device"),
        ("to-pipe", "a link to a pipe"),
        ("to-folder", "a link to a folder"),
        ("to-null", "a link to a device"),
        ("to-nothing", "a link whose target does not exist"),
        ("to-itself", "a link that leads to itself"),
        ("no-folder/a.pdf", "no such folder"),
        ("", "no name"),
    ]
}

/// Everything about a folder that must not change: names, kinds, links, content.
fn everything(folder: &Path) -> Vec<(String, u64, u32, Vec<u8>)> {
    let mut all: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|found| {
            let found = found.unwrap();
            let (path, meta) = (found.path(), found.path().symlink_metadata().unwrap());
            let content = if meta.is_file() {
                fs::read(&path).unwrap()
            } else if meta.is_symlink() {
                fs::read_link(&path).unwrap().into_os_string().into_encoded_bytes()
            } else {
                Vec::new()
            };
            (found.file_name().into_string().unwrap(), meta.ino(), meta.mode(), content)
        })
        .collect();
    all.sort();
    all
}

/// Every `-o` of every verb on every kind of target.
#[test]
fn nothing_is_written_over_a_log_a_key_or_what_is_not_a_plain_file() {
    let bench = bench();
    let targets = precious(&bench);
    fs::remove_file(bench.path("wing.jigtrue-wal")).unwrap();
    let before = everything(&bench.path("."));
    for (target, what) in &targets {
        for writer in WRITERS {
            let args: Vec<String> = program::words(writer)
                .into_iter()
                .map(|word| if word == "OUT" { (*target).to_owned() } else { word })
                .collect();
            let ran = bench.run(&args);
            let refused = if target.is_empty() { [1, 2] } else { [1, 1] };
            assert!(refused.contains(&ran.code), "{writer} onto {what} ({target}): {} {}", ran.code, ran.err);
            assert!(!ran.err.contains("os error"), "{}", ran.err);
            assert!(
                ran.err.contains(target.trim_start_matches("./")),
                "{writer} names {target}: {}",
                ran.err
            );
        }
    }
    assert_eq!(everything(&bench.path(".")), before, "nothing was changed and nothing is left");
    assert!(fs::metadata("/dev/null").unwrap().file_type().is_char_device());
    println!("{} targets, {} commands", targets.len(), WRITERS.len());
}

/// Allowed targets: a new file, the file written before, a link to a plain file.
#[test]
fn a_plain_file_is_written_anew_and_a_link_to_one_is_kept() {
    let bench = bench();
    fs::create_dir(bench.path("out")).unwrap();
    for (n, writer) in WRITERS.iter().enumerate() {
        let ending = ending(writer);
        let name = format!("out/{n}.{ending}");
        let line = writer.replace("OUT", &name);
        assert!([0, 10, 11].contains(&bench.line(&line).code), "{line}");
        let first = bench.read(&name);
        bench.write(&name, "what was there before");
        let link = format!("out/link-{n}.{ending}");
        symlink(format!("{n}.{ending}"), bench.path(&link)).unwrap();
        bench.line(&writer.replace("OUT", &link));
        assert_eq!(bench.read(&name), first, "{line}");
        assert!(bench.path(&link).is_symlink());
    }
    assert_eq!(fs::read_dir(bench.path("out")).unwrap().count(), 2 * WRITERS.len());
}

/// A name whose ending does not fit the content is refused, and the right one named; capitals are as good.
#[test]
fn a_file_is_named_for_its_content() {
    let bench = bench();
    let before = everything(&bench.path("."));
    for writer in WRITERS.iter().chain(&["form wing.jigtrue -o OUT", "form wing.jigtrue --csv -o OUT"]) {
        let table = writer.starts_with("export") || writer.starts_with("form");
        let right = if writer.starts_with("form") { ".txt" } else { ending(writer) };
        for wrong in ["x.png", "x.jigtrue", "x.docx", "x.pdf.bak", "x.", "-"]
            .iter()
            .chain(["x"].iter().filter(|_| !table))
        {
            if (*wrong, writer.starts_with("export")) == ("-", true) {
                continue;
            }
            let ran = bench.line(&writer.replace("OUT", wrong)).expect(1);
            let says =
                ran.err.contains("would hold") && (ran.err.contains(right) || ran.err.contains(".csv"));
            assert!(says, "{writer} {wrong}: {}", ran.err);
        }
    }
    for (writer, right) in [
        ("new plan.toml OUT", ".jigtrue"),
        ("backup wing.jigtrue OUT", ".jigtrue"),
        ("ports --port nowhere --write OUT", ".toml"),
    ] {
        for wrong in ["left", "left.pdf", "left.db", "left.jigtrue.bak", "left."] {
            let ran = bench.line(&writer.replace("OUT", wrong)).expect(1);
            let says = ran.err.contains("would hold") && ran.err.contains("as in ");
            assert!(says && ran.err.contains(right), "{writer} {wrong}: {}", ran.err);
        }
    }
    assert_eq!(everything(&bench.path(".")), before, "nothing was written");
    bench.line("sheet wing.jigtrue -o LEFT.PDF").expect(0);
    bench.line("form wing.jigtrue -o FORM.Pdf").expect(0);
    assert!(bench.read("LEFT.PDF").starts_with(b"%PDF") && bench.read("FORM.Pdf").starts_with(b"%PDF"));
    assert_eq!(
        bench.line("export wing.jigtrue -o -").expect(0).out,
        bench.line("export wing.jigtrue").expect(0).out
    );
}

/// Backups and keys never replace anything.
#[test]
fn a_backup_and_a_key_are_new_files() {
    let bench = bench();
    let targets = precious(&bench);
    fs::remove_file(bench.path("wing.jigtrue-wal")).unwrap();
    bench.write("plain.txt", "mine");
    bench.write("copy.jigtrue.part", "somebody's unrelated file");
    let before = everything(&bench.path("."));
    for target in targets.iter().map(|(target, _)| *target).chain(["plain.txt", "to-nothing"]) {
        for command in [&["backup", "wing.jigtrue"][..], &["sign", "--new-key"]] {
            let mut args = command.to_vec();
            args.push(target);
            let ran = bench.run(&args);
            assert!([1, 2].contains(&ran.code), "{args:?}: {} {}", ran.code, ran.err);
            assert!(!ran.err.contains("os error"), "{}", ran.err);
        }
    }
    assert_eq!(everything(&bench.path(".")), before);
    bench.line("backup wing.jigtrue copy.jigtrue").expect(0);
    assert_eq!(bench.read("copy.jigtrue.part"), b"somebody's unrelated file");
    bench.line("verify copy.jigtrue").expect(0);
    // A key whose public half would replace something.
    bench.write("new.key.pub", "mine");
    bench.line("sign --new-key new.key").expect(1);
    assert!(!bench.path("new.key").exists());
    assert_eq!(bench.read("new.key.pub"), b"mine");
}

#[test]
fn a_new_key_has_a_public_half_and_is_for_its_owner_alone() {
    let bench = bench();
    let mode = |name: &str| fs::metadata(bench.path(name)).unwrap().permissions().mode() & 0o777;
    assert_eq!((mode("my.key"), mode("my.key.pub") & 0o600), (0o600, 0o600));
    let public = String::from_utf8(bench.read("my.key.pub")).unwrap();
    assert!(public.starts_with("ed25519 ") && public.trim().len() == 8 + 64, "{public}");
    let sign = "sign wing.jigtrue --capacity builder --statement x --as-seen --key my.key";
    for readable in [0o644, 0o640, 0o604, 0o660, 0o610] {
        fs::set_permissions(bench.path("my.key"), fs::Permissions::from_mode(readable)).unwrap();
        let ran = bench.line(sign).expect(1);
        assert!(ran.err.contains("can be read by others") && ran.err.contains("chmod 600"), "{}", ran.err);
    }
    fs::set_permissions(bench.path("my.key"), fs::Permissions::from_mode(0o400)).unwrap();
    bench.line(sign).expect(0);
}

/// Parts of ours that a killed program left are removed by the next run; nobody else's are touched.
#[test]
fn what_a_killed_program_left_is_cleared_by_the_next_run() {
    let bench = bench();
    let others = [
        "a.csv.part",
        "a.csv.part-77",
        ".jigtrue-part-",
        ".jigtrue-part-x-1",
        ".jigtrue-part-1-2.txt",
        ".jigtrue-part",
    ];
    for name in others {
        bench.write(name, "unrelated");
    }
    bench.write(".jigtrue-part-4242-0", "half a sheet");
    bench.line("export wing.jigtrue -o a.csv").expect(0);
    assert!(!bench.path(".jigtrue-part-4242-0").exists());
    // Killed at random: at most one part is left, and the next run removes it.
    let mut draws = Draws::new(31);
    let mut left = 0;
    for n in 0..30 {
        let writer = WRITERS[n % WRITERS.len()];
        let writer = writer.replace("OUT", &format!("b.{}", ending(writer)));
        let mut child = bench
            .command(&program::words(&writer))
            .stdout(std::process::Stdio::null())
            .stderr(std::process::Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(std::time::Duration::from_micros(draws.below(12_000)));
        let _ = child.kill();
        child.wait().unwrap();
        left += parts(&bench);
        bench.line("export wing.jigtrue -o a.csv").expect(0);
        assert_eq!(parts(&bench), 0);
    }
    for name in others {
        assert_eq!(bench.read(name), b"unrelated", "{name}");
    }
    println!("30 kills left {left} parts, all cleared");
}

fn parts(bench: &Bench) -> usize {
    let ours = |name: &str| {
        name.starts_with(".jigtrue-part-")
            && name.as_bytes()[14..].iter().all(|b| b.is_ascii_digit() || *b == b'-')
            && name.len() > 14
    };
    fs::read_dir(bench.path("."))
        .unwrap()
        .filter(|f| ours(f.as_ref().unwrap().file_name().to_str().unwrap()))
        .count()
}

/// A full disk leaves what was there before and nothing new.
#[test]
fn a_full_disk_leaves_nothing_half_written() {
    let bench = bench();
    let Some(disk) = SmallDisk::mount(256) else { return };
    let on = |name: &str| disk.path().join(name).to_str().unwrap().to_owned();
    fs::write(on("sheet.pdf"), "the sheet before").unwrap();
    let filler = disk.fill();
    for args in [
        vec!["sheet".to_owned(), "wing.jigtrue".to_owned(), "-o".to_owned(), on("sheet.pdf")],
        vec!["export".to_owned(), "wing.jigtrue".to_owned(), "-o".to_owned(), on("a.csv")],
        vec!["sign".to_owned(), "--new-key".to_owned(), on("full.key")],
        vec!["backup".to_owned(), "wing.jigtrue".to_owned(), on("copy.jigtrue")],
    ] {
        let ran = bench.run(&args).expect(1);
        let place = args.last().unwrap();
        assert!(ran.err.contains(place) && !ran.err.contains("os error"), "{}", ran.err);
        let left: Vec<_> = fs::read_dir(disk.path()).unwrap().map(|f| f.unwrap().file_name()).collect();
        assert_eq!(left.len(), 2, "{args:?} left {left:?}");
    }
    assert_eq!(fs::read(on("sheet.pdf")).unwrap(), b"the sheet before");
    fs::remove_file(filler).unwrap();
    bench.run(&["sign".to_owned(), "--new-key".to_owned(), on("full.key")]).expect(0);
}

/// From a stick that can only be read: verified, shown, copied and printed elsewhere.
#[test]
fn a_log_in_a_read_only_place_is_verified_and_backed_up() {
    let bench = bench();
    let Some(disk) = SmallDisk::mount(2048) else { return };
    fs::copy(bench.path("wing.jigtrue"), disk.path().join("wing.jigtrue")).unwrap();
    disk.set_read_only(true);
    let there = disk.path().join("wing.jigtrue").to_str().unwrap().to_owned();
    bench.run(&["verify", &there]).expect(0);
    bench.run(&["backup", &there, "home.jigtrue"]).expect(0);
    bench.run(&["sheet", &there, "-o", "home.pdf"]).expect(0);
    bench.line("verify home.jigtrue --sheet home.pdf").expect(0);
    bench.line("note home.jigtrue \"goes on\"").expect(0);
    for line in [vec!["note", &there, "x"], vec!["backup", "wing.jigtrue"]] {
        let mut args = line.clone();
        let beside = disk.path().join("b.jigtrue").to_str().unwrap().to_owned();
        if line[0] == "backup" {
            args.push(&beside);
        }
        let ran = bench.run(&args).expect(1);
        assert!(!ran.err.contains("os error"), "{}", ran.err);
    }
}

/// If the answer cannot be written, the person learns that the reading was recorded.
#[test]
fn if_an_answer_cannot_be_written_the_person_learns_that_the_reading_is_recorded() {
    let bench = bench();
    let Ok(full) = fs::OpenOptions::new().write(true).open("/dev/full") else {
        return skip("writing to a device that is full");
    };
    for line in [
        "take wing.jigtrue incidence@S1 2.00",
        "take wing.jigtrue incidence@S1 2.00 --json",
        "note wing.jigtrue x",
        "move wing.jigtrue nothing 1",
    ] {
        let before = bench.line("verify wing.jigtrue --json").json()["entries"].as_u64().unwrap();
        let out = bench.command(&program::words(line)).stdout(full.try_clone().unwrap()).output().unwrap();
        let said = String::from_utf8(out.stderr).unwrap();
        let after = bench.line("verify wing.jigtrue --json").json()["entries"].as_u64().unwrap();
        assert_eq!(out.status.code(), Some(1));
        assert!(!said.contains("os error"), "{said}");
        if after > before {
            assert!(said.contains(&format!("entry {after} IS in the log")), "{line}: {said}");
        } else {
            assert!(line.starts_with("move"), "{line}: {said}");
        }
    }
}

/// A demo's log to which somebody added is theirs.
#[test]
fn a_demo_that_somebody_added_to_is_not_overwritten() {
    let bench = Bench::demo("two-post");
    for again in ["demo", "demo --case hold", "demo"] {
        bench.line(again).expect(0);
    }
    let theirs = bench.files();
    for added in [
        "note demo.jigtrue mine",
        "open-item demo.jigtrue \"rear clamp loose\"",
        "sign demo.jigtrue --capacity a --statement b --as-seen",
    ] {
        let bench = Bench::of(&theirs);
        let code = bench.line(added).code;
        assert_eq!(code, 0, "{added}");
        let before = bench.read("demo.jigtrue");
        let ran = bench.line("demo").expect(1);
        assert!(ran.err.contains("somebody added to it"), "{}", ran.err);
        assert_eq!(bench.read("demo.jigtrue"), before);
    }
}

/// Something that is not a file, at the place where the log keeps its newest entries.
#[test]
fn a_folder_where_the_newest_entries_go_is_named() {
    for end in ["-wal", "-shm", "-journal"] {
        let bench = bench();
        fs::create_dir(bench.path(&format!("wing.jigtrue{end}"))).unwrap();
        for line in ["verify wing.jigtrue", "take wing.jigtrue incidence@S1 2.0", "check wing.jigtrue"] {
            let ran = bench.line(line).expect(1);
            assert!(ran.err.contains(&format!("wing.jigtrue{end} is in the way")), "{line}: {}", ran.err);
        }
    }
}
