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
    entries: usize,
    file: String,
}

impl Export {
    /// Writes it.
    pub fn run(self, show: &Show) -> Result<Exit, ShopError> {
        let session = Session::open_read_only(&self.log)?;
        let write = |to: &mut dyn Write| match self.format {
            Form::Csv => session.export_csv(to),
            Form::Jsonl => session.export_jsonl(to),
        };
        let Some(path) = &self.output else {
            let mut out = BufWriter::new(io::stdout().lock());
            write(&mut out)?;
            out.flush().map_err(|e| unwritten(&e))?;
            return Ok(Exit::Done);
        };
        let mut bytes = Vec::new();
        write(&mut bytes)?;
        shop::write_whole(path, &bytes)?;
        let answer = Answer { format: 1, entries: session.entries().len(), file: path.display().to_string() };
        show.answer(|| format!("{} entries written to {}", answer.entries, answer.file), &answer)?;
        Ok(Exit::Done)
    }
}
