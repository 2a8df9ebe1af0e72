//! What the system could not do with a file, and what sort of file it should be.

use thiserror::Error;

/// A sort of file that is read whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum FileSort {
    #[error("plan")]
    Plan,
    #[error("table")]
    Table,
    #[error("sheet")]
    Sheet,
    #[error("series")]
    Series,
    #[error("instrument file")]
    InstrumentFile,
    #[error("key file")]
    KeyFile,
    #[error("public key")]
    PublicKey,
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
