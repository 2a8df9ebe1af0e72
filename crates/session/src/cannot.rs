//! What the system could not do with a file, and what sort of file it should be.

use std::fmt;
use thiserror::Error;

/// A sort of file that is read whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileSort {
    Plan,
    Table,
    Sheet,
    Series,
    InstrumentFile,
    KeyFile,
    PublicKey,
}

impl fmt::Display for FileSort {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Plan => "plan",
            Self::Table => "table",
            Self::Sheet => "sheet",
            Self::Series => "series",
            Self::InstrumentFile => "instrument file",
            Self::KeyFile => "key file",
            Self::PublicKey => "public key",
        })
    }
}

/// What could not be done; the file's name stands before it, the system's reason after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Cannot {
    #[error("the {0} cannot be opened")]
    Open(FileSort),
    #[error("the {0} cannot be read")]
    ReadAs(FileSort),
    #[error("cannot be read")]
    Read,
    #[error("cannot be written")]
    Write,
    #[error("cannot be made")]
    Make,
    #[error("cannot be used")]
    Use,
    #[error("cannot be put in place")]
    PutInPlace,
    #[error("cannot be put back")]
    PutBack,
    #[error("cannot be replaced")]
    Replace,
    #[error("the folder cannot be made")]
    MakeFolder,
    #[error("the folder cannot be read")]
    LookInto,
    #[error("no random bytes for a key")]
    MakeKey,
}
