//! The display while listening: on a terminal a large figure that changes in place, elsewhere a line for each change.

use super::answer::TakenView;
use super::big::{Cells, bar, big};
use crate::show::Show;
use crate::view::paint::{faint, strong};
use crate::view::wrap::{WIDTH, fit, wrap};
use serde::Serialize;
use session::SessionError;

/// The state of port and instrument, as reported.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    Lost,
    /// The port is there but no value comes in.
    Silent,
    Moving,
    /// It is still at the rest that was taken.
    Taken,
    Ready,
    Wrong,
}

/// How a permanent line begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    Plain,
    /// With a word before it.
    Named(&'static str),
    /// Below the words.
    Indented,
}

#[derive(Clone, Debug)]
pub struct Picture<'a> {
    pub head: String,
    pub figure: String,
    pub unit: &'a str,
    /// How far it has settled, 0 to 1.
    pub progress: f32,
    /// The meaning of port and state, as text.
    pub words: String,
    pub help: &'a str,
    /// What must change before another line is written without a terminal.
    pub told: String,
}

/// One line of JSON.
#[derive(Serialize)]
struct Event<'a> {
    event: &'a str,
    words: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    taken: Option<&'a [TakenView]>,
}

#[derive(Debug)]
pub struct Screen<'a> {
    show: &'a Show,
    live: bool,
    /// Number of lines of the figure on the terminal now.
    drawn: usize,
    text: String,
    /// The heading and the text reported last.
    told: Option<(String, String)>,
}

impl<'a> Screen<'a> {
    pub fn new(show: &'a Show) -> Self {
        Self { show, live: show.live(), drawn: 0, text: String::new(), told: None }
    }

    pub fn say(&mut self, how: Line, words: &str) -> Result<(), SessionError> {
        if self.show.json {
            let event = if let Line::Named(name) = how { name } else { "note" };
            return self.event(event, words);
        }
        let first = match how {
            Line::Plain => String::new(),
            Line::Named(name) => format!("{name:<8}"),
            Line::Indented => " ".repeat(8),
        };
        if !self.live {
            return self.show.text(&format!("{first}{words}"));
        }
        self.show.over(self.drawn, &wrap(&first, words))?;
        (self.drawn, self.text) = (0, String::new());
        Ok(())
    }

    fn event(&self, event: &str, words: &str) -> Result<(), SessionError> {
        self.show.event(String::new, &Event { event, words, taken: None })
    }

    pub fn taken(&mut self, words: &str, taken: &[TakenView]) -> Result<(), SessionError> {
        if self.show.json {
            return self.show.event(String::new, &Event { event: "taken", words, taken: Some(taken) });
        }
        self.say(Line::Named("taken"), words)
    }

    pub fn ring(&self) -> Result<(), SessionError> {
        if self.live { self.show.ring() } else { Ok(()) }
    }

    /// The person pressed Enter: the terminal moved down a line.
    pub fn entered(&mut self) {
        if self.drawn > 0 {
            self.drawn += 1;
        }
    }

    pub fn clear(&mut self) -> Result<(), SessionError> {
        if self.live && self.drawn > 0 {
            self.show.over(self.drawn, "")?;
            self.drawn = 0;
        }
        Ok(())
    }

    /// Shows it, if anything changed.
    pub fn draw(&mut self, picture: &Picture<'_>) -> Result<(), SessionError> {
        if self.live { self.paint(picture) } else { self.tell(picture) }
    }

    fn paint(&mut self, picture: &Picture<'_>) -> Result<(), SessionError> {
        // A live value has no colour: it is not a verdict.
        let cells = if self.show.ascii { Cells::Ascii } else { Cells::Blocks };
        let figure: Vec<String> = big(&picture.figure, cells).lines().map(strong).collect();
        // No line may be wider than the terminal: it would wrap, and the lines could not be counted.
        let bar = bar(picture.progress, cells);
        let words: Vec<String> = wrap("", &picture.words).lines().map(strong).collect();
        let help: Vec<String> = wrap("", picture.help).lines().map(faint).collect();
        let text = format!(
            "{}\n\n{}  {}\n\n{bar}\n{}\n{}",
            strong(fit(&picture.head, WIDTH - 1).trim_end()),
            figure.join("\n"),
            picture.unit,
            words.join("\n"),
            help.join("\n")
        );
        if text != self.text {
            self.show.over(self.drawn, &text)?;
            self.drawn = text.lines().count();
            self.text = text;
        }
        Ok(())
    }

    fn tell(&mut self, picture: &Picture<'_>) -> Result<(), SessionError> {
        let (head, told) = self.told.clone().unwrap_or_default();
        if head != picture.head {
            self.event("now", &picture.head)?;
            self.show.text(&format!("now     {}", picture.head))?;
        }
        if told != picture.told {
            self.event("state", &picture.words)?;
            self.show.text(&format!("        {}", picture.words))?;
        }
        self.told = Some((picture.head.clone(), picture.told.clone()));
        Ok(())
    }
}
