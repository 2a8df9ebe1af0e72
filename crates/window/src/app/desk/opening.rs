//! Opening a log, and leaving it.

use super::Desk;
use session::{Session, SessionError, Watcher};
use std::path::Path;
use window::words::broken;

impl Desk {
    /// Opens a log; one that cannot be written is opened for reading.
    pub fn open(&mut self, log: &Path) {
        match Session::open(log) {
            Ok(session) => self.begin(session),
            Err(why) => match Session::open_read_only(log) {
                Ok(session) => {
                    let why = match session.chain() {
                        assess::Chain::Broken(how) => format!("{}: look, do not sign", broken(how)),
                        _ => why.to_string(),
                    };
                    self.begin(session);
                    self.wrong_words(format!("Opened for reading only. {why}"));
                }
                Err(_) => self.wrong(&why),
            },
        }
    }

    /// The log's file is not as it was left. It is judged as it is now, or not at all; the old judgement is not shown
    /// any longer.
    pub(super) fn look_anew(&mut self, why: &SessionError) {
        let Some(path) = self.session.as_ref().map(|session| session.path().to_owned()) else { return };
        match Session::open(&path).or_else(|_| Session::open_read_only(&path)) {
            Ok(session) => self.begin(session),
            Err(_) => {
                self.close();
                self.look_again();
            }
        }
        self.wrong(why);
    }

    pub(super) fn begin(&mut self, mut session: Session) {
        // The instrument on a port and its watch belong to the log that was open.
        if self.session.is_some() {
            self.close();
        }
        if !self.model.who.name.is_empty() {
            session.set_who(&self.model.who.name);
        }
        let ctx = self.ctx.clone();
        self.watcher = Watcher::begin(session.path(), move || ctx.request_repaint());
        let path = session.real_path();
        self.keep.opened(&path.display().to_string(), &session.plan().wing.name);
        self.keep.save();
        self.look_again();
        self.model.notice = None;
        self.model.listing = None;
        self.model.wing = None;
        self.session = Some(session);
        self.show_session();
    }

    pub(super) fn close(&mut self) {
        self.importing = None;
        self.model.import = None;
        self.end_watch();
        self.port.close();
        self.session = None;
        self.watcher = None;
        self.model.wing = None;
    }
}
