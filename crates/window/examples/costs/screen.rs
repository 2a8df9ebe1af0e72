//! A virtual screen and programs on it.

use std::ffi::OsStr;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use stories::screen::{self, VirtualScreen};

/// Which of the programs needed are not there.
pub fn lacking() -> Vec<&'static str> {
    screen::lacking(&["Xvfb", "xwd", "xdotool"])
}

/// The screen.
pub struct Screen(VirtualScreen);

impl Screen {
    pub fn new() -> Self {
        Self(VirtualScreen::start())
    }

    /// A program that is shown here.
    pub fn command(&self, program: &Path) -> Command {
        self.0.command(program)
    }

    fn xdotool(&self, args: &[&str]) {
        self.0.xdotool(args);
        std::thread::sleep(Duration::from_millis(300));
    }

    /// The port is opened by the keys a person would press.
    pub fn opens_the_port(&self) {
        self.xdotool(&["search", "--name", "^jigtrue$", "windowfocus"]);
        // More, Port; the port and the instrument of the last time are chosen already.
        let at = |x: &str, y: &str| {
            self.xdotool(&["mousemove", x, y]);
            self.xdotool(&["click", "1"]);
        };
        at("56", "570");
        at("470", "200");
        self.xdotool(&["key", "Return"]);
        std::thread::sleep(Duration::from_secs(3));
    }
}

/// A program with something to be seen of it.
pub struct Shown {
    program: Child,
    /// From its start until something was on the screen, in seconds.
    pub started_s: f64,
}

impl Drop for Shown {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
        // The screen takes the window away.
        std::thread::sleep(Duration::from_millis(500));
    }
}

impl Shown {
    /// Starts it and waits until the screen is not as it was. (A window is shown once its first frame is painted.)
    pub fn start(screen: &Screen, program: &Path, arguments: &[&OsStr], folder: &Path) -> Self {
        let before = screen.0.picture();
        let began = Instant::now();
        let program = screen
            .command(program)
            .args(arguments)
            .env("XDG_CONFIG_HOME", folder)
            .env("USER", "builder")
            .current_dir(folder)
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        while screen.0.picture() == before {
            assert!(began.elapsed() < Duration::from_secs(60), "nothing is on the screen");
            std::thread::sleep(Duration::from_millis(3));
        }
        Self { program, started_s: began.elapsed().as_secs_f64() }
    }

    /// Lets it come to rest, asks, and ends it.
    pub fn rest_then<T>(self, ask: impl FnOnce(&Self) -> T) -> T {
        std::thread::sleep(Duration::from_secs(1));
        ask(&self)
    }

    fn proc(&self, file: &str) -> String {
        std::fs::read_to_string(format!("/proc/{}/{file}", self.program.id())).unwrap()
    }

    /// Memory it has now.
    pub fn resident_kib(&self) -> f64 {
        let status = self.proc("status");
        let line = status.lines().find(|l| l.starts_with("VmRSS:")).unwrap();
        line.split_whitespace().nth(1).unwrap().parse().unwrap()
    }

    fn processor_s(&self) -> f64 {
        let stat = self.proc("stat");
        let after = stat.rsplit(')').next().unwrap();
        let times = after.split_whitespace().skip(11).take(2);
        times.map(|f| f.parse::<f64>().unwrap()).sum::<f64>() / 100.0
    }

    /// The part of a processor it uses over a time.
    pub fn share_over(&self, time: Duration) -> f64 {
        std::thread::sleep(Duration::from_secs(3));
        let (from, at) = (self.processor_s(), Instant::now());
        std::thread::sleep(time);
        (self.processor_s() - from) / at.elapsed().as_secs_f64()
    }
}
