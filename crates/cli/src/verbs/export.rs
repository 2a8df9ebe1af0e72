//! `export`: the way out.

use crate::exit::Exit;
use crate::show::{Show, unwritten};
use assess::series::NotCounted;
use clap::{Args, ValueEnum};
use quantity::shown::count;
use serde::Serialize;
use session::{Session, SessionError};
use std::io::{self, BufWriter, IsTerminal, Write};
use std::path::{Path, PathBuf};

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Form {
    /// A table, units in the headers
    Csv,
    /// One JSON object a line
    Jsonl,
}

#[derive(Debug, Args)]
pub struct Export {
    /// The log
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: PathBuf,
    /// More logs, or folders of them, with --into
    #[arg(requires = "into", add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    more: Vec<PathBuf>,
    /// The form
    #[arg(long, value_enum, default_value = "csv")]
    format: Form,
    /// A file in place of standard output
    #[arg(short, long)]
    output: Option<PathBuf>,
    /// A folder for many logs: their figures and entries in columns (Parquet), one folder a kind of wing
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["output", "format"])]
    into: Option<PathBuf>,
    /// With --into: every wing as it was at the end of this stage, and not of the closing stage
    #[arg(long, requires = "into")]
    stage: Option<String>,
}

#[derive(Serialize)]
struct Answer {
    format: u32,
    entries: u64,
    file: String,
}

#[derive(Serialize)]
struct Many {
    format: u32,
    wings: u64,
    kinds: usize,
    entries: u64,
    folder: String,
    not_counted: Vec<NotCounted>,
}

impl Export {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        if let Some(into) = &self.into {
            return self.many(into, show);
        }
        let log = &self.log;
        let form = match self.format {
            Form::Csv => session::Form::Csv,
            Form::Jsonl => session::Form::JsonLines,
        };
        let warn = |broken: Option<String>| {
            broken.into_iter().for_each(|why| show.aside(&format!("{why}; exported as found")))
        };
        let Some(path) = &self.output else {
            let mut out = BufWriter::new(io::stdout().lock());
            let done = if io::stdout().is_terminal() {
                let mut out = Visible { out: &mut out, line: Vec::new() };
                let done = Session::export(log, form, &mut out)?;
                out.flush().map_err(unwritten)?;
                done
            } else {
                Session::export(log, form, &mut out)?
            };
            out.flush().map_err(unwritten)?;
            warn(done.broken);
            return Ok(Exit::Done);
        };
        let done = session::write_whole_by(path, &[log], |to| Session::export(log, form, to))?;
        warn(done.broken);
        let answer = Answer { format: 1, entries: done.entries, file: path.display().to_string() };
        show.done(
            || format!("{} written to {}", count(answer.entries, "entry", "entries"), answer.file),
            &answer,
        )
    }
}

impl Export {
    fn many(&self, into: &Path, show: &Show) -> Result<Exit, SessionError> {
        let logs: Vec<PathBuf> = std::iter::once(&self.log).chain(&self.more).cloned().collect();
        let done = Session::export_many(&logs, self.stage.as_deref(), into)?;
        let folder = into.display().to_string();
        let exit = if done.not_counted.is_empty() { Exit::Done } else { Exit::Open };
        let words = || {
            let mut out: Vec<String> =
                done.not_counted.iter().map(|n| format!("not counted: {}: {}", n.log, n.why)).collect();
            out.push(format!(
                "{} of {} and {} written to {folder}",
                count(done.wings, "wing", "wings"),
                count(done.kinds as u64, "kind", "kinds"),
                count(done.entries, "entry", "entries")
            ));
            out.join("\n")
        };
        let (wings, kinds, entries) = (done.wings, done.kinds, done.entries);
        let answer = Many {
            format: 1,
            wings,
            kinds,
            entries,
            folder: folder.clone(),
            not_counted: done.not_counted.clone(),
        };
        show.answer(words, &answer)?;
        Ok(exit)
    }
}

/// Where somebody looks at a terminal: what could steer it is shown as escapes. A file or another program gets the text as
/// it is.
struct Visible<W> {
    out: W,
    line: Vec<u8>,
}

impl<W: Write> Write for Visible<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        for piece in bytes.split_inclusive(|b| *b == b'\n') {
            self.line.extend_from_slice(piece);
            if self.line.pop_if(|b| *b == b'\n').is_some() {
                writeln!(self.out, "{}", session::shown(&String::from_utf8_lossy(&self.line)))?;
                self.line.clear();
            }
        }
        Ok(bytes.len())
    }

    /// Pieces of lines wait: they may end in the middle of a character.
    fn flush(&mut self) -> io::Result<()> {
        self.out.flush()
    }
}
