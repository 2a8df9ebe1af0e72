//! A person at a terminal: the real program on a pseudo-terminal, keys counted.

use crate::listening::PATIENCE;
use crate::program::{Bench, words};
use rustix::fs::{Mode, OFlags, open};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use std::fs::File;
use std::io::{Read, Write};
use std::process::Child;
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

pub struct Person {
    child: Child,
    master: File,
    seen: Arc<Mutex<String>>,
    /// Reads until the program has ended and its last words have arrived.
    reader: Option<JoinHandle<()>>,
    read: usize,
    /// Keys pressed, Enter too.
    pub keys: usize,
}

impl Person {
    /// Starts the program with these words; its three streams are the terminal.
    pub fn at(bench: &Bench, line: &str) -> Self {
        let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY | OpenptFlags::CLOEXEC).unwrap();
        grantpt(&master).unwrap();
        unlockpt(&master).unwrap();
        let name = ptsname(&master, Vec::new()).unwrap();
        // Never the terminal of the stories themselves, which would end with it.
        let flags = OFlags::RDWR | OFlags::NOCTTY | OFlags::CLOEXEC;
        let other = || File::from(open(&*name, flags, Mode::empty()).unwrap());
        let child = bench
            .command(&words(line))
            .env("TERM", "dumb")
            .stdin(other())
            .stdout(other())
            .stderr(other())
            .spawn()
            .unwrap();
        let master = File::from(master);
        let seen = Arc::new(Mutex::new(String::new()));
        let (mut from, to) = (master.try_clone().unwrap(), Arc::clone(&seen));
        let reader = std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            let mut all = Vec::new();
            // The end of the program ends the line with an error.
            while let Ok(count) = from.read(&mut bytes) {
                if count == 0 {
                    return;
                }
                all.extend(bytes[..count].iter().filter(|byte| **byte != b'\r'));
                if let Ok(text) = std::str::from_utf8(&all) {
                    to.lock().unwrap().push_str(text);
                    all.clear();
                }
            }
        });
        Self { child, master, seen, reader: Some(reader), read: 0, keys: 0 }
    }

    /// Types a line and strikes Enter.
    pub fn types(&mut self, line: &str) {
        self.keys += line.chars().count() + 1;
        self.master.write_all(format!("{line}\n").as_bytes()).unwrap();
    }

    /// Waits until the program asks for something; returns what it said since, the question last. `None` after it has
    /// ended.
    pub fn question(&mut self) -> Option<String> {
        let begun = Instant::now();
        loop {
            let ended = self.child.try_wait().unwrap().is_some();
            let said = self.seen.lock().unwrap()[self.read..].to_owned();
            let last = said.rsplit('\n').next().unwrap_or_default();
            if last.ends_with(": ") || last.ends_with("] ") {
                self.read += said.len();
                return Some(said);
            }
            if ended {
                self.heard_out();
                return None;
            }
            assert!(begun.elapsed() < PATIENCE, "nothing is asked after:\n{}", self.all());
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// Waits for the question, checks that it says this, and answers.
    pub fn answers(&mut self, asked: &str, line: &str) -> String {
        let said = self.question().unwrap_or_else(|| panic!("it ended before {asked:?}:\n{}", self.all()));
        let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat(&said).contains(&flat(asked)), "{asked:?} is not in:\n{said}");
        self.types(line);
        said
    }

    /// Waits until its last words have arrived, after it has ended.
    fn heard_out(&mut self) {
        let _ = self.reader.take().map(JoinHandle::join);
    }

    /// Everything seen so far.
    pub fn all(&self) -> String {
        self.seen.lock().unwrap().clone()
    }

    /// Waits for the end; the exit code.
    pub fn ends(mut self, code: i32) -> String {
        let status = self.child.wait().unwrap();
        self.heard_out();
        let all = self.all();
        assert_eq!(status.code(), Some(code), "\n{all}");
        all
    }
}
