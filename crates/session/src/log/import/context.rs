//! The context for reading the lines of a table.

use record::{At, Facing, Instrument, Plan};
use std::collections::BTreeMap;

/// Defaults for every line of a table, and what the person says about the table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ImportWith {
    pub instrument: Option<String>,
    pub facing: Option<Facing>,
    /// Whether readings that are already in the log really were taken again.
    pub again: bool,
}

pub(super) struct Context<'a> {
    pub(super) plan: &'a Plan,
    pub(super) known: &'a BTreeMap<String, Instrument>,
    pub(super) by: &'a str,
    pub(super) now: At,
    pub(super) stage: Option<&'a str>,
    pub(super) last_round: u32,
    pub(super) defaults: &'a ImportWith,
    /// The separator of the fields.
    pub(super) delimiter: u8,
}
