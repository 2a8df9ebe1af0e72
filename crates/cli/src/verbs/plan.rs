//! `plan`: an example to start from, the plan in force, and what changed it.

use super::replan::{ChangeView, listed};
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use serde::Serialize;
use session::{PlanStep, Session, SessionError, shown};
use std::path::PathBuf;

/// A commented example, small and complete.
const EXAMPLE: &str = include_str!("plan.toml");

/// `plan`
#[derive(Debug, Args)]
pub struct Plan {
    /// A log, whose plan in force is printed; without one, an example to start from
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: Option<PathBuf>,
    /// Every change of the log's plan, old and new
    #[arg(long)]
    changes: bool,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: u32,
    plan: &'a str,
}

#[derive(Serialize)]
struct Changes<'a> {
    format: u32,
    replanned: Vec<Step<'a>>,
}

#[derive(Serialize)]
struct Step<'a> {
    entry: u64,
    reason: &'a str,
    changes: Vec<ChangeView<'a>>,
}

impl Plan {
    /// Prints it.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        if self.log.is_none() && !self.changes {
            show.answer(|| EXAMPLE.to_owned(), &Answer { format: 1, plan: EXAMPLE })?;
            return Ok(Exit::Done);
        }
        let log = crate::which::or_unnamed(self.log, show)?;
        let session = Session::open_read_only(&log)?;
        if self.changes {
            let steps = session.plan_steps()?;
            let step = |s: &PlanStep| format!("{} {}\n{}", s.seq, shown(&s.reason), listed(&s.changes));
            let text = || match steps.as_slice() {
                [] => "The plan is the one the log was started with.".to_owned(),
                steps => steps.iter().map(step).collect(),
            };
            let replanned = steps.iter().map(|s| Step {
                entry: s.seq,
                reason: &s.reason,
                changes: s.changes.iter().map(ChangeView::from).collect(),
            });
            show.answer(text, &Changes { format: 1, replanned: replanned.collect() })?;
            return Ok(Exit::Done);
        }
        let plan = session.plan_text();
        show.answer(|| plan.to_owned(), &Answer { format: 1, plan })?;
        Ok(Exit::Done)
    }
}
