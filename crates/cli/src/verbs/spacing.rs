//! `spacing`: distances against their design, at 20 °C (ISO 1).

use super::table::Table;
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use clap::Args;
use numerics::lengths;
use quantity::{Kind, Units};
use serde::Serialize;
use session::SessionError;
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(
    after_long_help = "Columns: design and measured (design_mm, measured_mm), and temperature (temperature_°C) where the lengths \
    are to be brought to 20 °C with --part and --tape; a column `station` may name them."
)]
pub struct Spacing {
    /// The table (CSV with a header row), or - for standard input
    table: PathBuf,
    /// Thermal expansion of the part, per kelvin (23e-6)
    #[arg(long, requires = "tape")]
    part: Option<f64>,
    /// Thermal expansion of the tape, per kelvin (11.5e-6)
    #[arg(long, requires = "part")]
    tape: Option<f64>,
}

#[derive(Serialize)]
struct Answer {
    stations: Vec<Row>,
}

#[derive(Serialize)]
struct Row {
    station: String,
    design_mm: f64,
    measured_mm: f64,
    correction_mm: f64,
    deviation_mm: f64,
    gap_deviation_mm: Option<f64>,
}

impl Spacing {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let table = Table::read(&self.table)?;
        let design = table.required("design", Kind::Length)?;
        let measured = table.required("measured", Kind::Length)?;
        let temperature = table.quantity("temperature", Kind::Temperature)?;
        let name = table.row_names("station");
        let factor = |i: usize| match (self.part, self.tape, &temperature) {
            (Some(part), Some(tape), Some(t)) => Ok(lengths::to_reference(tape, part, t[i] - 20.0)),
            (Some(_), _, None) => Err(Refusal::NoTemperature),
            (None, _, Some(_)) | (_, None, Some(_)) => Err(Refusal::Expansions),
            (None, _, None) => Ok(1.0),
        };
        table.remark_unread(show);
        let mut answer = Answer { stations: Vec::new() };
        for i in 0..table.rows() {
            let at_twenty = measured[i] * factor(i)?;
            let deviation = at_twenty - design[i];
            answer.stations.push(Row {
                station: name(i),
                design_mm: design[i],
                measured_mm: at_twenty,
                correction_mm: at_twenty - measured[i],
                deviation_mm: deviation,
                gap_deviation_mm: answer.stations.last().map(|r| deviation - r.deviation_mm),
            });
        }
        let measured = if temperature.is_some() { "at 20 °C" } else { "measured" };
        show.done(|| text(&answer, measured, show.units(Units::INSIDE)), &answer)
    }
}

/// `measured` says what the second column holds.
fn text(a: &Answer, measured: &str, units: Units) -> String {
    let length = units.scale(Kind::Length);
    let (unit, places) = (length.head(), length.decimals(3));
    let (design, at) = (format!("design {unit}"), format!("{measured} {unit}"));
    let mut out = vec![format!(
        "{:<12}{design:>12}{at:>14}{:>12}{:>12}{:>10}",
        "station", "corrected", "deviation", "gap"
    )];
    let signed = |mm| length.signed(mm, places);
    out.extend(a.stations.iter().map(|r| {
        format!(
            "{:<12}{:>12}{:>14}{:>12}{:>12}{:>10}",
            session::shown(&r.station),
            length.fixed(r.design_mm, places),
            length.fixed(r.measured_mm, places),
            signed(r.correction_mm),
            signed(r.deviation_mm),
            r.gap_deviation_mm.map_or_else(String::new, signed)
        )
    }));
    out.join("\n")
}
