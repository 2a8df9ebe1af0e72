//! `export`: the way out.

use crate::exit::Exit;
use crate::show::{Show, unwritten};
use clap::{Args, ValueEnum};
use serde::Serialize;
use shop::{Session, ShopError};
use std::io::{self, BufWriter, Write};
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
    pub fn run(self, show: &Show) -> Result<Exit, ShopError> {
        let form = match self.format {
            Form::Csv => shop::Form::Csv,
            Form::Jsonl => shop::Form::JsonLines,
        };
        let warn = |broken: Option<String>| {
            broken.into_iter().for_each(|why| show.aside(&format!("{why}; exported as found")))
        };
        let Some(path) = &self.output else {
            let mut out = BufWriter::new(io::stdout().lock());
            let done = Session::export(&self.log, form, &mut out)?;
            out.flush().map_err(|e| unwritten(&e))?;
            warn(done.broken);
            return Ok(Exit::Done);
        };
        let done = shop::write_whole_by(path, |to| Session::export(&self.log, form, to))?;
        warn(done.broken);
        let answer = Answer { format: 1, entries: done.entries, file: path.display().to_string() };
        show.answer(|| format!("{} entries written to {}", answer.entries, answer.file), &answer)?;
        Ok(Exit::Done)
    }
}
