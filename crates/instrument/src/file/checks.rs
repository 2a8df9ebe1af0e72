//! From the parsed file to an instrument; each value is checked where it is written.

use super::{FileErrors, FileFault, InstrumentFile, Positive, Table, axes, dialect, modbus, port};
use crate::{Axis, DialectSpec, SettleSettings, kind_of};
use quantity::table::{Mistakes, Source, Written, document};
use quantity::{InstrumentKind, Kind};
use std::borrow::ToOwned;

/// Largest believable proportional error of an instrument.
const MOST_SCALE: f64 = 0.5;

/// Checks a parsed file.
pub(super) fn checked(text: &str) -> Result<InstrumentFile, FileErrors> {
    let mistakes = Mistakes::of(text, Source::Written);
    let read = || {
        let root = document(text, &mistakes)?;
        let root = Table::new(root.get_ref(), 0..0, "an instrument file", &mistakes);
        let found = file(&root);
        root.finish();
        found
    };
    let found = read();
    mistakes.finish(found, "instrument file")
}

fn file(root: &Table<'_, '_>) -> Option<InstrumentFile> {
    let name = root.wants("name", "write name = \"...\", as people call it").text("name");
    let name = name.and_then(|name| root.label(name));
    let number = root.text("number").and_then(|number| root.label(number));
    let kind = root.required_word("kind", &InstrumentKind::WORDS);
    let port = root.wants("port", "[port] needs baud = 9600, or keyboard = true");
    let port = port.inside("port", "[port]", port::settings).flatten();
    let dialect = root.wants("dialect", "the table [dialect] says what the instrument speaks");
    let mut dialect = dialect.inside("dialect", "[dialect]", dialect::spec).flatten();
    let axes = root.wants("axes", "the table [axes] says what is measured: measures = \"angle\"");
    let axes = axes.inside("axes", "[axes]", |table| axes_of(table, kind, dialect.as_ref())).flatten();
    // Sizes are read in the unit of what it measures; without that, nothing more can be checked.
    let known = match &axes {
        Some(axes) => Some(kind_of(axes.measures)),
        None => kind.and_then(InstrumentKind::quantity),
    };
    let Some(quantity) = known else {
        let kept =
            ["unit", "resolution", "range", "accuracy", "repeatability", "scale", "checked", "due", "settle"];
        kept.into_iter().for_each(|key| root.known(key));
        return None;
    };
    let resolution = root.wants("resolution", "write resolution = the step of its display");
    let resolution = resolution.positive("resolution", quantity);
    let scale = root.number_within("scale", MOST_SCALE);
    let (checked, due) = (date(root, "checked"), date(root, "due"));
    if let (Some(before), Some(after)) = (&checked, &due)
        && after.text < before.text
    {
        let what = FileFault::DueBefore { checked: before.text.clone() };
        root.mistakes().note(after.span.clone(), what, None);
    }
    let unit = root.shown_unit(Some(quantity));
    let range = root.positive("range", quantity);
    let accuracy = root.zero_or_more("accuracy", quantity);
    let repeatability = root.zero_or_more("repeatability", quantity);
    let settle = match root.has("settle") {
        true => root.inside("settle", "[settle]", |table| settle(table, resolution, quantity)).flatten(),
        false => resolution.map(|resolution| SettleSettings::from_instrument(resolution, 0.0)),
    };
    let axes = axes?;
    if let (Some(DialectSpec::Modbus(spec)), Some(step)) = (&mut dialect, resolution) {
        modbus::round(spec, quantity, step);
    }
    Some(InstrumentFile {
        name: name?.text,
        number: number.map(|number| number.text),
        kind: kind?,
        unit,
        resolution: resolution?,
        range,
        accuracy,
        repeatability,
        scale,
        checked: checked.map(|date| date.text),
        due: due.map(|date| date.text),
        port: port?,
        dialect: dialect?,
        measures: axes.measures,
        positive: axes.positive,
        settle: settle?,
    })
}

/// A calendar date; TOML's own parser knows the calendar.
fn date(root: &Table<'_, '_>, key: &'static str) -> Option<Written> {
    let written = root.date(key)?;
    let date = written.text.parse::<toml::value::Datetime>().ok();
    if date.is_some_and(|date| date.date.is_some() && date.time.is_none() && date.offset.is_none()) {
        return Some(written);
    }
    root.refuse(key, "a date, such as 2031-04-05");
    None
}

/// The `[axes]` table.
struct Axes {
    measures: Axis,
    positive: Positive,
}

/// Which axis is measured, and whether kind, dialect and axes fit together.
fn axes_of(
    table: &Table<'_, '_>,
    kind: Option<InstrumentKind>,
    dialect: Option<&DialectSpec>,
) -> Option<Axes> {
    let positive = table.word("positive", &Positive::WORDS);
    let right = "write measures = \"angle\" or \"length\"";
    let measures = table.wants("measures", right).word("measures", &axes())?;
    let note = |what| table.mistakes().note(table.span_at("measures"), what, None);
    if let Some(dialect) = dialect {
        let carried = dialect.axes();
        if !carried.contains(&measures) {
            note(FileFault::NotCarried { axis: measures, carried });
        }
    }
    if let Some(kind) = kind
        && let Some(expected) = kind.quantity().filter(|expected| *expected != kind_of(measures))
    {
        note(FileFault::OtherKind { kind, measures: expected, axis: measures });
    }
    if kind_of(measures) == Kind::Angle && !table.has("positive") {
        let right = "write positive = \"arrow end up\" or \"arrow end down\": with the arrow toward the \
            leading edge, which way must it tilt for the value to grow?";
        table.mistakes().note(table.span(), FileFault::NoPositive, Some(right.to_owned()));
    }
    Some(Axes { measures, positive: positive.unwrap_or(Positive::ArrowEndUp) })
}

fn settle(table: &Table<'_, '_>, resolution: Option<f64>, quantity: Kind) -> Option<SettleSettings> {
    let noise = table.zero_or_more("noise", quantity);
    let band = table.positive("band", quantity);
    let hold_ms = match table.whole("hold_ms") {
        Some(0) => Some(0),
        Some(_) => table.whole_within("hold_ms", 100..=120_000),
        None => None,
    };
    let lost_after_ms = table.whole_within("lost_after_ms", 100..=600_000);
    let samples = table.whole_within("samples", 1..=100_000);
    let mut settings = SettleSettings::from_instrument(resolution?, noise.unwrap_or(0.0));
    if let Some(band) = band {
        settings.band = band;
        settings.noise = crate::Noise::Stated;
        if band < settings.step {
            table.mistakes().note(table.span_at("band"), FileFault::NarrowBand, None);
        }
    }
    match hold_ms {
        Some(0) => (settings.hold_ms, settings.samples) = (0, 1),
        Some(hold_ms) => settings.hold_ms = hold_ms,
        None => {}
    }
    settings.lost_after_ms = lost_after_ms.unwrap_or(settings.lost_after_ms);
    if let Some(samples) = samples {
        if settings.each_value() && samples > 1 {
            table.mistakes().note(table.span_at("samples"), FileFault::NoSamples, None);
        }
        settings.samples = samples;
    }
    Some(settings)
}
