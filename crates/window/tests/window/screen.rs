//! A virtual screen with the real window on it, worked from outside, and an instrument on a pseudo-terminal.
#![cfg(unix)]

use jigtrue_protocol::{Decimal, Flags, Message, Quantity, Sample, Stamp, Unit};
use serialport::{SerialPort, TTYPort};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicI32, Ordering};
use std::time::Duration;
use stories::screen::{self, VirtualScreen};

pub fn lacking() -> Vec<&'static str> {
    screen::lacking(&["Xvfb", "xdotool", "xwd", "convert"])
}

/// A board on a pseudo-terminal that sends an angle twenty times a second.
pub struct Board {
    hundredths: Arc<AtomicI32>,
    stop: Arc<AtomicBool>,
    thread: Option<std::thread::JoinHandle<()>>,
}

impl Board {
    pub fn plug_in(link: &Path) -> Self {
        let (mut master, slave) = TTYPort::pair().unwrap();
        let _ = std::fs::remove_file(link);
        std::os::unix::fs::symlink(slave.name().unwrap(), link).unwrap();
        let hundredths = Arc::new(AtomicI32::new(0));
        let stop = Arc::new(AtomicBool::new(false));
        let (value, stopped) = (Arc::clone(&hundredths), Arc::clone(&stop));
        let thread = std::thread::spawn(move || {
            // The other end stays open until the window has opened the port, or the lines would be refused.
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

    pub fn shows(&self, hundredths: i32) {
        self.hundredths.store(hundredths, Ordering::Relaxed);
    }
}

impl Drop for Board {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
        let _ = self.thread.take().map(std::thread::JoinHandle::join);
    }
}

pub struct Screen {
    pub screen: VirtualScreen,
    shots: PathBuf,
    story: &'static str,
}

impl Screen {
    pub fn new(folder: &Path, story: &'static str) -> Self {
        let shots = std::env::var_os("JIGTRUE_SHOTS").map_or_else(|| folder.to_owned(), PathBuf::from);
        std::fs::create_dir_all(&shots).unwrap();
        Self { screen: VirtualScreen::start(), shots, story }
    }

    pub fn xdotool(&self, args: &[&str]) {
        self.screen.xdotool(args);
        std::thread::sleep(Duration::from_millis(250));
    }

    pub fn keys(&self, keys: &[&str]) {
        for key in keys {
            self.xdotool(&["key", key]);
        }
    }

    pub fn click(&self, x: i32, y: i32) {
        self.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
        self.xdotool(&["click", "1"]);
    }

    pub fn types(&self, text: &str) {
        self.xdotool(&["type", "--delay", "30", text]);
    }

    pub fn picture(&self) -> Vec<u8> {
        self.screen.picture()
    }

    pub fn shot(&self, name: &str) {
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
