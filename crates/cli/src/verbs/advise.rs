//! `advise`: what to turn, which way, how far, and what no turn corrects.

use crate::exit::Exit;
use crate::show::Show;
use crate::view::advice;
use assess::advice::AdviceState;
use clap::Args;
use session::{Session, SessionError};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Advise {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// Start from what earlier wings did: a file that `series LOG... --json` wrote
    #[arg(long, value_name = "SERIES")]
    like: Option<PathBuf>,
}

impl Advise {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let session = show.of(Session::open_read_only(&self.log)?);
        let state = if let Some(series) = &self.like {
            let answer = session.advice_like(series)?;
            show.view(|| advice::liked(&answer, session.plan().shown_in), &answer)?;
            answer.advice.state
        } else {
            let answer = session.advice();
            show.view(|| advice::text(&answer, session.plan().shown_in), &answer)?;
            answer.state
        };
        Ok(match state {
            AdviceState::Leave => Exit::Done,
            AdviceState::Move | AdviceState::Mend | AdviceState::Cannot => Exit::Outside,
            AdviceState::Measure => Exit::Open,
        })
    }
}
