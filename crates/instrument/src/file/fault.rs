//! What can be wrong in an instrument file, and what to write instead.

use crate::{Axis, MAX_VALUES, TemplateFault};
use quantity::{InstrumentKind, Kind, TypedError};
use std::string::String;
use std::vec::Vec;

/// What is wrong at a place of an instrument file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FileFault {
    #[error("{}", .0.message())]
    Toml(#[source] toml::de::Error),
    #[error("unknown key `{0}`")]
    UnknownKey(String),
    #[error("unknown {noun} `{word}`")]
    UnknownWord {
        /// What the word was meant to name.
        noun: &'static str,
        word: String,
    },
    #[error("`{0}` is missing")]
    Missing(&'static str),
    #[error("`{key}` is {is}")]
    Form {
        key: &'static str,
        /// How it must be written.
        is: &'static str,
    },
    #[error("`{0}` is a table with the head [{0}]")]
    NoTable(&'static str),
    #[error("`{key}` is {least} to {most}")]
    Range { key: &'static str, least: u64, most: u64 },
    #[error("`{key}` is {one} or {other}")]
    Either { key: &'static str, one: u8, other: u8 },
    #[error("`{key}`: {why}")]
    Typed {
        key: &'static str,
        #[source]
        why: TypedError,
    },
    #[error("`{key}` is a number in {} or a text with its unit", .kind.base_symbol())]
    NoSize { key: &'static str, kind: Kind },
    #[error("`{key}` must be {least}")]
    TooSmall {
        key: &'static str,
        /// `above zero`, or `zero or more`.
        least: &'static str,
    },
    #[error("`due` is before the day it was checked, {checked}")]
    DueBefore {
        /// The day, as written.
        checked: String,
    },
    #[error("`unit` must be a unit of {}, such as \"{}\"", .0.word(), .0.base_symbol())]
    Unit(Kind),
    #[error("the dialect has no `{}`; it has {}", .axis.word(), words(.carried))]
    NotCarried { axis: Axis, carried: Vec<Axis> },
    #[error("an instrument of the kind `{}` measures {}s, but `{}` is not one", .kind.word(), .measures.word(), .axis.word())]
    OtherKind { kind: InstrumentKind, measures: Kind, axis: Axis },
    #[error("`[axes]` needs `positive` for an angle")]
    NoPositive,
    #[error("`band` is less than one step of the display, which would never settle")]
    NarrowBand,
    #[error("with `hold_ms = 0` each value is a reading, so leave out `samples`")]
    NoSamples,
    #[error("{0} is an unusual rate")]
    Rate(u32),
    #[error("`{key}` goes with `speaks = \"{of}\"`, not with \"{speaks}\"")]
    OtherDialect { key: &'static str, of: &'static str, speaks: &'static str },
    #[error("`speaks = \"{speaks}\"` needs `{key}`")]
    Needs { speaks: &'static str, key: &'static str },
    #[error("the form contains the character that `{key}` names: {mark:?}")]
    MarkInForm { key: &'static str, mark: char },
    #[error("{0}")]
    Template(#[source] TemplateFault),
    #[error("`names` has {0} transducers; 1 to {MAX_VALUES} can be read")]
    Transducers(usize),
    #[error("a transducer's name has at most 12 characters")]
    LongName,
    #[error("a transducer means an axis, such as \"angle\"")]
    NoAxis,
    #[error("there are {0} values; 1 to {MAX_VALUES} can be read")]
    Values(usize),
    #[error("a slave's address is 1 to 247")]
    Slave,
    #[error("`{unit}` is not a unit of `{}`", .axis.word())]
    UnitOfAxis { unit: String, axis: Axis },
    #[error("a value of two registers needs `order`")]
    NoOrder,
    #[error("there is no register behind 65535")]
    NoRegister,
    #[error("`scale` is the value of one count and cannot be zero")]
    NoScale,
}

fn words(axes: &[Axis]) -> String {
    axes.iter().map(|axis| axis.word()).collect::<Vec<_>>().join(", ")
}

/// What to write instead.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Right {
    /// What to write, and why.
    #[error("{0}")]
    Write(&'static str),
    /// The nearest of the words known.
    #[error("did you mean `{0}`?")]
    Meant(String),
    /// The known words, if none is near.
    #[error("known here: {}", .0.join(", "))]
    Known(Vec<String>),
    /// The nearest of the usual rates.
    #[error("did you mean {0}? If not, write sure = true below it")]
    Rate(u32),
}

impl Right {
    /// The nearest of the known words, or all of them.
    pub(super) fn of(unknown: &str, known: &[&str]) -> Self {
        match quantity::nearest(unknown, known.iter().copied()) {
            Some(word) => Self::Meant((*word).into()),
            None => Self::Known(known.iter().map(|word| (*word).into()).collect()),
        }
    }
}
