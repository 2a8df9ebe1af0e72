//! The kinds of things that go wrong.

use crate::schema::Alteration;
use record::EntryError;
use std::path::PathBuf;

/// What is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Fault {
    /// There is no such file.
    Missing,
    /// It is missing, but its part is still there: the log was moved away without it.
    PartAlone(PathBuf),
    /// It is missing because this link, to it or to a folder of its path, leads nowhere.
    DeadLink(PathBuf),
    /// There is no such folder to put it in.
    NoFolder(PathBuf),
    /// There is one already.
    Exists,
    /// The unmerged part of an older log is where the new one should go.
    Leftover,
    /// Something with the name of the part beside the log is not a plain file.
    PartBeside(PathBuf),
    /// The file has a second name (a hard link), under which another program could write to it unseen.
    SecondName,
    /// It is something else.
    NotALog(NotALog),
    /// A newer program wrote it; the format found.
    Newer(i32),
    /// It is cut short or its bytes are damaged.
    Damaged(Damage),
    /// Its tables or guards were changed.
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
    /// Another program held it longer than the waiting time.
    Busy,
    /// It was deleted or replaced while it was open.
    Replaced,
    /// An entry is larger than [`crate::MAX_BODY_BYTES`]; its bytes.
    TooLarge(usize),
    /// An entry could not be read back; the cause says why.
    Unstorable,
    /// An entry that has no place in the chain, such as a second start.
    OutOfPlace(Break),
    /// The file system lacks what a shared log needs.
    Unsuitable,
    /// Anything else that the system reports; see the cause.
    System,
}

/// What is at the path of the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotALog {
    #[error("it is a folder")]
    Folder,
    /// A device, a pipe or a socket.
    #[error("it is not a plain file")]
    NotPlain,
    #[error("it is empty; if starting it was interrupted, delete it")]
    Empty,
    #[error("it is another program's database")]
    Foreign,
    /// Not a database.
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
    #[error("an entry is larger than any this program writes")]
    TooLarge,
    #[error("it says it is of format {0}, which never existed")]
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
    /// The hash fits, but this program cannot read the content.
    Unreadable(Unreadable),
    /// The first entry is not the start of a log.
    NotAStart,
    /// A later entry is the start of a log.
    SecondStart,
    /// A sign-off names a state that the log never had.
    SignedElsewhere,
    /// It withdraws something that cannot be withdrawn.
    Withdraws(u64, Target),
    /// It says that this was the highest round, but it was not.
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

/// What about an entry cannot be read.
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
    /// Kind and body are not an entry.
    #[error("{0}")]
    Entry(#[source] EntryError),
}
