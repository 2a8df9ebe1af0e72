//! What can go wrong, in words a person can act on; the cause is kept as [`Error::source`].

use crate::not_done::{NotSigned, Unmet};
use crate::{brief, shown};
use assess::expect::{Impossible, Question};
use journal::whole::WholeError;
use journal::{JournalError, plain};
use quantity::TypedError;
use std::error::Error;
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// Something could not be done. Its `Display` says what, where, and what to do.
#[derive(Debug)]
pub enum SessionError {
    /// What a file holds cannot be used.
    File {
        /// The file; `-` is standard input.
        path: PathBuf,
        /// Why, and what would do.
        why: String,
    },
    /// The system could not read or write a file.
    Io {
        /// The file.
        path: PathBuf,
        /// What failed: `the plan cannot be opened`.
        did: String,
        /// What the system said.
        source: io::Error,
    },
    /// A file was not written; what was in its place is still there.
    Unwritten {
        /// The file.
        path: PathBuf,
        /// Why.
        source: WholeError,
    },
    /// The answer could not be written to where output goes.
    Output(io::Error),
    /// An entry is in the log, and the answer that says so could not be written.
    Unsaid {
        /// The entry's number.
        entry: u64,
        /// Why nothing could be said.
        source: Box<SessionError>,
    },
    /// The plan has a mistake; the report shows line, column and what would be right.
    Plan {
        /// The plan's file, or the log that holds it.
        path: PathBuf,
        /// The report, on several lines.
        report: String,
    },
    /// The log could not be opened, read or written.
    Log(JournalError),
    /// Nothing was signed.
    NotSigned(NotSigned),
    /// Whoever read the output went away; nothing is wrong and there is nothing to say.
    Closed,
    /// What was asked for cannot be done with this log; the sentence says why and what would do.
    Refused(String),
    /// A text is no value; it is shown with a mark under the place where it went wrong.
    Typed {
        /// The text.
        text: String,
        /// What is wrong.
        source: TypedError,
    },
    /// A text is no amount of a move.
    NoAmount {
        /// The text.
        text: String,
        /// Why it is no length either.
        source: TypedError,
    },
    /// A log without a plan.
    NoPlan(PathBuf),
    /// What is typed cannot be read.
    Input(io::Error),
    /// The signals that end a program cannot be caught.
    Signals(io::Error),
    /// It cannot be done for what another part of the program says.
    Because(Box<dyn Error + Send + Sync>),
    /// A name that the plan or the log does not have.
    NotKnown {
        /// What is not known and what would do.
        words: String,
        /// The name nearest to it, if any is near.
        nearest: Option<String>,
    },
    /// A value that is recorded only when it is given again on purpose.
    Asks(Question),
    /// Somebody said that they are sure of a value, and nothing would have been asked about it.
    NothingAsked,
    /// A stage that is not begun without a reason.
    Unmet(Unmet),
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
    pub(crate) fn io(path: &Path, did: &str, source: io::Error) -> Self {
        Self::Io { path: path.to_owned(), did: did.to_owned(), source }
    }

    /// True where the log was not touched and nothing is broken: what was asked for cannot be done.
    #[must_use]
    pub const fn is_refusal(&self) -> bool {
        matches!(
            self,
            Self::Refused(_)
                | Self::Typed { .. }
                | Self::NoAmount { .. }
                | Self::NoPlan(_)
                | Self::Input(_)
                | Self::Signals(_)
                | Self::Because(_)
                | Self::NotKnown { .. }
                | Self::Asks(_)
                | Self::NothingAsked
                | Self::Impossible(_)
        )
    }

    /// The log that was named and is not there, if that is what is wrong.
    #[must_use]
    pub fn missing_log(&self) -> Option<&Path> {
        match self {
            Self::Log(why) if matches!(why.fault, journal::Fault::Missing) => Some(&why.path),
            _ => None,
        }
    }

    /// It cannot be done for what this says.
    pub fn because(why: impl Into<Box<dyn Error + Send + Sync>>) -> Self {
        Self::Because(why.into())
    }

    pub(crate) fn refused(words: impl Into<String>) -> Self {
        Self::Refused(words.into())
    }
}

impl fmt::Display for SessionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File { path, why } => write!(f, "{}: {why}", named(path)),
            Self::Io { path, did, source } => write!(f, "{}: {did}: {}", named(path), plain(source)),
            Self::Unwritten { path, source } => write!(f, "{}: {source}", named(path)),
            Self::Output(source) => write!(f, "the output cannot be written: {}", plain(source)),
            Self::Unsaid { entry, source } => {
                write!(f, "entry {entry} IS in the log; do not repeat it. Only the answer failed: {source}")
            }
            Self::Log(why) => why.fmt(f),
            Self::NotSigned(why) => why.fmt(f),
            Self::Plan { path, report } => {
                write!(f, "the plan in {} cannot be used\n{report}", path.display())
            }
            Self::Closed => f.write_str("the reader of the output went away"),
            Self::Refused(words) | Self::NotKnown { words, .. } => f.write_str(words),
            Self::Typed { text, source } if text.len() > quantity::typed::MAX_BYTES => {
                write!(f, "{source}\n  {}", brief(text))
            }
            Self::Typed { text, source } => {
                let before = text.get(..source.at).map_or(0, |b| shown(b).chars().count());
                write!(f, "{source}\n  {}\n  {:before$}^", shown(text), "")
            }
            Self::NoAmount { text, source } => write!(
                f,
                "`{}` is no amount of a move ({source}); write turns with a direction, as in `3/8 turn cw`, or millimetres, \
                 as in `0.5 mm` or `-0.2 mm`, positive in the support's own direction",
                shown(text)
            ),
            Self::NoPlan(log) => write!(f, "{} holds no plan; keep it and start a new log", log.display()),
            Self::Input(source) => write!(f, "what is typed cannot be read: {source}"),
            Self::Signals(source) => write!(f, "Ctrl-C cannot be heeded: {source}"),
            Self::Because(why) => why.fmt(f),
            Self::Asks(question) => {
                write!(f, "{}.\n  Not recorded. If it really is so, say that you are sure", question.why)
            }
            Self::NothingAsked => f.write_str(
                "nothing would be asked about this; leave out that you are sure. Nothing was recorded",
            ),
            Self::Unmet(unmet) => unmet.fmt(f),
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

fn named(path: &Path) -> std::borrow::Cow<'_, str> {
    if path == Path::new("-") { "standard input".into() } else { path.to_string_lossy() }
}

impl Error for SessionError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            Self::Io { source, .. } | Self::Output(source) | Self::Input(source) | Self::Signals(source) => {
                Some(source)
            }
            Self::Typed { source, .. } | Self::NoAmount { source, .. } => Some(source),
            Self::Because(why) => Some(why.as_ref()),
            Self::Unwritten { source, .. } => Some(source),
            Self::Unsaid { source, .. } => Some(source),
            Self::Log(why) => Some(why),
            Self::NotSigned(why) => Some(why),
            Self::File { .. }
            | Self::Plan { .. }
            | Self::Closed
            | Self::Refused(_)
            | Self::NoPlan(_)
            | Self::NotKnown { .. }
            | Self::Asks(_)
            | Self::NothingAsked
            | Self::Unmet(_)
            | Self::Impossible(_)
            | Self::Table { .. }
            | Self::Port { .. } => None,
        }
    }
}

impl From<Impossible> for SessionError {
    fn from(why: Impossible) -> Self {
        Self::Impossible(why)
    }
}

impl From<JournalError> for SessionError {
    fn from(why: JournalError) -> Self {
        Self::Log(why)
    }
}

impl From<NotSigned> for SessionError {
    fn from(why: NotSigned) -> Self {
        Self::NotSigned(why)
    }
}
