//! `export`: every entry to a file.

use crate::exit::Exit;
use crate::show::{Lines, Show, unwritten};
use crate::words::{Word, one_of};
use crate::written::Holds;
use clap::Args;
use quantity::shown::count;
use serde::Serialize;
use session::{Exported, Form, Session, SessionError};
use std::io::{self, BufWriter, IsTerminal, Write};
use std::path::{Path, PathBuf};

const FORMS: [Word<Form>; 2] = [
    ("csv", Form::Csv, "A table, units in the headers"),
    ("jsonl", Form::JsonLines, "One JSON object a line"),
];

#[derive(Debug, Args)]
#[command(
    after_long_help = "Exit codes: 0 written; 1 not written, or the log is not whole: then it is written as found, and the last row \
    (its kind is `broken`) says what is wrong with it, which `import` refuses."
)]
pub struct Export {
    /// The log
    log: PathBuf,
    /// More logs, or folders of them, with --into
    #[arg(requires = "into")]
    more: Vec<PathBuf>,
    /// The form
    #[arg(long, value_parser = one_of(&FORMS), default_value = "csv")]
    format: Form,
    /// A file instead of standard output (-)
    #[arg(short, long)]
    output: Option<PathBuf>,
    /// A folder for many logs: their figures and entries in columns (Parquet), one folder a kind of wing
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["output", "format"])]
    into: Option<PathBuf>,
    /// With --into: every wing as it was at the end of this stage, instead of the closing stage
    #[arg(long, requires = "into")]
    stage: Option<String>,
}

#[derive(Serialize)]
struct Answer {
    entries: u64,
    file: String,
    /// What is wrong with the log, if it is broken.
    broken: Option<String>,
}

impl Export {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        if let Some(into) = &self.into {
            return self.many(into, show);
        }
        let (log, form) = (&self.log, self.format);
        // It is written as found, which is not what was asked for.
        let told = |done: &Exported| match done.warning() {
            Some(why) => {
                show.aside(&why);
                Exit::Failed
            }
            None => Exit::Done,
        };
        let Some(path) = self.output.as_ref().filter(|path| path.as_path() != Path::new("-")) else {
            let out = io::stdout().lock();
            // A file or another program gets the text as it is.
            let out: Box<dyn Write> = if out.is_terminal() {
                Box::new(Lines::new(out, session::each_line_shown))
            } else {
                Box::new(out)
            };
            let mut out = BufWriter::new(out);
            let done = Session::export(log, form, &mut out)?;
            out.flush().map_err(unwritten)?;
            return Ok(told(&done));
        };
        let holds = match form {
            Form::Csv => Holds::Csv,
            Form::JsonLines => Holds::JsonLines,
        };
        holds.may_be_in(path, &[log])?;
        let done = Session::export_to(log, form, path)?;
        let (file, broken) = (path.display().to_string(), done.warning());
        let answer = Answer { entries: done.entries, file, broken };
        show.answer(
            || format!("{} written to {}", count(answer.entries, "entry", "entries"), answer.file),
            &answer,
        )?;
        Ok(told(&done))
    }

    fn many(&self, into: &Path, show: &Show) -> Result<Exit, SessionError> {
        let logs: Vec<PathBuf> = std::iter::once(&self.log).chain(&self.more).cloned().collect();
        let done = Session::export_many(&logs, self.stage.as_deref(), into)?;
        let words = || {
            let mut out: Vec<String> =
                done.not_counted.iter().map(|n| format!("not counted: {}: {}", n.log, n.why)).collect();
            out.push(format!(
                "{} of {} and {} written to {}",
                count(done.wings, "wing", "wings"),
                count(done.kinds, "kind", "kinds"),
                count(done.entries, "entry", "entries"),
                done.folder
            ));
            out.join("\n")
        };
        show.answer(words, &done)?;
        Ok(if done.not_counted.is_empty() { Exit::Done } else { Exit::Open })
    }
}
