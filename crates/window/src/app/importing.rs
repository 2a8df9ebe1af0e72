//! A table of readings read in on a thread of its own, so that the window goes on and it can be stopped.

use eframe::egui::Context;
use session::{Session, SessionError};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use window::model::Import;

/// Thousandths of the table that were read.
const WHOLE: u64 = 1000;

#[derive(Default)]
struct Shared {
    lines: AtomicU64,
    thousandths: AtomicU64,
    stop: AtomicBool,
}

/// An import that is going on. Dropped, it stops and nothing of the table is taken.
pub struct Importing {
    table: String,
    shared: Arc<Shared>,
    done: Receiver<Result<String, SessionError>>,
}

impl Importing {
    /// Begins; `ctx` is woken as it goes on and when it is over.
    pub fn begin(log: &Path, table: &str, who: &str, ctx: &Context) -> Self {
        let shared = Arc::new(Shared::default());
        let (tell, done) = channel();
        let (log, file, who) = (log.to_owned(), PathBuf::from(table), who.to_owned());
        let (seen, ctx) = (Arc::clone(&shared), ctx.clone());
        // Without a thread nobody answers, and that is told as an import that broke off.
        let _ = std::thread::Builder::new().name("import".to_owned()).spawn(move || {
            let _ = tell.send(import(&log, &file, &who, &seen, &ctx));
            ctx.request_repaint();
        });
        Self { table: table.to_owned(), shared, done }
    }

    /// Asks it to stop.
    pub fn stop(&self) {
        self.shared.stop.store(true, Ordering::Relaxed);
    }

    /// How far it is.
    pub fn so_far(&self) -> Import {
        let thousandths = self.shared.thousandths.load(Ordering::Relaxed).min(WHOLE);
        Import {
            table: self.table.clone(),
            lines: self.shared.lines.load(Ordering::Relaxed),
            share: thousandths as f32 / WHOLE as f32,
            stopping: self.shared.stop.load(Ordering::Relaxed),
        }
    }

    /// What came of it, once it is over.
    pub fn done(&self) -> Option<Result<String, SessionError>> {
        match self.done.try_recv() {
            Ok(done) => Some(done),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Err(SessionError::Refused(
                "the import broke off; nothing of the table was taken".to_owned(),
            ))),
        }
    }
}

impl Drop for Importing {
    fn drop(&mut self) {
        self.stop();
    }
}

fn import(log: &Path, table: &Path, who: &str, seen: &Shared, ctx: &Context) -> Result<String, SessionError> {
    let mut session = Session::open(log)?;
    if !who.is_empty() {
        session.set_who(who);
    }
    let report =
        session.import_csv_while(table, &session::ImportWith::default(), &mut |lines, done, of| {
            seen.lines.store(lines, Ordering::Relaxed);
            let share = (done.saturating_mul(WHOLE)).checked_div(of).unwrap_or(WHOLE);
            if seen.thousandths.swap(share, Ordering::Relaxed) != share {
                ctx.request_repaint();
            }
            !seen.stop.load(Ordering::Relaxed)
        })?;
    Ok(format!("{} readings taken, entries {} to {}", report.readings, report.first, report.last))
}
