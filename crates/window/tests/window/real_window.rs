//! The program in a real window on a virtual screen, worked by touch and by keys, with an instrument on a pseudo-terminal.
//!
//! Needs Xvfb, xdotool, xwd and convert; without them it says so and does nothing. `JIGTRUE_SHOTS=FOLDER` keeps the pictures.
#![cfg(unix)]

use crate::screen::{Board, Screen, lacking};
use record::{Entry, What};
use session::Session;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use stories::screen::Running;

/// Longer than anything here takes on any computer: it only decides how long a hanging program is waited for.
const PATIENCE: Duration = Duration::from_secs(120);

fn entries(log: &Path) -> Vec<Entry> {
    Session::open_read_only(log).unwrap().entries().to_vec()
}

/// True once the log has an entry that fits; false if none has come for so long.
fn comes(log: &Path, at_most: Duration, fits: impl Fn(&Entry) -> bool) -> bool {
    let began = Instant::now();
    while began.elapsed() < at_most {
        if entries(log).iter().any(&fits) {
            return true;
        }
        std::thread::sleep(Duration::from_millis(100));
    }
    false
}

/// Waits until the log has an entry that fits.
fn wait_for(log: &Path, what: &str, fits: impl Fn(&Entry) -> bool) {
    assert!(comes(log, PATIENCE, fits), "no entry came: {what}; there are {:?}", entries(log).last());
}

/// Presses until the log has an entry that fits: a value that has not settled is not taken, and a person presses
/// again.
fn press_for(log: &Path, what: &str, press: impl Fn(), fits: impl Fn(&Entry) -> bool) {
    let taken = (0..30).any(|_| {
        press();
        comes(log, Duration::from_secs(8), &fits)
    });
    assert!(taken, "no entry came: {what}; there are {:?}", entries(log).last());
}

fn stage_begun(e: &Entry) -> bool {
    matches!(&e.what, What::Stage(begun) if begun.name == "jig empty")
}

fn typed(e: &Entry) -> bool {
    matches!(&e.what, What::Reading(r) if r.text.starts_with("0.6"))
}

fn taken_back(e: &Entry) -> bool {
    matches!(&e.what, What::Withdrawn { reason, .. } if reason == "wrong station")
}

fn reading(entry: &Entry, point: &str, value: f64) -> bool {
    matches!(&entry.what, What::Reading(r) if r.point.to_string() == point && (r.value - value).abs() < 1e-9)
}

/// Processor time of a process in seconds (the kernel counts in hundredths).
fn processor_s(pid: u32) -> f64 {
    let stat = std::fs::read_to_string(format!("/proc/{pid}/stat")).unwrap();
    let after = stat.rsplit(')').next().unwrap();
    let fields: Vec<f64> = after.split_whitespace().skip(11).take(2).map(|f| f.parse().unwrap()).collect();
    fields.iter().sum::<f64>() / 100.0
}

/// A log just begun, and the program on it in a window the size of a small panel.
struct Story {
    folder: tempfile::TempDir,
    log: PathBuf,
    screen: Screen,
    window: Running,
}

impl Story {
    /// `None`, with a message, if something it needs is missing.
    fn begun(name: &'static str) -> Option<Self> {
        let lacking = lacking();
        if !lacking.is_empty() {
            eprintln!("SKIPPED, NOTHING WAS TESTED: this story needs {}", lacking.join(", "));
            return None;
        }
        let folder = tempfile::tempdir().unwrap();
        let (plan, log) = (folder.path().join("plan.toml"), folder.path().join("wing.jigtrue"));
        std::fs::write(&plan, session::demo::CASES[0].plan).unwrap();
        drop(Session::create(&plan, &log, Some("builder")).unwrap());
        let kept = folder.path().join("jigtrue");
        std::fs::create_dir_all(&kept).unwrap();
        std::fs::write(kept.join("window"), "port\tbench-port\tbeam level\nwho\tbuilder\tbuilder\n").unwrap();
        let screen = Screen::new(folder.path(), name);
        let window = opened(&screen, folder.path(), &log);
        screen.xdotool(&["search", "--sync", "--name", "^jigtrue$"]);
        std::thread::sleep(Duration::from_secs(2));
        let small = ["windowmove", "0", "0", "windowsize", "800", "480", "windowfocus"];
        screen.xdotool(&[&["search", "--name", "^jigtrue$"][..], &small].concat());
        Some(Self { folder, log, screen, window })
    }

    fn cautions_are_read(&self) {
        let kept = self.folder.path().join("jigtrue/window");
        assert!(std::fs::read_to_string(kept).unwrap().contains("cautions\tread"));
    }

    fn link(&self) -> PathBuf {
        self.folder.path().join("bench-port")
    }
}

fn opened(screen: &Screen, folder: &Path, log: &Path) -> Running {
    let window = screen
        .screen
        .command(Path::new(env!("CARGO_BIN_EXE_jigtrue-window")))
        .arg(log)
        .env("XDG_CONFIG_HOME", folder)
        .env("USER", "builder")
        .current_dir(folder)
        .spawn()
        .unwrap();
    Running(window)
}

fn pause(seconds: u64) {
    std::thread::sleep(Duration::from_secs(seconds));
}

/// The other half of a pair: turned end for end, the board shows the other sign.
fn other_half(e: &Entry) -> bool {
    reading(e, "level@root-post", -0.20)
        && matches!(&e.what, What::Reading(r) if r.facing == Some(record::Facing::Aft) && r.temperature.is_none())
}

/// Everything with a finger, at the places of the small panel's grid: the rail's cells every 80 from 40 down, the
/// main button at the right end of the lowest row.
#[test]
fn a_jig_is_levelled_by_touch_in_a_real_window() {
    let Some(story) = Story::begun("touch") else { return };
    let (screen, log) = (&story.screen, &story.log);
    let rail = |cell: i32| screen.click(36, 40 + 80 * cell);
    let main = || screen.click(650, 438);
    screen.shot("cautions");
    main();
    story.cautions_are_read();
    main();
    // The question is read before it is answered.
    pause(1);
    main();
    wait_for(log, "stage", stage_begun);

    let board = Board::plug_in(&story.link());
    board.shows(30);
    rail(5);
    screen.shot("more");
    screen.click(295, 116);
    screen.shot("port");
    main();
    rail(0);
    pause(4);
    screen.shot("settled");
    press_for(log, "taken", main, |e| reading(e, "level@root-post", 0.30));
    board.shows(-20);
    pause(4);
    press_for(log, "the other facing", main, other_half);

    // The whole screen for the post; the cable is unplugged and plugged in again.
    rail(1);
    board.shows(12);
    pause(4);
    screen.shot("levelling");
    drop(board);
    pause(4);
    screen.shot("lost");
    let board = Board::plug_in(&story.link());
    board.shows(7);
    pause(5);
    screen.shot("found");
    screen.click(56, 38);
    rail(0);

    // Typed on the keypad, and taken back with a reason.
    screen.click(272, 438);
    for key in [(524, 414), (629, 414), (629, 182)] {
        screen.click(key.0, key.1);
    }
    screen.shot("keypad");
    screen.click(735, 414);
    wait_for(log, "typed", typed);
    screen.click(150, 438);
    screen.click(140, 172);
    screen.shot("undo");
    pause(1);
    main();
    wait_for(log, "withdrawn", taken_back);

    // Signed as seen, not clear.
    rail(4);
    screen.shot("gate");
    screen.click(735, 40);
    screen.shot("sign");
    pause(1);
    main();
    wait_for(log, "signed", |e| matches!(&e.what, What::Signed(_)));
    drop(board);
}

/// Everything with keys; what has no key of its own is reached by Tab.
#[test]
fn a_jig_is_levelled_by_keys_in_a_real_window() {
    let Some(story) = Story::begun("keys") else { return };
    let (screen, log) = (&story.screen, &story.log);
    screen.shot("cautions");
    screen.keys(&["Escape", "ctrl+d"]);
    story.cautions_are_read();

    // The first stage is begun by the main button, and again on the page of the stages.
    screen.keys(&["Return"]);
    pause(1);
    screen.keys(&["Return"]);
    wait_for(log, "stage", stage_begun);

    // The instrument is plugged in: More, Port; its port and its name were kept from the last time.
    let board = Board::plug_in(&story.link());
    board.shows(30);
    screen.keys(&["Tab", "Tab", "Tab", "Tab", "Tab", "Tab", "Return", "Tab", "Tab", "Return"]);
    screen.shot("port");
    screen.keys(&["Return"]);
    pause(2);
    screen.keys(&["F1"]);
    pause(3);
    screen.shot("settled");
    let space = || screen.keys(&["space"]);
    press_for(log, "taken by the space bar", space, |e| reading(e, "level@root-post", 0.30));
    board.shows(-20);
    pause(4);
    screen.shot("turn");
    press_for(log, "the other facing", space, other_half);

    // The whole screen for the post.
    screen.keys(&["F2"]);
    board.shows(12);
    pause(3);
    screen.shot("levelling");

    // The cable is unplugged and plugged in again.
    drop(board);
    pause(3);
    screen.shot("lost");
    let board = Board::plug_in(&story.link());
    board.shows(7);
    pause(4);
    screen.keys(&["F1"]);
    screen.shot("found");

    // Letters find a point; a typed reading is taken, and undone with a reason.
    screen.types("levelt");
    screen.keys(&["Escape"]);
    screen.types("0.6");
    screen.keys(&["Return"]);
    wait_for(log, "typed", typed);
    screen.keys(&["ctrl+z", "Right"]);
    pause(1);
    screen.keys(&["Return"]);
    wait_for(log, "withdrawn", taken_back);
    drop(board);
    screen.keys(&["F5"]);
    pause(1);
    screen.shot("gate");

    // What another program adds appears automatically: here within a second.
    screen.keys(&["Escape"]);
    std::thread::sleep(Duration::from_millis(1500));
    let before = screen.picture();
    let mut other = Session::open(log).unwrap();
    other.set_who("inspector");
    other.open_item("added by another program", record::OpenAction::Opened, None).unwrap();
    let asked = Instant::now();
    while screen.picture() == before {
        assert!(asked.elapsed() < PATIENCE, "nothing changed");
        std::thread::sleep(Duration::from_millis(30));
    }
    eprintln!("what another program added was on the screen after {:.2} s", asked.elapsed().as_secs_f64());
    let Story { folder, log, screen, window } = story;
    drop(window);

    // Opened again and left alone, it hardly uses the processor.
    let window = opened(&screen, folder.path(), &log);
    pause(4);
    let (from, at) = (processor_s(window.0.id()), Instant::now());
    pause(12);
    let share = (processor_s(window.0.id()) - from) / at.elapsed().as_secs_f64();
    eprintln!("idle: {:.2} % of a processor over 12 s", share * 100.0);
    assert!(share < 0.01, "idle it uses {:.2} % of a processor", share * 100.0);
}
