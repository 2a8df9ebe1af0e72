//! A level on a pseudo-terminal, in lines: `X=+0.12,Y=-0.30`.

use rustix::fs::{OFlags, fcntl_setfl};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use std::fs::File;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::JoinHandle;
use std::time::Duration;

/// Sends what the level shows, fifty times a second, until it is dropped.
pub struct Port {
    stop: Arc<AtomicBool>,
    thread: Option<JoinHandle<()>>,
    link: PathBuf,
}

impl Port {
    pub fn plug_in(link: &Path, mut shown: impl FnMut() -> (f64, f64) + Send + 'static) -> Self {
        // Closed in the programs that stories start, or another story's program would keep this line open.
        let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY | OpenptFlags::CLOEXEC).unwrap();
        grantpt(&master).unwrap();
        unlockpt(&master).unwrap();
        fcntl_setfl(&master, OFlags::RDWR | OFlags::NONBLOCK).unwrap();
        let name = ptsname(&master, Vec::new()).unwrap().into_string().unwrap();
        let mut master = File::from(master);
        let stop = Arc::new(AtomicBool::new(false));
        let stopped = Arc::clone(&stop);
        let thread = std::thread::spawn(move || {
            while !stopped.load(Ordering::Relaxed) {
                let (x, y) = shown();
                // Nobody may have opened the other end yet.
                let _ = master.write_all(format!("X={x:+.2},Y={y:+.2}\n").as_bytes());
                std::thread::sleep(Duration::from_millis(20));
            }
        });
        std::os::unix::fs::symlink(name, link).unwrap();
        Self { stop, thread: Some(thread), link: link.to_owned() }
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
