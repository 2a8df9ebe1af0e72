//! What can go wrong, with messages that a person can act on; the cause is kept as [`Error::source`].

use crate::cannot::Cannot;
use crate::log::{BadLine, LineFault};
use crate::not_done::{NotSigned, Unmet};
use crate::not_known::NotKnown;
use crate::port::PortFault;
use crate::refusal::Refusal;
use crate::shown;
use assess::expect::{Impossible, Question};
use journal::whole::WholeError;
use journal::{JournalError, plain};
use record::plan::PlanErrors;
use std::error::Error;
use std::io;
use std::path::{Path, PathBuf};

/// The error of another room that prevented something.
pub type Cause = Box<dyn Error + Send + Sync>;

/// Something could not be done. Its `Display` says what, where, and what to do.
#[derive(Debug, thiserror::Error)]
pub enum SessionError {
    /// The content of a file cannot be used.
    #[error("{}: {why}", named(.path))]
    File {
        /// The file; `-` is standard input.
        path: PathBuf,
        /// Why, and what to do.
        #[source]
        why: Cause,
    },
    /// The system could not read or write a file.
    #[error("{}: {what}: {}", named(.path), plain(.source))]
    Io { path: PathBuf, what: Cannot, source: io::Error },
    /// A file was not written; what was at its path is still there.
    #[error("{}: {source}", named(.path))]
    Unwritten { path: PathBuf, source: WholeError },
    /// The answer could not be written to the output.
    #[error("the output cannot be written: {}", plain(.0))]
    Output(#[source] io::Error),
    /// An entry is in the log, but the answer that says so could not be written.
    #[error("entry {entry} IS in the log; do not repeat it. Only the answer failed: {source}")]
    Unsaid {
        entry: u64,
        /// Why it could not be written.
        source: Box<SessionError>,
    },
    /// A log is started, but the log of a wing was not taken up into it.
    #[error(
        "{why}\n  {} is started, without it. Then: jigtrue wing {} {}=ITS-LOG",
        shown(&.log.display().to_string()),
        shown(&.log.display().to_string()),
        shown(.which)
    )]
    StartedWithout {
        log: PathBuf,
        which: String,
        #[source]
        why: Box<SessionError>,
    },
    /// The plan has a mistake; the report shows line, column and what to write instead.
    #[error("the plan in {} cannot be used\n{report}", .path.display())]
    Plan {
        /// The plan's file, or the log that holds it.
        path: PathBuf,
        #[source]
        report: PlanErrors,
    },
    /// The log could not be opened, read or written.
    #[error("{0}")]
    Log(#[from] JournalError),
    #[error("{0}")]
    NotSigned(#[from] NotSigned),
    /// The reader of the output went away: nothing is wrong, and nobody reads further output.
    #[error("the reader of the output went away")]
    Closed,
    /// The request cannot be carried out on this log or file.
    #[error("{0}")]
    Refused(#[from] Refusal),
    /// The typed input cannot be read.
    #[error("the typed input cannot be read: {}", plain(.0))]
    Input(#[source] io::Error),
    /// Another part of the program failed; this is the cause.
    #[error("{0}")]
    Because(#[source] Cause),
    /// A name that is not in the plan or the log.
    #[error(transparent)]
    NotKnown(#[from] NotKnown),
    /// A value that is recorded only if it is given again on purpose.
    #[error("{0}.\n  Not recorded. If it really is so, say that you are sure")]
    Asks(Box<Question>),
    /// The person said that they are sure, but no question would have been asked.
    #[error("there was no question about this; leave out that you are sure")]
    NothingAsked,
    #[error("{0}")]
    Unmet(Unmet),
    /// A value that cannot be recorded in any way.
    #[error("{0}. Not recorded")]
    Impossible(#[from] Impossible),
    /// Lines of a table that cannot be taken; none of its lines was.
    #[error("{}: nothing was recorded, because of these lines:{}", named(.path), listed(.lines, *.bad))]
    Table {
        path: PathBuf,
        /// At most the first 20.
        lines: Vec<BadLine>,
        /// How many bad lines there were in all.
        bad: u64,
    },
    #[error("port {port}: {why}")]
    Port {
        port: String,
        #[source]
        why: PortFault,
    },
}

impl SessionError {
    pub(crate) fn io(path: &Path, what: Cannot, source: io::Error) -> Self {
        Self::Io { path: path.to_owned(), what, source }
    }

    pub(crate) fn unwritten(path: &Path, source: impl Into<WholeError>) -> Self {
        Self::Unwritten { path: path.to_owned(), source: source.into() }
    }

    pub(crate) fn file(path: &Path, why: impl Into<Cause>) -> Self {
        Self::File { path: path.to_owned(), why: why.into() }
    }

    pub(crate) fn port(port: &str, why: impl Into<PortFault>) -> Self {
        Self::Port { port: shown(port).into_owned(), why: why.into() }
    }

    /// Whether the log is unchanged and intact: the request cannot be carried out.
    pub const fn is_refusal(&self) -> bool {
        matches!(
            self,
            Self::Refused(_)
                | Self::Input(_)
                | Self::Because(_)
                | Self::NotKnown(_)
                | Self::Asks(_)
                | Self::NothingAsked
                | Self::Impossible(_)
        )
    }

    /// The log that was named and is missing, if that is the error.
    pub fn missing_log(&self) -> Option<&Path> {
        match self {
            Self::Log(why) if matches!(why.fault, journal::Fault::Missing) => Some(&why.path),
            _ => None,
        }
    }

    /// It cannot be done because of this.
    pub fn because(why: impl Into<Cause>) -> Self {
        Self::Because(why.into())
    }
}

impl From<SessionError> for LineFault {
    fn from(why: SessionError) -> Self {
        Self::Refused(Box::new(why))
    }
}

fn named(path: &Path) -> std::borrow::Cow<'_, str> {
    if path == Path::new("-") { "standard input".into() } else { path.to_string_lossy() }
}

fn listed(lines: &[BadLine], bad: u64) -> String {
    let each: String = lines.iter().map(|bad| format!("\n  {bad}")).collect();
    match bad.saturating_sub(lines.len() as u64) {
        0 => each,
        more => format!("{each}\n  and {more} more"),
    }
}
