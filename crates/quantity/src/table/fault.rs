//! What can be wrong with a file, a key or a value, whatever the file is about.

use crate::TypedError;
use alloc::borrow::Cow;
use alloc::string::String;
use thiserror::Error;

/// What is wrong.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TableFault {
    #[error("this is not text: there is a control character in it")]
    NotText,
    #[error("{}", .0.message())]
    NotToml(#[source] toml::de::Error),
    #[error("the {0} is incomplete")]
    Incomplete(&'static str),
    #[error("{table} lacks `{key}`")]
    Lacks { table: &'static str, key: &'static str },
    #[error("{table} has no key `{key}`")]
    NoKey { table: &'static str, key: String },
    #[error("`{key}` must be {wanted}")]
    MustBe { key: &'static str, wanted: Cow<'static, str> },
    #[error("`{key}` {why}")]
    Text {
        key: &'static str,
        #[source]
        why: BadText,
    },
    #[error("a name {0}")]
    Name(#[source] BadName),
    #[error("`{key}`: {why}")]
    Value {
        key: &'static str,
        #[source]
        why: TypedError,
    },
}

/// What is wrong with a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum BadText {
    #[error("must not be empty")]
    Empty,
    #[error("must be on one line, without control characters")]
    Control,
    #[error("has at most {0} characters")]
    TooLong(usize),
}

/// What is wrong with a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum BadName {
    #[error("must not begin or end with a space")]
    Space,
    #[error("has at most {0} characters")]
    TooLong(usize),
    #[error("must not contain `{0}`: it is used in writing points")]
    OfAPoint(char),
}
