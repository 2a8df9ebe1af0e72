//! A simulated instrument on a pseudo-terminal, to be plugged in and pulled out.

use instrument::{Axis, Decimal, DialectSpec, Unit};
use rustix::fs::{OFlags, fcntl_setfl};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use std::fs::File;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};
use stories::sim::{Channel, Simulated, Trace};

/// What the instrument shows while it is carried from one spot to the next: never at rest.
const CARRIED: (f64, f64) = (40.0, 20.0);
const CARRIED_MS: u64 = 1200;
/// A slave on two wires looks every millisecond; one that has not looked for longer was held up.
const LATE: Duration = Duration::from_millis(30);

pub struct Board {
    shown: Arc<Mutex<(Instant, Simulated)>>,
    stop: Arc<AtomicBool>,
    thread: Option<std::thread::JoinHandle<()>>,
    spec: DialectSpec,
    measures: Measures,
    link: PathBuf,
    destroyed: Arc<AtomicUsize>,
}

/// A line of two wires with one slave on it, which hears nothing while it works or sends.
pub struct HalfDuplex {
    pub byte: Duration,
    pub latency: Duration,
}

/// What the slave on two wires does.
enum Slave {
    Hears(Vec<u8>),
    Works { until: Instant, answer: Vec<u8> },
    Sends { next: Instant, left: std::collections::VecDeque<u8> },
}

/// What the board measures: an angle along its arrow and one across, or a length.
#[derive(Clone, Copy)]
pub enum Measures {
    Angles,
    Length,
}

fn simulated(spec: DialectSpec, measures: Measures, trace: Trace) -> (Instant, Simulated) {
    let step = Decimal { mantissa: 1, exponent: -2 };
    let channel = |axis, unit, trace| Channel { axis, unit, step, trace };
    let (line, channels) = match measures {
        Measures::Angles => (
            "X={angle},Y={cross}",
            vec![
                channel(Axis::Angle, Unit::Degree, trace),
                channel(Axis::Cross, Unit::Degree, Trace::at(0.5)),
            ],
        ),
        Measures::Length => ("D={length}", vec![channel(Axis::Length, Unit::Millimetre, trace)]),
    };
    (Instant::now(), Simulated::new(spec, channels, 50, 7).writing(line))
}

impl Board {
    /// Plugs it in: from now on the link leads to it.
    pub fn plug_in(link: &Path, spec: DialectSpec, value: f64) -> Self {
        Self::that(Measures::Angles, link, spec, value)
    }

    /// Plugs one in that measures this.
    pub fn that(measures: Measures, link: &Path, spec: DialectSpec, value: f64) -> Self {
        Self::plugged(measures, link, spec, value, |mut master, sim, stopped, _| {
            while !stopped.load(Ordering::Relaxed) {
                let mut heard = [0; 256];
                let count = master.read(&mut heard).unwrap_or(0);
                let answer = {
                    let (began, sim) = &mut *sim.lock().unwrap();
                    let now_ms = u64::try_from(began.elapsed().as_millis()).unwrap();
                    let mut bytes = sim.bytes(now_ms);
                    bytes.extend(sim.hear(now_ms, &heard[..count]));
                    bytes
                };
                // Perhaps nobody has opened the other end yet.
                let _ = master.write_all(&answer);
                std::thread::sleep(Duration::from_millis(10));
            }
        })
    }

    /// The same on a line of two wires, where each byte takes its time. What comes while the slave works or sends
    /// destroys its answer, and is counted.
    pub fn plug_in_half_duplex(link: &Path, spec: DialectSpec, value: f64, line: HalfDuplex) -> Self {
        Self::plugged(Measures::Angles, link, spec, value, move |mut master, sim, stopped, destroyed| {
            let mut slave = Slave::Hears(Vec::new());
            let mut now = Instant::now();
            while !stopped.load(Ordering::Relaxed) {
                let mut heard = [0; 256];
                let count = master.read(&mut heard).unwrap_or(0);
                // A slave that was held up cannot say whether it would have answered by then.
                let late = now.elapsed() > LATE;
                now = Instant::now();
                slave = match slave {
                    Slave::Hears(mut asked) => {
                        asked.extend(&heard[..count]);
                        let answer = {
                            let (began, sim) = &mut *sim.lock().unwrap();
                            sim.hear(u64::try_from(began.elapsed().as_millis()).unwrap(), &asked)
                        };
                        if answer.is_empty() {
                            Slave::Hears(asked)
                        } else {
                            // Its bytes, the silence after them, and the time it takes to answer.
                            let until = now + line.byte * 8 + line.byte * 7 / 2 + line.latency;
                            Slave::Works { until, answer }
                        }
                    }
                    Slave::Works { .. } | Slave::Sends { .. } if count > 0 => {
                        destroyed.fetch_add(usize::from(!late), Ordering::Relaxed);
                        Slave::Hears(Vec::new())
                    }
                    Slave::Works { until, answer } if now >= until => {
                        Slave::Sends { next: now, left: answer.into() }
                    }
                    Slave::Sends { mut next, mut left } => {
                        while now >= next
                            && let Some(byte) = left.pop_front()
                        {
                            let _ = master.write_all(&[byte]);
                            next += line.byte;
                        }
                        if left.is_empty() { Slave::Hears(Vec::new()) } else { Slave::Sends { next, left } }
                    }
                    works => works,
                };
                std::thread::sleep(Duration::from_millis(1));
            }
        })
    }

    /// How often the slave on two wires was asked while it could not hear.
    pub fn destroyed(&self) -> usize {
        self.destroyed.load(Ordering::Relaxed)
    }

    fn plugged(
        measures: Measures,
        link: &Path,
        spec: DialectSpec,
        value: f64,
        goes_on: impl FnOnce(File, Arc<Mutex<(Instant, Simulated)>>, Arc<AtomicBool>, Arc<AtomicUsize>)
        + Send
        + 'static,
    ) -> Self {
        // Closed in the programs that stories start; otherwise another story's program would keep this line open.
        let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY | OpenptFlags::CLOEXEC).unwrap();
        grantpt(&master).unwrap();
        unlockpt(&master).unwrap();
        fcntl_setfl(&master, OFlags::RDWR | OFlags::NONBLOCK).unwrap();
        let name = ptsname(&master, Vec::new()).unwrap().into_string().unwrap();
        let master = File::from(master);
        let shown = Arc::new(Mutex::new(simulated(spec, measures, Trace::at(value))));
        let (stop, destroyed) = (Arc::new(AtomicBool::new(false)), Arc::new(AtomicUsize::new(0)));
        let (sim, stopped, counted) = (Arc::clone(&shown), Arc::clone(&stop), Arc::clone(&destroyed));
        let thread = std::thread::spawn(move || goes_on(master, sim, stopped, counted));
        std::os::unix::fs::symlink(name, link).unwrap();
        Self { shown, stop, thread: Some(thread), spec, measures, link: link.to_owned(), destroyed }
    }

    /// Carries it to another spot.
    pub fn carry_to(&self, value: f64) {
        *self.shown.lock().unwrap() = {
            let (from, to) = CARRIED;
            let trace = Trace::at(from).ramp(0, CARRIED_MS, to).step(CARRIED_MS, value);
            simulated(self.spec, self.measures, trace)
        };
    }
}

impl Drop for Board {
    fn drop(&mut self) {
        // First the link, as the system does with a port that is gone: its number may be given out again at once, and
        // the link would lead to another story's board.
        let _ = std::fs::remove_file(&self.link);
        self.stop.store(true, Ordering::Relaxed);
        let _ = self.thread.take().map(std::thread::JoinHandle::join);
    }
}
