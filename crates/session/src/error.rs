//! What can go wrong, in words a person can act on.

use assess::expect::{Impossible, Question};
use std::fmt;
use std::path::{Path, PathBuf};

/// Something could not be done. Its `Display` says what, where, and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SessionError {
    /// A file could not be read or written.
    File {
        /// The file.
        path: PathBuf,
        /// What was tried and what came of it.
        why: String,
    },
    /// The plan has a mistake; the report shows line, column and what would be right.
    Plan {
        /// The plan's file, or the log that holds it.
        path: PathBuf,
        /// The report, on several lines.
        report: String,
    },
    /// The log could not be opened, read or written.
    Log(journal::JournalError),
    /// Whoever read the output went away; nothing is wrong and there is nothing to say.
    Closed,
    /// What was asked for cannot be done with this log; the sentence says why and what would do.
    Refused(String),
    /// A value that is recorded only when it is given again on purpose.
    Asks(Question),
    /// Somebody said that they are sure of a value, and nothing would have been asked about it.
    NothingAsked,
    /// A value that is recorded by no way in.
    Impossible(Impossible),
    /// Lines of a table that cannot be taken. Nothing of it was.
    Table {
        /// The table.
        path: PathBuf,
        /// Line number (the header is line 1) and what is wrong with it; at most the first 20.
        lines: Vec<(u64, String)>,
        /// How many bad lines there were in all.
        bad: u64,
    },
    /// A port could not be used.
    Port {
        /// The port as given.
        port: String,
        /// Why.
        why: String,
    },
}

impl SessionError {
    pub(crate) fn file(path: &Path, did: &str, why: &std::io::Error) -> Self {
        Self::File { path: path.to_owned(), why: format!("{did}: {}", plain_io(why)) }
    }

    pub(crate) fn refused(words: impl Into<String>) -> Self {
        Self::Refused(words.into())
    }
}

/// The operating system's word for it, without its number.
pub(crate) fn plain_io(why: &std::io::Error) -> String {
    let text = why.to_string();
    match text.find(" (os error") {
        Some(end) => text[..end].to_lowercase(),
        None => text,
    }
}

impl fmt::Display for SessionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File { path, why } if path == Path::new("-") => write!(f, "standard input: {why}"),
            Self::File { path, why } => write!(f, "{}: {why}", path.display()),
            Self::Log(why) => why.fmt(f),
            Self::Plan { path, report } => {
                write!(f, "the plan in {} cannot be used\n{report}", path.display())
            }
            Self::Closed => f.write_str("the reader of the output went away"),
            Self::Refused(words) => f.write_str(words),
            Self::Asks(question) => {
                write!(f, "{}.\n  Not recorded. If it really is so, say that you are sure", question.why)
            }
            Self::NothingAsked => f.write_str(
                "nothing would be asked about this; leave out that you are sure. Nothing was recorded",
            ),
            Self::Impossible(why) => write!(f, "{why}. Not recorded"),
            Self::Table { path, lines, bad } => {
                write!(f, "{}: nothing was taken, because of these lines:", path.display())?;
                for (line, why) in lines {
                    write!(f, "\n  line {line}: {why}")?;
                }
                let more = bad.saturating_sub(lines.len() as u64);
                if more > 0 {
                    write!(f, "\n  and {more} more")?;
                }
                Ok(())
            }
            Self::Port { port, why } => write!(f, "port {port}: {why}"),
        }
    }
}

impl std::error::Error for SessionError {}

impl From<Impossible> for SessionError {
    fn from(why: Impossible) -> Self {
        Self::Impossible(why)
    }
}

impl From<journal::JournalError> for SessionError {
    fn from(why: journal::JournalError) -> Self {
        Self::Log(why)
    }
}
