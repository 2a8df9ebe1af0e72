//! `rework`: say what was worked on.

use super::happen::{acknowledge, open};
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use session::SessionError;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Rework {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// What was worked on: spot@BR2, bore@B3, incidence@S9
    #[arg(required = true)]
    points: Vec<String>,
    /// What was done, in words
    #[arg(long, visible_alias = "reason")]
    what: String,
    /// Who did it (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

impl Rework {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        acknowledge(&open(&self.log, self.by.as_deref(), show)?.rework(&self.points, &self.what)?, show)
    }
}
