//! Where output goes, and how it is formatted.

use crate::args::Shown;
use crate::exit::Exit;
use crate::units::Wanted;
use crate::view::paint::{finish, is_mark};
use quantity::Units;
use serde::Serialize;
use session::{Session, SessionError};
use std::borrow::Cow;
use std::io::{self, BufWriter, IsTerminal, Write};

/// Bytes of JSON collected before they are written.
const BLOCK: usize = 32 * 1024;

/// A JSON document of this program: its format, then its value.
#[derive(Serialize)]
struct Document<'a, T> {
    format: u32,
    #[serde(flatten)]
    value: &'a T,
}

impl<'a, T> Document<'a, T> {
    const fn of(value: &'a T) -> Self {
        Self { format: 1, value }
    }
}

/// How a person, or a program, wants the output.
#[derive(Clone, Debug)]
pub struct Show {
    pub json: bool,
    /// No characters beyond ASCII.
    pub ascii: bool,
    /// No remarks beside the answer.
    pub quiet: bool,
    /// The units requested in place of the plan's.
    units: Option<Wanted>,
}

impl Show {
    /// As requested, and as the environment allows: a locale without UTF-8 gets ASCII.
    pub fn new(wanted: Shown) -> Self {
        let Shown { json, ascii, quiet, units, .. } = wanted;
        let ascii = ascii || !utf8_locale() || std::env::var_os("TERM").is_some_and(|t| t == "linux");
        Self { json, ascii, quiet, units }
    }

    /// The units in which values are shown, given the units of the plan. JSON is always in mm, deg, N·m and N.
    pub fn units(&self, plan: Units) -> Units {
        match &self.units {
            _ if self.json => Units::INSIDE,
            Some(wanted) => wanted.over(plan),
            None => plan,
        }
    }

    /// Whether units were requested.
    pub const fn has_units(&self) -> bool {
        self.units.is_some()
    }

    /// The session with everything shown in the requested units.
    pub fn of(&self, mut session: Session) -> Session {
        session.show_in(self.units(session.plan().units));
        session
    }

    /// As text, before the options are known.
    pub fn plain() -> Self {
        Self::new(Shown::default())
    }

    /// Writes the answer: the text, or the value as one JSON document.
    ///
    /// # Errors
    /// If it cannot be written; `SessionError::Closed` if the reader went away.
    pub fn answer<T: Serialize>(&self, text: impl FnOnce() -> String, value: &T) -> Result<(), SessionError> {
        self.view(text, &Document::of(value))
    }

    /// The same for a value that states its format itself.
    ///
    /// # Errors
    /// As for [`Show::answer`].
    pub fn view<T: Serialize>(&self, text: impl FnOnce() -> String, value: &T) -> Result<(), SessionError> {
        if self.json {
            let lines = Lines::new(io::stdout().lock(), session::json_shown);
            let mut out = BufWriter::with_capacity(BLOCK, lines);
            serde_json::to_writer_pretty(&mut out, value)
                .map_err(io::Error::from)
                .and_then(|()| out.write_all(b"\n"))
                .and_then(|()| out.flush())
                .map_err(unwritten)
        } else {
            self.text(&text())
        }
    }

    /// Writes the answer of a verb that gives no verdict.
    ///
    /// # Errors
    /// As for [`Show::answer`].
    pub fn done<T: Serialize>(&self, text: impl FnOnce() -> String, value: &T) -> Result<Exit, SessionError> {
        self.answer(text, value)?;
        Ok(Exit::Done)
    }

    /// Writes one of several answers: a line of text, or a JSON object on one line.
    ///
    /// # Errors
    /// As for [`Show::answer`].
    pub fn event<T: Serialize>(&self, text: impl FnOnce() -> String, value: &T) -> Result<(), SessionError> {
        if !self.json {
            return self.text(&text());
        }
        let line = serde_json::to_string(&Document::of(value)).map_err(io::Error::from).map_err(unwritten)?;
        put(&format!("{}\n", session::json_shown(&line)))
    }

    /// Asks on standard error; the answer is typed after it on the same line.
    pub fn ask(&self, text: &str) {
        let mut to = anstream::stderr();
        // If it cannot be written, nobody can be asked, and nothing will be typed.
        let _ = write!(to, "{}", self.dress(text)).and_then(|()| to.flush());
    }

    /// Writes text; nothing if JSON was requested.
    ///
    /// # Errors
    /// As for [`Show::answer`].
    pub fn text(&self, text: &str) -> Result<(), SessionError> {
        if self.json || text.is_empty() {
            return Ok(());
        }
        let end = if text.ends_with('\n') { "" } else { "\n" };
        put(&(self.dress(text) + end))
    }

    /// The text as sent to a terminal: only our own colours can steer it.
    fn dress(&self, text: &str) -> String {
        finish(&if self.ascii { plain(text) } else { text.to_owned() })
    }

    /// Whether a person is looking at a terminal and the output is text.
    pub fn live(&self) -> bool {
        !self.json && io::stdout().is_terminal()
    }

    /// Writes text over the last lines of a terminal; only if [`Show::live`].
    ///
    /// # Errors
    /// As for [`Show::answer`].
    pub fn over(&self, lines: usize, text: &str) -> Result<(), SessionError> {
        let up = if lines > 0 { format!("\u{1b}[{lines}F") } else { String::new() };
        let end = if text.is_empty() || text.ends_with('\n') { "" } else { "\n" };
        put(&format!("{up}\u{1b}[J{}{end}", self.dress(text)))
    }

    /// Rings the terminal's bell; only if [`Show::live`].
    ///
    /// # Errors
    /// As for [`Show::answer`].
    pub fn ring(&self) -> Result<(), SessionError> {
        put("\u{7}")
    }

    /// Writes a remark on standard error, unless quiet is requested.
    pub fn remark(&self, text: &str) {
        if !self.quiet {
            self.aside(text);
        }
    }

    /// Writes a message other than the answer on standard error.
    pub fn aside(&self, text: &str) {
        // Nothing can be done about a closed standard error.
        let _ = writeln!(anstream::stderr(), "{}", self.dress(text));
    }
}

fn put(text: &str) -> Result<(), SessionError> {
    let mut out = anstream::stdout().lock();
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(unwritten)
}

/// Text on its way out, in whole lines: nothing in it can steer a terminal.
pub struct Lines<W> {
    /// The beginning of an unfinished line.
    begun: Vec<u8>,
    to: W,
    escape: fn(&str) -> Cow<'_, str>,
}

impl<W: Write> Lines<W> {
    pub const fn new(to: W, escape: fn(&str) -> Cow<'_, str>) -> Self {
        Self { begun: Vec::new(), to, escape }
    }

    fn put(&mut self, bytes: &[u8]) -> io::Result<()> {
        let text = std::str::from_utf8(bytes).map_err(|e| io::Error::new(io::ErrorKind::InvalidData, e))?;
        self.to.write_all((self.escape)(text).as_bytes())
    }
}

impl<W: Write> Write for Lines<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let end = bytes.iter().rposition(|b| *b == b'\n').map_or(0, |at| at + 1);
        if end > 0 {
            let mut lines = std::mem::take(&mut self.begun);
            lines.extend_from_slice(&bytes[..end]);
            self.put(&lines)?;
        }
        self.begun.extend_from_slice(&bytes[end..]);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        let rest = std::mem::take(&mut self.begun);
        self.put(&rest)?;
        self.to.flush()
    }
}

/// The error for output that could not be written.
pub fn unwritten(why: io::Error) -> SessionError {
    match why.kind() {
        io::ErrorKind::BrokenPipe => SessionError::Closed,
        _ => SessionError::Output(why),
    }
}

fn utf8_locale() -> bool {
    let set = |key: &str| std::env::var(key).ok().filter(|v| !v.is_empty());
    match set("LC_ALL").or_else(|| set("LC_CTYPE")).or_else(|| set("LANG")) {
        // Nothing is set: a pipe or a bare container; the reader there expects UTF-8.
        None => true,
        Some(locale) => {
            let locale = locale.to_lowercase();
            locale.contains("utf-8") || locale.contains("utf8")
        }
    }
}

/// Replaces the characters we use beyond ASCII.
pub fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '°' => out.push_str(if out.ends_with(' ') { "deg" } else { " deg" }),
            '±' => out.push_str("+-"),
            '·' => out.push('.'),
            '×' => out.push('x'),
            '≤' => out.push_str("<="),
            '≥' => out.push_str(">="),
            '–' | '─' | '┄' | '━' => out.push('-'),
            '═' => out.push('='),
            '│' => out.push('|'),
            '┃' | '╂' | '┨' | '┠' => out.push('#'),
            '├' => out.push('<'),
            '┤' => out.push('>'),
            '┊' => out.push(':'),
            '●' => out.push('o'),
            '▲' => out.push('X'),
            '⬖' => out.push('?'),
            '▽' => out.push('!'),
            '⊘' => out.push('~'),
            '□' => out.push('_'),
            '▬' => out.push('='),
            '┬' | '┴' | '└' | '┼' => out.push('+'),
            '░' => out.push('.'),
            '•' => out.push('*'),
            '√' => out.push_str("sqrt "),
            'χ' => out.push_str("chi"),
            'σ' => out.push_str("sigma"),
            'Δ' => out.push_str("delta "),
            'μ' | 'µ' => out.push('u'),
            '²' => out.push('2'),
            c if c.is_ascii() || is_mark(c) => out.push(c),
            c => out.extend(c.escape_default()),
        }
    }
    out
}

#[cfg(test)]
mod tests;
