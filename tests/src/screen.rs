//! A virtual screen for the window and for whatever works it from outside.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// Which of these programs are not installed.
#[must_use]
pub fn lacking<'n>(names: &[&'n str]) -> Vec<&'n str> {
    let there = |name: &str| {
        let looked = Command::new("sh").args(["-c", &format!("command -v {name}")]).output();
        looked.is_ok_and(|o| o.status.success())
    };
    names.iter().copied().filter(|name| !there(name)).collect()
}

/// Ends a program when the story does.
#[derive(Debug)]
pub struct Running(pub Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// A screen of 1280 by 800.
#[derive(Debug)]
pub struct VirtualScreen {
    /// Its number, with the colon before it.
    pub display: String,
    _server: Running,
}

impl VirtualScreen {
    /// Starts its server.
    ///
    /// # Panics
    /// If it is not installed or does not name its display.
    #[must_use]
    pub fn start() -> Self {
        let mut server = Command::new("Xvfb")
            .args(["-displayfd", "1", "-screen", "0", "1280x800x24", "-nolisten", "tcp"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut number = String::new();
        BufReader::new(server.stdout.take().unwrap()).read_line(&mut number).unwrap();
        Self { display: format!(":{}", number.trim()), _server: Running(server) }
    }

    /// A program that is shown here.
    #[must_use]
    pub fn command(&self, program: &Path) -> Command {
        let mut command = Command::new(program);
        command.env("DISPLAY", &self.display).env_remove("WAYLAND_DISPLAY");
        command
    }

    /// What is on it.
    ///
    /// # Panics
    /// If the program that takes the picture is not installed.
    #[must_use]
    pub fn picture(&self) -> Vec<u8> {
        self.command(Path::new("xwd")).args(["-root", "-silent"]).output().unwrap().stdout
    }

    /// Does this with the keys or the pointer.
    ///
    /// # Panics
    /// If it could not be done.
    pub fn xdotool(&self, args: &[&str]) {
        let done = self.command(Path::new("xdotool")).args(args).output().unwrap();
        assert!(done.status.success(), "xdotool {args:?}: {}", String::from_utf8_lossy(&done.stderr));
    }
}
