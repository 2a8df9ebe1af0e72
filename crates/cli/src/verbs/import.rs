//! `import`: a table of readings.

use super::happen::{open, unsaid};
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use serde::Serialize;
use session::SessionError;
use std::path::PathBuf;

/// `import`
#[derive(Debug, Args)]
#[command(
    after_help = "The table has a header row. Columns: point; value (typed values with units) or value_deg, \
    value_mm, value_Nm ...; and, where wanted, facing, instrument, temperature_C, at, by, round, note."
)]
pub struct Import {
    /// The log; may be left out where it is the only one here
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: PathBuf,
    /// The table (CSV)
    table: PathBuf,
    /// Who imports it (else JIGTRUE_BY, else the login name)
    #[arg(long)]
    by: Option<String>,
}

#[derive(Serialize)]
struct Answer {
    format: u32,
    readings: u64,
    first_entry: u64,
    last_entry: u64,
}

impl Import {
    /// Takes it, all or nothing.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let mut session = open(&self.log, self.by.as_deref())?;
        let mut told = 0;
        let report = session.import_csv(&self.table, &mut |_, done, of| {
            // In tenths, so that a short table says nothing.
            let tenth = (10 * done).checked_div(of).unwrap_or(10);
            if tenth > told {
                told = tenth;
                show.aside(&format!("{} % ...", 10 * tenth.min(10)));
            }
        })?;
        let answer = Answer {
            format: 1,
            readings: report.readings,
            first_entry: report.first,
            last_entry: report.last,
        };
        let text =
            || format!("{} readings taken, entries {} to {}", report.readings, report.first, report.last);
        show.answer(text, &answer).map_err(|why| unsaid(report.last, why))?;
        Ok(Exit::Done)
    }
}
