//! `entries`: what is in the log, one line each.

use super::ranges::Numbers;
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::view::wrap::{WIDTH, fit, width, wrap_hang};
use clap::Args;
use serde::Serialize;
use session::log::EntryLine;
use session::{Session, SessionError, shown};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Entries {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// Which: 12, 78-81, 90- (from there on); all of them if none is named
    numbers: Vec<Numbers>,
}

#[derive(Serialize)]
struct Answer {
    entries: Vec<EntryLine>,
}

impl Entries {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let session = show.of(Session::open_whole(&self.log)?);
        let last = session.head().entries;
        let wanted =
            |line: &EntryLine| self.numbers.is_empty() || self.numbers.iter().any(|n| n.contains(line.seq));
        let entries: Vec<EntryLine> = session.listing().into_iter().filter(wanted).collect();
        if entries.is_empty() {
            return Err(Refusal::NoSuchEntry(last).into());
        }
        let answer = Answer { entries };
        show.done(|| text(&answer.entries), &answer)
    }
}

/// One line each, with the day where it changes.
fn text(lines: &[EntryLine]) -> String {
    let number = lines.iter().map(|l| l.seq.to_string().len()).max().unwrap_or(1);
    let who = lines.iter().map(|l| width(&shown(&l.by))).max().unwrap_or(0).min(12);
    let (mut day, mut out) = (String::new(), Vec::new());
    for line in lines {
        let (date, time) = line.when.split_at_checked(10).unwrap_or((&line.when, ""));
        let zone = line.when.get(16..).unwrap_or_default();
        let this = format!("{date}{zone}");
        if this != day {
            out.push(this.clone());
            day = this;
        }
        let begin = format!(
            "{:>number$}  {}  {}  ",
            line.seq,
            time.get(1..6).unwrap_or("     "),
            fit(&shown(&line.by), who)
        );
        let end = match (line.withdrawn_by, &line.stage, line.round) {
            (Some(by), _, _) => format!("withdrawn by {by}"),
            (None, Some(stage), Some(round)) => format!("{}, round {round}", shown(stage)),
            (None, Some(stage), None) => shown(stage).into_owned(),
            (None, None, _) => String::new(),
        };
        let room = WIDTH.saturating_sub(width(&begin) + width(&end) + 2);
        if width(&line.words) <= room {
            let text = format!("{begin}{}  {end}", fit(&line.words, room));
            out.push(text.trim_end().to_owned());
        } else {
            out.push(wrap_hang(&begin, &" ".repeat(width(&begin)), &format!("{}  [{end}]", line.words)));
        }
    }
    out.join("\n")
}
