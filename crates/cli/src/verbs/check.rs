//! `check`: the assessment.

use crate::exit::Exit;
use crate::show::Show;
use crate::view::Listed;
use crate::view::check::{BRIEF, Extent, Seen, text};
use crate::view::wrap;
use assess::view::Verdict;
use clap::Args;
use session::next::next;
use session::{Session, SessionError};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Check {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// As a stage ended, or as it stands if it has not
    #[arg(long)]
    stage: Option<String>,
    /// Exit by what the stage itself requires, not by the closing gate
    #[arg(long)]
    this_stage: bool,
    /// Every station, cause and point, however many
    #[arg(long = "full", alias = "all")]
    all: bool,
    /// The next thing to do, the gate and its causes, in 24 lines at most
    #[arg(long, conflicts_with = "all")]
    brief: bool,
    /// The twist profile alone
    #[arg(long, conflicts_with = "brief")]
    plot: bool,
}

impl Check {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let session = show.of(Session::open_read_only(&self.log)?);
        let assessment = match &self.stage {
            Some(stage) => session.assessment_at(stage)?.into(),
            None if show.json => session.assessment_by_stage(),
            None => session.assessment(),
        };
        // A terminal with few rows gets what fits on it, unless more is requested.
        let small = show.live() && wrap::rows().is_some_and(|rows| rows < BRIEF) && !self.all && !self.plot;
        let extent = Extent { listed: Listed::from(self.all), brief: self.brief || small, plot: self.plot };
        let words = || {
            // What to do next depends on the present, not on a stage that has ended.
            let next = self.stage.is_none().then(|| next(&assessment, &session.advice()));
            text(
                &Seen {
                    assessment: &assessment,
                    entries: session.entries(),
                    units: session.plan().shown_in,
                    next,
                },
                extent,
            )
        };
        show.view(words, &*assessment)?;
        let exit = if self.this_stage {
            // Where no stage was begun nothing that it requires was read.
            Exit::of_verdict(Some(assessment.stage_verdict.unwrap_or(Verdict::Missing)))
        } else {
            Exit::of_gate(&assessment.gate)
        };
        // The program ends here: only the log is closed, and the system takes the memory back at once.
        std::mem::forget((assessment, session.shared_entries()));
        Ok(exit)
    }
}
