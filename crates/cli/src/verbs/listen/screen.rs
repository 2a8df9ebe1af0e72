//! What is seen while listening: on a terminal a large figure that changes in place, elsewhere a line for each change.

use super::big::{bar, big};
use crate::show::Show;
use crate::view::paint::{bad, faint, good, strong};
use crate::view::wrap::{WIDTH, fit, wrap};
use session::SessionError;

/// How the port and the instrument stand, as far as it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    /// The port is gone.
    Lost,
    /// The port is there and no value comes in.
    Silent,
    /// The value moves.
    Moving,
    /// It stands still where the last reading was taken.
    Taken,
    /// It stands still and can be taken.
    Ready,
}

/// What is to be seen.
#[derive(Clone, Debug)]
pub struct Picture<'a> {
    /// What is asked for.
    pub head: String,
    /// The figure as the instrument shows it.
    pub figure: String,
    /// Its unit.
    pub unit: &'a str,
    /// How it stands.
    pub stand: Stand,
    /// How far it has settled, 0 to 1.
    pub progress: f32,
    /// What the port and the stand mean, in words.
    pub words: String,
    /// What can be typed.
    pub help: &'a str,
}

/// Where it is seen.
#[derive(Debug)]
pub struct Screen<'a> {
    show: &'a Show,
    live: bool,
    /// Lines of the figure on the terminal now.
    drawn: usize,
    text: String,
    told: Option<(String, Stand)>,
}

impl<'a> Screen<'a> {
    /// An empty one.
    pub fn new(show: &'a Show) -> Self {
        Self { show, live: show.live(), drawn: 0, text: String::new(), told: None }
    }

    /// A line that stays.
    pub fn say(&mut self, line: &str) -> Result<(), SessionError> {
        if !self.live {
            return self.show.text(line);
        }
        self.show.over(self.drawn, line)?;
        (self.drawn, self.text) = (0, String::new());
        Ok(())
    }

    /// A reading was taken.
    pub fn ring(&self) -> Result<(), SessionError> {
        if self.live { self.show.ring() } else { Ok(()) }
    }

    /// The person pressed Enter: the terminal went a line further.
    pub fn entered(&mut self) {
        if self.drawn > 0 {
            self.drawn += 1;
        }
    }

    /// Takes the figure away.
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
        let dress = match picture.stand {
            Stand::Ready => good,
            Stand::Lost => bad,
            Stand::Silent | Stand::Moving | Stand::Taken => strong,
        };
        let figure: Vec<String> = big(&picture.figure, self.show.ascii).lines().map(dress).collect();
        // No line may run over the edge: the terminal would break it, and the lines could not be counted.
        let bar = bar(picture.progress, self.show.ascii);
        let words = fit(&picture.words, WIDTH - 2 - bar.chars().count());
        let help: Vec<String> = wrap("", picture.help).lines().map(faint).collect();
        let text = format!(
            "{}\n\n{}  {}\n\n{bar} {}\n{}",
            strong(fit(&picture.head, WIDTH - 1).trim_end()),
            figure.join("\n"),
            picture.unit,
            dress(words.trim_end()),
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
        let (head_told, stand_told) = match &self.told {
            Some((head, stand)) => (*head == picture.head, Some(*stand)),
            None => (false, None),
        };
        if !head_told {
            self.show.text(&format!("now     {}", picture.head))?;
        }
        if stand_told != Some(picture.stand) {
            self.show.text(&format!("        {}", picture.words))?;
        }
        self.told = Some((picture.head.clone(), picture.stand));
        Ok(())
    }
}
