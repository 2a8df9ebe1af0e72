//! `import`: a table of readings.

use super::happen::{open, unsaid};
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use record::Facing;
use session::{ImportWith, SessionError, shown};
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(
    after_long_help = "The table has a header row, in upper or lower case. Columns: point; value (typed values \
        with units) or value_deg, value_mm, value_Nm ...; and, as needed, facing, instrument, temperature_C, \
        at, by, round, note, read_to, sure (yes: a questioned value really is so). Fields are separated by \
        commas, semicolons or tabs; without commas between the fields, a decimal comma is accepted too. \
        Either every line is recorded or none. The output of `export` can be read back: its readings, with \
        their times, rounds and persons.\n\nExit codes: 0 recorded; 1 not recorded, with the lines and why."
)]
pub struct Import {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The table (CSV, or an export); - is standard input
    table: PathBuf,
    /// The instrument of every line that names none
    #[arg(long)]
    instrument: Option<String>,
    /// The facing of every line that has none
    #[arg(long, value_parser = crate::words::facing())]
    facing: Option<Facing>,
    /// The same readings are in the log already, and really were taken again
    #[arg(long)]
    again: bool,
    /// Who imports it (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

impl Import {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let mut session = open(&self.log, self.by.as_deref(), show)?;
        let with = ImportWith { instrument: self.instrument, facing: self.facing, again: self.again };
        let mut told = 0;
        let report = session.import_csv(&self.table, &with, &mut |_, done, of| {
            // In tenths, so that a short table reports nothing.
            let tenth = (10 * u128::from(done)).checked_div(u128::from(of)).unwrap_or(10);
            if tenth > told {
                told = tenth;
                show.remark(&format!("{} % ...", 10 * tenth.min(10)));
            }
            true
        })?;
        let text = || {
            let table = self.table.display().to_string();
            format!("{}: {}\nNext  jigtrue check", shown(&table), report.words())
        };
        show.done(text, &report).map_err(|why| unsaid(report.last_entry, why))
    }
}
