//! The messages for what goes wrong.

use super::{Break, Damage, Fault, JournalError, Target, Why};
use std::error::Error;
use std::fmt;

impl fmt::Display for Break {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seq = self.seq;
        match &self.why {
            Why::Missing => write!(f, "entry {seq} is missing"),
            Why::Changed => write!(
                f,
                "entry {seq} is not as it was written, or does not follow entry {}",
                seq.saturating_sub(1)
            ),
            Why::Unreadable(why) => write!(f, "entry {seq} cannot be read: {why}"),
            Why::NotAStart => write!(f, "entry {seq} should be the start of the log, but is not"),
            Why::SecondStart => {
                write!(f, "entry {seq} starts the log a second time; only entry 1 can be a start")
            }
            Why::HighestRound(said) => {
                write!(f, "entry {seq} says that the highest round so far was {said}, but it was not")
            }
            Why::SignedElsewhere => write!(f, "entry {seq} signs a state that this log never had"),
            Why::Withdraws(target, Target::NotEarlier) => {
                write!(f, "entry {seq} withdraws entry {target}, which is not an earlier one")
            }
            Why::Withdraws(target, Target::Lasting) => write!(
                f,
                "entry {seq} withdraws entry {target}, a plan or a sign-off, which can never be withdrawn"
            ),
        }
    }
}

/// What the system reported, without its number: `no space left on device`.
pub fn plain(cause: &dyn Error) -> String {
    let text = cause.to_string();
    match text.find(" (os error") {
        Some(end) => text.get(..end).unwrap_or(&text).to_lowercase(),
        None => text,
    }
}

/// What the system or SQLite reported, or that no reason is known.
struct Said<'e>(&'e JournalError);

impl fmt::Display for Said<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (&self.0.fault, &self.0.cause) {
            (Fault::Damaged(damage), _) if *damage != Damage::Bytes => damage.fmt(f),
            (_, Some(cause)) => f.write_str(&plain(&**cause)),
            (_, None) => f.write_str("no reason was given"),
        }
    }
}

impl fmt::Display for JournalError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = self.path.display();
        match &self.fault {
            Fault::Missing => {
                write!(f, "there is no log at {path}; check the name, or start one with `jigtrue new`")
            }
            Fault::PartAlone(part) => write!(
                f,
                "there is no log at {path}, but {} is there and may hold its newest entries: put the log back \
                    beside it under its old name, then open it",
                part.display()
            ),
            Fault::DeadLink(link) => write!(
                f,
                "whether there is a log at {path} cannot be told: the link {} leads to nothing; mount or mend what \
                    it leads to",
                link.display()
            ),
            Fault::NoFolder(folder) => {
                write!(f, "{path}: there is no folder {}; make it first", folder.display())
            }
            Fault::Exists => write!(f, "{path} exists already and is left unchanged; choose another name"),
            Fault::Leftover => write!(
                f,
                "{path}-wal is left from an older log and may hold readings of it; put that log back beside \
                    it, or move it away, then try again"
            ),
            Fault::PartBeside(part) => write!(
                f,
                "{} is in the way: {path} keeps its newest entries in a file with that name, but it is not a \
                    plain file; move it away, then try again",
                part.display()
            ),
            Fault::SecondName => write!(
                f,
                "{path} has a second name (a hard link), and entries written under one name could be lost under the \
                    other: nothing was written; remove one of the names, and copy a log with `jigtrue backup`"
            ),
            Fault::NotALog(why) => write!(f, "{path} is not a jigtrue log: {why}; check the name"),
            Fault::Newer(format) => write!(
                f,
                "{path} is of format {format}, newer than this program knows ({}); open it with a newer jigtrue",
                crate::FORMAT
            ),
            Fault::Damaged(_) => write!(
                f,
                "{path} is cut short or damaged ({}); keep the file as it is and continue from a backup",
                Said(self)
            ),
            Fault::Altered(what) => write!(
                f,
                "{path} was altered by another program: {what}; keep the file as it is and continue from a backup"
            ),
            Fault::Broken(at) => write!(
                f,
                "the chain of {path} is broken: {at}; entries before it are sound, nothing from it on can be \
                    relied on; keep the file as it is, take no more readings into it, and continue from a backup"
            ),
            Fault::ReadOnly => write!(
                f,
                "{path} cannot be written; make the file and its folder writable, or copy it elsewhere"
            ),
            Fault::Unmerged => write!(
                f,
                "{path} belongs together with {path}-wal or {path}-journal beside it, and its folder cannot \
                    be written; copy both files into a folder that can, and open it there"
            ),
            Fault::Denied => write!(f, "no permission for {path}; ask the owner of the file or its folder"),
            Fault::Full => write!(
                f,
                "the disk of {path} is full; nothing was written and nothing is lost; make room and repeat this step"
            ),
            Fault::Busy => write!(
                f,
                "another program holds {path}; nothing was written; close it or wait, and repeat this step"
            ),
            Fault::Replaced => write!(
                f,
                "{path} was deleted, moved or replaced while it was open; the last step is not in it; close this program, put the file back, and repeat the step"
            ),
            Fault::TooLarge(bytes) => write!(
                f,
                "an entry for {path} would take {bytes} bytes; the most is {}; nothing was written",
                crate::MAX_BODY_BYTES
            ),
            Fault::Unstorable => {
                write!(
                    f,
                    "an entry for {path} could not be read back later ({}); nothing was written",
                    Said(self)
                )
            }
            Fault::OutOfPlace(at) => write!(f, "{path}: {at}; nothing was written"),
            Fault::Unsuitable => write!(
                f,
                "the file system of {path} cannot hold a log that programs share; put it on a local disk"
            ),
            Fault::System => write!(f, "{path}: {}", Said(self)),
        }
    }
}
