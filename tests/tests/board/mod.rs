//! A simulated instrument on a pseudo-terminal, to be plugged in and pulled out.
#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a story has threads and a clock, and uses what it needs"
)]

use instrument::sim::{Channel, Simulated, Trace};
use instrument::{Axis, Decimal, DialectSpec, Unit};
use rustix::fs::{OFlags, fcntl_setfl};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use std::fs::File;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// What the instrument shows while it is carried from one spot to the next: never at rest.
const CARRIED: (f64, f64) = (40.0, 20.0);
const CARRIED_MS: u64 = 1200;

pub struct Board {
    shown: Arc<Mutex<(Instant, Simulated)>>,
    stop: Arc<AtomicBool>,
    thread: Option<std::thread::JoinHandle<()>>,
    spec: DialectSpec,
    measures: Measures,
    link: PathBuf,
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
    let channels = match measures {
        Measures::Angles => vec![
            channel(Axis::Angle, Unit::Degree, trace),
            channel(Axis::Cross, Unit::Degree, Trace::at(0.5)),
        ],
        Measures::Length => vec![channel(Axis::Length, Unit::Millimetre, trace)],
    };
    (Instant::now(), Simulated::new(spec, channels, 50, 7))
}

impl Board {
    /// Plugs it in: from now on the link leads to it.
    pub fn plug_in(link: &Path, spec: DialectSpec, value: f64) -> Self {
        Self::that(Measures::Angles, link, spec, value)
    }

    /// Plugs one in that measures this.
    pub fn that(measures: Measures, link: &Path, spec: DialectSpec, value: f64) -> Self {
        // Closed in the programs that stories start, or another story's program would keep this line open.
        let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY | OpenptFlags::CLOEXEC).unwrap();
        grantpt(&master).unwrap();
        unlockpt(&master).unwrap();
        fcntl_setfl(&master, OFlags::RDWR | OFlags::NONBLOCK).unwrap();
        let name = ptsname(&master, Vec::new()).unwrap().into_string().unwrap();
        let mut master = File::from(master);
        let shown = Arc::new(Mutex::new(simulated(spec, measures, Trace::at(value))));
        let stop = Arc::new(AtomicBool::new(false));
        let (sim, stopped) = (Arc::clone(&shown), Arc::clone(&stop));
        let thread = std::thread::spawn(move || {
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
                // Nobody may have opened the other end yet.
                let _ = master.write_all(&answer);
                std::thread::sleep(Duration::from_millis(10));
            }
        });
        std::os::unix::fs::symlink(name, link).unwrap();
        Self { shown, stop, thread: Some(thread), spec, measures, link: link.to_owned() }
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
        // First the link, as the system does with a port that is gone: its number may be given out again at once, and the
        // link would lead to another story's board.
        let _ = std::fs::remove_file(&self.link);
        self.stop.store(true, Ordering::Relaxed);
        let _ = self.thread.take().map(std::thread::JoinHandle::join);
    }
}
