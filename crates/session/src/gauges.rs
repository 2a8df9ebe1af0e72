//! Instruments: reading their files, and checking them in the shop.

use crate::file_fault::FileFault;
use crate::files::read_text;
use crate::log::instrument_unknown;
use crate::port::PortSettings;
use crate::refusal::Refusal;
use crate::{Cannot, FileSort, SessionError};
use instrument::{Axis, DialectSpec, InstrumentFile, SettleSettings, kind_of};
use quantity::{Kind, Typed, typed};
use record::{Date, Instrument, InstrumentCheck, Limits};
use std::collections::BTreeMap;
use std::path::Path;

/// An instrument with everything needed to listen to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Connected {
    /// Its data, as a log has or will have them.
    pub facts: Instrument,
    pub settings: PortSettings,
    pub dialect: DialectSpec,
    pub measures: Axis,
    /// +1, or -1 if the instrument counts the other way.
    pub sign: f64,
    pub settle: SettleSettings,
}

impl Connected {
    /// Reads an instrument file.
    ///
    /// # Errors
    /// If it cannot be read or has a mistake; the message shows the line.
    pub fn read(path: &Path) -> Result<Self, SessionError> {
        Self::of_text(&read_text(path, FileSort::InstrumentFile)?, path)
    }

    fn of_text(text: &str, path: &Path) -> Result<Self, SessionError> {
        let file = InstrumentFile::read(text).map_err(|why| SessionError::file(path, why))?;
        let date = |day: &Option<String>| {
            day.as_deref()
                .map(|day| {
                    day.parse::<Date>().map_err(|why| SessionError::file(path, FileFault::NoDate(why)))
                })
                .transpose()
        };
        Ok(Self {
            facts: Instrument {
                number: file.number.clone(),
                unit: file.unit,
                range: file.range.map(Limits::plus_minus),
                accuracy: file.accuracy,
                repeatability: file.repeatability,
                scale: file.scale,
                checked: date(&file.checked)?,
                due: date(&file.due)?,
                ..Instrument::of(&file.name, file.kind, file.resolution)
            },
            settings: file.port,
            sign: file.sign(),
            dialect: file.dialect,
            measures: file.measures,
            settle: file.settle,
        })
    }

    pub fn at_bench(&self) -> bench::Device {
        let zeroes = match self.dialect {
            DialectSpec::Jigtrue => bench::Zeroes::OnRequest,
            _ => bench::Zeroes::ByItsButton,
        };
        bench::Device {
            facts: self.facts.clone(),
            measures: self.measures,
            sign: self.sign,
            settle: self.settle,
            zeroes,
        }
    }

    pub const fn quantity(&self) -> Kind {
        kind_of(self.measures)
    }
}

/// An instrument's data from its file. An instrument without a `[dialect]` is read by eye, and its file has the keys
/// of a plan's `[[instrument]]`.
///
/// # Errors
/// If it cannot be read or has a mistake; the message shows the line.
pub fn facts(path: &Path) -> Result<Instrument, SessionError> {
    let text = read_text(path, FileSort::InstrumentFile)?;
    if has_dialect(&text) {
        return Ok(Connected::of_text(&text, path)?.facts);
    }
    Instrument::parse(&text).map_err(|why| SessionError::file(path, why))
}

/// Whether it is the file of an instrument that is connected to a port.
fn has_dialect(text: &str) -> bool {
    text.lines().any(|line| line.trim_start().starts_with("[dialect]"))
}

/// The instrument files of a folder, by name.
#[derive(Debug, Default)]
pub struct InFolder {
    pub read: BTreeMap<String, Connected>,
    /// Those with a `[dialect]` that cannot be read, with the reason.
    pub unreadable: BTreeMap<String, SessionError>,
}

/// Finds the instrument files in a folder.
///
/// # Errors
/// If the folder cannot be read.
pub fn in_folder(folder: &Path) -> Result<InFolder, SessionError> {
    let entries = std::fs::read_dir(folder).map_err(|why| SessionError::io(folder, Cannot::LookInto, why))?;
    let mut found = InFolder::default();
    for path in entries.filter_map(Result::ok).map(|entry| entry.path()) {
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let Ok(text) = read_text(&path, FileSort::InstrumentFile) else { continue };
        let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        match Connected::of_text(&text, &path) {
            Ok(connected) => _ = found.read.insert(name, connected),
            Err(why) if has_dialect(&text) => _ = found.unreadable.insert(name, why),
            // A folder has plans and other TOML files too.
            Err(_) => {}
        }
    }
    Ok(found)
}

/// What an instrument shows on one spot, end for end, as typed.
#[derive(Clone, Copy, Debug)]
pub struct BothWays<'a> {
    pub forward: &'a str,
    pub aft: &'a str,
}

/// A block of known height under one end, and the distance between the instrument's feet, as typed.
#[derive(Clone, Copy, Debug)]
pub struct Block<'a> {
    pub height: &'a str,
    /// The distance between the feet.
    pub length: &'a str,
}

/// Checks an instrument that reads angles by two readings on the same spot, end for end.
///
/// Without a block: its zero, (forward + aft) / 2. With a block under the end that the arrow points to on the forward
/// reading, on a level surface: half the difference less the slope asin(height / length). It passes if the result is
/// within its own stated accuracy (and, for a slope, the stated proportional error).
///
/// The standard uncertainty (JCGM 100, 5.1.2) includes the step of the display, the repeatability of a seating, and
/// the digits of the typed height and length.
///
/// # Errors
/// If the instrument is unknown, reads no angles or states no accuracy, or something typed cannot be read.
pub fn check(
    known: &BTreeMap<String, Instrument>,
    name: &str,
    shown: BothWays<'_>,
    block: Option<Block<'_>>,
) -> Result<InstrumentCheck, SessionError> {
    let name = name.trim();
    let instrument = known.get(name).ok_or_else(|| instrument_unknown(known, name))?;
    if instrument.kind.quantity().is_some_and(|reads| reads != Kind::Angle) {
        return Err(Refusal::ReadsNoAngles(name.to_owned()).into());
    }
    let Some(accuracy) = instrument.accuracy else {
        return Err(Refusal::NoAccuracy(name.to_owned()).into());
    };
    let (forward, aft) = (reading(shown.forward, Kind::Angle)?, reading(shown.aft, Kind::Angle)?);
    let variance = |typed: &Typed| {
        let seating = instrument.repeatability.unwrap_or(0.0);
        assess::expect::resolution(typed, Some(instrument), None).step.powi(2) / 12.0 + seating * seating
    };
    let mean_variance = (variance(&forward) + variance(&aft)) / 4.0;
    let (forward, aft) = (forward.amount.base(), aft.amount.base());
    let (method, found, variance, limit) = match block {
        None => ("reversal", (forward + aft) / 2.0, mean_variance, accuracy),
        Some(block) => {
            let slope = slope(block)?;
            let found = (forward - aft) / 2.0 - slope.degrees;
            let limit = accuracy + instrument.scale.unwrap_or(0.0) * slope.degrees;
            ("known slope", found, mean_variance + slope.variance, limit)
        }
    };
    let u = variance.sqrt();
    if 2.0 * u > limit {
        let name = name.to_owned();
        return Err(Refusal::CheckTooCoarse { name, good_to: 2.0 * u, accuracy: limit }.into());
    }
    Ok(InstrumentCheck {
        instrument: name.to_owned(),
        method: method.to_owned(),
        found,
        u,
        // A little slack: 0.30 and 0.10 make 0.2, and not 0.20000000000000001.
        passed: found.abs() <= limit * (1.0 + 1e-9),
    })
}

/// A slope in degrees, and its variance.
struct Slope {
    degrees: f64,
    variance: f64,
}

/// The slope of a block under one end.
fn slope(block: Block<'_>) -> Result<Slope, SessionError> {
    let (height, length) = (reading(block.height, Kind::Length)?, reading(block.length, Kind::Length)?);
    let (h, l) = (height.amount.base(), length.amount.base());
    if !(h > 0.0 && l > h) {
        return Err(Refusal::NoBlock.into());
    }
    let sine = h / l;
    let cosine = (1.0 - sine * sine).sqrt();
    let (by_height, by_length) = (height.resolution / (l * cosine), sine * length.resolution / (l * cosine));
    let variance = (by_height.powi(2) + by_length.powi(2)) / 12.0;
    let degrees = 180.0 / core::f64::consts::PI;
    Ok(Slope { degrees: libm::asin(sine) * degrees, variance: variance * degrees * degrees })
}

fn reading(text: &str, kind: Kind) -> Result<Typed, SessionError> {
    Ok(typed(text, kind).map_err(|why| Refusal::NoValue { text: text.to_owned(), why })?)
}

#[cfg(test)]
mod tests;
