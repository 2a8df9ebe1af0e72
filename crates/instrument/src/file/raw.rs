//! The file as it is written, before anything in it is judged.

use super::{InstrumentKind, Parity, Positive};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::string::String;
use std::vec::Vec;
use toml::{Spanned, Value};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct File {
    pub name: Spanned<String>,
    pub number: Option<Spanned<String>>,
    pub kind: Spanned<InstrumentKind>,
    pub unit: Option<Spanned<String>>,
    pub resolution: Spanned<Value>,
    pub range: Option<Spanned<Value>>,
    pub accuracy: Option<Spanned<Value>>,
    pub repeatability: Option<Spanned<Value>>,
    pub scale: Option<Spanned<f64>>,
    pub checked: Option<Spanned<Value>>,
    pub due: Option<Spanned<Value>>,
    pub port: Port,
    pub dialect: Spanned<Dialect>,
    pub axes: Spanned<Axes>,
    #[serde(default)]
    pub settle: Settle,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Port {
    pub baud: Spanned<u32>,
    pub data_bits: Option<Spanned<u8>>,
    pub parity: Option<Parity>,
    pub stop_bits: Option<Spanned<u8>>,
}

/// The keys of all dialects; which of them go with which is judged later, so that messages can say so.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Dialect {
    pub speaks: Spanned<String>,
    pub line: Option<Spanned<String>>,
    pub names: Option<Spanned<BTreeMap<Spanned<String>, Spanned<String>>>>,
    pub slave: Option<Spanned<u8>>,
    pub registers: Option<Spanned<String>>,
    pub every_ms: Option<Spanned<u16>>,
    pub value: Option<Spanned<Vec<Spanned<Register>>>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Register {
    pub axis: Spanned<String>,
    pub unit: Spanned<String>,
    pub address: u16,
    pub form: Spanned<String>,
    pub order: Option<Spanned<String>>,
    pub scale: Spanned<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Axes {
    pub measures: Spanned<String>,
    pub positive: Option<Spanned<Positive>>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Settle {
    pub noise: Option<Spanned<Value>>,
    pub band: Option<Spanned<Value>>,
    pub hold_ms: Option<Spanned<u64>>,
    pub samples: Option<Spanned<u32>>,
    pub lost_after_ms: Option<Spanned<u64>>,
}
