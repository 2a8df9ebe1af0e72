//! The context for reading the lines of a table.

use record::{At, Facing, Instrument, Plan};
use std::collections::BTreeMap;

/// The same, borrowed.
pub(super) struct Defaults<'a> {
    pub(super) instrument: Option<&'a str>,
    pub(super) facing: Option<Facing>,
}

pub(super) struct Context<'a> {
    pub(super) plan: &'a Plan,
    pub(super) known: &'a BTreeMap<String, Instrument>,
    pub(super) by: &'a str,
    pub(super) now: At,
    pub(super) stage: Option<&'a str>,
    pub(super) last_round: u32,
    pub(super) defaults: Defaults<'a>,
    /// The separator of the fields.
    pub(super) delimiter: u8,
}
