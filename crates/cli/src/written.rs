//! What a file that is written is called: a name that says something else than what is in it misleads whoever opens it.

use crate::refusal::Refusal;
use session::nearby::LOG_ENDING;
use session::{SessionError, may_write};
use std::path::Path;

quantity::words! {
    /// What is in the file.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Holds {
        Pdf = "a PDF",
        Svg = "an SVG picture",
        Csv = "a table (CSV)",
        JsonLines = "JSON Lines",
        Text = "plain text",
        Log = "a log",
        Instrument = "an instrument's file",
    }
}

impl Holds {
    /// The endings that say so, the usual one first.
    const fn endings(self) -> &'static [&'static str] {
        match self {
            Self::Pdf => &["pdf"],
            Self::Svg => &["svg"],
            Self::Csv => &["csv", "txt"],
            Self::JsonLines => &["jsonl", "ndjson", "json", "txt"],
            Self::Text => &["txt", "text", "md"],
            Self::Log => &[LOG_ENDING],
            Self::Instrument => &["toml"],
        }
    }

    /// True where a name without an ending will do: whoever reads a table names what reads it.
    const fn needs_no_ending(self) -> bool {
        matches!(self, Self::Csv | Self::JsonLines | Self::Text)
    }

    /// Refuses a name that does not say what is in the file, and before that a place where nothing may be written.
    ///
    /// # Errors
    /// As [`may_write`], and where the name has another ending, or is `-`.
    pub fn may_be_in(self, path: &Path, inputs: &[&Path]) -> Result<(), SessionError> {
        let fits = match path.extension() {
            None => self.needs_no_ending() && path != Path::new("-"),
            Some(ending) => self.endings().iter().any(|own| ending.eq_ignore_ascii_case(own)),
        };
        if fits {
            return Ok(());
        }
        may_write(path, inputs)?;
        let [usual, ..] = self.endings() else { return Ok(()) };
        let name = if path == Path::new("-") { Path::new("wing") } else { path };
        let option = match self {
            Self::Log => "",
            Self::Instrument => "--write ",
            Self::Pdf | Self::Svg | Self::Csv | Self::JsonLines | Self::Text => "-o ",
        };
        let holds = self.word();
        let instead = name.with_extension(usual);
        Err(Refusal::OtherEnding { file: path.to_owned(), holds, usual, option, instead }.into())
    }
}

#[cfg(test)]
mod tests;
