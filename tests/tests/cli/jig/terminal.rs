//! The program as a person sees it: on a terminal that is repainted, or on pipes, line by line.

use crate::listening::PATIENCE;
use crate::program::{Bench, jigtrue};
use rustix::fs::{Mode, OFlags, open};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use std::fs::File;
use std::io::{Read, Write};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Condvar, Mutex};
use std::time::{Duration, Instant};

/// What the program runs on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    /// A terminal.
    Tty,
    /// Pipes.
    Pipe,
}

/// What the program said so far, in one line with single blanks.
#[derive(Default)]
struct Said {
    text: String,
    /// True once it has closed its output.
    ended: bool,
}

pub struct Terminal {
    child: Child,
    input: Box<dyn Write + Send>,
    said: Arc<(Mutex<Said>, Condvar)>,
    /// The text before this was read already.
    read: usize,
    /// How often it was asked whether it is up to date.
    asked: usize,
}

impl Terminal {
    pub fn start(bench: &Bench, on: On, args: &[&str]) -> Self {
        let mut command = Command::new(jigtrue());
        command.args(args).current_dir(bench.path("")).env_clear().env("JIGTRUE_BY", "ann");
        command.env("TERM", "xterm").env("LANG", "C.UTF-8");
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
                let name = ptsname(&master, Vec::new()).unwrap();
                // Never the terminal of the stories themselves, which would end with it.
                let flags = OFlags::RDWR | OFlags::NOCTTY | OFlags::CLOEXEC;
                let end = || File::from(open(&*name, flags, Mode::empty()).unwrap());
                command.stdin(end()).stdout(end()).stderr(Stdio::null());
                let child = command.spawn().unwrap();
                let master = File::from(master);
                (child, Box::new(master.try_clone().unwrap()), Box::new(master))
            }
        };
        let said = Arc::default();
        let to = Arc::clone(&said);
        std::thread::spawn(move || read(output, &to));
        Self { child, input, said, read: 0, asked: 0 }
    }

    /// Types a line; what was seen up to now counts as read.
    pub fn types(&mut self, line: &str) {
        self.read_on();
        writeln!(self.input, "{line}").unwrap();
    }

    /// Types a line; returns what the program said until it had dealt with it.
    pub fn says(&mut self, line: &str) -> String {
        self.read_on();
        self.goes_on(line);
        self.since()
    }

    /// The same, reading on in what it said before.
    pub fn goes_on(&mut self, line: &str) {
        writeln!(self.input, "{line}").unwrap();
        self.is_up_to_date();
    }

    /// Waits until it has dealt with all input so far, or has ended: types a line that it does not know, and waits
    /// for the answer.
    pub fn is_up_to_date(&mut self) {
        self.asked += 1;
        // It may have ended.
        let _ = writeln!(self.input, "?{}", self.asked);
        let answer = format!("`?{}`?", self.asked);
        let told = self.until(PATIENCE, |said| said.ended || said.text[self.read..].contains(&answer));
        assert!(told, "it does not answer; so far:\n{}", self.since());
    }

    /// Waits until the program says one of these, and is up to date; returns which it said last, and everything since
    /// the last typed line.
    pub fn sees(&mut self, any: &[&str]) -> (usize, String) {
        let seen = self.until(PATIENCE, |said| last_of(any, &said.text[self.read..]).is_some());
        assert!(seen, "waited for {any:?} in vain; so far:\n{}", self.since());
        self.is_up_to_date();
        (self.has_said(any).unwrap(), self.since())
    }

    /// Which of these it said last since something was typed.
    pub fn has_said(&self, any: &[&str]) -> Option<usize> {
        last_of(any, &self.since())
    }

    /// Waits a moment for it to say more.
    pub fn listens(&self) {
        let length = self.said.0.lock().unwrap().text.len();
        self.until(Duration::from_millis(100), |said| said.text.len() > length);
    }

    fn until(&self, at_most: Duration, so: impl Fn(&Said) -> bool) -> bool {
        let (said, more) = &*self.said;
        let said = said.lock().unwrap();
        so(&more.wait_timeout_while(said, at_most, |said| !so(said) && !said.ended).unwrap().0)
    }

    /// What it said since something was typed, in one line.
    pub fn since(&self) -> String {
        self.said.0.lock().unwrap().text[self.read..].to_owned()
    }

    /// Reads on from here.
    pub fn read_on(&mut self) {
        self.read = self.said.0.lock().unwrap().text.len();
    }

    /// Reads on from the last of these.
    pub fn reads_from(&mut self, any: &[&str]) {
        let since = self.since();
        self.read += any.iter().filter_map(|words| since.rfind(words)).max().unwrap_or(since.len());
    }

    /// Waits for its end; returns the exit code.
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

/// Which of these comes last in a text.
fn last_of(any: &[&str], text: &str) -> Option<usize> {
    let found = any.iter().enumerate().filter_map(|(which, words)| Some((text.rfind(words)?, which)));
    found.max().map(|(_, which)| which)
}

/// Reads until the end, without what only moves the cursor or sets a colour.
fn read(mut from: impl Read, to: &(Mutex<Said>, Condvar)) {
    let (mut bytes, mut rest) = ([0; 4096], Vec::new());
    while let Ok(count) = from.read(&mut bytes)
        && count > 0
    {
        rest.extend_from_slice(&bytes[..count]);
        // An escape or a letter may be cut in two: what comes after the last blank waits.
        let whole = rest.iter().rposition(|b| b.is_ascii_whitespace()).map_or(0, |at| at + 1);
        let text = plain(&String::from_utf8_lossy(&rest[..whole]));
        rest.drain(..whole);
        let mut said = to.0.lock().unwrap();
        for word in text.split_whitespace() {
            said.text.push_str(word);
            said.text.push(' ');
        }
        to.1.notify_all();
    }
    to.0.lock().unwrap().ended = true;
    to.1.notify_all();
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
