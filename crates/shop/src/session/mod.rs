//! One open log: its plan, its entries and the assessment that follows from them.

mod take;

pub use take::{Take, TakeSettled, Taken};

use crate::ShopError;
use crate::clock::Clock;
use assess::Assessment;
use record::{Entry, Instrument, InstrumentCheck, OpenAction, Plan};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// One open log.
#[derive(Debug)]
pub struct Session {
    path: PathBuf,
    plan: Plan,
    plan_text: String,
    entries: Vec<Entry>,
    who: Option<String>,
    clock: Clock,
}

/// What is signed, and how.
#[derive(Clone, Debug, Default)]
pub struct Sign {
    /// Who signs; the session's person if none is given.
    pub who: Option<String>,
    /// In what capacity (`builder`, `inspector`).
    pub capacity: String,
    /// What they state.
    pub statement: String,
    /// True to sign a log whose gate holds, as seen.
    pub as_seen: bool,
    /// A file with an Ed25519 secret key (64 hexadecimal digits), if the signature is to be cryptographic.
    pub key: Option<PathBuf>,
}

/// What came of an import.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportReport {
    /// Readings taken.
    pub readings: u64,
    /// Number of the first entry written.
    pub first: u64,
    /// Number of the last entry written.
    pub last: u64,
}

fn soon<T>() -> Result<T, ShopError> {
    Err(ShopError::refused("not ready"))
}

impl Session {
    /// Starts a log from a plan file. The log must not exist yet.
    ///
    /// # Errors
    /// When the plan cannot be read or has a mistake, or the log exists or cannot be written.
    pub fn create(_plan: &Path, _log: &Path, _by: Option<&str>) -> Result<Self, ShopError> {
        soon()
    }

    /// Opens a log for reading and writing.
    ///
    /// # Errors
    /// When it is missing, no log of ours, of a newer form, damaged or not writable.
    pub fn open(_log: &Path) -> Result<Self, ShopError> {
        soon()
    }

    /// Opens a log for reading; nothing that writes can be done with it.
    ///
    /// # Errors
    /// When it is missing, no log of ours, of a newer form or damaged.
    pub fn open_read_only(_log: &Path) -> Result<Self, ShopError> {
        soon()
    }

    /// The log's file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The plan in force.
    #[must_use]
    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Its text as it was written.
    #[must_use]
    pub fn plan_text(&self) -> &str {
        &self.plan_text
    }

    /// Every entry, oldest first.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// How many entries there are and the hash of the last, hexadecimal.
    #[must_use]
    pub fn head(&self) -> (u64, String) {
        (self.entries.len() as u64, String::new())
    }

    /// Picks up what another program wrote; true if there was anything. Cheap when there was not.
    ///
    /// # Errors
    /// When the log cannot be read.
    pub fn refresh(&mut self) -> Result<bool, ShopError> {
        soon()
    }

    /// The assessment of the present stage; computed again only when entries came.
    ///
    /// # Errors
    /// When the numbers of the log cannot be assessed.
    pub fn assessment(&self) -> Result<Arc<Assessment>, ShopError> {
        soon()
    }

    /// The assessment as it stood at the end of a stage.
    ///
    /// # Errors
    /// When the stage is not in the plan or never began.
    pub fn assessment_at(&self, _stage: &str) -> Result<Assessment, ShopError> {
        soon()
    }

    /// Who entries are written under.
    #[must_use]
    pub fn who(&self) -> Option<&str> {
        self.who.as_deref()
    }

    /// Sets who entries are written under.
    pub fn set_who(&mut self, name: &str) {
        self.who = Some(name.trim().to_owned()).filter(|n| !n.is_empty());
    }

    /// Takes a typed reading. It is on disk when this returns.
    ///
    /// # Errors
    /// When the point is not in the plan, the value cannot be read or is of another quantity, the instrument is not
    /// known or must be named, or the log cannot be written.
    pub fn take(&mut self, _take: Take) -> Result<Taken, ShopError> {
        soon()
    }

    /// Takes a value that came from a port.
    ///
    /// # Errors
    /// As for [`Session::take`].
    pub fn take_settled(&mut self, _take: TakeSettled) -> Result<Taken, ShopError> {
        soon()
    }

    /// Begins a stage.
    ///
    /// # Errors
    /// When it is not in the plan or the log cannot be written.
    pub fn stage(&mut self, _name: &str) -> Result<Taken, ShopError> {
        soon()
    }

    /// Withdraws an entry, with a reason.
    ///
    /// # Errors
    /// When there is no such entry, it cannot be withdrawn or already was, or there is no reason.
    pub fn withdraw(&mut self, _seq: u64, _reason: &str) -> Result<Taken, ShopError> {
        soon()
    }

    /// Records a move of a support or foot: `3/8 turn cw`, `0.5 mm`, `+0.2 mm shim`.
    ///
    /// # Errors
    /// When the support is not in the plan or the amount cannot be read.
    pub fn record_move(&mut self, _support: &str, _amount: &str) -> Result<Taken, ShopError> {
        soon()
    }

    /// Leaves a thing open, closes it, or carries it past the gate.
    ///
    /// # Errors
    /// When a thing carried past has no reason, or the log cannot be written.
    pub fn open_item(
        &mut self,
        _item: &str,
        _action: OpenAction,
        _reason: Option<&str>,
    ) -> Result<Taken, ShopError> {
        soon()
    }

    /// Signs.
    ///
    /// # Errors
    /// When the gate holds and `as_seen` is not set, something needed is not given, or the key cannot be read.
    pub fn sign(&mut self, _sign: Sign) -> Result<Taken, ShopError> {
        soon()
    }

    /// Writes a remark.
    ///
    /// # Errors
    /// When it is empty or the log cannot be written.
    pub fn note(&mut self, _text: &str) -> Result<Taken, ShopError> {
        soon()
    }

    /// Enters an instrument, or enters it again with other facts.
    ///
    /// # Errors
    /// When its numbers are not usable or the log cannot be written.
    pub fn add_instrument(&mut self, _instrument: Instrument) -> Result<Taken, ShopError> {
        soon()
    }

    /// Records a check of an instrument.
    ///
    /// # Errors
    /// When the instrument is not known or the log cannot be written.
    pub fn instrument_check(&mut self, _check: InstrumentCheck) -> Result<Taken, ShopError> {
        soon()
    }

    /// Replaces the plan, with a reason.
    ///
    /// # Errors
    /// As for [`Session::create`], and when there is no reason.
    pub fn replan(&mut self, _plan: &Path, _reason: &str) -> Result<Taken, ShopError> {
        soon()
    }

    /// Takes a table of readings, all or nothing. `progress` gets lines done and bytes done of bytes in all.
    ///
    /// # Errors
    /// When the table cannot be read or has bad lines, or the log cannot be written.
    pub fn import_csv(
        &mut self,
        _table: &Path,
        _progress: &mut dyn FnMut(u64, u64, u64),
    ) -> Result<ImportReport, ShopError> {
        soon()
    }

    /// Copies the whole log to another file, safely while it is in use.
    ///
    /// # Errors
    /// When the file exists or cannot be written.
    pub fn backup(&self, _to: &Path) -> Result<(), ShopError> {
        soon()
    }

    /// Writes every entry as CSV, units in the headers.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn export_csv(&self, _to: &mut dyn Write) -> Result<(), ShopError> {
        soon()
    }

    /// Writes every entry as JSON Lines.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn export_jsonl(&self, _to: &mut dyn Write) -> Result<(), ShopError> {
        soon()
    }
}
