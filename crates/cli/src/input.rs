//! Lines typed at a terminal, or read from a pipe.

use crate::refusal::Refusal;
use crate::show::Show;
use session::SessionError;
use std::io::{self, BufRead, IsTerminal, Read};

/// The longest line read, in bytes; a value has at most 80.
const LONGEST: u64 = 4096;

pub struct Input {
    asks: bool,
    number: u64,
}

impl Input {
    /// Questions are asked only if standard input is a terminal and the output is text.
    pub fn new(show: &Show) -> Self {
        Self { asks: io::stdin().is_terminal() && !show.json, number: 0 }
    }

    /// Whether a person can be asked.
    pub const fn asks(&self) -> bool {
        self.asks
    }

    /// The number of the last line read, from 1.
    pub const fn number(&self) -> u64 {
        self.number
    }

    /// The next line; if a person can be asked, this text is the prompt. `None` at the end.
    ///
    /// # Errors
    /// If standard input cannot be read, or a line is longer than anything a person types.
    pub fn line(&mut self, prompt: &str, show: &Show) -> Result<Option<String>, SessionError> {
        if self.asks {
            show.ask(prompt);
        }
        let mut bytes = Vec::new();
        let got =
            io::stdin().lock().take(LONGEST).read_until(b'\n', &mut bytes).map_err(SessionError::Input)?;
        if got == 0 {
            if self.asks {
                show.aside("");
            }
            return Ok(None);
        }
        self.number += 1;
        if got as u64 == LONGEST {
            return Err(Refusal::LongLine(self.number).into());
        }
        // Some editors begin a file with a byte order mark.
        Ok(Some(String::from_utf8_lossy(&bytes).trim_start_matches('\u{feff}').trim().to_owned()))
    }

    /// Yes or no; Enter alone means yes if `enter` says so.
    ///
    /// # Errors
    /// As for [`Input::line`].
    pub fn yes(&mut self, question: &str, enter: Enter, show: &Show) -> Result<bool, SessionError> {
        let keys = if enter == Enter::Yes { "[Y/n]" } else { "[y/N]" };
        let Some(line) = self.line(&format!("{question} {keys} "), show)? else { return Ok(false) };
        Ok(match line.to_lowercase().as_str() {
            "" => enter == Enter::Yes,
            "y" | "yes" => true,
            _ => false,
        })
    }
}

/// The meaning of Enter alone.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Enter {
    /// Yes: it does only what the line names.
    Yes,
    No,
}
