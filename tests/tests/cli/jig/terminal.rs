//! The program as a person sees it: on a terminal that is painted anew, or on pipes, line by line.

use crate::program::{Bench, jigtrue};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use std::fs::{File, OpenOptions};
use std::io::{Read, Write};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// Longer than anything in these stories takes, even on a busy machine.
const PATIENCE: Duration = Duration::from_secs(90);

/// On what the program runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    /// A terminal.
    Tty,
    /// Pipes.
    Pipe,
}

pub struct Terminal {
    child: Child,
    input: Box<dyn Write + Send>,
    text: Arc<Mutex<String>>,
    /// What came before this was read already.
    read: usize,
}

impl Terminal {
    pub fn start(bench: &Bench, on: On, args: &[&str]) -> Self {
        let mut command = Command::new(jigtrue());
        command.args(args).current_dir(bench.path("")).env_clear().env("JIGTRUE_BY", "ann");
        command.env("TERM", "xterm").env("LANG", "C.UTF-8");
        let text = Arc::new(Mutex::new(String::new()));
        let (child, input, output): (Child, Box<dyn Write + Send>, Box<dyn Read + Send>) = match on {
            On::Pipe => {
                command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
                let mut child = command.spawn().unwrap();
                let (input, output) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
                (child, Box::new(input), Box::new(output))
            }
            On::Tty => {
                let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY | OpenptFlags::CLOEXEC).unwrap();
                grantpt(&master).unwrap();
                unlockpt(&master).unwrap();
                let name = ptsname(&master, Vec::new()).unwrap().into_string().unwrap();
                let end = || OpenOptions::new().read(true).write(true).open(&name).unwrap();
                command.stdin(end()).stdout(end()).stderr(Stdio::null());
                let child = command.spawn().unwrap();
                let master = File::from(master);
                (child, Box::new(master.try_clone().unwrap()), Box::new(master))
            }
        };
        let to = Arc::clone(&text);
        std::thread::spawn(move || read(output, &to));
        Self { child, input, text, read: 0 }
    }

    pub fn types(&mut self, line: &str) {
        self.read = self.text.lock().unwrap().len();
        writeln!(self.input, "{line}").unwrap();
    }

    /// Waits until the program says one of these; which, and everything it said since something was typed.
    pub fn sees(&self, any: &[&str]) -> (usize, String) {
        self.sees_within(any, PATIENCE)
            .unwrap_or_else(|| panic!("waited for {any:?} in vain; so far:\n{}", self.since()))
    }

    /// The same within this time; none if it does not say any of them.
    pub fn sees_within(&self, any: &[&str], at_most: Duration) -> Option<(usize, String)> {
        let began = Instant::now();
        while began.elapsed() < at_most {
            let text = self.since();
            if let Some(which) = any.iter().position(|words| text.contains(words)) {
                // The rest of the line may be on its way.
                std::thread::sleep(Duration::from_millis(60));
                return Some((which, self.since()));
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        None
    }

    /// What it said since something was typed, in one line.
    pub fn since(&self) -> String {
        self.text.lock().unwrap()[self.read..].split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// Reads on from here.
    pub fn read_on(&mut self) {
        self.read = self.text.lock().unwrap().len();
    }

    /// Waits for its end; the exit code.
    pub fn ends(&mut self) -> i32 {
        let began = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status.code().unwrap_or(-1);
            }
            assert!(began.elapsed() < PATIENCE, "it does not end; so far:\n{}", self.since());
            std::thread::sleep(Duration::from_millis(20));
        }
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Reads until the end, without what only moves the cursor or sets a colour.
fn read(mut from: impl Read, to: &Mutex<String>) {
    let (mut bytes, mut rest) = ([0; 4096], Vec::new());
    while let Ok(count) = from.read(&mut bytes)
        && count > 0
    {
        rest.extend_from_slice(&bytes[..count]);
        // An escape or a letter may be cut in two: what comes after the last blank waits.
        let whole = rest.iter().rposition(|b| b.is_ascii_whitespace()).map_or(0, |at| at + 1);
        let text = String::from_utf8_lossy(&rest[..whole]).into_owned();
        rest.drain(..whole);
        to.lock().unwrap().push_str(&plain(&text));
    }
}

fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut chars = text.chars();
    while let Some(c) = chars.next() {
        if c != '\u{1b}' {
            out.push(c);
            continue;
        }
        // `ESC [ ... letter`.
        if chars.next() == Some('[') {
            let _ = chars.by_ref().find(char::is_ascii_alphabetic);
        }
        out.push(' ');
    }
    out
}
