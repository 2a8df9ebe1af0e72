//! Reads the output of `export` back: it has a row or a line for every entry, and the readings that counted are
//! imported.

use super::super::export::{BROKEN, BrokenLine, value_column};
use super::super::points::{self, PlanPoint};
use super::context::Context;
use super::fault::LineFault;
use super::header;
use super::row::{self, Given, Row, facing_named};
use crate::instant;
use quantity::Celsius;
use record::plan::Wing;
use record::{Asked, Dial, Plan, Reading, Source, What};
use serde::Deserialize;
use std::num::ParseIntError;
use std::str::FromStr;

#[derive(Deserialize)]
struct Line {
    seq: u64,
    at: String,
    by: String,
    #[serde(default)]
    stage: Option<String>,
    #[serde(default)]
    withdrawn_by: Option<u64>,
    /// Not exported; a person adds "yes" where there is a question.
    #[serde(default)]
    sure: Option<String>,
    #[serde(flatten)]
    what: What,
}

/// Reads a line of JSON; `None` for an entry that is not a reading that counted.
pub(super) fn json(line: &str, context: &Context<'_>) -> Result<Option<Row>, LineFault> {
    let line: Line = serde_json::from_str(line).map_err(|fault| match serde_json::from_str(line) {
        Ok(BrokenLine { kind, why, .. }) if kind == BROKEN => LineFault::OfBrokenLog(why),
        _ => fault.into(),
    })?;
    of_wing(&line.what, context)?;
    let What::Reading(reading) = line.what else { return Ok(None) };
    if line.withdrawn_by.is_some() {
        return Ok(None);
    }
    of_stage(line.stage.as_deref(), context)?;
    let PlanPoint { point, quantity } = points::point_in(context.plan, &reading.point.to_string())?;
    if quantity != reading.quantity {
        return Err(LineFault::OtherQuantity { wanted: quantity, at: point });
    }
    let reading = Reading { source: Source::Imported, ..reading };
    let sure = row::sure(line.sure.as_deref())?;
    let given = Given { seq: line.seq, at: instant(&line.at)?, by: line.by, sure };
    Row::whole(given, reading, context).map(Some)
}

/// Reads a row of a CSV export; `None` for an entry that is not a reading that counted.
pub(super) fn row(
    record: &csv::StringRecord,
    columns: &[String],
    context: &Context<'_>,
) -> Result<Option<Row>, LineFault> {
    let cell = |name: &str| {
        let at = columns.iter().position(|column| column == name)?;
        header::cell(record, at)
    };
    if cell("kind") == Some(BROKEN) {
        return Err(LineFault::OfBrokenLog(cell("detail").unwrap_or_default().to_owned()));
    }
    if let (Some("started" | "replanned"), Some(detail)) = (cell("kind"), cell("detail")) {
        of_wing(&serde_json::from_str(detail)?, context)?;
    }
    if cell("kind") != Some("reading") || cell("withdrawn_by").is_some() {
        return Ok(None);
    }
    if columns.iter().any(|column| column == "stage") {
        of_stage(cell("stage"), context)?;
    }
    let need = |name: &str| cell(name).ok_or_else(|| LineFault::Missing(name.to_owned()));
    let number = |name: &str, text: &str| {
        let no_number = || LineFault::NoNumber { text: text.to_owned(), column: name.to_owned() };
        quantity::typed::decimal(text).ok_or_else(no_number)
    };
    let optional = |name: &str| cell(name).map(|text| number(name, text)).transpose();
    let PlanPoint { point, quantity } = points::point_in(context.plan, need("point")?)?;
    // Headers are compared in lowercase.
    let column = value_column(quantity).to_ascii_lowercase();
    let column = column.as_str();
    let whole = |name: &str| cell(name).map(|text| whole_number(name, text)).transpose();
    let asked = match (cell("asked_expected"), cell("asked_why")) {
        (Some(expected), Some(why)) => Some(Asked { expected: expected.to_owned(), why: why.to_owned() }),
        _ => None,
    };
    let dial = match (optional("dial")?, optional("dial_step")?) {
        (Some(shown), Some(step)) => Some(Dial { shown, step }),
        (None, None) => None,
        _ => return Err(LineFault::HalfADial),
    };
    let reading = Reading {
        dial,
        facing: cell("facing").map(facing_named).transpose()?,
        text: need("text")?.to_owned(),
        quantity,
        value: number(column, need(column)?)?,
        resolution: number("resolution", need("resolution")?)?,
        instrument: cell("instrument").map(str::to_owned),
        temperature: optional("part_temperature_c")?.map(Celsius::new),
        round: whole("round")?.unwrap_or(1),
        scatter: optional("scatter")?,
        samples: whole("samples")?,
        unsettled: match cell("unsettled") {
            None => false,
            Some("yes") => true,
            Some(other) => return Err(LineFault::neither("unsettled", other, ["yes", "no"], ["yes"])),
        },
        source: Source::Imported,
        note: cell("note").map(str::to_owned),
        asked,
        point,
    };
    let given = Given {
        seq: whole_number("seq", need("seq")?)?,
        at: instant(need("at_utc")?)?,
        by: cell("by").unwrap_or(context.by).to_owned(),
        sure: row::sure(cell("sure"))?,
    };
    Row::whole(given, reading, context).map(Some)
}

fn whole_number<T: FromStr<Err = ParseIntError>>(column: &str, text: &str) -> Result<T, LineFault> {
    let no_count = |why| LineFault::NoCount { text: text.to_owned(), column: column.to_owned(), why };
    text.parse().map_err(no_count)
}

/// An exported reading belongs to the stage it was taken in: in another stage it would count as taken there.
fn of_stage(stage: Option<&str>, context: &Context<'_>) -> Result<(), LineFault> {
    let then = stage.filter(|s| !s.is_empty());
    if then == context.stage {
        return Ok(());
    }
    let owned = |stage: Option<&str>| stage.map(str::to_owned);
    Err(LineFault::OtherStage { then: owned(then), now: owned(context.stage) })
}

/// An export names its wing in its plan: readings of another wing say nothing about this one.
fn of_wing(what: &What, context: &Context<'_>) -> Result<(), LineFault> {
    let (What::Started { plan, .. } | What::Replanned { plan, .. }) = what else { return Ok(()) };
    let theirs = Plan::parse_logged(plan).map_err(|why| LineFault::UnreadPlan(why.into()))?.wing;
    let ours = &context.plan.wing;
    let other = |a: &Option<String>, b: &Option<String>| matches!((a, b), (Some(a), Some(b)) if a != b);
    if theirs.name != ours.name
        || theirs.side != ours.side
        || other(&theirs.identity.serial, &ours.identity.serial)
    {
        return Err(LineFault::OtherWing { theirs: told(&theirs), ours: told(ours) });
    }
    Ok(())
}

/// Name, side and serial number of a wing.
fn told(wing: &Wing) -> String {
    let serial = wing.identity.serial.iter().map(|serial| format!(", serial number {serial}"));
    [format!("`{}`, {}", wing.name, wing.side.word())].into_iter().chain(serial).collect()
}
