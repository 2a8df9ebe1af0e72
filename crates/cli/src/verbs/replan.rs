//! `replan`: replace the plan, and see every change.

use super::happen::{EntryView, open};
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use quantity::shown::count;
use record::plan::PlanChange;
use serde::Serialize;
use session::{Replanned, SessionError, VerdictChange, shown};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Replan {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The new plan's file
    plan: PathBuf,
    /// Why
    #[arg(long)]
    reason: String,
    /// Who says so (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

#[derive(Serialize)]
struct Answer<'a> {
    entry: EntryView<'a>,
    changes: &'a [PlanChange],
    verdicts: &'a [VerdictChange],
    loosened: &'a [String],
    warnings: &'a [String],
    words: &'a str,
}

impl Replan {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let mut session = open(&self.log, self.by.as_deref(), show)?;
        let replanned = session.replan(&self.plan, &self.reason)?;
        let warnings: Vec<String> = session.plan().warnings().iter().map(ToString::to_string).collect();
        let words = text(&replanned, &warnings);
        let answer = Answer {
            entry: EntryView::of(&replanned.entry),
            changes: &replanned.changes,
            verdicts: &replanned.verdicts,
            loosened: &replanned.loosened,
            warnings: &warnings,
            words: &words,
        };
        show.done(|| words.clone(), &answer)
    }
}

pub fn listed(changes: &[PlanChange]) -> String {
    let mut text = String::new();
    for change in changes {
        let mark = if change.looser { "    looser" } else { "" };
        text.push_str(&format!("  {}{mark}\n", shown(&change.to_string())));
    }
    text
}

fn text(replanned: &Replanned, warnings: &[String]) -> String {
    let Replanned { entry, changes, loosened, verdicts } = replanned;
    let mut text = format!("Plan changes, {}:\n{}", changes.len(), listed(changes));
    if changes.is_empty() {
        text = "Only remarks and spaces of the plan changed.\n".to_owned();
    }
    if !verdicts.is_empty() {
        let one = |v: &VerdictChange| {
            let (old, new) = (v.old.unwrap_or("not asked for"), v.new.unwrap_or("not asked for"));
            format!("{} {old} -> {new}", shown(&v.about))
        };
        let all: Vec<String> = verdicts.iter().take(12).map(one).collect();
        text.push_str(&format!("Verdicts that change, {}: {}\n", verdicts.len(), all.join("; ")));
    }
    if !loosened.is_empty() {
        let holds = count(loosened.len(), "loosened key holds the gate", "loosened keys hold the gate");
        text.push_str(&format!("{holds} until carried past, each with a reason:\n"));
        for item in loosened {
            let item = shown(item);
            text.push_str(&format!("  jigtrue open-item LOG \"{item}\" --carry --reason \"...\"\n"));
        }
    }
    for warning in warnings {
        text.push_str(&format!("Mind: {}\n", shown(warning)));
    }
    text.push_str(&format!(
        "{} the plan is replaced; the earlier one stays in the log. Old and new: jigtrue plan LOG --changes",
        entry.seq
    ));
    text
}
