//! `wing`: take up a wing's log into the aeroplane's log.

use super::happen::{acknowledge, open};
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use session::{SessionError, WingLog};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Wing {
    /// The aeroplane's log; may be left out if it is the only one here
    log: PathBuf,
    /// The wing, by its name in the plan or its side, and its log: left=left.jigtrue
    #[arg(value_name = "WING=LOG")]
    wing: WingLog,
    /// Who takes it up (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

impl Wing {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        acknowledge(&open(&self.log, self.by.as_deref(), show)?.take_up(&self.wing)?, show)
    }
}
