//! Starting, opening and keeping up with a log.

use super::Session;
use crate::SessionError;
use crate::clock::Clock;
use crate::files::read_plan_text;
use crate::person::default_name;
use assess::{Broken, Chain};
use journal::{Head, Journal};
use record::{Entry, Plan, What, When};
use std::cell::OnceCell;
use std::path::Path;
use std::sync::Arc;

/// What stands in the first entry as the program that wrote it.
const PROGRAM: &str = concat!("jigtrue ", env!("CARGO_PKG_VERSION"));

impl Session {
    /// Starts a log from a plan file. The log must not exist yet.
    ///
    /// # Errors
    /// When the plan cannot be read or has a mistake, or the log exists or cannot be written.
    pub fn create(plan: &Path, log: &Path, by: Option<&str>) -> Result<Self, SessionError> {
        let text = read_plan_text(plan)?;
        Self::create_from_text(&text, plan, log, by, Clock::Machine.when())
    }

    pub(crate) fn create_from_text(
        text: &str,
        from: &Path,
        log: &Path,
        by: Option<&str>,
        when: When,
    ) -> Result<Self, SessionError> {
        parse_plan(text, from)?;
        let who = by.map(str::trim).filter(|n| !n.is_empty()).map(str::to_owned).or_else(default_name);
        let who = who.ok_or_else(|| SessionError::refused(super::write::ASK_WHO))?;
        let journal = Journal::create(log, text, PROGRAM, when, &who)?;
        let mut session = Self::from_journal(journal)?;
        session.set_who(&who);
        Ok(session)
    }

    /// Opens a log for reading and writing.
    ///
    /// # Errors
    /// When it is missing, no log of ours, of a newer form, damaged, not writable, or its chain is broken.
    pub fn open(log: &Path) -> Result<Self, SessionError> {
        let session = Self::from_journal(Journal::open(log)?)?;
        if let Chain::Broken(why) = &session.chain {
            return Err(SessionError::Refused(format!(
                "{}; nothing more is written to it. `jigtrue check` and `jigtrue verify` still read it",
                why.words
            )));
        }
        Ok(session)
    }

    /// Opens a log for reading; nothing that writes can be done with it. A log with a broken chain is opened too: its
    /// gate holds.
    ///
    /// # Errors
    /// When it is missing, no log of ours, of a newer form or damaged beyond reading.
    pub fn open_read_only(log: &Path) -> Result<Self, SessionError> {
        Self::from_journal(Journal::open_read_only(log)?)
    }

    fn from_journal(journal: Journal) -> Result<Self, SessionError> {
        let read = read_all(&journal)?;
        Self::from_read(journal, read)
    }

    fn from_read(journal: Journal, read: Read) -> Result<Self, SessionError> {
        let Read { entries, head, chain } = read;
        let plan = plan_of(&entries, journal.path(), &chain)?;
        let plan_text = plan_in_force(&entries).unwrap_or_default().to_owned();
        Ok(Self {
            journal,
            plan,
            plan_text,
            shown_in: None,
            entries: Arc::new(entries),
            head,
            chain,
            who: default_name(),
            clock: Clock::Machine,
            assessed: OnceCell::new(),
            elsewhere: OnceCell::new(),
        })
    }

    /// Opens a log for reading as it stood after its first `entries` entries.
    ///
    /// # Errors
    /// As [`Session::open_read_only`]; when it never had so many entries.
    pub fn open_as_of(log: &Path, entries: u64) -> Result<Self, SessionError> {
        let journal = Journal::open_read_only(log)?;
        let Some(hash) = journal.hash_at(entries)? else {
            return Err(SessionError::Refused(format!("{} never had {entries} entries", log.display())));
        };
        let mut then = read_all(&journal)?;
        then.entries.retain(|e| e.seq <= entries);
        then.head = Head { seq: entries, hash };
        Self::from_read(journal, then)
    }

    /// Picks up what was written since; true if there was anything. Cheap when there was not.
    ///
    /// # Errors
    /// When the log cannot be read or its chain does not fit any more.
    pub fn refresh(&mut self) -> Result<bool, SessionError> {
        if self.journal.last_seq()? == self.head.seq {
            return Ok(false);
        }
        let from = self.entries.len();
        let mut added = self.journal.entries_since(self.head.seq);
        for entry in added.by_ref() {
            Arc::make_mut(&mut self.entries).push(entry?);
        }
        if let Some(head) = added.head() {
            self.head = head;
        }
        self.assessed = OnceCell::new();
        if self.entries[from..].iter().any(|e| matches!(e.what, What::Wing(_) | What::Withdrawn { .. })) {
            self.elsewhere = OnceCell::new();
        }
        if let Some(text) = plan_in_force(&self.entries[from..]) {
            self.plan = parse_plan(text, self.journal.path())?;
            self.plan.shown_in = self.shown_in.unwrap_or(self.plan.units);
            text.clone_into(&mut self.plan_text);
        }
        Ok(self.entries.len() > from)
    }
}

/// What was read of a log.
pub(super) struct Read {
    pub entries: Vec<Entry>,
    /// The head after the last of them.
    pub head: Head,
    pub chain: Chain,
}

/// Every entry with the state of the chain; of a broken chain, the entries as they are found.
pub(super) fn read_all(journal: &Journal) -> Result<Read, SessionError> {
    let mut walk = journal.entries();
    let mut entries = Vec::new();
    let broken = loop {
        match walk.next() {
            None => break None,
            Some(Ok(entry)) => entries.push(entry),
            Some(Err(why)) => match why.fault {
                journal::Fault::Broken(_) | journal::Fault::Altered(_) => break Some(why),
                _ => return Err(why.into()),
            },
        }
    };
    let Some(why) = broken else {
        let head = walk.head().unwrap_or_else(Head::genesis);
        return Ok(Read { entries, head, chain: Chain::Whole });
    };
    let found: Vec<Entry> = journal.entries_as_found().filter_map(Result::ok).collect();
    let seq = found.last().map_or(0, |e| e.seq);
    let head = journal.head().unwrap_or(Head { seq, ..Head::genesis() });
    let first = match &why.fault {
        journal::Fault::Broken(at) => Some(at.seq),
        _ => None,
    };
    Ok(Read { entries: found, head, chain: Chain::Broken(Broken { words: why.to_string(), first }) })
}

/// The plan in force after some entries.
pub(super) fn plan_of(entries: &[Entry], log: &Path, chain: &Chain) -> Result<Plan, SessionError> {
    match (plan_in_force(entries), chain) {
        (Some(text), _) => parse_plan(text, log),
        (None, Chain::Broken(why)) => Err(SessionError::Refused(why.words.clone())),
        (None, _) => Err(SessionError::Refused(format!(
            "{} holds no plan; keep it and start a new log",
            log.display()
        ))),
    }
}

/// The text of the last plan among the entries.
pub(super) fn plan_in_force(entries: &[Entry]) -> Option<&str> {
    entries.iter().rev().find_map(|e| match &e.what {
        What::Started { plan, .. } | What::Replanned { plan, .. } => Some(plan.as_str()),
        _ => None,
    })
}

pub(crate) fn parse_plan(text: &str, from: &Path) -> Result<Plan, SessionError> {
    Plan::parse(text).map_err(|why| SessionError::Plan { path: from.to_owned(), report: why.to_string() })
}
