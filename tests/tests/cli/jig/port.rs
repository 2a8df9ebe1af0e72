//! A level on a pseudo-terminal, in lines: `X=+0.12,Y=-0.30`.

use crate::listening::PATIENCE;
use rustix::fs::{OFlags, fcntl_setfl};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use std::collections::VecDeque;
use std::fs::File;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// Samples of a second.
pub const A_SECOND: u64 = 50;

/// Something that happens to the level between two samples.
pub type Step = Box<dyn FnOnce() + Send>;

/// Sends what the level shows, fifty times a second if the computer allows it, until it is dropped.
///
/// Its time is that of its samples ([`Port::sends`], [`Port::plays`]): a level that was held up has not been still
/// for long, and nothing happens to it that it does not show.
pub struct Port {
    steps: Arc<Mutex<VecDeque<Step>>>,
    sent: Arc<AtomicU64>,
    stop: Arc<AtomicBool>,
    thread: Option<JoinHandle<()>>,
    link: PathBuf,
}

impl Port {
    pub fn plug_in(link: &Path, mut shown: impl FnMut() -> (f64, f64) + Send + 'static) -> Self {
        // Closed in the programs that stories start; otherwise another story's program would keep this line open.
        let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY | OpenptFlags::CLOEXEC).unwrap();
        grantpt(&master).unwrap();
        unlockpt(&master).unwrap();
        fcntl_setfl(&master, OFlags::RDWR | OFlags::NONBLOCK).unwrap();
        let name = ptsname(&master, Vec::new()).unwrap().into_string().unwrap();
        let mut master = File::from(master);
        let (stop, sent) = (Arc::new(AtomicBool::new(false)), Arc::new(AtomicU64::new(0)));
        let steps: Arc<Mutex<VecDeque<Step>>> = Arc::default();
        let (stopped, count, to_do) = (Arc::clone(&stop), Arc::clone(&sent), Arc::clone(&steps));
        let thread = std::thread::spawn(move || {
            // The part of a line that found no room comes before the next line.
            let mut rest = Vec::new();
            while !stopped.load(Ordering::Relaxed) {
                if rest.is_empty() {
                    let step = to_do.lock().unwrap().pop_front();
                    if let Some(step) = step {
                        step();
                    }
                    let (x, y) = shown();
                    rest = format!("X={x:+.2},Y={y:+.2}\n").into_bytes();
                }
                // Perhaps nobody has opened the other end yet.
                let written = master.write(&rest).unwrap_or(0);
                rest.drain(..written);
                count.fetch_add(u64::from(rest.is_empty()), Ordering::Relaxed);
                std::thread::sleep(Duration::from_secs(1) / A_SECOND as u32);
            }
        });
        std::os::unix::fs::symlink(name, link).unwrap();
        Self { steps, sent, stop, thread: Some(thread), link: link.to_owned() }
    }

    /// Samples sent since it was plugged in.
    pub fn sent(&self) -> u64 {
        self.sent.load(Ordering::Relaxed)
    }

    /// Lets this happen to the level, a step before each sample, and waits until it has.
    pub fn plays(&self, steps: Vec<Step>) {
        self.steps.lock().unwrap().extend(steps);
        while !self.steps.lock().unwrap().is_empty() {
            self.sends(1);
        }
        self.sends(1);
    }

    /// Waits until it has sent this many more.
    pub fn sends(&self, samples: u64) {
        let (until, began) = (self.sent() + samples, Instant::now());
        while self.sent() < until {
            assert!(began.elapsed() < PATIENCE, "nobody reads what the level sends");
            std::thread::sleep(Duration::from_millis(10));
        }
    }
}

impl Drop for Port {
    fn drop(&mut self) {
        // First the link, as the system does with a port that is gone.
        let _ = std::fs::remove_file(&self.link);
        self.stop.store(true, Ordering::Relaxed);
        let _ = self.thread.take().map(JoinHandle::join);
    }
}

/// A screw turned a little at a time while the level shows it.
pub fn slowly<T: Send + 'static>(
    at: &Arc<Mutex<T>>,
    turn: impl Fn(&mut T) + Clone + Send + 'static,
) -> Vec<Step> {
    let little = |_| {
        let (at, turn) = (Arc::clone(at), turn.clone());
        Box::new(move || turn(&mut at.lock().unwrap())) as Step
    };
    (0..25).map(little).collect()
}
