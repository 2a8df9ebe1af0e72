//! `instrument`: enter one from its file, or record a check of one.

use super::happen::{acknowledge, open};
use crate::exit::Exit;
use crate::show::Show;
use clap::{Args, Subcommand};
use shop::ShopError;
use std::path::PathBuf;

/// `instrument`
#[derive(Debug, Args)]
pub struct Instrument {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Enter an instrument into the log from its file
    Add {
        /// The log
        log: PathBuf,
        /// The instrument's file (TOML)
        file: PathBuf,
        /// Who enters it (else JIGTRUE_BY, else the login name)
        #[arg(long)]
        by: Option<String>,
    },
    /// Record a reversal check (two readings end for end) or a known-slope check (a block under one end)
    Check {
        /// The log
        log: PathBuf,
        /// The instrument's name
        instrument: String,
        /// Reading facing forward
        #[arg(allow_hyphen_values = true)]
        forward: String,
        /// Reading facing aft, on the same spot
        #[arg(allow_hyphen_values = true)]
        aft: String,
        /// Height of a block under one end, for a known slope
        #[arg(long, requires = "length")]
        block: Option<String>,
        /// Distance between the instrument's feet
        #[arg(long)]
        length: Option<String>,
        /// Who checks it (else JIGTRUE_BY, else the login name)
        #[arg(long)]
        by: Option<String>,
    },
}

impl Instrument {
    /// Does it.
    pub fn run(self, show: &Show) -> Result<Exit, ShopError> {
        match self.what {
            What::Add { log, file, by } => {
                let instrument = shop::gauges::from_file(&file)?;
                acknowledge(&open(&log, by.as_deref())?.add_instrument(instrument)?, show)
            }
            What::Check { log, instrument, forward, aft, block, length, by } => {
                let mut session = open(&log, by.as_deref())?;
                let slope = block.as_deref().zip(length.as_deref());
                let check =
                    shop::gauges::check(&session.instruments(), &instrument, (&forward, &aft), slope)?;
                acknowledge(&session.instrument_check(check)?, show)
            }
        }
    }
}
