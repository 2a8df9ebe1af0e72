//! What else happens to a wing: moves, open items, remarks.

use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::view::wrap::wrap;
use clap::Args;
use record::{Entry, OpenAction, What};
use serde::Serialize;
use session::log::OpenNumbered;
use session::{Session, SessionError, Taken, TypedMove, stamp};
use std::path::{Path, PathBuf};

/// Opens a log for writing, under the given name if there is one.
pub fn open(log: &Path, by: Option<&str>, show: &Show) -> Result<Session, SessionError> {
    let mut session = show.of(Session::open(log)?);
    if let Some(name) = by {
        session.set_who(name);
    }
    Ok(session)
}

#[derive(Serialize)]
pub struct Answer<'a> {
    entry: EntryView<'a>,
    words: &'a str,
}

impl<'a> Answer<'a> {
    pub fn of(taken: &'a Taken) -> Self {
        Self { entry: EntryView::of(&taken.entry), words: &taken.ack }
    }
}

#[derive(Serialize)]
pub struct EntryView<'a> {
    seq: u64,
    at: String,
    by: &'a str,
    #[serde(flatten)]
    what: &'a What,
}

impl<'a> EntryView<'a> {
    pub fn of(entry: &'a Entry) -> Self {
        let Entry { seq, at, by, what, .. } = entry;
        Self { seq: *seq, at: stamp(*at), by, what }
    }
}

/// Reports that something was written; it is on disk by now.
pub fn acknowledge(taken: &Taken, show: &Show) -> Result<Exit, SessionError> {
    show.done(|| taken.ack.clone(), &Answer::of(taken)).map_err(|why| unsaid(taken.entry.seq, why))
}

/// If the answer cannot be written, a person must still learn that the entry is there, or they would repeat it.
pub fn unsaid(entry: u64, why: SessionError) -> SessionError {
    match why {
        SessionError::Closed => why,
        source => SessionError::Unsaid { entry, source: Box::new(source) },
    }
}

#[derive(Debug, Args)]
pub struct Move {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The support or foot, by its name in the plan
    support: String,
    /// How far: "3/8 turn cw", "0.5 mm", "-0.2 mm" (positive in the support's own direction)
    #[arg(allow_hyphen_values = true)]
    amount: String,
    /// Record it although it goes beyond the travel
    #[arg(long)]
    sure: bool,
    /// Who moved it (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

impl Move {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let made = TypedMove { support: self.support, amount: self.amount, sure: self.sure.into() };
        acknowledge(&open(&self.log, self.by.as_deref(), show)?.record_move(&made)?, show)
    }
}

#[derive(Debug, Args)]
pub struct OpenItem {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The item, in words or by its number in the list; without one, lists the open items
    item: Option<String>,
    /// Close it, and say how
    #[arg(long, conflicts_with = "carry", num_args = 0..=1, default_missing_value = "", value_name = "HOW")]
    close: Option<String>,
    /// Carry it past the gate on purpose; needs --reason
    #[arg(long)]
    carry: bool,
    /// Why, or by what
    #[arg(long)]
    reason: Option<String>,
    /// Who says so (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

#[derive(Serialize)]
struct OpenList {
    open_items: Vec<OpenNumbered>,
}

impl OpenItem {
    /// Records it, or lists what is open.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let Some(item) = &self.item else {
            if self.close.is_some() || self.carry || self.reason.is_some() || self.by.is_some() {
                return Err(Refusal::WhichItem.into());
            }
            return list(&show.of(Session::open_read_only(&self.log)?), show);
        };
        let action = match (&self.close, self.carry) {
            (Some(_), _) => OpenAction::Closed,
            (_, true) => OpenAction::Carried,
            _ => OpenAction::Opened,
        };
        let how = self.close.filter(|how| !how.is_empty()).or(self.reason);
        let mut session = open(&self.log, self.by.as_deref(), show)?;
        acknowledge(&session.open_item(item, action, how.as_deref())?, show)
    }
}

/// What is open, and what was carried past, each with the number that identifies it.
fn list(session: &Session, show: &Show) -> Result<Exit, SessionError> {
    let text = |open_items: &[OpenNumbered]| {
        if open_items.is_empty() {
            return "Nothing is left open.".to_owned();
        }
        let line = |o: &OpenNumbered| {
            let number = o.number.map_or_else(|| "-".to_owned(), |n| n.to_string());
            let stage = o.stage.as_ref().map(|s| format!(", {s}")).unwrap_or_default();
            wrap(&format!("{number:>4}  "), &format!("{} ({}{stage})", o.item, o.state))
        };
        open_items.iter().map(line).collect::<Vec<_>>().join("\n")
    };
    let answer = OpenList { open_items: session.open_list() };
    show.done(|| text(&answer.open_items), &answer)
}

#[derive(Debug, Args)]
pub struct Note {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The remark
    text: String,
    /// Whose it is (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

impl Note {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let taken = open(&self.log, self.by.as_deref(), show)?.note(&self.text)?;
        acknowledge(&taken, show)
    }
}
