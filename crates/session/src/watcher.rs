//! Notices when another program writes to a log, on a thread of its own.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, SystemTime};

/// How often the log's files are checked.
const EVERY: Duration = Duration::from_millis(250);

/// A thread that checks the log's files until it is dropped.
#[derive(Debug)]
pub struct Watcher {
    stop: Arc<AtomicBool>,
}

type Stamp = Vec<Option<(u64, Option<SystemTime>)>>;

fn stamp(files: &[PathBuf]) -> Stamp {
    let one = |f: &PathBuf| std::fs::metadata(f).ok().map(|m| (m.len(), m.modified().ok()));
    files.iter().map(one).collect()
}

impl Watcher {
    /// Begins, unless the system has no thread left: `changed` is called when the log or its write-ahead file
    /// changes.
    pub fn begin(log: &Path, changed: impl Fn() + Send + 'static) -> Option<Self> {
        let stop = Arc::new(AtomicBool::new(false));
        let stopped = Arc::clone(&stop);
        let mut wal = log.as_os_str().to_owned();
        wal.push("-wal");
        let files = vec![log.to_owned(), PathBuf::from(wal)];
        // With its own thread, an idle face need not wake up to check.
        let run = move || {
            let mut last = stamp(&files);
            while !stopped.load(Ordering::Relaxed) {
                std::thread::park_timeout(EVERY);
                let now = stamp(&files);
                if now != last {
                    last = now;
                    changed();
                }
            }
        };
        std::thread::Builder::new().name("log watcher".to_owned()).spawn(run).ok().map(|_| Self { stop })
    }
}

impl Drop for Watcher {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}
