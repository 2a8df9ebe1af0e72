//! `undo` and `withdraw`: entries that no longer count. They stay in the log.

use super::happen::{EntryView, acknowledge, open};
use super::ranges::Numbers;
use crate::exit::Exit;
use crate::input::{Enter, Input};
use crate::refusal::Refusal;
use crate::show::Show;
use crate::view::wrap::wrap;
use clap::Args;
use quantity::shown::count;
use record::{What, Withdrawable};
use serde::Serialize;
use session::log::TYPED_WRONG;
use session::{Session, SessionError, shown};
use std::error::Error;
use std::fmt;
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(
    after_long_help = "It withdraws the last entry under your name that is not withdrawn; after an undo that is the withdrawal itself, \
    and what it withdrew counts again. Nothing is ever removed from a log."
)]
pub struct Undo {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// Why; a stage or a check of an instrument needs it
    #[arg(long)]
    reason: Option<String>,
    /// Whose last entry (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

impl Undo {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let mut session = open(&self.log, self.by.as_deref(), show)?;
        let mut input = Input::new(show);
        let mut reason = self.reason;
        if reason.is_none() && input.asks() {
            let entry = session.last_of_own()?;
            let words = format!("{}  {}, {}.", entry.seq, session.entry_words(&entry), entry.when());
            let own = entry.what.withdrawable() == Withdrawable::WithReason;
            let ask =
                if own { "reason".to_owned() } else { format!("reason, or Enter for \"{TYPED_WRONG}\"") };
            let Some(typed) = input.line(&format!("{words} Withdraw it? Type the {ask}: "), show)? else {
                show.aside("Nothing was withdrawn.");
                return Ok(Exit::Failed);
            };
            if matches!(typed.to_lowercase().as_str(), "n" | "no" | "q") || (own && typed.is_empty()) {
                show.aside("Nothing was withdrawn.");
                return Ok(Exit::Failed);
            }
            let yes = matches!(typed.to_lowercase().as_str(), "y" | "yes") && !own;
            reason = Some(if yes { String::new() } else { typed });
        }
        acknowledge(&session.undo(reason.as_deref())?, show)
    }
}

#[derive(Debug, Args)]
pub struct Withdraw {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The entries' numbers: 97, 14-18, 14 15 18
    #[arg(required = true)]
    entries: Vec<Numbers>,
    /// Why; asked for at a terminal
    #[arg(long)]
    reason: Option<String>,
    /// Also moves and stages among several entries
    #[arg(long)]
    yes: bool,
    /// Who withdraws it (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

#[derive(Serialize)]
struct Several<'a> {
    entries: Vec<EntryView<'a>>,
    words: &'a str,
}

impl Withdraw {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let mut session = open(&self.log, self.by.as_deref(), show)?;
        let mut input = Input::new(show);
        let reason = match self.reason.clone() {
            Some(reason) => reason,
            None if input.asks() => input
                .line("Why? Type the reason, or Enter for \"typed wrong\": ", show)?
                .map_or_else(String::new, |r| if r.is_empty() { TYPED_WRONG.to_owned() } else { r }),
            None => return Err(Refusal::WithdrawnWhy.into()),
        };
        let head = session.head().entries;
        if let Some(seq) = self.entries.iter().find_map(|n| n.beyond(head)) {
            return Err(Refusal::NoEntry { seq, last: head }.into());
        }
        let mut all: Vec<u64> = self.entries.iter().flat_map(|n| n.each(head)).collect();
        all.sort_unstable();
        all.dedup();
        if let ([one], [only]) = (all.as_slice(), self.entries.as_slice())
            && only.is_one()
        {
            return acknowledge(&session.withdraw(*one, &reason)?, show);
        }
        if !self.yes && !sure(&session, &all, &mut input, show)? {
            return Ok(Exit::Failed);
        }
        let gone = session.withdraw_all(&all, &reason)?;
        let entries = gone.entries.iter().map(EntryView::of).collect();
        show.done(|| gone.ack.clone(), &Several { entries, words: &gone.ack })
    }
}

/// Moves and stages among entries to be withdrawn: much depends on them, and a range of numbers hides them.
#[derive(Debug)]
struct Weighty {
    /// Each with its number, as text.
    entries: Vec<String>,
    /// The entries that can be withdrawn without these.
    others: Vec<u64>,
}

impl Weighty {
    fn said(&self) -> String {
        let entries = self.entries.join("; ");
        format!(
            "Among them are {entries}. Withdrawing a move says the screw was never turned, a stage that it never began."
        )
    }

    fn only(&self) -> String {
        let others = session::log::runs(&self.others).replace(',', "");
        format!("Nothing withdrawn. The others alone: jigtrue withdraw {others}")
    }
}

impl fmt::Display for Weighty {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}\n  --yes withdraws all. {}", shown(&self.said()), self.only())
    }
}

impl Error for Weighty {}

/// Asks about moves and stages among several entries.
fn sure(session: &Session, all: &[u64], input: &mut Input, show: &Show) -> Result<bool, SessionError> {
    let weighty = |what: &What| matches!(what, What::Move(_) | What::Stage(_));
    let found: Vec<_> =
        session.entries().iter().filter(|e| all.contains(&e.seq) && weighty(&e.what)).collect();
    if found.is_empty() {
        return Ok(true);
    }
    let never = |seq: u64| {
        let found = session.entries().iter().find(|e| e.seq == seq);
        found.is_some_and(|e| matches!(e.what.withdrawable(), Withdrawable::Never(_)))
    };
    let other = |seq: &u64| !never(*seq) && !found.iter().any(|e| e.seq == *seq);
    let weighty = Weighty {
        entries: found.iter().map(|e| format!("{} {}", e.seq, session.entry_words(e))).collect(),
        others: all.iter().copied().filter(other).collect(),
    };
    if !input.asks() {
        return Err(SessionError::because(weighty));
    }
    show.aside(&wrap("", &weighty.said()));
    let question = format!("Withdraw all {}?", count(all.len(), "entry", "entries"));
    let yes = input.yes(&question, Enter::No, show)?;
    if !yes {
        show.aside(&weighty.only());
    }
    Ok(yes)
}
