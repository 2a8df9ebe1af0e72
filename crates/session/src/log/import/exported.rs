//! Reads the output of `export` back: it has a row or a line for every entry, and the readings that counted are
//! imported.

use super::super::export::value_column;
use super::super::points::{self, PlanPoint};
use super::context::Context;
use super::fault::LineFault;
use super::header;
use super::row::{self, Row, facing_named};
use crate::instant;
use quantity::Celsius;
use record::{Asked, Dial, Reading, Source, What};
use serde::Deserialize;

#[derive(Deserialize)]
struct Line {
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
    let line: Line = serde_json::from_str(line)?;
    let What::Reading(reading) = line.what else { return Ok(None) };
    if line.withdrawn_by.is_some() {
        return Ok(None);
    }
    of_stage(line.stage.as_deref(), context)?;
    let PlanPoint { point, quantity } = points::resolve(context.plan, &reading.point.to_string())?;
    if quantity != reading.quantity {
        return Err(LineFault::OtherQuantity { wanted: quantity, at: point });
    }
    let reading = Reading { source: Source::Imported, ..reading };
    let sure = row::sure(line.sure.as_deref())?;
    Row::whole(instant(&line.at)?, line.by, reading, sure, context).map(Some)
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
    if cell("kind") != Some("reading") || cell("withdrawn_by").is_some() {
        return Ok(None);
    }
    of_stage(cell("stage"), context)?;
    let need = |name: &str| cell(name).ok_or_else(|| LineFault::Missing(name.to_owned()));
    let number = |name: &str, text: &str| {
        let no_number = || LineFault::NoNumber { text: text.to_owned(), column: name.to_owned() };
        quantity::typed::decimal(text).ok_or_else(no_number)
    };
    let optional = |name: &str| cell(name).map(|text| number(name, text)).transpose();
    let PlanPoint { point, quantity } = points::resolve(context.plan, need("point")?)?;
    // Headers are compared in lowercase.
    let column = value_column(quantity).to_ascii_lowercase();
    let column = column.as_str();
    let whole = |name: &str| {
        let read = |text: &str| {
            let no_count = |why| LineFault::NoCount { text: text.to_owned(), column: name.to_owned(), why };
            text.parse::<u32>().map_err(no_count)
        };
        cell(name).map(read).transpose()
    };
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
    let by = cell("by").unwrap_or(context.by).to_owned();
    Row::whole(instant(need("at_utc")?)?, by, reading, row::sure(cell("sure"))?, context).map(Some)
}

/// An exported reading belongs to the stage it was taken in: in another stage it would count as taken there.
fn of_stage(stage: Option<&str>, context: &Context<'_>) -> Result<(), LineFault> {
    match (stage.filter(|s| !s.is_empty()), context.stage) {
        (Some(then), Some(now)) if then != now => {
            Err(LineFault::OtherStage { then: then.to_owned(), now: now.to_owned() })
        }
        _ => Ok(()),
    }
}
