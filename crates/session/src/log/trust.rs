//! Checks the chain, and what was added since a head that someone wrote down.

use super::Session;
use crate::SessionError;
use crate::refusal::Refusal;
use journal::{Head, Journal, StoredReading, TakesIn, Walked};
use quantity::shown::counted;
use record::signoff::SignOffs;
use record::{Entry, What, When};
use std::path::Path;
use std::str::FromStr;

/// How a head that someone wrote down relates to the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Since {
    /// It is the log's present head.
    Same,
    /// It is an earlier state of this log, and this many entries were added since.
    Earlier(u64),
    /// It is not a state of this log.
    Foreign,
}

impl Session {
    /// Checks the whole chain and everything else in the file.
    ///
    /// # Errors
    /// The first entry that does not fit, or what else was changed.
    pub fn verify(&self) -> Result<LogHead, SessionError> {
        Ok(LogHead::of(&self.journal.verify()?))
    }
}

impl Session {
    /// Copies a whole log to another file, safely while it is in use, even from a read-only place.
    ///
    /// # Errors
    /// If the log cannot be read or is not whole, or the file exists or cannot be written.
    pub fn backup(log: &Path, to: &Path) -> Result<(), SessionError> {
        let journal = Journal::open_read_only(log)?;
        journal.verify()?;
        Ok(journal.backup_to(to)?)
    }
}

/// How an entry that someone has on paper relates to the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OnPaper {
    /// It fits; when the entry was written.
    Fits(When),
    /// The entry of that number has another hash.
    Differs,
    /// The log has no such entry; its last number.
    NoSuchEntry(u64),
}

/// How many digits of a hash are meaningful: at least 64 bits.
const HASH_DIGITS: std::ops::RangeInclusive<usize> = 16..=64;

impl OnPaper {
    /// The sentence for a person; `last` is the number of the log's last entry.
    pub fn words(&self, paper: &HashOnPaper, last: u64) -> String {
        let (entry, digits) = (paper.entry, paper.digits.len());
        match self {
            Self::Fits(when) => {
                let after = match last.saturating_sub(entry) {
                    0 => "nothing after it".to_owned(),
                    n => format!("{} after it", counted(n, "entry", "entries")),
                };
                let all = HASH_DIGITS.end();
                format!("Entry {entry} fits the paper ({digits} of {all} digits compared). {when}; {after}")
            }
            Self::Differs => format!(
                "Entry {entry} does NOT fit the paper: the log has another hash there. It is another log, or \
                    its chain was recomputed"
            ),
            Self::NoSuchEntry(last) => format!(
                "The log has no entry {entry} (the last is {last}): it is another log, or entries were \
                    removed from it"
            ),
        }
    }
}

/// An entry as read from paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HashOnPaper {
    pub entry: u64,
    /// The beginning of its hash, in hexadecimal.
    pub digits: String,
}

impl HashOnPaper {
    /// # Errors
    /// If there are too few digits, or more than a hash has.
    pub fn new(entry: u64, digits: HashDigits) -> Result<Self, Refusal> {
        let HashDigits(digits) = digits;
        match digits.len() {
            few if few < *HASH_DIGITS.start() => Err(Refusal::ShortHash { digits: few, of: HASH_DIGITS }),
            many if many > *HASH_DIGITS.end() => Err(Refusal::LongHash(*HASH_DIGITS.end())),
            _ => Ok(Self { entry, digits }),
        }
    }
}

impl FromStr for HashOnPaper {
    type Err = Refusal;
    /// Its number, then groups of its hash; an error if the number is missing, or the rest is not a hash or too short
    /// a part of one.
    fn from_str(text: &str) -> Result<Self, Refusal> {
        let (number, rest) = text.trim().split_once(char::is_whitespace).unwrap_or((text.trim(), ""));
        let entry = number.trim_start_matches('#').parse().map_err(Refusal::NoNumberOnPaper)?;
        Self::new(entry, rest.parse()?)
    }
}

/// Digits of a hash as typed: hexadecimal, lowercase, without spaces; possibly one of several groups.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HashDigits(String);

impl HashDigits {
    /// These digits, followed by those of the other groups.
    pub fn and(mut self, groups: &[Self]) -> Self {
        groups.iter().for_each(|group| self.0.push_str(&group.0));
        self
    }
}

impl FromStr for HashDigits {
    type Err = Refusal;
    fn from_str(text: &str) -> Result<Self, Refusal> {
        let digits: String = text.split_whitespace().collect();
        if !digits.bytes().all(|b| b.is_ascii_hexdigit()) {
            return Err(Refusal::NotHexadecimal);
        }
        if digits.len() > *HASH_DIGITS.end() {
            return Err(Refusal::LongHash(*HASH_DIGITS.end()));
        }
        Ok(Self(digits.to_ascii_lowercase()))
    }
}

/// The last entry of a log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogHead {
    /// Its number: the entries of the log.
    pub entries: u64,
    /// Its hash, hexadecimal.
    pub hash: String,
}

impl LogHead {
    pub(super) fn of(head: &Head) -> Self {
        Self { entries: head.seq, hash: head.hash.to_string() }
    }
}

/// A log whose chain and file were checked. Memory does not grow with the log.
#[derive(Debug)]
pub struct Verified {
    journal: Journal,
    head: Head,
    signatures: SignOffs,
    took_up_wings: bool,
}

#[derive(Default)]
struct Met {
    signatures: SignOffs,
    took_up_wings: bool,
}

impl TakesIn for Met {
    fn reading(&mut self, reading: &StoredReading<'_>) {
        self.signatures.passed(reading.seq);
    }
    fn entry(&mut self, entry: Entry) {
        self.signatures.saw(&entry);
        self.took_up_wings |= matches!(entry.what, What::Wing(_));
    }
}

impl Verified {
    /// Checks it once.
    ///
    /// # Errors
    /// If it cannot be opened; the first entry that does not fit, or what else was changed.
    pub fn of(log: &Path) -> Result<Self, SessionError> {
        let journal = Journal::open_read_only(log)?;
        let Walked { head, into } = journal.verify_into(Met::default())?;
        let Met { signatures, took_up_wings } = into;
        Ok(Self { journal, head, signatures, took_up_wings })
    }

    /// How many entries there are and the hash of the last, hexadecimal.
    pub fn head(&self) -> LogHead {
        LogHead::of(&self.head)
    }

    /// Whether a wing's log was taken up into it.
    pub const fn took_up_wings(&self) -> bool {
        self.took_up_wings
    }

    /// Every sign-off in it, and what its signature is worth.
    pub const fn signatures(&self) -> &SignOffs {
        &self.signatures
    }

    /// How a head that someone wrote down (number of entries, hash in hexadecimal) relates to this log.
    ///
    /// # Errors
    /// If the log cannot be read.
    pub fn since(&self, entries: u64, hash: &str) -> Result<Since, SessionError> {
        let stored = self.journal.hash_at(entries)?;
        let found = stored.is_some_and(|h| h.to_string().eq_ignore_ascii_case(hash));
        let last = self.head.seq;
        Ok(match found {
            false => Since::Foreign,
            true if last == entries => Since::Same,
            true => Since::Earlier(last.saturating_sub(entries)),
        })
    }

    /// Whether the entry is the one on paper.
    ///
    /// # Errors
    /// If the log cannot be read.
    pub fn on_paper(&self, paper: &HashOnPaper) -> Result<OnPaper, SessionError> {
        let entry = paper.entry;
        if entry == 0 || entry > self.head.seq {
            return Ok(OnPaper::NoSuchEntry(self.head.seq));
        }
        let stored = self.journal.hash_at(entry)?.map(|hash| hash.to_string()).unwrap_or_default();
        if !stored.starts_with(&paper.digits.to_ascii_lowercase()) {
            return Ok(OnPaper::Differs);
        }
        let found = self.journal.entries_since(entry - 1).next().transpose()?;
        Ok(found.map_or(OnPaper::Differs, |found| OnPaper::Fits(found.when())))
    }
}
