//! The program in a real window on a virtual screen, worked by touch and by keys, with an instrument on a pseudo-terminal.
//!
//! Needs Xvfb, xdotool, xwd and convert; without them it says so and does nothing. `JIGTRUE_SHOTS=FOLDER` keeps the pictures.
#![cfg(unix)]

use jigtrue_protocol::{Decimal, Flags, Message, Quantity, Sample, Stamp, Unit};
use record::{Entry, What};
use serialport::{SerialPort, TTYPort};
use session::Session;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicI32, Ordering};
use std::time::{Duration, Instant};

/// Ends a program when the story does.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

fn lacking() -> Vec<&'static str> {
    let there = |name: &&str| {
        Command::new("sh")
            .args(["-c", &format!("command -v {name}")])
            .output()
            .is_ok_and(|o| o.status.success())
    };
    ["Xvfb", "xdotool", "xwd", "convert"].into_iter().filter(|n| !there(n)).collect()
}

/// A board on a pseudo-terminal that sends an angle twenty times a second.
struct Board {
    hundredths: Arc<AtomicI32>,
    stop: Arc<AtomicBool>,
    thread: Option<std::thread::JoinHandle<()>>,
}

impl Board {
    fn plug_in(link: &Path) -> Self {
        let (mut master, slave) = TTYPort::pair().unwrap();
        let _ = std::fs::remove_file(link);
        std::os::unix::fs::symlink(slave.name().unwrap(), link).unwrap();
        let hundredths = Arc::new(AtomicI32::new(0));
        let stop = Arc::new(AtomicBool::new(false));
        let (value, stopped) = (Arc::clone(&hundredths), Arc::clone(&stop));
        let thread = std::thread::spawn(move || {
            // The other end stays open until the window has taken it up, or the lines would be refused.
            let mut other_end = Some(slave);
            for sequence in 0_u32.. {
                if stopped.load(Ordering::Relaxed) {
                    return;
                }
                other_end = other_end.filter(|_| sequence < 2);
                let sample = Sample {
                    stamp: Stamp { sequence, device_ms: sequence * 50 },
                    quantity: Quantity::Angle,
                    value: Decimal { mantissa: value.load(Ordering::Relaxed), exponent: -2 },
                    unit: Unit::Degrees,
                    flags: Flags::NONE,
                };
                let _ = master.write_all(Message::Sample(sample).encode().unwrap().as_bytes());
                std::thread::sleep(Duration::from_millis(50));
            }
        });
        Self { hundredths, stop, thread: Some(thread) }
    }

    fn shows(&self, hundredths: i32) {
        self.hundredths.store(hundredths, Ordering::Relaxed);
    }
}

impl Drop for Board {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
        let _ = self.thread.take().map(std::thread::JoinHandle::join);
    }
}

struct Screen {
    display: String,
    _server: Running,
    shots: PathBuf,
    story: &'static str,
}

impl Screen {
    fn new(folder: &Path, story: &'static str) -> Self {
        let mut server = Command::new("Xvfb")
            .args(["-displayfd", "1", "-screen", "0", "1280x800x24", "-nolisten", "tcp"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut number = String::new();
        BufReader::new(server.stdout.take().unwrap()).read_line(&mut number).unwrap();
        let shots = std::env::var_os("JIGTRUE_SHOTS").map_or_else(|| folder.to_owned(), PathBuf::from);
        std::fs::create_dir_all(&shots).unwrap();
        Self { display: format!(":{}", number.trim()), _server: Running(server), shots, story }
    }

    fn xdotool(&self, args: &[&str]) {
        let done = Command::new("xdotool").args(args).env("DISPLAY", &self.display).output().unwrap();
        assert!(done.status.success(), "xdotool {args:?}: {}", String::from_utf8_lossy(&done.stderr));
        std::thread::sleep(Duration::from_millis(250));
    }

    fn keys(&self, keys: &[&str]) {
        for key in keys {
            self.xdotool(&["key", key]);
        }
    }

    fn click(&self, x: i32, y: i32) {
        self.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
        self.xdotool(&["click", "1"]);
    }

    fn types(&self, text: &str) {
        self.xdotool(&["type", "--delay", "30", text]);
    }

    fn picture(&self) -> Vec<u8> {
        Command::new("xwd").args(["-root", "-silent"]).env("DISPLAY", &self.display).output().unwrap().stdout
    }

    fn shot(&self, name: &str) {
        let (xwd, png) = (
            self.shots.join(format!("{}.xwd", self.story)),
            self.shots.join(format!("{}-{name}.png", self.story)),
        );
        std::fs::write(&xwd, self.picture()).unwrap();
        let done = Command::new("convert").arg(format!("xwd:{}", xwd.display())).arg(&png).status().unwrap();
        assert!(done.success());
        std::fs::remove_file(xwd).unwrap();
    }
}

fn entries(log: &Path) -> Vec<Entry> {
    Session::open_read_only(log).unwrap().entries().to_vec()
}

/// Waits until the log has an entry that fits.
fn wait_for(log: &Path, what: &str, fits: impl Fn(&Entry) -> bool) {
    let until = Instant::now() + Duration::from_secs(12);
    while Instant::now() < until {
        if entries(log).iter().any(&fits) {
            return;
        }
        std::thread::sleep(Duration::from_millis(100));
    }
    panic!("no entry came: {what}; there are {:?}", entries(log).last());
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
    /// None where something it needs is not there, which is said.
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
        std::fs::create_dir_all(folder.path().join("jigtrue")).unwrap();
        std::fs::write(
            folder.path().join("jigtrue/window"),
            "port\tbench-port\tbeam level\nwho\tbuilder\tbuilder\n",
        )
        .unwrap();
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
    let window = Command::new(env!("CARGO_BIN_EXE_jigtrue-window"))
        .arg(log)
        .env("DISPLAY", &screen.display)
        .env_remove("WAYLAND_DISPLAY")
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

/// Everything with a finger, at the places that the grid of the small panel gives: the rail's cells every 80 from 40 down, the main
/// button at the right end of the lowest row.
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
    main();
    wait_for(log, "stage", |e| matches!(&e.what, What::Stage(begun) if begun.name == "jig empty"));

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
    main();
    wait_for(log, "taken", |e| reading(e, "level@root-post", 0.30));
    board.shows(-20);
    pause(4);
    main();
    wait_for(log, "the other facing", other_half);

    // The whole screen for the post; the cable comes out and goes in again.
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
    wait_for(log, "typed", |e| matches!(&e.what, What::Reading(r) if r.text.starts_with("0.6")));
    screen.click(150, 438);
    screen.click(140, 172);
    screen.shot("undo");
    main();
    let taken_back =
        |e: &Entry| matches!(&e.what, What::Withdrawn { reason, .. } if reason == "wrong station");
    wait_for(log, "withdrawn", taken_back);

    // Signed as seen, not clear.
    rail(4);
    screen.shot("gate");
    screen.click(735, 40);
    screen.shot("sign");
    main();
    wait_for(log, "signed", |e| matches!(&e.what, What::Signed(_)));
    drop(board);
}

/// Everything with keys; what needs none of its own is reached by Tab.
#[test]
fn a_jig_is_levelled_by_keys_in_a_real_window() {
    let Some(story) = Story::begun("keys") else { return };
    let (screen, log) = (&story.screen, &story.log);
    screen.shot("cautions");
    screen.keys(&["Escape", "ctrl+d"]);
    story.cautions_are_read();

    // The first stage is begun by the main button, and again on the page of the stages.
    screen.keys(&["Return", "Return"]);
    wait_for(log, "stage", |e| matches!(&e.what, What::Stage(begun) if begun.name == "jig empty"));

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
    screen.keys(&["space"]);
    wait_for(log, "taken by the space bar", |e| reading(e, "level@root-post", 0.30));
    board.shows(-20);
    pause(4);
    screen.shot("turn");
    screen.keys(&["space"]);
    wait_for(log, "the other facing", other_half);

    // The whole screen for the post.
    screen.keys(&["F2"]);
    board.shows(12);
    pause(3);
    screen.shot("levelling");

    // The cable comes out and goes in again.
    drop(board);
    pause(3);
    screen.shot("lost");
    let board = Board::plug_in(&story.link());
    board.shows(7);
    pause(4);
    screen.keys(&["F1"]);
    screen.shot("found");

    // Letters find; a typed one is taken, and taken back with a reason.
    screen.types("levelt");
    screen.keys(&["Escape"]);
    screen.types("0.6");
    screen.keys(&["Return"]);
    wait_for(log, "typed", |e| matches!(&e.what, What::Reading(r) if r.text.starts_with("0.6")));
    screen.keys(&["ctrl+z", "Right", "Return"]);
    wait_for(
        log,
        "withdrawn",
        |e| matches!(&e.what, What::Withdrawn { reason, .. } if reason == "wrong station"),
    );
    drop(board);
    screen.keys(&["F5"]);
    pause(1);
    screen.shot("gate");

    // What another program adds appears within a second.
    screen.keys(&["Escape"]);
    std::thread::sleep(Duration::from_millis(1500));
    let before = screen.picture();
    let mut other = Session::open(log).unwrap();
    other.set_who("inspector");
    other.open_item("added by another program", record::OpenAction::Opened, None).unwrap();
    let asked = Instant::now();
    while screen.picture() == before {
        assert!(asked.elapsed() < Duration::from_secs(1), "nothing changed within a second");
        std::thread::sleep(Duration::from_millis(30));
    }
    eprintln!("what another program added was on the screen after {:.2} s", asked.elapsed().as_secs_f64());
    let Story { folder, log, screen, window } = story;
    drop(window);

    // Opened again and left alone, it hardly uses the processor.
    let window = opened(&screen, folder.path(), &log);
    pause(4);
    let (from, at) = (processor_s(window.0.id()), Instant::now());
    pause(30);
    let share = (processor_s(window.0.id()) - from) / at.elapsed().as_secs_f64();
    eprintln!("idle: {:.2} % of a processor over 30 s", share * 100.0);
    assert!(share < 0.01, "idle it uses {:.2} % of a processor", share * 100.0);
}
