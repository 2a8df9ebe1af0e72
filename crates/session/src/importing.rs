//! Imports a table on a thread of its own, so that a face stays responsive and can stop it.

use crate::refusal::Refusal;
use crate::{ImportWith, Session, SessionError};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU16, AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// The whole table, in thousandths read.
const WHOLE: u16 = 1000;

#[derive(Debug, Default)]
struct Shared {
    lines: AtomicU64,
    thousandths: AtomicU16,
    stop: AtomicBool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoFar {
    pub lines: u64,
    /// Share of the table read, 0 to 1.
    pub share: f32,
    pub stopping: bool,
}

/// An import in progress. If it is dropped, it stops and nothing of the table is recorded.
#[derive(Debug)]
pub struct Importing {
    table: PathBuf,
    shared: Arc<Shared>,
    done: Receiver<Result<String, SessionError>>,
}

impl Importing {
    /// Begins; `news` is called during the import and at its end.
    pub fn begin(log: &Path, table: &Path, who: &str, news: impl Fn() + Send + 'static) -> Self {
        let shared = Arc::new(Shared::default());
        let (tell, done) = channel();
        let (log, file, who) = (log.to_owned(), table.to_owned(), who.to_owned());
        let seen = Arc::clone(&shared);
        // Without a thread no answer comes, which is reported as a failed import.
        let _ = std::thread::Builder::new().name("import".to_owned()).spawn(move || {
            let _ = tell.send(seen.import(&log, &file, &who, &news));
            news();
        });
        Self { table: table.to_owned(), shared, done }
    }

    pub fn stop(&self) {
        self.shared.stop.store(true, Ordering::Relaxed);
    }

    pub fn table(&self) -> &Path {
        &self.table
    }

    pub fn so_far(&self) -> SoFar {
        SoFar {
            lines: self.shared.lines.load(Ordering::Relaxed),
            share: f32::from(self.shared.thousandths.load(Ordering::Relaxed)) / f32::from(WHOLE),
            stopping: self.shared.stop.load(Ordering::Relaxed),
        }
    }

    /// At the end: the line for the person, or why nothing was recorded.
    pub fn done(&self) -> Option<Result<String, SessionError>> {
        match self.done.try_recv() {
            Ok(done) => Some(done),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Err(Refusal::ImportBrokeOff.into())),
        }
    }
}

impl Drop for Importing {
    fn drop(&mut self) {
        self.stop();
    }
}

impl Shared {
    fn import(&self, log: &Path, table: &Path, who: &str, news: &dyn Fn()) -> Result<String, SessionError> {
        let mut session = Session::open(log)?;
        if !who.is_empty() {
            session.set_who(who);
        }
        let report = session.import_csv(table, &ImportWith::default(), &mut |lines, done, of| {
            self.lines.store(lines, Ordering::Relaxed);
            let share = done.saturating_mul(WHOLE.into()).checked_div(of).map(u16::try_from);
            let share = share.and_then(Result::ok).unwrap_or(WHOLE).min(WHOLE);
            if self.thousandths.swap(share, Ordering::Relaxed) != share {
                news();
            }
            !self.stop.load(Ordering::Relaxed)
        })?;
        Ok(report.words())
    }
}
