//! `export`: the way out.

use crate::exit::Exit;
use crate::show::{Show, unwritten};
use clap::{Args, ValueEnum};
use serde::Serialize;
use session::{Session, SessionError};
use std::io::{self, BufWriter, IsTerminal, Write};
use std::path::PathBuf;

/// The form.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Form {
    /// A table, units in the headers
    Csv,
    /// One JSON object a line
    Jsonl,
}

/// `export`
#[derive(Debug, Args)]
pub struct Export {
    /// The log
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: PathBuf,
    /// The form
    #[arg(long, value_enum, default_value = "csv")]
    format: Form,
    /// A file in place of standard output
    #[arg(short, long)]
    output: Option<PathBuf>,
}

#[derive(Serialize)]
struct Answer {
    format: u32,
    entries: u64,
    file: String,
}

impl Export {
    /// Writes it.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
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
                let done = Session::export(&self.log, form, &mut out)?;
                out.flush().map_err(unwritten)?;
                done
            } else {
                Session::export(&self.log, form, &mut out)?
            };
            out.flush().map_err(unwritten)?;
            warn(done.broken);
            return Ok(Exit::Done);
        };
        let done = session::write_whole_by(path, &[&self.log], |to| Session::export(&self.log, form, to))?;
        warn(done.broken);
        let answer = Answer { format: 1, entries: done.entries, file: path.display().to_string() };
        show.answer(|| format!("{} entries written to {}", answer.entries, answer.file), &answer)?;
        Ok(Exit::Done)
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
