//! `advise`: what to move.

use crate::exit::Exit;
use crate::show::Show;
use crate::view::wrap::wrap;
use assess::advice::{Advice, AdviceState};
use clap::Args;
use session::{Session, SessionError};
use std::path::PathBuf;

/// `advise`
#[derive(Debug, Args)]
pub struct Advise {
    /// The log
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: PathBuf,
}

impl Advise {
    /// Works it out.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let session = Session::open_read_only(&self.log)?;
        let advice = session.advice();
        show.answer(|| text(&advice), &advice)?;
        Ok(match advice.state {
            AdviceState::Leave => Exit::Done,
            AdviceState::Move | AdviceState::Cannot => Exit::Outside,
            AdviceState::Measure => Exit::Open,
        })
    }
}

fn text(a: &Advice) -> String {
    let word = match a.state {
        AdviceState::Move => "MOVE",
        AdviceState::Leave => "LEAVE IT",
        AdviceState::Measure => "MEASURE FIRST",
        AdviceState::Cannot => "NO MOVE DOES IT",
    };
    let mut out = vec![wrap(&format!("{word}: "), &a.words)];
    for (i, step) in a.steps.iter().enumerate() {
        out.push(wrap(&format!("  {}. ", i + 1), &step.words));
    }
    if !a.profile.is_empty() && !a.steps.is_empty() {
        out.push(format!("\n{:<14}{:>10}{:>12}{:>22}", "twist error", "now °", "expected °", "95 % between"));
        let rows = a.setting.iter().map(|e| ("setting", e));
        let stations = a.profile.iter().map(|s| (s.name.as_str(), &s.twist_error));
        out.extend(rows.chain(stations).map(|(name, e)| {
            let between = format!("{:+.3} and {:+.3}", e.lower_deg, e.upper_deg);
            format!("{:<14}{:>+10.3}{:>+12.3}{between:>22}", session::shown(name), e.now_deg, e.expected_deg)
        }));
    }
    if let (Some(now), Some(then)) = (a.worst_now, a.worst_expected) {
        let at = a.worst_at.as_deref().map_or_else(String::new, |w| format!(" ({})", session::shown(w)));
        out.push(format!("worst now {now:.2} of its tolerance{at}, expected {then:.2}"));
    }
    for (title, lines) in [("", &a.reasons), ("Mind, while a wing is on the jig:", &a.cautions)] {
        if !lines.is_empty() {
            out.push(String::new());
            if !title.is_empty() {
                out.push(title.to_owned());
            }
            out.extend(lines.iter().map(|l| wrap("  - ", l)));
        }
    }
    out.extend(a.learned.iter().map(|l| wrap("learned: ", &l.words)));
    out.join("\n")
}
