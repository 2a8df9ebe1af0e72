//! Starts, opens and refreshes a log.

use super::Session;
use super::kept::{Kept, NEWEST};
use super::write::named;
use crate::SessionError;
use crate::clock::Clock;
use crate::files::read_plan_text;
use crate::person::default_name;
use crate::refusal::Refusal;
use assess::{Broken, Chain};
use journal::{Head, Journal, JournalError, StoredReading, TakesIn, Walked};
use record::{Entry, Plan, What, When};
use std::cell::OnceCell;
use std::path::Path;
use std::sync::Arc;

/// The program that wrote the log, as named in its first entry.
const PROGRAM: &str = concat!("jigtrue ", env!("CARGO_PKG_VERSION"));

impl Session {
    /// Starts a log from a plan file. The log must not exist yet.
    ///
    /// # Errors
    /// If the plan cannot be read or has a mistake, or the log exists or cannot be written.
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
        let who = named(by, default_name().as_deref())?;
        let journal = Journal::create(log, text, PROGRAM, when, &who)?;
        let mut session = Self::from_journal(journal)?;
        session.set_who(&who);
        Ok(session)
    }

    /// Opens a log for reading and writing.
    ///
    /// # Errors
    /// If it is missing, not one of our logs, of a newer format, damaged, not writable, or its chain is broken.
    pub fn open(log: &Path) -> Result<Self, SessionError> {
        let session = Self::from_journal(Journal::open(log)?)?;
        match session.chain {
            Chain::Broken(why) => Err(Refusal::BrokenLog(why).into()),
            Chain::Whole | Chain::NotWalked => Ok(session),
        }
    }

    /// Opens a log for reading; nothing can be written. A log with a broken chain can be opened too: its gate holds.
    ///
    /// # Errors
    /// If it is missing, not one of our logs, of a newer format or damaged beyond reading.
    pub fn open_read_only(log: &Path) -> Result<Self, SessionError> {
        Self::from_journal(Journal::open_read_only(log)?)
    }

    fn from_journal(journal: Journal) -> Result<Self, SessionError> {
        let read = read_to_judge(&journal, u64::MAX)?;
        Self::from_read(journal, read)
    }

    /// Opens a log for reading, with all its entries in memory.
    ///
    /// # Errors
    /// As [`Session::open_read_only`].
    pub fn open_whole(log: &Path) -> Result<Self, SessionError> {
        let journal = Journal::open_read_only(log)?;
        let read = read_all(&journal)?;
        Self::from_read(journal, read)
    }

    pub(super) fn from_read(journal: Journal, read: Read) -> Result<Self, SessionError> {
        let Read { entries, passed, head, chain } = read;
        let plan = plan_of(&entries, journal.path(), &chain)?;
        // If all entries are available, it is found among them when needed.
        let highest_round = if passed == 0 { 0 } else { journal.highest_round()? };
        let plan_text = plan_in_force(&entries).unwrap_or_default().to_owned();
        Ok(Self {
            version: journal.version()?,
            journal,
            plan,
            plan_text,
            shown_in: None,
            entries: Arc::new(entries),
            passed,
            highest_round,
            head,
            chain,
            who: default_name(),
            clock: Clock::Machine,
            assessed: OnceCell::new(),
            judged_by_stage: OnceCell::new(),
            elsewhere: OnceCell::new(),
        })
    }

    /// Opens a log for reading as it was after its first `entries` entries.
    ///
    /// # Errors
    /// As [`Session::open_read_only`], and if the log never had that many entries.
    pub fn open_as_of(log: &Path, entries: u64) -> Result<Self, SessionError> {
        let journal = Journal::open_read_only(log)?;
        let Some(hash) = journal.hash_at(entries)? else {
            return Err(Refusal::NeverSoLong { log: log.to_owned(), entries }.into());
        };
        let mut then = read_to_judge(&journal, entries)?;
        then.entries.retain(|e| e.seq <= entries);
        then.head = Head { seq: entries, hash };
        Self::from_read(journal, then)
    }

    /// Reads what was written since; returns whether there was anything. Cheap if there was not.
    ///
    /// # Errors
    /// If the log cannot be read, was deleted, moved or replaced, or its chain is no longer whole.
    pub fn refresh(&mut self) -> Result<bool, SessionError> {
        self.journal.goes_on_from(&self.head)?;
        let version = self.journal.version()?;
        if self.journal.last_seq()? == self.head.seq {
            // Something changed but nothing was added: another program merged what it had written before, or it was
            // not one of ours.
            if version != self.version {
                self.journal.verify()?;
                self.version = version;
            }
            return Ok(false);
        }
        let from = self.entries.len();
        let mut added = self.journal.entries_since(self.head.seq);
        let new: Vec<Entry> = added.by_ref().collect::<Result<_, _>>()?;
        if let Some(head) = added.head() {
            self.head = head;
        }
        self.version = version;
        Arc::make_mut(&mut self.entries).extend(new);
        self.assessed = OnceCell::new();
        self.judged_by_stage = OnceCell::new();
        if self.entries[from..].iter().any(|e| matches!(e.what, What::Wing(_) | What::Withdrawn { .. })) {
            self.elsewhere = OnceCell::new();
        }
        if let Some(text) = plan_in_force(&self.entries[from..]) {
            self.plan = logged_plan(text, self.journal.path())?;
            self.plan.shown_in = self.shown_in.unwrap_or(self.plan.units);
            text.clone_into(&mut self.plan_text);
        }
        Ok(self.entries.len() > from)
    }
}

pub(super) struct Read {
    pub entries: Vec<Entry>,
    /// Number of entries left out because they can no longer count.
    pub passed: u64,
    /// The head after the last of them.
    pub head: Head,
    pub chain: Chain,
}

impl Read {
    fn whole(entries: Vec<Entry>, passed: u64, head: Head) -> Self {
        Self { entries, passed, head, chain: Chain::Whole }
    }

    /// The entries of a broken chain as found; any other error is returned.
    fn as_found(journal: &Journal, why: JournalError) -> Result<Self, SessionError> {
        let first = match &why.fault {
            journal::Fault::Broken(at) => Some(at.seq),
            journal::Fault::Altered(_) => None,
            _ => return Err(why.into()),
        };
        let entries: Vec<Entry> = journal.entries_as_found().filter_map(Result::ok).collect();
        let seq = entries.last().map_or(0, |e| e.seq);
        let head = journal.head().unwrap_or(Head { seq, ..Head::genesis() });
        Ok(Self { entries, passed: 0, head, chain: Chain::Broken(Broken::new(why, first)) })
    }
}

/// The log as read for judging: every entry is checked, and those that can count are kept.
pub(super) fn read_to_judge(journal: &Journal, until: u64) -> Result<Read, SessionError> {
    read_keeping(journal, until, NEWEST)
}

/// The same, keeping at least the `newest` newest readings. The broken chain of a log is reported, and all its
/// entries are kept as found.
pub(super) fn read_keeping(journal: &Journal, until: u64, newest: usize) -> Result<Read, SessionError> {
    let withdrawals = journal.all_of_kind_as_found("withdrawn")?;
    match journal.read_into(Kept::new(&withdrawals, until, newest)) {
        Ok(Walked { head, into }) => match into.finish() {
            Ok(Some((entries, passed))) => Ok(Read::whole(entries, passed, head)),
            // Somebody withdrew something meanwhile, or the file's index of kinds was changed.
            Ok(None) if newest < usize::MAX => read_keeping(journal, until, usize::MAX),
            Ok(None) | Err(_) => read_all(journal),
        },
        Err(why) => Read::as_found(journal, why),
    }
}

/// Every entry with the state of the chain; of a broken chain, the entries as found.
pub(super) fn read_all(journal: &Journal) -> Result<Read, SessionError> {
    match journal.read_into(Everything::default()) {
        Ok(Walked { head, into: Everything(entries) }) => {
            let entries = entries.into_iter().collect::<Result<_, _>>();
            let entries = entries.map_err(|why| Refusal::Unreadable(journal.path().to_owned(), why))?;
            Ok(Read::whole(entries, 0, head))
        }
        Err(why) => Read::as_found(journal, why),
    }
}

#[derive(Default)]
struct Everything(Vec<Result<Entry, journal::Unreadable>>);

impl TakesIn for Everything {
    fn reading(&mut self, reading: &StoredReading<'_>) {
        self.0.push(reading.entry());
    }
    fn entry(&mut self, entry: Entry) {
        self.0.push(Ok(entry));
    }
}

/// The plan in force after some entries.
pub(super) fn plan_of(entries: &[Entry], log: &Path, chain: &Chain) -> Result<Plan, SessionError> {
    match (plan_in_force(entries), chain) {
        (Some(text), _) => logged_plan(text, log),
        (None, Chain::Broken(why)) => Err(Refusal::BrokenWithoutPlan(why.clone()).into()),
        (None, _) => Err(Refusal::NoPlan(log.to_owned()).into()),
    }
}

/// The text of the last plan among the entries.
pub(super) fn plan_in_force(entries: &[Entry]) -> Option<&str> {
    entries.iter().rev().find_map(|e| e.what.plan())
}

pub(crate) fn parse_plan(text: &str, from: &Path) -> Result<Plan, SessionError> {
    Plan::parse(text).map_err(|report| SessionError::Plan { path: from.to_owned(), report })
}

pub(super) fn logged_plan(text: &str, log: &Path) -> Result<Plan, SessionError> {
    Plan::parse_logged(text).map_err(|report| SessionError::Plan { path: log.to_owned(), report })
}
