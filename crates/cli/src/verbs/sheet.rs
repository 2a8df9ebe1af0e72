//! `sheet`: the inspection sheet as PDF/A, or the profile as SVG.

use crate::exit::Exit;
use crate::show::Show;
use crate::written::Holds;
use assess::Assessment;
use clap::Args;
use quantity::shown::count;
use serde::Serialize;
use session::{NotKnown, Session, SessionError};
use sheet::{Form, Paper, PlotStyle, Stamp};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Sheet {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The file to write; it ends in .pdf, or .svg with --svg
    #[arg(short, long)]
    output: PathBuf,
    /// a4 or letter
    #[arg(long, default_value = "a4", conflicts_with = "svg")]
    paper: String,
    /// Two pages: the gate, then the twist and the worst of each kind
    #[arg(long, conflicts_with_all = ["component", "svg"])]
    short: bool,
    /// One component, by its name in the plan ("torque tube", S4, root-post, BR)
    #[arg(long = "for", value_name = "COMPONENT", conflicts_with = "svg")]
    component: Option<String>,
    /// The profile alone, as SVG
    #[arg(long)]
    svg: bool,
}

#[derive(Serialize)]
struct Answer {
    file: String,
    entries: u64,
    head: String,
}

/// The stamp of a session's sheet: only what the log contains, so that the same log gives the same bytes.
pub fn stamp(session: &Session, assessment: &Assessment, paper: Paper, form: Form) -> Stamp {
    let session::LogHead { entries, hash: head } = session.head();
    let made_at = assessment.last_entry_at.clone().unwrap_or_default();
    Stamp {
        title: "Inspection sheet".to_owned(),
        plan_sha256: session.plan_sha256(),
        head,
        entries,
        made_at,
        program: concat!("jigtrue ", env!("CARGO_PKG_VERSION")).to_owned(),
        paper,
        form,
    }
}

pub fn paper(word: &str) -> Result<Paper, SessionError> {
    let of = || NotKnown::word("paper", word, Paper::ALL.map(Paper::word)).into();
    Paper::from_word(word).ok_or_else(of)
}

impl Sheet {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let session = Session::open_read_only(&self.log)?;
        let paper = paper(&self.paper)?;
        let holds = if self.svg { Holds::Svg } else { Holds::Pdf };
        holds.may_be_in(&self.output, &[&self.log])?;
        let assessment = session.assessment_by_stage();
        let form = match (self.short, self.component) {
            (true, _) => Form::Short,
            (false, Some(name)) => Form::Component(name),
            (false, None) => Form::Full,
        };
        let session::LogHead { entries, hash: head } = session.head();
        let stamp = stamp(&session, &assessment, paper, form);
        // The sheet shows the assessment; for a long log, keeping the entries too would only cost memory.
        drop(session);
        let bytes = if self.svg {
            sheet::profile_svg(&assessment, &PlotStyle::default())
                .map_err(SessionError::because)?
                .into_bytes()
        } else {
            sheet::pdf(&assessment, &stamp).map_err(SessionError::because)?
        };
        session::write_whole(&self.output, &[&self.log], &bytes)?;
        let answer = Answer { file: self.output.display().to_string(), entries, head };
        show.answer(
            || {
                let file = session::shown(&answer.file);
                format!("{file} is written, of {}", count(entries, "entry", "entries"))
            },
            &answer,
        )?;
        Ok(Exit::Done)
    }
}
