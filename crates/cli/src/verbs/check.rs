//! `check`: the assessment.

use crate::exit::Exit;
use crate::show::Show;
use crate::view::check::{Extent, text};
use clap::Args;
use session::{Session, SessionError};
use std::path::PathBuf;

/// `check`
#[derive(Debug, Args)]
pub struct Check {
    /// The log
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: PathBuf,
    /// As a stage ended, or as it stands if it has not
    #[arg(long)]
    stage: Option<String>,
    /// Exit by what the stage itself requires, and not by the closing gate
    #[arg(long)]
    this_stage: bool,
    /// Every station, cause and point, however many
    #[arg(long, alias = "full")]
    all: bool,
    /// The next thing to do, the gate and its causes, in 24 lines at most
    #[arg(long, conflicts_with = "all")]
    brief: bool,
}

impl Check {
    /// Judges it.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let session = Session::open_read_only(&self.log)?;
        let assessment = match &self.stage {
            Some(stage) => session.assessment_at(stage)?.into(),
            None => session.assessment(),
        };
        show.answer(|| text(&assessment, Extent { all: self.all, brief: self.brief }), &*assessment)?;
        Ok(if self.this_stage {
            Exit::of_verdict(assessment.stage_verdict)
        } else {
            Exit::of_gate(&assessment.gate)
        })
    }
}
