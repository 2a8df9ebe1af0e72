//! `backup`: copy the log while it is in use.

use crate::exit::Exit;
use crate::show::Show;
use crate::written::Holds;
use clap::Args;
use serde::Serialize;
use session::{Session, SessionError};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Backup {
    /// The log; may be left out if it is the only one here
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: PathBuf,
    /// The copy; must not exist yet
    to: PathBuf,
}

#[derive(Serialize)]
struct Answer {
    format: u32,
    copy: String,
}

impl Backup {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        Holds::Log.may_be_in(&self.to, &[&self.log])?;
        Session::backup(&self.log, &self.to)?;
        let answer = Answer { format: 1, copy: self.to.display().to_string() };
        show.done(|| format!("{} is a whole copy", answer.copy), &answer)
    }
}
