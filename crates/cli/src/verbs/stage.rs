//! `stage`: begin the next stage of the build.

use super::happen::{acknowledge, open};
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use session::{BeginStage, SessionError};
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(
    after_long_help = "Exit codes: 0 begun; 10 not begun, something is outside; 11 not begun, something is not \
        proven yet or a stage would be skipped; 1 could not be done."
)]
pub struct Stage {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The stage's name in the plan; if not given, the next one
    name: Option<String>,
    /// Why the build goes on although something is not met, or stages are skipped
    #[arg(long, value_name = "REASON")]
    anyway: Option<String>,
    /// Who says so (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

impl Stage {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let begin = BeginStage { name: self.name, anyway: self.anyway };
        acknowledge(&open(&self.log, self.by.as_deref(), show)?.stage(&begin)?, show)
    }
}
