//! `plan`: an example to start from, the plan in force, and what changed it.

use super::explain::explain;
use super::replan::listed;
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use serde::Serialize;
use session::{PlanStep, Session, SessionError, shown};
use std::path::PathBuf;

/// A commented example, small and complete.
const EXAMPLE: &str = include_str!("plan.toml");

/// Every possible key, commented.
const FULL: &str = include_str!("plan-full.toml");

#[derive(Debug, Args)]
#[command(after_long_help = "  jigtrue plan > wing.toml             an example to start from\n  \
    jigtrue plan --full                  every key there is\n  \
    jigtrue plan --explain incidence     what is measured, how, and its sign\n  \
    jigtrue plan LOG                     the plan in force")]
pub struct Plan {
    /// A log, whose plan in force is printed; without one, an example to start from
    log: Option<PathBuf>,
    /// Every change of the log's plan, old and new
    #[arg(long)]
    changes: bool,
    /// Every key that a plan may have, commented; itself a plan
    #[arg(long, conflicts_with_all = ["log", "changes"])]
    full: bool,
    /// What a kind of point is, how it is measured, and its sign: incidence, plumb, spacing
    #[arg(long, value_name = "KIND", conflicts_with_all = ["changes", "full"])]
    explain: Option<String>,
    /// Every point of the log's plan
    #[arg(long, conflicts_with_all = ["changes", "full", "explain"])]
    points: bool,
}

#[derive(Serialize)]
struct Answer<'a> {
    plan: &'a str,
}

#[derive(Serialize)]
struct Points<'a> {
    points: &'a [String],
}

#[derive(Serialize)]
struct Changes<'a> {
    replanned: &'a [PlanStep],
}

impl Plan {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        if self.full {
            return show.done(|| FULL.to_owned(), &Answer { plan: FULL });
        }
        if let Some(kind) = &self.explain {
            // It can be explained without a log; with a log, its places on the wing are added.
            let log = self.log.clone().or_else(|| crate::which::unnamed().ok().map(|found| found.log));
            let session = log.and_then(|log| Session::open_read_only(&log).ok());
            return explain(kind, session.as_ref().map(Session::plan), show);
        }
        if self.log.is_none() && !self.changes && !self.points {
            return show.done(|| EXAMPLE.to_owned(), &Answer { plan: EXAMPLE });
        }
        let log = crate::which::or_unnamed(self.log, show)?;
        let session = show.of(Session::open_read_only(&log)?);
        if self.changes {
            let steps = session.plan_steps()?;
            let step = |s: &PlanStep| format!("{} {}\n{}", s.entry, shown(&s.reason), listed(&s.changes));
            let text = || match steps.as_slice() {
                [] => "The plan is the one the log was started with.".to_owned(),
                steps => steps.iter().map(step).collect(),
            };
            return show.done(text, &Changes { replanned: &steps });
        }
        if self.points {
            let points: Vec<String> = session.plan().points().iter().map(ToString::to_string).collect();
            return show.done(|| points.join("\n"), &Points { points: &points });
        }
        let plan = session.plan_text();
        show.done(|| plan.to_owned(), &Answer { plan })
    }
}
