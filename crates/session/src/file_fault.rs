//! Why a file's content cannot be used; the file's name precedes the message.

use crate::log::LineFault;
use crate::{FileSort, shown};
use assess::series::geometry::Unlike;
use thiserror::Error;

#[derive(Debug, Error)]
pub(crate) enum FileFault {
    #[error("is a folder, not a {0}")]
    Folder(FileSort),
    #[error("is not a plain file")]
    NotPlain,
    #[error("is {mb} MB, too large for a {what}; check the name")]
    Large { mb: u64, what: FileSort },
    #[error("is too large for a {0}; check the name")]
    TooLarge(FileSort),
    #[error("is over {mb} MB, too large for a {what}")]
    Over { mb: u64, what: FileSort },
    #[error("is empty, so it is not a {0}")]
    Empty(FileSort),
    #[error("is not text: line {line} has bytes that are not UTF-8; save it as UTF-8, or check the name")]
    NotText {
        line: usize,
        #[source]
        why: std::str::Utf8Error,
    },
    #[error("is not text; save the table as UTF-8 CSV")]
    TableNotText(#[source] std::string::FromUtf8Error),
    #[error("its header cannot be used: {0}")]
    Header(#[source] LineFault),
    #[error("has no readings that count")]
    NothingCounted,
    #[error("has a header but no readings")]
    NoReadings,
    #[error("{}", shown(&.0.to_string()))]
    NoDate(#[source] record::DateParseError),
    #[error("is not a file of watch lines, so it is left unchanged; give --log another name")]
    NotAWatch,
    // A key
    #[error("is a secret key, not a public one; its public half is in the file that ends in .pub")]
    SecretKey,
    #[error(
        "is not a public key: `ed25519` and 64 hexadecimal digits are expected; `jigtrue sign --new-key FILE` \
            writes FILE.pub"
    )]
    NoPublicKey,
    #[error("is not a key file: 64 hexadecimal digits are expected; `jigtrue sign --new-key FILE` makes one")]
    NoKey,
    #[error(
        "can be read by others, so it proves nothing; `chmod 600` it, and if somebody may have read it, make \
            a new one with `jigtrue sign --new-key FILE`"
    )]
    OpenKey,
    // A series
    #[error("is not the output of `jigtrue series LOG... --json`: {0}")]
    NoSeries(#[source] serde_json::Error),
    #[error("has format {0}, but this program reads format 1")]
    OtherFormat(u32),
    #[error("is of another kind of wing: {}", keys(.0))]
    OtherKind(Vec<Unlike>),
    #[error("is of another jig: {}", keys(.0))]
    OtherJig(Vec<Unlike>),
    #[error("has no moves with the twist measured before and after, so there is nothing to start from")]
    NoMoves,
    #[error("has a stiffness that does not fit the supports of this plan")]
    OtherSupports,
}

/// The most keys that a message names.
const NAMED: usize = 3;

fn keys(unlike: &[Unlike]) -> String {
    let named: Vec<String> = unlike.iter().take(NAMED).map(ToString::to_string).collect();
    shown(&named.join(", ")).into_owned()
}
