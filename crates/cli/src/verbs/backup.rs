//! `backup`: copy the log while it is in use.

use crate::exit::Exit;
use crate::show::Show;
use crate::written::Holds;
use clap::Args;
use serde::Serialize;
use session::which::{Which, which};
use session::{Session, SessionError};
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct Backup {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The copy; must not exist yet
    to: PathBuf,
}

#[derive(Serialize)]
struct Answer {
    copy: String,
}

impl Backup {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        Holds::Log.may_be_in(&self.to, &[&self.log])?;
        Session::backup(&self.log, &self.to)?;
        let answer = Answer { copy: self.to.display().to_string() };
        show.answer(|| format!("{} is a whole copy", session::shown(&answer.copy)), &answer)?;
        if matches!(which(Path::new(".")), Which::Several(_)) {
            show.remark(
                "More than one log is here now: keep the copy elsewhere, or name the log in each command",
            );
        }
        Ok(Exit::Done)
    }
}
