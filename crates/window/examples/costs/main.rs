//! What the window costs, each time as a ratio against a bare window or an empty frame measured in turns with it.
//!
//! `cargo build --profile dist -p jigtrue-window --bin jigtrue-window --example bare --example costs`, then
//! `target/dist/examples/costs [LOG]`, where LOG is a long one to open as well. Each line: what | against | ratio | aim (at most) | ours | theirs. Needs Xvfb and xwd;
//! without them it says so and prints nothing else. The virtual screen is painted by the processor.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a measuring program has programs, files and a clock; it stops where something is missing"
)]

mod board;
#[path = "../../tests/window/common/mod.rs"]
mod common;
mod frames;
mod screen;

use board::Board;
use screen::{Screen, Shown};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How often each is started; the middle one counts.
const STARTS: usize = 7;
/// How long a window at rest is watched.
const REST: Duration = Duration::from_secs(30);

fn built(name: &str) -> PathBuf {
    let here = std::env::current_exe().unwrap();
    let examples = here.parent().unwrap();
    let beside = examples.join(name);
    if beside.exists() { beside } else { examples.parent().unwrap().join(name) }
}

fn median(mut of: Vec<f64>) -> f64 {
    of.sort_by(f64::total_cmp);
    of.get(of.len() / 2).copied().unwrap_or_default()
}

fn line(what: &str, rival: &str, aim: f64, (ours, theirs): (f64, f64), shown: impl Fn(f64) -> String) {
    println!("{what} | {rival} | {:.2} | {aim} | {} | {}", ours / theirs, shown(ours), shown(theirs));
}

fn main() {
    if std::env::args().nth(1).as_deref() == Some("frames") {
        frames::run();
        return;
    }
    let lacking = screen::lacking();
    if !lacking.is_empty() {
        eprintln!("SKIPPED, NOTHING WAS MEASURED: this needs {}", lacking.join(", "));
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("demo.jigtrue");
    drop(session::demo::play(&session::demo::CASES[0], &log, &mut |_, _| Ok(())).unwrap());
    remember_nothing_new(folder.path());
    let screen = Screen::new();

    let (ours, bare) = (built("jigtrue-window"), built("bare"));
    let (mut starts, mut bare_starts) = (Vec::new(), Vec::new());
    let (mut memory, mut bare_memory) = (Vec::new(), Vec::new());
    for round in 0..=STARTS {
        let window = Shown::start(&screen, &ours, &[log.as_os_str()], folder.path());
        let rival = window.rest_then(|w| (w.started_s, w.resident_kib()));
        let (start, kib) = rival;
        let rival = Shown::start(&screen, &bare, &[], folder.path());
        let (bare_start, bare_kib) = rival.rest_then(|w| (w.started_s, w.resident_kib()));
        if round > 0 {
            starts.push(start);
            bare_starts.push(bare_start);
            memory.push(kib);
            bare_memory.push(bare_kib);
        }
    }
    let pair = (median(starts), median(bare_starts));
    line("window, start to text on screen", "bare window", 1.2, pair, |s| format!("{:.0} ms", s * 1e3));
    let pair = (median(memory), median(bare_memory));
    line("window, resident memory", "bare window", 1.2, pair, |kib| format!("{:.1} MiB", kib / 1024.0));
    let size = |path: &Path| std::fs::metadata(path).map(|m| m.len() as f64).unwrap();
    line("window, stripped program", "bare window", 1.5, (size(&ours), size(&bare)), |b| {
        format!("{:.2} MB", b / 1e6)
    });

    if let Some(long) = std::env::args_os().nth(1) {
        let open = || Shown::start(&screen, &ours, &[long.as_os_str()], folder.path());
        let opened = (0..3).map(|_| open().rest_then(|w| (w.started_s, w.resident_kib())));
        let (starts, memory): (Vec<f64>, Vec<f64>) = opened.unzip();
        let what = "window, log of 1,000,000 entries, start to text";
        line(what, "the aim, a time", 1.0, (median(starts), 0.5), |s| format!("{:.0} ms", s * 1e3));
        let pair = (median(memory), 200e6 / 1024.0);
        line("window, the same, resident memory", "the aim", 1.0, pair, |kib| {
            format!("{:.1} MiB", kib / 1024.0)
        });
    }

    for f in frames::measured(&screen) {
        line(&f.name, &f.rival, f.aim, (f.us, f.rival_us), |us| format!("{us:.0} us"));
    }

    let percent = |share: f64| format!("{:.2} %", share * 100.0);
    let window = Shown::start(&screen, &ours, &[log.as_os_str()], folder.path());
    let idle = window.share_over(REST);
    line("window at rest, no instrument", "1 % of a processor", 1.0, (idle, 0.01), percent);
    drop(window);
    let link = folder.path().join("bench-port");
    let _board = Board::plug_in(&link);
    let window = Shown::start(&screen, &ours, &[log.as_os_str()], folder.path());
    screen.opens_the_port();
    println!(
        "# with an instrument at rest that sends twenty values a second: {} of a processor",
        percent(window.share_over(REST))
    );
}

/// The cautions are read and the scale is one.
fn remember_nothing_new(config: &Path) {
    std::fs::create_dir_all(config.join("jigtrue")).unwrap();
    std::fs::write(
        config.join("jigtrue/window"),
        "cautions\tread\ntheme\tlight\nscale\t1\nport\tbench-port\tbeam level\n",
    )
    .unwrap();
}
