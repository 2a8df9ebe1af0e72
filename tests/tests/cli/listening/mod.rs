//! The program while it listens to a port, and what came into the log.

use crate::program::Bench;
use journal::Journal;
use record::{Reading, What};
use rustix::process::{Pid, Signal};
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// Longer than anything in these stories takes on any computer: it only decides how long a hanging program is waited
/// for.
pub const PATIENCE: Duration = Duration::from_secs(300);

/// The program while it listens.
pub struct Listening {
    child: Child,
    input: Option<ChildStdin>,
    lines: Receiver<String>,
    all: Vec<String>,
}

impl Listening {
    pub fn start(bench: &Bench, args: &[&str]) -> Self {
        let mut child = bench
            .command(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .unwrap();
        let out = BufReader::new(child.stdout.take().unwrap());
        let (to_story, lines) = channel();
        std::thread::spawn(move || {
            for line in out.lines().map_while(Result::ok) {
                if to_story.send(line).is_err() {
                    return;
                }
            }
        });
        let input = child.stdin.take();
        Self { child, input, lines, all: Vec::new() }
    }

    /// The next line that contains this.
    pub fn until(&mut self, words: &str) -> String {
        let began = Instant::now();
        loop {
            let left = PATIENCE.saturating_sub(began.elapsed());
            let Ok(line) = self.lines.recv_timeout(left) else {
                panic!("waited for `{words}` in vain; so far:\n{}", self.all.join("\n"));
            };
            self.all.push(line.clone());
            if line.contains(words) {
                return line;
            }
        }
    }

    pub fn types(&mut self, line: &str) {
        writeln!(self.input.as_mut().unwrap(), "{line}").unwrap();
    }

    /// The same, to a program that may have ended.
    pub fn tries(&mut self, line: &str) {
        let _ = writeln!(self.input.as_mut().unwrap(), "{line}");
    }

    pub fn ends(&mut self) {
        let began = Instant::now();
        while self.child.try_wait().unwrap().is_none() {
            assert!(began.elapsed() < PATIENCE, "it does not end; so far:\n{}", self.all.join("\n"));
            std::thread::sleep(Duration::from_millis(20));
        }
        assert!(self.child.wait().unwrap().success());
    }
}

impl Listening {
    /// Sends it a signal, as Ctrl-C does.
    pub fn signal(&self, signal: Signal) {
        rustix::process::kill_process(Pid::from_child(&self.child), signal).unwrap();
    }

    /// Every line it wrote, after it has ended or was killed.
    pub fn last_words(&mut self) -> &[String] {
        let _ = self.child.wait();
        self.all.extend(self.lines.iter());
        &self.all
    }

    /// Kills it as the system would: it cannot prevent that.
    pub fn kill(&mut self) {
        self.child.kill().unwrap();
    }
}

impl Drop for Listening {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

pub fn entries(bench: &Bench) -> Vec<What> {
    let journal = Journal::open_read_only(&bench.path("wing.jigtrue")).unwrap();
    journal.entries().map(|entry| entry.unwrap().what).collect()
}

pub fn readings(bench: &Bench) -> Vec<Reading> {
    let reading = |what| if let What::Reading(reading) = what { Some(reading) } else { None };
    entries(bench).into_iter().filter_map(reading).collect()
}

/// Points, facings and values of the log, values in hundredths.
pub fn taken(bench: &Bench) -> Vec<(String, &'static str, i64)> {
    readings(bench)
        .iter()
        .map(|r| {
            let facing = r.facing.map_or("-", record::Facing::word);
            (r.point.to_string(), facing, (r.value * 100.0).round() as i64)
        })
        .collect()
}
