//! The result of each part of the grammar: the rest of the text and a value, or where and why it failed.

use super::Fault;
use nom::error::{ErrorKind, ParseError};
use nom::{Err, IResult};

/// Where reading stopped and why.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fail<'a> {
    pub rest: &'a str,
    pub fault: Fault,
}

/// The result of a parser of this grammar.
pub(super) type Parsed<'a, T> = IResult<&'a str, T, Fail<'a>>;

impl<'a> ParseError<&'a str> for Fail<'a> {
    fn from_error_kind(rest: &'a str, _: ErrorKind) -> Self {
        Self { rest, fault: Fault::NotANumber }
    }

    fn append(_: &'a str, _: ErrorKind, other: Self) -> Self {
        other
    }
}

/// Stops for good: no other form is tried.
pub(super) fn fail<T>(rest: &str, fault: Fault) -> Parsed<'_, T> {
    Err(Err::Failure(Fail { rest, fault }))
}
