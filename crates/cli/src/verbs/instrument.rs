//! `instrument`: enter one from its file, or record a check of one.

mod example;

use super::happen::{acknowledge, open};
use crate::exit::Exit;
use crate::show::Show;
use clap::{Args, Subcommand};
use quantity::shown::WithU;
use session::gauges::{Block, BothWays, check, facts};
use session::{SessionError, Taken};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Instrument {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Print a commented instrument file to begin with
    Example(example::Example),
    /// Enter an instrument into the log from its file
    Add {
        /// The log; may be left out if it is the only one here
        log: PathBuf,
        /// The instrument's file (TOML)
        file: PathBuf,
        /// Who enters it (otherwise JIGTRUE_BY, or the login name)
        #[arg(long)]
        by: Option<String>,
    },
    /// Record a reversal check (two readings end for end) or a known-slope check (a block under one end)
    Check {
        /// The log; may be left out if it is the only one here
        log: PathBuf,
        /// The instrument's name
        instrument: String,
        /// Reading facing forward
        #[arg(allow_hyphen_values = true)]
        forward: String,
        /// Reading facing aft, on the same spot
        #[arg(allow_hyphen_values = true)]
        aft: String,
        /// Height of a block under the end that pointed forward, for a known slope; on a level surface
        #[arg(long, requires = "length")]
        block: Option<String>,
        /// Distance between the instrument's feet
        #[arg(long, requires = "block")]
        length: Option<String>,
        /// Who checks it (otherwise JIGTRUE_BY, or the login name)
        #[arg(long)]
        by: Option<String>,
    },
}

impl Instrument {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        match self.what {
            What::Example(example) => example.run(show),
            What::Add { log, file, by } => {
                let instrument = facts(&file)?;
                acknowledge(&open(&log, by.as_deref(), show)?.add_instrument(instrument)?, show)
            }
            What::Check { log, instrument, forward, aft, block, length, by } => {
                let mut session = open(&log, by.as_deref(), show)?;
                let block = block.as_deref().zip(length.as_deref());
                let block = block.map(|(height, length)| Block { height, length });
                let shown = BothWays { forward: &forward, aft: &aft };
                let check = check(&session.instruments(), &instrument, shown, block)?;
                let what = if block.is_some() { "its error at that slope" } else { "its zero" };
                let found = WithU::of_u(check.found, check.u).signed_with("deg");
                let passed = check.passed;
                let taken = session.instrument_check(check)?;
                let ack = format!("{}: {what} is {found}", taken.ack);
                acknowledge(&Taken { ack, ..taken }, show)?;
                Ok(if passed { Exit::Done } else { Exit::Outside })
            }
        }
    }
}
