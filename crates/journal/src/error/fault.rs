//! The kinds of things that go wrong.

use crate::schema::Alteration;
use record::EntryError;
use std::path::PathBuf;

/// What is the matter.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Fault {
    /// There is no such file.
    Missing,
    /// There is none, and its part beside it lies there: the log was moved away without it.
    PartAlone(PathBuf),
    /// There is no such folder to put it in.
    NoFolder(PathBuf),
    /// There is one already.
    Exists,
    /// The part of an older log that was not yet merged lies where the new one should go.
    Leftover,
    /// Something that is not a plain file has the name of the part beside the log.
    PartBeside(PathBuf),
    /// It is something else.
    NotALog(NotALog),
    /// A newer program wrote it; the format found.
    Newer(i32),
    /// It is cut short or its bytes are damaged.
    Damaged(Damage),
    /// Its tables or guards are not as they were made.
    Altered(Alteration),
    /// The chain of entries is broken.
    Broken(Break),
    /// It cannot be written.
    ReadOnly,
    /// The folder is read-only and the log has a part that is not yet merged.
    Unmerged,
    /// Permission is missing.
    Denied,
    /// The disk is full.
    Full,
    /// Another program held it for longer than we wait.
    Busy,
    /// It was deleted or replaced while it was open.
    Replaced,
    /// An entry is larger than [`crate::MAX_BODY_BYTES`]; its bytes.
    TooLarge(usize),
    /// An entry holds something that could not be read back; the cause says what.
    Unstorable,
    /// An entry that the chain has no place for, such as a second start.
    OutOfPlace(Break),
    /// The file system cannot do what a shared log needs.
    Unsuitable,
    /// Anything else the system says: the cause.
    System,
}

/// What is there where a log should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotALog {
    #[error("it is a folder")]
    Folder,
    /// A device, a pipe or a socket.
    #[error("it is not a plain file")]
    NotPlain,
    #[error("it is empty; if a start of it was broken off, delete it")]
    Empty,
    #[error("it is some other program's database")]
    Foreign,
    /// No database at all.
    #[error("its content is something else")]
    OtherContent,
}

/// How the file is damaged.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Damage {
    /// The cause says more.
    #[error("its bytes are not what SQLite writes")]
    Bytes,
    /// SQLite's own check of the file found this.
    #[error("{0}")]
    Check(String),
    #[error("an entry is larger than any that is ever written")]
    TooLarge,
    #[error("it says it is of format {0}, which never was")]
    Format(i32),
}

/// The first entry that does not fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Break {
    /// The number that is wrong or missing.
    pub seq: u64,
    /// What is wrong with it.
    pub why: Why,
}

/// Why an entry does not fit.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Why {
    /// No entry has this number.
    Missing,
    /// The hash does not follow from the entry and the one before.
    Changed,
    /// The hash fits but the content is nothing this program can read.
    Unreadable(Unreadable),
    /// The first entry is not the start of a log.
    NotAStart,
    /// A later entry is the start of a log.
    SecondStart,
    /// A sign-off names a state the log never had.
    SignedElsewhere,
    /// It withdraws something that cannot be withdrawn.
    Withdraws(u64, Target),
    /// It says that this was the highest round, and it was not.
    HighestRound(u32),
}

/// What is wrong with the target of a withdrawal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target {
    /// It is not an earlier entry.
    NotEarlier,
    /// It is a plan or a sign-off.
    Lasting,
}

/// What of an entry cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unreadable {
    #[error("its number is not a number")]
    Number,
    #[error("its time is not a number")]
    Time,
    /// It is not 32 bytes.
    #[error("its hash is not a hash")]
    Hash,
    #[error("its `{0}` is not text")]
    Text(&'static str),
    #[error("its kind is not a word")]
    Kind,
    /// Kind and body are no entry.
    #[error("{0}")]
    Entry(#[source] EntryError),
}
