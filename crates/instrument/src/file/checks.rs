//! From the parsed file to an instrument; each value is checked where it is written.

use super::table::{Mistakes, Table, Written, Zero};
use super::{FileErrors, FileFault, InstrumentFile, Positive, Right, dialect, modbus, port};
use crate::{Axis, DialectSpec, SettleSettings, kind_of};
use quantity::{InstrumentKind, Kind, Unit};
use toml::de::DeTable;

/// Checks a parsed file.
pub(super) fn checked(text: &str) -> Result<InstrumentFile, FileErrors> {
    let mistakes = Mistakes::of(text);
    let root = match DeTable::parse(text) {
        Ok(root) => root,
        Err(error) => {
            mistakes.note(&error.span().unwrap_or(0..0), FileFault::Toml(error), None);
            return mistakes.or(None);
        }
    };
    let read = file(&Table::new(root.get_ref(), 0..0, &mistakes));
    mistakes.or(read)
}

fn file(root: &Table<'_, '_>) -> Option<InstrumentFile> {
    let name = root.required("name", root.name("name"), "write name = \"...\", as people call it");
    let number = root.name("number");
    let kinds = "write kind = \"inclinometer\", \"caliper\", \"tape\", \"torque-wrench\", \"tensiometer\" or \"other\"";
    let kind = root.required("kind", root.word("kind", "kind", &InstrumentKind::WORDS), kinds);
    let port = port::settings(root);
    let dialect_table = root.required(
        "dialect",
        root.table("dialect"),
        "the table [dialect] says what the \
        instrument speaks",
    );
    let dialect = dialect_table.and_then(dialect::spec);
    let axes = axes(root, kind, dialect.as_ref());
    // Sizes are read in the unit of what it measures; without that, nothing more can be checked.
    let known = match &axes {
        Some(axes) => Some(kind_of(axes.measures)),
        None => kind.and_then(InstrumentKind::quantity),
    };
    let kept: [&'static str; 9] =
        ["unit", "resolution", "range", "accuracy", "repeatability", "scale", "checked", "due", "settle"];
    let Some(quantity) = known else {
        kept.into_iter().for_each(|key| _ = root.value(key));
        return None;
    };
    let resolution = root.required(
        "resolution",
        root.size("resolution", quantity, Zero::Refused),
        "write resolution = the step of its display",
    );
    let scale = root.number("scale").and_then(|scale| relative(root, &scale));
    let (checked, due) = (root.date("checked"), root.date("due"));
    if let (Some(before), Some(after)) = (&checked, &due)
        && after.text < before.text
    {
        let what = FileFault::DueBefore { checked: before.text.clone() };
        root.mistakes.note(&after.span, what, None);
    }
    let unit = shown_in(root, quantity);
    let range = root.size("range", quantity, Zero::Refused);
    let accuracy = root.size("accuracy", quantity, Zero::Allowed);
    let repeatability = root.size("repeatability", quantity, Zero::Allowed);
    let settle = settle(root, resolution, quantity);
    root.finish();
    let axes = axes?;
    let mut dialect = dialect;
    if let (Some(DialectSpec::Modbus(spec)), Some(step)) = (&mut dialect, resolution) {
        modbus::round(spec, quantity, step);
    }
    Some(InstrumentFile {
        name: name?,
        number,
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

fn relative(root: &Table<'_, '_>, scale: &Written) -> Option<f64> {
    let number = quantity::typed::decimal(&scale.text).filter(|scale| (0.0..=0.5).contains(scale));
    if number.is_none() {
        let what = FileFault::Form { key: "scale", is: "a relative error, such as 0.001 for 0.1 %" };
        root.mistakes.note(&scale.span, what, None);
    }
    number
}

/// The unit its display shows: from `unit`, else the unit of its resolution.
fn shown_in(root: &Table<'_, '_>, kind: Kind) -> Option<Unit> {
    if let Some(word) = root.text("unit") {
        let unit = quantity::unit_named(&word.text).filter(|unit| unit.kind() == kind);
        if unit.is_none() {
            root.mistakes.note(&word.span, FileFault::Unit(kind), None);
        }
        return unit;
    }
    let written = root.table.get("resolution").and_then(|value| value.get_ref().as_str());
    let typed = written.and_then(|text| quantity::typed_any(text).ok());
    // A display in degrees and minutes does not mean that a bare number is minutes.
    let plain = |unit: &Unit| !matches!(unit, Unit::ArcMinute | Unit::ArcSecond | Unit::Ratio);
    typed.map(|typed| typed.unit).filter(plain)
}

/// The `[axes]` table.
struct Axes {
    measures: Axis,
    positive: Positive,
}

/// Which axis is measured, and whether kind, dialect and axes fit together.
fn axes(root: &Table<'_, '_>, kind: Option<InstrumentKind>, dialect: Option<&DialectSpec>) -> Option<Axes> {
    let table = root.required(
        "axes",
        root.table("axes"),
        "the table [axes] says what is measured: measures = \"angle\"",
    )?;
    let positive = table.word("positive", "direction", &Positive::WORDS);
    let says_positive = table.table.contains_key("positive");
    let measures =
        table.required("measures", table.text("measures"), "write measures = \"angle\" or \"length\"");
    let span = measures.as_ref().map(|word| word.span.clone()).unwrap_or_default();
    let measures = measures.and_then(|word| table.axis(&word));
    table.finish();
    let measures = measures?;
    if let Some(dialect) = dialect {
        let carried = dialect.axes();
        if !carried.contains(&measures) {
            table.mistakes.note(&span, FileFault::NotCarried { axis: measures, carried }, None);
        }
    }
    if let Some(kind) = kind
        && let Some(expected) = kind.quantity().filter(|expected| *expected != kind_of(measures))
    {
        let what = FileFault::OtherKind { kind, measures: expected, axis: measures };
        table.mistakes.note(&span, what, None);
    }
    if kind_of(measures) == Kind::Angle && !says_positive {
        let right = "write positive = \"arrow end up\" or \"arrow end down\": with the arrow toward the \
            leading edge, which way must it tilt for the value to grow?";
        table.mistakes.note(&table.span, FileFault::NoPositive, Some(Right::Write(right)));
    }
    Some(Axes { measures, positive: positive.unwrap_or(Positive::ArrowEndUp) })
}

fn settle(root: &Table<'_, '_>, resolution: Option<f64>, quantity: Kind) -> Option<SettleSettings> {
    let Some(table) = root.table("settle") else {
        return resolution.map(|resolution| SettleSettings::from_instrument(resolution, 0.0));
    };
    let noise = table.size("noise", quantity, Zero::Allowed);
    let band = table.size("band", quantity, Zero::Refused);
    let hold_ms = match table.table.get("hold_ms").and_then(|value| value.get_ref().as_integer()) {
        Some(zero) if zero.as_str() == "0" => table.value("hold_ms").map(|_| 0),
        _ => table.whole("hold_ms", 100..=120_000),
    };
    let lost_after_ms = table.whole("lost_after_ms", 100..=600_000);
    let samples = table.whole("samples", 1..=100_000);
    let span = |key: &str| table.table.get(key).map(toml::Spanned::span).unwrap_or_default();
    let mut settings = SettleSettings::from_instrument(resolution?, noise.unwrap_or(0.0));
    if let Some(band) = band {
        settings.band = band;
        settings.noise = crate::Noise::Stated;
        if band < settings.step {
            table.mistakes.note(&span("band"), FileFault::NarrowBand, None);
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
            table.mistakes.note(&span("samples"), FileFault::NoSamples, None);
        }
        settings.samples = u32::try_from(samples).unwrap_or(settings.samples);
    }
    table.finish();
    Some(settings)
}
