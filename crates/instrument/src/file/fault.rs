//! What can be wrong in an instrument file.

use crate::{Axis, MAX_VALUES, TemplateFault};
use quantity::table::TableFault;
use quantity::{InstrumentKind, Kind};
use std::string::String;
use std::vec::Vec;

/// What is wrong at a place of an instrument file.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FileFault {
    #[error(transparent)]
    Table(#[from] TableFault),
    #[error("`due` is before the day it was checked, {checked}")]
    DueBefore {
        /// The day, as written.
        checked: String,
    },
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
    #[error("the form contains the character that `{key}` names: {mark:?}")]
    MarkInForm { key: &'static str, mark: char },
    #[error("{0}")]
    Template(#[source] TemplateFault),
    #[error("`names` has {0} transducers; 1 to {MAX_VALUES} can be read")]
    Transducers(usize),
    #[error("a transducer's name has at most 12 characters")]
    LongName,
    #[error("there are {0} values; 1 to {MAX_VALUES} can be read")]
    Values(usize),
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
