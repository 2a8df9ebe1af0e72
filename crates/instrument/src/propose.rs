//! Proposes an instrument file for an undescribed stream.

mod lines;

use crate::dialect::transducers;
use crate::{Axis, Decoder, DialectSpec, Notice, PortSettings, Sample, Unit, identify_stream};
use std::collections::BTreeMap;
use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

/// An instrument file for what was heard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proposal {
    /// The file. What only a person can know is marked CHECK.
    pub text: String,
    /// How many values it reads from what was heard.
    pub values: usize,
}

/// What a proposal says besides the dialect.
struct Found {
    dialect: String,
    measures: Axis,
    unit: Unit,
    decimals: u8,
    name: Option<String>,
    number: Option<String>,
    each_value: bool,
}

/// Proposes an instrument file for part of a stream heard on a port with these settings; `None` if too little is
/// known.
#[must_use]
pub fn propose(bytes: &[u8], port: &PortSettings) -> Option<Proposal> {
    let heard = identify_stream(bytes);
    let found = if heard.jigtrue > 0 {
        ours(bytes)
    } else if heard.nmea_xdr > 0 {
        nmea(bytes)
    } else if heard.bcd > 0 {
        bcd(bytes)
    } else {
        lines::found(bytes)
    }?;
    let text = written(&found, port);
    let file = crate::InstrumentFile::read(&text).ok()?;
    let mut values = 0;
    Decoder::new(&file.dialect).each(bytes, |next| values += usize::from(next.is_ok()));
    (values > 0).then_some(Proposal { text, values })
}

fn heard_as(bytes: &[u8], spec: &DialectSpec) -> (Vec<Sample>, Option<Notice>) {
    let mut decoder = Decoder::new(spec);
    let (mut samples, mut notice) = (Vec::new(), None);
    decoder.each(bytes, |next| samples.extend(next));
    while let Some(next) = decoder.notice() {
        if matches!(next, Notice::Identity { .. }) {
            notice = Some(next);
        }
    }
    (samples, notice)
}

/// The axis to measure: an angle before a length before a torque before a force.
fn measured(samples: &[Sample]) -> Option<&Sample> {
    [Axis::Angle, Axis::Length, Axis::Torque, Axis::Force, Axis::Cross, Axis::Temperature]
        .into_iter()
        .find_map(|axis| samples.iter().find(|sample| sample.axis == axis))
}

impl Found {
    const fn new(dialect: String, measures: Axis, unit: Unit, decimals: u8) -> Self {
        Self { dialect, measures, unit, decimals, name: None, number: None, each_value: false }
    }
}

fn of(dialect: String, sample: &Sample) -> Found {
    let decimals = (-sample.value.exponent).max(0).cast_unsigned();
    Found::new(dialect, sample.axis, sample.unit, decimals)
}

fn ours(bytes: &[u8]) -> Option<Found> {
    let (samples, notice) = heard_as(bytes, &DialectSpec::Jigtrue);
    let found = of("speaks = \"jigtrue\"".to_string(), measured(&samples)?);
    Some(match notice {
        Some(Notice::Identity { name, number, .. }) => Found {
            name: Some(name.as_str().to_string()),
            number: Some(number.as_str().to_string()),
            ..found
        },
        _ => found,
    })
}

fn bcd(bytes: &[u8]) -> Option<Found> {
    let (samples, _) = heard_as(bytes, &DialectSpec::Bcd);
    Some(Found { each_value: true, ..of("speaks = \"bcd\"".to_string(), samples.first()?) })
}

/// Transducers in order: the first angle, or the one called pitch, is the angle; the next one is across.
fn nmea(bytes: &[u8]) -> Option<Found> {
    let mut names: BTreeMap<&str, (Axis, &str)> = BTreeMap::new();
    for line in bytes.split(|byte| matches!(byte, b'\r' | b'\n')) {
        let Some(payload) = line.strip_prefix(b"$").and_then(crate::dialect::checked_sentence) else {
            continue;
        };
        for transducer in transducers(payload).flatten() {
            let taken = |axis: Axis| names.values().any(|(other, _)| *other == axis);
            let axis = match (transducer.kind, transducer.unit) {
                ("A", "D") if transducer.name.eq_ignore_ascii_case("roll") => Axis::Cross,
                ("A", "D") if !taken(Axis::Angle) => Axis::Angle,
                ("A", "D") => Axis::Cross,
                ("C", "C") => Axis::Temperature,
                ("D", "M") => Axis::Length,
                _ => continue,
            };
            let long = transducer.name.len() > 12 || transducer.value.is_empty();
            if !long && !taken(axis) && names.len() < crate::MAX_VALUES {
                names.insert(transducer.name, (axis, transducer.value));
            }
        }
    }
    let (measures, value) =
        names.values().min_by_key(|(axis, _)| (*axis != Axis::Angle, *axis != Axis::Length))?;
    let pairs: Vec<String> =
        names.iter().map(|(name, (axis, _))| format!("{name:?} = \"{}\"", axis.word())).collect();
    let unit = match measures {
        Axis::Length => Unit::Metre,
        Axis::Temperature => Unit::Celsius,
        _ => Unit::Degree,
    };
    let dialect = format!("speaks = \"nmea\"\nnames = {{ {} }}", pairs.join(", "));
    Some(Found::new(dialect, *measures, unit, decimals(value)))
}

fn decimals(number: &str) -> u8 {
    number.split_once(['.', ',']).map_or(0, |(_, decimals)| u8::try_from(decimals.len()).unwrap_or(9))
}

/// The file as text.
fn written(found: &Found, port: &PortSettings) -> String {
    let kind = match crate::kind_of(found.measures) {
        quantity::Kind::Angle => "inclinometer",
        quantity::Kind::Length => "caliper",
        quantity::Kind::Torque => "torque-wrench",
        quantity::Kind::Force => "tensiometer",
        _ => "other",
    };
    let step = match found.decimals {
        0 => "1".to_string(),
        decimals => format!("0.{}1", "0".repeat(usize::from(decimals) - 1)),
    };
    let name = found.name.as_deref().unwrap_or("new instrument");
    let number = match &found.number {
        Some(number) => format!("number = {number:?}"),
        None => "# number = \"...\"".to_string(),
    };
    let parity = port.parity.word();
    let mut text = format!(
        "# Proposed from what it sent. What only you can know is marked CHECK.\n\
         name = {name:?}          # CHECK: what you call it\n\
         {number}                 # CHECK: its serial number\n\
         kind = \"{kind}\"\n\
         resolution = \"{step} {}\"   # its last digit; CHECK whether its display steps by more\n\
         # accuracy = ...           CHECK: the limit of error in its manual; without it nothing can be judged by it\n\
         # repeatability = ...      CHECK: from a repeat study (jigtrue repeat)\n\
         # checked = 2031-01-10     CHECK: the day of its last check, and\n\
         # due = 2032-01-10         CHECK: the last day on which it is valid\n\n\
         [port]\nbaud = {}\ndata_bits = {}\nparity = \"{parity}\"\nstop_bits = {}\n\n[dialect]\n{}\n\n[axes]\nmeasures = \"{}\"\n",
        found.unit.symbol(),
        port.baud,
        port.data_bits,
        port.stop_bits,
        found.dialect,
        found.measures.word(),
    );
    if crate::kind_of(found.measures) == quantity::Kind::Angle {
        text.push_str(
            "positive = \"arrow end up\"   # CHECK: raise the end that its arrow points to; if the value falls, write \"arrow end down\"\n",
        );
    }
    if found.each_value {
        text.push_str("\n[settle]\nhold_ms = 0                # each value it sends is a reading\n");
    }
    text
}
